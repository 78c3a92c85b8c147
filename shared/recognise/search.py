"""The tree of cuts with least sawing that yields given parts.

Recursive guillotine recognition with memory over sub-rectangles; pieces that are alike, with
like parts in them, share it. A run divides a piece at some of the gaps that let its cuts
through, and each product is divided at right angles in turn. Where a cut lies in a gap is
settled:

- a gap of one kerf has one place for it;
- up to two kerfs the cut lies against the farther parts, and the nearer product stays
  that much too large, to be skimmed later;
- a wider gap becomes a strip of waste between two cuts, or one cut against the nearer
  parts, whose other side then keeps the waste at its near edge.

Any other place can be moved to one of these without a further cut. At a near edge a
part lies flush, or more than a kerf away: the saw cannot take less than a kerf there.

Where the shop has limits, the order of cuts matters as well. A product that cannot be sawn
off alone is sawn off with its neighbours, or with the waste behind it, and these are parted
by cuts of the same direction: so cuts come in any order.

So the fewest cuts are found exactly, until a budget of states is used up; from then on
the search cuts at every gap as long as that works. Set-ups are not a sum over pieces:
each cut bears the share of its set-up that `CutPrices` puts on it.
"""

from typing import NamedTuple, TypeAlias

from shared.lengths import Length
from shared.recognise.allowed import CutExtent
from shared.recognise.boxes import ENDS, Area, Box, BoxGroup, SheetGround, groups, sliced
from shared.recognise.prices import BEYOND, DEEP, CutPrices
from shared.recognise.sawn import Bit, SawnRun
from shared.shop import Axis

Shape: TypeAlias = tuple[int, Area, tuple[Area, ...]]
"""Level of a piece, its extents and trims, and where its parts lie in it."""


UNPAUSED = -1


class Paused(Exception):  # noqa: N818 - no error: the same search goes on later
    """So many pieces were looked at as were allowed at once; what was found stays known."""


class Solved(NamedTuple):
    """How a piece is made into its parts, and at what cost."""

    cost: int
    run: SawnRun | None = None
    part: bool = False


class PartialRun(NamedTuple):
    """The near groups of a run sawn off: cost, where the rest begins, and the pieces so far."""

    cost: int
    start: Length
    bits: tuple[Bit, ...] = ()


class Ending(NamedTuple):
    """How a product of a run ends: where, whether loose about its parts, and its cut if any."""

    end: Length
    loose: bool
    cuts: bool = True
    last: bool = False
    skims: bool = False


class Division(NamedTuple):
    """A piece to be divided by a run: its area, axis and level, and the groups of its parts.

    ``near`` and ``far`` are where it begins and ends at right angles to the cuts, ``long`` is
    how long they are.
    """

    area: Area
    axis: Axis
    level: int
    groups: list[BoxGroup]
    near: Length
    far: Length
    long: Length

    @classmethod
    def of(cls, area: Area, axis: Axis, level: int, parted: list[BoxGroup]) -> "Division":
        """Return a piece with its measures."""
        begin, end = ENDS[axis]
        side, other = ENDS[axis.other]
        return cls(area, axis, level, parted, area[begin], area[end], area[other] - area[side])

    @property
    def gaps(self) -> list[Length]:
        """What follows each group up to the next, or to the end of the piece."""
        starts = [group.start for group in self.groups[1:]]
        groups = zip(self.groups, (*starts, self.far), strict=True)
        return [start - group.end for group, start in groups]


