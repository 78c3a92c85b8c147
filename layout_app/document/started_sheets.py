"""What a hand may not do on sheets that are begun: the cuts made there stay as they are."""

from collections.abc import Iterable, Sequence
from functools import cached_property

from layout_app.document.document import Document
from layout_app.model import layout_edits
from layout_app.model.merge_plan import with_layout
from layout_app.model.sawing import Sawn, saw
from shared.parts import Copy
from shared.plan import Cut, Placement
from shared.progress import changed_in
from shared.saw import after


class Begun:
    """The sheets of one document on which cuts are made, as it is now."""

    def __init__(self, sawn: Sawn) -> None:
        self.sawn = sawn
        self._made: dict[str, list[Cut]] = {}
        for cut in sawn.project.progress.ticked:
            self._made.setdefault(cut.sheet, []).append(cut)

    def __contains__(self, sheet: object) -> bool:
        """Say whether a cut up to the last one made is on a sheet: its limits are no matter."""
        return sheet in self.sawn.project.progress.sheets

    def cut_across(self, one: Placement) -> Cut | None:
        """Return the first cut that is made where a part would lie."""
        made = self._made.get(one.sheet, ())
        return next((cut for cut in made if cut.rect.overlaps(one.rect)), None)

    def is_sawn_off(self, key: Copy) -> bool:
        """Say whether a copy lies apart already, sawn to its size."""
        return key in self._apart

    @cached_property
    def _apart(self) -> frozenset[Copy]:
        plan = self.sawn.plan
        if plan is None or not self._made:
            return frozenset()
        sheets = [sheet for sheet in plan.sheets if sheet.id in self._made]
        ticked = [cut for cuts in self._made.values() for cut in cuts]
        pieces = {(piece.sheet, piece.rect) for piece in after(sheets, _in_order(ticked))}
        lying = (one for one in plan.placements if (one.sheet, one.rect) in pieces)
        return frozenset(one.key for one in lying)


def _in_order(cuts: Iterable[Cut]) -> Sequence[Cut]:
    return sorted(cuts, key=lambda cut: cut.number)


def begun_of(doc: Document) -> Begun:
    """Return what is begun of a document now; found out once for each of its states."""
    if _LAST and _LAST[0].sawn is doc.sawn:
        return _LAST[0]
    _LAST[:] = [Begun(doc.sawn)]
    return _LAST[0]


_LAST: list[Begun] = []


def changed_by(doc: Document, placements: Sequence[Placement]) -> Cut | None:
    """Return the first cut that is made and would be another one with parts laid so.

    Saws the sheets as they would be: up to a tenth of a second, nothing if none is begun.
    """
    if not doc.progress.made:
        return None
    layout = layout_edits.place_all(doc.job, doc.layout, placements)
    return changed_in(doc.progress, saw(with_layout(doc.project, layout)).plan)
