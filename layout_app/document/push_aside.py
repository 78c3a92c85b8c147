"""Push aside on the sheets of a document: what is locked or sawn stays, and is in the way."""

from collections.abc import Collection, Sequence
from typing import TypedDict

from layout_app.document.document import Document
from layout_app.document.judging_many import begun_of
from layout_app.model.feasibility import rows_of
from layout_app.model.parting import parted
from layout_app.model.pushing import Pushed, Pusher
from layout_app.model.staying_locked import StayingLocked
from shared.geometry import Rect
from shared.layout import LayoutSheet
from shared.parts import Copy
from shared.plan import Placement


class PushAside:
    """Lays copies in the hand on sheets and says what gives way; good for one gesture.

    Parameters
    ----------
    document
        Its layout is taken as it is when a sheet is first asked about.
    copies
        Which are in the hand.
    """

    def __init__(self, document: Document, copies: Sequence[Copy]) -> None:
        self._document, self._copies = document, tuple(copies)
        self._pushers: dict[str, Pusher] = {}

    def push(self, held: Sequence[Placement], *, free: bool = False, each: bool = False) -> Pushed:
        """Lay copies where they are held, as `Pusher.push` does, on all sheets they lie on.

        With ``each`` one after the other, though they lie on each other.
        """
        laid, moved = dict[Copy, Placement](), list[Placement]()
        for sheet in dict.fromkeys(one.sheet for one in held):
            here = [one for one in held if one.sheet == sheet]
            pusher = self._pusher(sheet)
            lay = pusher.lay_each if each else pusher.push
            found = lay(here, free=free)
            if found.why:
                return Pushed(held=tuple(held), why=found.why)
            laid |= {one.key: one for one in found.held}
            moved += found.moved
        return Pushed(held=tuple(laid[one.key] for one in held), moved=tuple(moved))

    def _pusher(self, sheet_id: str) -> Pusher:
        if sheet_id not in self._pushers:
            doc = self._document
            sheet = doc.layout.sheet(sheet_id)
            stays = _staying(doc, sheet)
            self._pushers[sheet_id] = Pusher(
                doc.job, sheet, self._copies, rows=rows_of(doc.job), **stays
            )
        return self._pushers[sheet_id]


class Staying(TypedDict):
    """What stays as it is of a sheet, as a `Pusher` takes it."""

    fixed: list[Copy]
    walls: tuple[Rect, ...]
    begun: bool


def _staying(doc: Document, sheet: LayoutSheet) -> Staying:
    """Return what is locked or sawn of a sheet; while it can't be cut, what was locked before."""
    begun, held = begun_of(doc), doc.held
    copies: Collection[Copy] = [one.key for one in sheet.placements if held.bars(one.key)]
    areas = tuple(one.rect for one in held.areas(sheet.id))
    if doc.layout.sheet(sheet.id).tree is None:
        locked = StayingLocked(doc.project, sheet.id)
        copies, areas = locked.copies, locked.areas
    sawn = [one.key for one in sheet.placements if begun.is_sawn_off(one.key)]
    return Staying(
        fixed=[*copies, *sawn],
        walls=(*areas, *begun.dust(sheet.id)),
        begun=sheet.id in begun,
    )


def part_overlaps(doc: Document, sheet: LayoutSheet) -> Pushed | None:
    """Return where parts of a sheet lie once they are parted; ``None`` if none lie on others."""
    return parted(doc.job, sheet, **_staying(doc, sheet))
