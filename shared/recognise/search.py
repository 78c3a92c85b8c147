"""The tree of cuts with least sawing that yields given parts.

Recursive guillotine recognition with memory over sub-rectangles. A run divides a piece
at some of the gaps that let its cuts through, and each product is divided at right
angles in turn. Where a cut lies in a gap is settled:

- a gap of one kerf has one place for it;
- up to two kerfs the cut lies against the farther parts, and the nearer product stays
  that much too large, to be skimmed later;
- a wider gap becomes a strip of waste between two cuts, or one cut against the nearer
  parts, whose other side then keeps the waste at its near edge.

Any other place can be moved to one of these without a further cut. At a near edge a
part lies flush, or more than a kerf away: the saw cannot take less than a kerf there.

So the fewest cuts are found exactly, until a budget of states is used up; from then on
the search cuts at every gap as long as that works. Set-ups are not a sum over pieces:
each cut bears the share of its set-up that `Prices` puts on it.
"""

from typing import NamedTuple

from shared.lengths import Length
from shared.recognise.boxes import ENDS, Area, Box, Ground, Group, groups, sliced
from shared.recognise.prices import Prices
from shared.recognise.sawn import Bit, Sawn
from shared.shop import Axis


class Way(NamedTuple):
    """How a piece is made into its parts, and at what cost."""

    cost: int
    run: Sawn | None = None
    box: int = -1


class Step(NamedTuple):
    """The near groups of a run sawn off: cost, where the rest begins, and the pieces so far."""

    cost: int
    start: Length
    bits: tuple[Bit, ...] = ()


class Ending(NamedTuple):
    """How a product of a run ends: where, whether loose about its parts, and its cut if any."""

    end: Length
    loose: bool
    cuts: bool
    skims: bool


class Division(NamedTuple):
    """A piece to be divided by a run: its area, axis and level, and the groups of its parts."""

    area: Area
    axis: Axis
    level: int
    groups: list[Group]

    @property
    def near(self) -> Length:
        """Where the piece begins at right angles to the cuts."""
        return self.area[ENDS[self.axis][0]]

    @property
    def gaps(self) -> list[Length]:
        """What follows each group up to the next, or to the end of the piece."""
        starts = [group.start for group in self.groups[1:]]
        far = self.area[ENDS[self.axis][1]]
        return [start - group.end for group, start in zip(self.groups, (*starts, far), strict=True)]

    def product(self, start: Length, end: Length) -> Area:
        """Return the area between two places at right angles to the cuts."""
        return sliced(self.area, self.axis, start, end)