class DivisionSearch:
    """Finds the cheapest way to divide a sheet, or the first it meets.

    Parameters
    ----------
    ground
        Sheet, kerf, trims and limits.
    prices
        What cuts cost; ``None`` to take the first way that works instead of the cheapest.
    states
        After so many different pieces, groups are not taken together any more where they
        can be sawn off singly; after four times as many nothing is found.
    strict
        Whether a cut beyond the shop's limits is none at all; else it only costs a lot.
    """

    def __init__(
        self, ground: SheetGround, prices: CutPrices | None, states: int, *, strict: bool = False
    ) -> None:
        self.ground = ground
        self._kerf = ground.kerf
        self._any = prices is None
        self._prices = prices or CutPrices.NONE
        self._least = self._prices.cut
        self._allowed = ground.allowed
        self._most = BEYOND if strict else None
        self._bound = self._allowed.binds and (strict or not self._any)
        self._states = states
        self._ahead = states
        self._end = -3 * states
        self._at_once = UNPAUSED
        self._known: dict[tuple[Area, int], Solved | None] = {}
        self._alike: dict[Shape, Solved | None] = {}

    @property
    def ahead(self) -> int:
        """States of the budget not yet used; negative beyond it."""
        return self._ahead

    def again(self) -> None:
        """Make ready for other parts on the sheet; pieces that are alike stay known."""
        self._known.clear()
        self._ahead = self._states

    def pause_after(self, states: int | None) -> None:
        """Let the search be `Paused` once so many pieces more were begun; ``None`` for never."""
        self._at_once = UNPAUSED if states is None else states

    def sheet(self, boxes: list[Box], axis: Axis) -> Solved | None:
        """Divide the whole sheet by a first run of that axis, which may need no cut."""
        area = self.ground.area
        if len(boxes) == 1 and boxes[0][:4] == area:
            return _between(Solved(0, part=True), area, axis)
        return self.piece(area, boxes, axis, 1)

    def piece(
        self, area: Area, boxes: list[Box], axis: Axis, level: int, *, loose: bool = True
    ) -> Solved | None:
        """Divide a piece by a run of that axis, if it is not a part already.

        A loose piece was not sawn flush with its parts: there a run of the other axis may
        come first, behind one that needs no cut. So it may in any piece that cannot be
        divided within the shop's limits otherwise.
        """
        if len(boxes) == 1 and boxes[0][:4] == area:
            return Solved(0, part=True)
        way = self.run(area, boxes, axis, level)
        if way is not None and (self._any or (not loose and way.cost < BEYOND)):
            return way
        if not loose and not self._bound:
            return way
        other = self.run(area, boxes, axis.other, level + 1)
        return _cheaper(way, other and _between(other, area, axis))

    def run(self, area: Area, boxes: list[Box], axis: Axis, level: int) -> Solved | None:
        """Divide a piece by a run of at least one cut; the level tells the axis."""
        # All levels of one axis are alike while any way will do.
        key = (area, (axis is Axis.RIP) if self._any else level)
        if key not in self._known:
            self._known[key] = self._run_alike(area, boxes, axis, level)
        return self._known[key]

    def _run_alike(self, area: Area, boxes: list[Box], axis: Axis, level: int) -> Solved | None:
        """Divide a piece as one like it was divided, or anew."""
        shape = self._shape(area, boxes, axis, level)
        if shape not in self._alike:
            self._ahead -= 1
            if self._ahead < self._end:
                return None
            if self._at_once == 0:
                self._ahead += 1
                raise Paused
            self._at_once -= 1
            piece = Division.of(area, axis, level, groups(boxes, axis, self._kerf))
            try:
                way = self._divide(piece)
            except Paused:
                self._ahead += 1  # It will be begun again.
                raise
            if way is None and self._ahead < self._end:
                return None  # Not known: the budget has ended.
            self._alike[shape] = way
        return self._alike[shape]

    def _shape(self, area: Area, boxes: list[Box], axis: Axis, level: int) -> Shape:
        left, top, right, bottom = area
        trims = self.ground.trim(area, Axis.RIP), self.ground.trim(area, Axis.CROSSCUT)
        inside = [(b[0] - left, b[1] - top, b[2] - left, b[3] - top) for b in boxes]
        inside.sort()
        level = (axis is Axis.RIP) if self._any else level
        return level, (right - left, bottom - top, *trims), tuple(inside)

    def _divide(self, piece: Division) -> Solved | None:
        """Saw off one product after the other: shortest path over the gaps."""
        trim = self.ground.trim(piece.area, piece.axis)
        reached = [self._first_steps(piece, trim)]
        step: PartialRun | None = None
        gap = 0
        for group, gap in zip(piece.groups, piece.gaps, strict=True):
            ending = self._ending(piece, len(reached), gap)
            step = self._best_step(piece, reached, ending)
            beyond = self._beyond(piece, step, group.end, gap) if step else []
            if self._bound and not ending.last and gap > 2 * self._kerf:
                beyond = self._with_waste(piece, reached, beyond, group.end + gap)
            reached.append(beyond)
        if self._bound and gap and (step is None or step.cost >= BEYOND):
            step = self._best_step(
                piece, reached[:-1], Ending(piece.far, loose=True, cuts=False, last=True), step
            )
        return step and self._way(piece, trim, step)

    def _way(self, piece: Division, trim: Length, step: PartialRun) -> Solved:
        """Return the way that ends with a step; what it leaves has no parts in it."""
        left = max(0, piece.far - (step.start - self._kerf))
        return Solved(step.cost, SawnRun(piece.axis, trim, step.bits, left))

    def _first_steps(self, piece: Division, trim: Length) -> list[PartialRun]:
        """Return how a run may begin: at its first parts, or with the waste before them."""
        edge, start = piece.near + trim, piece.groups[0].start
        bare = PartialRun(self._trim(piece, trim) if trim else 0, edge)
        if start == edge:
            return self._possible(bare)
        waste = start - edge - self._kerf
        return self._possible(self._waste(piece, bare, waste, start), bare) if waste > 0 else []

    def _beyond(
        self, piece: Division, step: PartialRun, end: Length, gap: Length
    ) -> list[PartialRun]:
        """Return where the rest may begin once the groups before a gap are sawn off."""
        waste = gap - 2 * self._kerf
        if waste <= 0:
            return [step]
        flush = step._replace(start=end + self._kerf)
        return self._possible(self._waste(piece, flush, waste, end + gap), flush)

    def _with_waste(
        self,
        piece: Division,
        reached: list[list[PartialRun]],
        found: list[PartialRun],
        start: Length,
    ) -> list[PartialRun]:
        """Add how waste is sawn off with the parts before it, if it cannot be alone."""
        if found and found[0].start == start and found[0].cost < BEYOND:
            return found
        step = self._best_step(piece, reached, Ending(start - self._kerf, loose=True))
        return [*found, step] if step is not None else found

    def _possible(self, *steps: PartialRun) -> list[PartialRun]:
        if self._most is None:
            return list(steps)
        return [step for step in steps if step.cost < self._most]

    def _waste(self, piece: Division, step: PartialRun, size: Length, start: Length) -> PartialRun:
        """Saw off a piece of waste, so that the rest begins flush with its parts."""
        at = start - self._kerf - size
        cost = step.cost + self._cut(piece, at, at + size)
        return PartialRun(cost, start, (*step.bits, Bit(size)))

    def _ending(self, piece: Division, number: int, gap: Length) -> Ending:
        """Return how the product ends that holds the number-th group, before that gap."""
        end, kerf = piece.groups[number - 1].end, self._kerf
        if number < len(piece.groups):
            loose = kerf < gap <= 2 * kerf
            return Ending(end + (gap - kerf if loose else 0), loose)
        return Ending(end, False, cuts=gap > 0, last=True, skims=0 < gap <= kerf)

    def _best_step(
        self,
        piece: Division,
        reached: list[list[PartialRun]],
        ending: Ending,
        best: PartialRun | None = None,
    ) -> PartialRun | None:
        """Saw off the next group, alone or together with some before it, if that is better."""
        boxes: list[Box] = []
        for number in range(len(reached) - 1, -1, -1):
            boxes = piece.groups[number].boxes + boxes
            least = (len(boxes) - 1 + ending.cuts) * self._least
            for step in reached[number]:
                if best is None or (not self._any and step.cost + least < best.cost):
                    best = self._saw_off(piece, boxes, step, ending, best)
            if best is not None and (self._any or self._ahead <= 0):
                break
            beside = piece.groups[len(reached) - 1].start - piece.groups[number].start
            if self._any and self._allowed.is_enough(beside, self._kerf):
                break  # It spares half of the states.
        return best

    def _saw_off(
        self,
        piece: Division,
        boxes: list[Box],
        step: PartialRun,
        ending: Ending,
        best: PartialRun | None,
    ) -> PartialRun | None:
        """Saw a product off and divide it, if that is cheaper than the best so far."""
        if ending.loose and ending.end == piece.far:
            ending = self._stretched(piece, step, ending)
        size, cost = ending.end - step.start, step.cost
        if size == piece.far - piece.near:  # Without a cut nothing would be gained.
            return best
        if ending.cuts:
            cost += self._cut(piece, step.start, ending.end, ending)
        if (best is not None and best.cost <= cost) or not self._within(cost):
            return best
        area = sliced(piece.area, piece.axis, step.start, ending.end)
        way = self.piece(area, boxes, piece.axis.other, piece.level + 1, loose=ending.loose)
        if way is None or (best is not None and best.cost <= cost + way.cost):
            return best
        bit = Bit(size, way.run, way.part)
        return PartialRun(cost + way.cost, ending.end + self._kerf, (*step.bits, bit))

    def _stretched(self, piece: Division, step: PartialRun, ending: Ending) -> Ending:
        """Leave a product as much of the fall as rails reach over, so that it can be held."""
        reach = self._allowed.reach
        end = piece.far if reach is None else min(piece.far, step.start + reach)
        end = max(end, piece.groups[-1].end)
        left = piece.far - end
        return ending._replace(end=end, cuts=left > 0, skims=0 < left <= self._kerf)

    def _within(self, cost: int) -> bool:
        return self._most is None or cost < self._most

    def _cut(
        self, piece: Division, start: Length, end: Length, ending: Ending | None = None
    ) -> int:
        """Return the cost of sawing off what lies between two places; much beyond limits."""
        cost = 0
        if self._bound:
            near, under, last = end - start, piece.far - start, ending is not None and ending.last
            cost = self._beyond_limits(
                CutExtent.of(piece.axis, piece.long, near, under, self._kerf, last=last)
            )
        if self._any:
            return cost
        cost += self._prices.of(piece.level, end - start)
        if ending is not None and ending.skims:
            cost += self._prices.skim
        if self._allowed.levels:
            trims = len(piece.groups) == 1 and ending is not None
            cost += DEEP * self._allowed.too_deep(piece.level, trims=trims)
        return cost

    def _trim(self, piece: Division, trim: Length) -> int:
        """Return the cost of making a reference edge."""
        under, cost = piece.far - piece.near, self._prices.cut
        if self._bound:
            cost += self._beyond_limits(
                CutExtent.trim(piece.axis, piece.long, trim, under, self._kerf)
            )
        return cost

    def _beyond_limits(self, stroke: CutExtent) -> int:
        return BEYOND if self._allowed.beyond(stroke) is not None else 0


def _between(way: Solved, area: Area, axis: Axis) -> Solved:
    """Put a run of that axis without a cut before a way to divide a piece."""
    begin, end = ENDS[axis]
    whole = Bit(area[end] - area[begin], way.run, way.part)
    return Solved(way.cost, SawnRun(axis, 0, (whole,), 0))


def _cheaper(one: Solved | None, other: Solved | None) -> Solved | None:
    """Return the cheaper of two, the first on a tie; ``None`` is none at all."""
    if one is None or (other is not None and other.cost < one.cost):
        return other
    return one
