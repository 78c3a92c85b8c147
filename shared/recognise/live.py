"""Yes or no while parts are moved about on a sheet: what stays is looked at once.

One watch serves one gesture. What was found out about pieces of the sheet in one frame is
known in the next, wherever the parts in the hand are.
"""

from collections.abc import Sequence
from functools import cached_property
from itertools import combinations, product

from shared.plan import Placement
from shared.recognise.boxes import Box, SheetGround, boxes_of, gap, stuck
from shared.recognise.finding import QUICK_STATES, can_saw, in_kerf, is_allowed, off_usable
from shared.recognise.keeping import keep
from shared.recognise.sawn import SawnRun
from shared.recognise.search import DivisionSearch, Paused
from shared.shop import Axis
from shared.tree import Run


class Watch:
    """Says whether a sheet can be cut with some parts laid on it.

    Parameters
    ----------
    ground
        The sheet, and how it may be cut.
    others
        What lies there and stays.
    before
        The tree of the sheet as it was, if it had one.
    """

    def __init__(
        self, ground: SheetGround, others: Sequence[Placement], before: Run | None = None
    ) -> None:
        self._ground, self._others, self._before = ground, tuple(others), before
        self._boxes = boxes_of(self._others)
        self._search = DivisionSearch(ground, None, QUICK_STATES, strict=True)
        self._paused_at: tuple[Placement, ...] | None = None
        self.deep = False
        """Whether what was found last is deeper than the rule; less deep cuts may do as well."""

    def is_good(self, held: Sequence[Placement]) -> bool:
        """Say whether everything can be cut within the shop's limits; quick enough for a frame."""
        good = self.look(held)
        assert good is not None  # it may look at as many pieces as it likes
        return good

    def look(self, held: Sequence[Placement], states: int | None = None) -> bool | None:
        """Say so, or ``None`` if it takes more than so many pieces of the sheet to be known.

        Asked about the same parts in the same places again, it goes on where it was.
        """
        lying = (*self._others, *held)
        boxes = boxes_of(lying)
        if not boxes:
            return True
        if not self._others_lie_well or not self._lie_well(boxes[len(self._others) :]):
            return False
        goes_on, self._paused_at = self._paused_at == lying, None
        if self._before is not None:
            kept = keep(self._before, self._ground, boxes, lying)
            if kept.sawn is not None and is_allowed(kept.sawn, self._ground):
                return self._found(kept.sawn)
        if stuck(boxes, self._ground.kerf) or not self._others_can_be_sawn:
            return False
        if not goes_on:
            self._search.again()
        self._search.pause_after(states)
        try:
            way = self._search.sheet(boxes, Axis.RIP)
        except Paused:
            self._paused_at = lying
            return None
        return way is not None and way.run is not None and self._found(way.run)

    @property
    def others_can_be_cut(self) -> bool:
        """Whether what stays can be cut alone; if not, nothing that is laid there mends it."""
        return self._others_lie_well and self._others_can_be_sawn

    def _found(self, sawn: SawnRun) -> bool:
        self.deep = sawn.too_deep(self._ground.allowed) > 0
        return True

    @cached_property
    def _others_lie_well(self) -> bool:
        return all(map(self._lies_well, self._boxes)) and all(
            self._apart(one, other) for one, other in combinations(self._boxes, 2)
        )

    @cached_property
    def _others_can_be_sawn(self) -> bool:
        """Whether what stays can be sawn alone; with more on the sheet it cannot be otherwise."""
        return can_saw(self._ground, self._boxes)

    def _lie_well(self, held: Sequence[Box]) -> bool:
        return (
            all(map(self._lies_well, held))
            and all(self._apart(one, other) for one, other in product(held, self._boxes))
            and all(self._apart(one, other) for one, other in combinations(held, 2))
        )

    def _lies_well(self, box: Box) -> bool:
        return not off_usable(self._ground, box) and not in_kerf(self._ground, box)

    def _apart(self, one: Box, other: Box) -> bool:
        return gap(one, other) >= self._ground.kerf