class Search:
    """Finds the cheapest way to divide a sheet, or the first it meets.

    Parameters
    ----------
    ground
        Sheet, kerf and trims.
    prices
        What cuts cost; ``None`` to take the first way that works instead of the cheapest.
    states
        After so many pairs of sub-rectangle and level, groups are not taken together any
        more where they can be sawn off singly; after four times as many nothing is found.
    """

    def __init__(self, ground: Ground, prices: Prices | None, states: int) -> None:
        self.ground = ground
        self._kerf = ground.kerf
        self._any = prices is None
        self._prices = prices or Prices.NONE
        self._least = self._prices.cut
        self._ahead = states
        self._end = -3 * states
        self._known: dict[tuple[Area, int], Way | None] = {}

    @property
    def ahead(self) -> int:
        """States of the budget not yet used; negative beyond it."""
        return self._ahead

    def sheet(self, boxes: list[Box], axis: Axis) -> Way | None:
        """Divide the whole sheet by a first run of that axis, which may need no cut."""
        area = self.ground.area
        if len(boxes) == 1 and boxes[0][:4] == area:
            return _between(Way(0, box=boxes[0][4]), area, axis)
        return self._piece(area, boxes, axis, 1, loose=True)

    def piece(self, area: Area, boxes: list[Box], axis: Axis, level: int) -> Way | None:
        """Divide a piece that no cut runs flush with its parts, preferably by that axis."""
        return self._piece(area, boxes, axis, level, loose=True)

    def run(self, area: Area, boxes: list[Box], axis: Axis, level: int) -> Way | None:
        """Divide a piece by a run of at least one cut; the level tells the axis."""
        return self._run(area, boxes, axis, level)

    def _piece(
        self, area: Area, boxes: list[Box], axis: Axis, level: int, *, loose: bool
    ) -> Way | None:
        """Divide a piece by a run of that axis, if it is not a part already.

        A loose piece was not sawn flush with its parts: there a run of the other axis may
        come first, behind one that needs no cut.
        """
        if len(boxes) == 1 and boxes[0][:4] == area:
            return Way(0, box=boxes[0][4])
        way = self._run(area, boxes, axis, level)
        if not loose or (way and self._any):
            return way
        other = self._run(area, boxes, axis.other, level + 1)
        return _cheaper(way, other and _between(other, area, axis))

    def _run(self, area: Area, boxes: list[Box], axis: Axis, level: int) -> Way | None:
        """Divide a piece by a run of at least one cut; the level tells the axis."""
        key = (area, level)
        if key not in self._known:
            self._ahead -= 1
            if self._ahead < self._end:
                return None
            piece = Division(area, axis, level, groups(boxes, axis, self._kerf))
            self._known[key] = self._divide(piece)
        return self._known[key]

    def _divide(self, piece: Division) -> Way | None:
        """Saw off one product after the other: shortest path over the gaps."""
        trim = self.ground.trim(piece.area, piece.axis)
        reached = [self._first_steps(piece, trim)]
        step: Step | None = None
        gap = 0
        for group, gap in zip(piece.groups, piece.gaps, strict=True):
            ending = self._ending(piece, len(reached), gap)
            step = self._best_step(piece, reached, ending)
            reached.append(self._beyond(piece, step, group.end, gap) if step else [])
        return step and Way(step.cost, Sawn(piece.axis, trim, step.bits, gap))

    def _first_steps(self, piece: Division, trim: Length) -> list[Step]:
        """Return how a run may begin: at its first parts, or with the waste before them."""
        edge, start = piece.near + trim, piece.groups[0].start
        bare = Step(self._prices.cut if trim else 0, edge)
        if start == edge:
            return [bare]
        waste = start - edge - self._kerf
        return [self._waste(piece, bare, waste, start), bare] if waste > 0 else []

    def _beyond(self, piece: Division, step: Step, end: Length, gap: Length) -> list[Step]:
        """Return where the rest may begin once the groups before a gap are sawn off."""
        waste = gap - 2 * self._kerf
        if waste <= 0:
            return [step]
        return [
            self._waste(piece, step, waste, end + gap),
            step._replace(start=end + self._kerf),
        ]

    def _waste(self, piece: Division, step: Step, size: Length, start: Length) -> Step:
        """Saw off a piece of waste, so that the rest begins flush with its parts."""
        cost = step.cost + self._prices.of(piece.level, size)
        return Step(cost, start, (*step.bits, Bit(size)))

    def _ending(self, piece: Division, number: int, gap: Length) -> Ending:
        """Return how the product ends that holds the number-th group, before that gap."""
        end, kerf = piece.groups[number - 1].end, self._kerf
        if number < len(piece.groups):
            loose = kerf < gap <= 2 * kerf
            return Ending(end + (gap - kerf if loose else 0), loose, True, False)
        return Ending(end, False, gap > 0, 0 < gap <= kerf)

    def _best_step(self, piece: Division, reached: list[list[Step]], ending: Ending) -> Step | None:
        """Saw off the next group, alone or together with some before it."""
        best: Step | None = None
        boxes: list[Box] = []
        for number in range(len(reached) - 1, -1, -1):
            boxes = piece.groups[number].boxes + boxes
            least = (len(boxes) - 1 + ending.cuts) * self._least
            for step in reached[number]:
                if best is None or (not self._any and step.cost + least < best.cost):
                    best = self._saw_off(piece, boxes, step, ending, best)
            if best is not None and (self._any or self._ahead <= 0):
                break
        return best

    def _saw_off(
        self, piece: Division, boxes: list[Box], step: Step, ending: Ending, best: Step | None
    ) -> Step | None:
        """Saw a product off and divide it, if that is cheaper than the best so far."""
        area = piece.product(step.start, ending.end)
        if area == piece.area:  # Without a cut nothing would be gained.
            return best
        way = self._piece(area, boxes, piece.axis.other, piece.level + 1, loose=ending.loose)
        if way is None:
            return best
        size, cost = ending.end - step.start, step.cost + way.cost
        if ending.cuts:
            cost += self._prices.of(piece.level, size) + ending.skims * self._prices.skim
        if best is not None and best.cost <= cost:
            return best
        return Step(cost, ending.end + self._kerf, (*step.bits, Bit(size, way.run, way.box)))


def _between(way: Way, area: Area, axis: Axis) -> Way:
    """Put a run of that axis without a cut before a way to divide a piece."""
    begin, end = ENDS[axis]
    whole = Bit(area[end] - area[begin], way.run, way.box)
    return Way(way.cost, Sawn(axis, 0, (whole,), 0))


def _cheaper(one: Way | None, other: Way | None) -> Way | None:
    """Return the cheaper of two, the first on a tie; ``None`` is none at all."""
    if one is None or (other is not None and other.cost < one.cost):
        return other
    return one
