"""What the shop and the rule allow of one cut, told from the piece under the saw.

Pieces are sawn off one by one from the reference end, so what a cut needs is known from
where it lies in its piece, whatever was sawn off before. The judge is `shared.saw.shop`;
this is how a tree is looked for that it accepts.
"""

from collections.abc import Sequence
from typing import NamedTuple

from shared.lengths import Length
from shared.shop import Axis, CutRule, Limit, Shop, TableSaw


class CutExtent(NamedTuple):
    """A cut in its piece: how long it is, and sizes at right angles to it.

    ``near`` is sawn off, ``far`` stays, ``under`` is the whole piece. ``last`` says that
    nothing but a fall stays.
    """

    axis: Axis
    long: Length
    near: Length
    far: Length
    under: Length
    last: bool = False

    @classmethod
    def of(
        cls, axis: Axis, long: Length, near: Length, under: Length, kerf: Length, *, last: bool
    ) -> "CutExtent":
        """Return the cut that saws off so much of a piece."""
        return cls(axis, long, near, max(0, under - near - kerf), under, last)

    @classmethod
    def trim(
        cls, axis: Axis, long: Length, trim: Length, under: Length, kerf: Length
    ) -> "CutExtent":
        """Return the cut that makes a reference edge; ``trim`` is what it takes, kerf included."""
        return cls(axis, long, max(0, trim - kerf), max(0, under - trim), under)


class Beyond(NamedTuple):
    """A cut that a limit forbids: what it is set to, what it has, and what is allowed."""

    limit: Limit
    axis: Axis
    size: Length
    found: Length
    allowed: Length


class Allowed(NamedTuple):
    """Limits of a shop, in ticks as there, and how many levels the cutting rule has.

    ``None`` and 0 set no limit.
    """

    reach: Length | None = None
    carry: Length = 0
    hold: Length = 0
    table: TableSaw | None = None
    levels: int = 0

    @classmethod
    def of(cls, shop: Shop, rule: CutRule) -> "Allowed":
        """Return what a shop and a rule allow."""
        return cls(shop.reach, shop.carry, shop.hold, shop.table, rule.levels)

    @property
    def binds(self) -> bool:
        """Whether any cut can be beyond the shop's limits."""
        return self.reach is not None or self.carry > 0 or self.hold > 0

    def beyond(self, stroke: CutExtent, *, fenced: bool = False) -> Beyond | None:
        """Return the first limit that a cut breaks, if it breaks one.

        ``fenced`` says that it is one of a run that is made at the table saw.
        """
        axis, long, near, far, *_ = stroke
        if fenced and self.table is not None:
            fence = self.table.fence
            if not fence.least <= near <= fence.most:
                most = fence.least if near < fence.least else fence.most
                return Beyond(Limit.FENCE, axis, near, near, most)
            return self._held(stroke)
        if self.reach is not None and long > self.reach and not self._at_table(stroke):
            return Beyond(Limit.REACH, axis, near, long, self.reach)
        if near < self.carry and far < self.carry and not self._at_table(stroke):
            return Beyond(Limit.CARRY, axis, near, max(near, far), self.carry)
        return self._held(stroke)

    def _held(self, stroke: CutExtent) -> Beyond | None:
        """Return the limit that a cut breaks if the piece under the saw is too small to hold."""
        axis, long, near, _, under, _ = stroke
        if long < self.hold and under < self.hold:
            return Beyond(Limit.HOLD, axis, near, max(long, under), self.hold)
        return None

    def _at_table(self, stroke: CutExtent) -> bool:
        """Whether the table saw makes a cut, as `Shop.goes_to_table` has it."""
        if self.table is None or not stroke.last or max(stroke.near, stroke.far) >= self.carry:
            return False
        return self.table.fence.least <= stroke.near <= self.table.fence.most

    def best_order(self, sizes: Sequence[Length]) -> list[int]:
        """Return the pieces of a run by place, in the order that is best for all limits.

        The largest is sawn off last, where the rail or the hands have nothing else.
        """
        return sorted(range(len(sizes)), key=lambda place: (sizes[place], place))

    def is_enough(self, beside: Length, kerf: Length) -> bool:
        """Whether so much beside the last group of a piece is enough for all limits.

        Then any groups before could be sawn off first as well: the rail rests on a piece that
        is left beside the last group, and what is under the saw can be held. The figure is
        held against a saw that tries every tick.
        """
        return beside >= self.carry + max(self.carry, self.hold) + kerf

    def too_deep(self, level: int, *, trims: bool) -> bool:
        """Whether a cut lies deeper than the rule has it; below its levels it only trims a part."""
        if not self.levels or level <= self.levels:
            return False
        return level > self.levels + 1 or not trims
