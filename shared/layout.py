"""Where parts lie while the maker works: may be bad, is always kept.

A layout is what the document holds. A sheet of it that can be cut edge to edge has a
tree and becomes part of the plan; one that cannot has none, and is shown as such.
"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field, replace
from enum import StrEnum
from typing import Final

from shared.parts import Copy
from shared.plan import Finished, Placement, Plan
from shared.remembered import Remembered
from shared.shop import SawingOrder
from shared.tree import Run


@dataclass(frozen=True, slots=True, kw_only=True)
class LayoutSheet:
    """One sheet of a layout.

    Attributes
    ----------
    id
        Number on screen; equals ``Placement.sheet`` of what lies on it.
    stock
        Id of the stock row it comes from.
    placements
        What lies on it, good or bad.
    tree
        The tree of cuts that yields exactly these placements, or ``None`` when they
        cannot be cut edge to edge.
    yours
        Touched by hand: planning leaves it alone until the maker gives it back.
    last
        The tree it had before it could not be cut any more: what is shown of its cuts
        meanwhile, and looked for first again. In no file, and of no weight in comparing.
    """

    id: str
    stock: str
    placements: tuple[Placement, ...] = ()
    tree: Run | None = None
    yours: bool = False
    last: Run | None = field(default=None, compare=False)

    @property
    def known_cuts(self) -> Run | None:
        """The tree it has, else the last it had."""
        return self.tree or self.last

    def recut(self, placements: tuple[Placement, ...], tree: Run | None) -> "LayoutSheet":
        """Return it with what lies on it now and its cuts; without cuts it keeps its last ones."""
        last = self.known_cuts if placements and tree is None else None
        return replace(self, placements=placements, tree=tree, last=last)


def by_number(sheets: Iterable[LayoutSheet]) -> tuple[LayoutSheet, ...]:
    """Return sheets by their number; pieces that lie on the sawhorses already come first."""
    return tuple(sorted(sheets, key=lambda one: (one.id.isdigit(), len(one.id), one.id)))


@dataclass(frozen=True, slots=True, kw_only=True)
class Waiting:
    """A copy of a part that lies on no sheet.

    ``sent`` is true when the maker set it aside: planning leaves it there.
    """

    part: str
    copy: int
    sent: bool = False

    @property
    def key(self) -> Copy:
        """Which copy it is."""
        return self.part, self.copy


class Scope(StrEnum):
    """How much a hold freezes."""

    SHEET = "sheet"
    """Everything on it."""
    STRIP = "strip"
    """The strip's place and width on its sheet, and all its contents."""
    PART = "part"
    """The strip's place and width, and its contents up to this part from the reference end."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Hold:
    """What the maker holds: planning goes around it.

    ``part`` and ``copy`` name the part that is held, or any part of a strip that is; they
    are empty for a whole sheet. ``lies`` is how that part lay when it was held (for a whole
    sheet some part on it, since numbers of sheets are given anew): where it does not lie so,
    the hold is suspended. ``None`` holds it wherever it lies on the sheet.
    """

    scope: Scope
    sheet: str
    part: str = ""
    copy: int = 0
    lies: Placement | None = None

    @property
    def key(self) -> Copy:
        """Which copy it names."""
        return self.part, self.copy


@dataclass(frozen=True, slots=True, kw_only=True)
class CutBefore:
    """A hand-set order: one pass of the saw before another, by their keys.

    Keys are those of `shared.cuts.forest`: they say what is sawn off, so they hold
    whatever the numbers are.
    """

    first: str
    then: str


EARLIER_PACE: Final = -2
"""Least seconds of cuts put in order by another pace than the shop has now: not known either."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Layout:
    """All sheets in use, the copies that wait, what is held, and the order of the cuts.

    Attributes
    ----------
    sheets, waiting, holds
        What lies where, what lies nowhere, and what stays.
    order
        Keys of all passes as they were put in order last.
    sawing, least_s
        The mode they were put in order by, and how many seconds every order of these sheets
        takes at least in that mode; ``None`` and -1 while they are not put in order, -1 as well
        where it is not known, and `EARLIER_PACE` where the shop had another pace then.
    before
        What the maker wants of the order.
    finished
        Copies that were sawn before and lie on no sheet.
    """

    sheets: tuple[LayoutSheet, ...] = ()
    waiting: tuple[Waiting, ...] = ()
    holds: tuple[Hold, ...] = ()
    order: tuple[str, ...] = ()
    sawing: SawingOrder | None = None
    least_s: int = -1
    before: tuple[CutBefore, ...] = ()
    finished: tuple[Finished, ...] = ()

    def sheet(self, sheet_id: str) -> LayoutSheet:
        """Return the sheet of that id; KeyError if there is none."""
        return _sheets_by_id(self.sheets)[sheet_id]

    def find(self, copy: Copy) -> Placement | None:
        """Return where a copy lies, or ``None`` when it waits."""
        return _lying(self.sheets).get(copy)

    def with_sheet(self, new: LayoutSheet) -> "Layout":
        """Return it with a sheet in place of the one of its id."""
        sheets = (new if sheet.id == new.id else sheet for sheet in self.sheets)
        return replace(self, sheets=tuple(sheets))


def _by_id(sheets: tuple[LayoutSheet, ...]) -> Mapping[str, LayoutSheet]:
    return {sheet.id: sheet for sheet in sheets}


def _by_copy(sheets: tuple[LayoutSheet, ...]) -> Mapping[Copy, Placement]:
    """Return where each copy lies; the first place counts."""
    lying: dict[Copy, Placement] = {}
    for sheet in sheets:
        for one in sheet.placements:
            lying.setdefault((one.part, one.copy), one)
    return lying


_sheets_by_id = Remembered(_by_id, 16)
_lying = Remembered(_by_copy, 16)


def sheets_of(plan: Plan) -> tuple[LayoutSheet, ...]:
    """Return the sheets of a plan as a layout holds them."""
    return tuple(
        LayoutSheet(
            id=sheet.id,
            stock=sheet.stock,
            placements=tuple(one for one in plan.placements if one.sheet == sheet.id),
            tree=sheet.tree,
        )
        for sheet in plan.sheets
    )
