"""The maker's saws, rails and habits, as far as a plan depends on them.

What is 0, empty or ``None`` sets no limit; `shared.practice` has the figures of common
practice that a new project begins with.
"""

from dataclasses import dataclass
from enum import StrEnum
from typing import Final

from shared.lengths import MM, Length


class Axis(StrEnum):
    """Direction of a cut over a sheet in the frame of `shared.geometry`."""

    RIP = "rip"
    """Along x, parallel to the sheet's length."""
    CROSSCUT = "crosscut"
    """Along y, parallel to the sheet's width."""

    @property
    def other(self) -> "Axis":
        """The direction at right angles."""
        return Axis.CROSSCUT if self is Axis.RIP else Axis.RIP


class FirstCut(StrEnum):
    """Direction of the first level of cuts."""

    RIP = "rip"
    CROSSCUT = "crosscut"
    EITHER = "either"
    """Whichever is better, sheet by sheet."""


@dataclass(frozen=True, slots=True, kw_only=True)
class CutRule:
    """How deep a sheet may be broken down, and in which direction first.

    ``levels`` is 2 (rip, crosscut, and a trim) or 3 (rip, crosscut, rip, and a last trim).
    """

    levels: int = 3
    first: FirstCut = FirstCut.RIP


class SawingOrder(StrEnum):
    """How the cuts of a job are put in order."""

    BY_SHEET = "by sheet"
    """A sheet is finished before the next one is begun."""
    BY_SETUP = "by set-up"
    """One set-up serves all sheets, as far as loose pieces may lie about."""
    LEAST_WALKING = "least walking"
    """Sheet after sheet, and pieces come to the saw, and are turned there, as seldom as can be."""


class RunsOn(StrEnum):
    """What leads the saw along its line."""

    RAIL = "rail"
    """A guide rail, its edge on the line."""
    STRAIGHTEDGE = "straightedge"
    """A circular saw, its base along a clamped straightedge."""


class Hand(StrEnum):
    """A side of the saw, as it is pushed away from the body."""

    LEFT = "left"
    RIGHT = "right"


class Support(StrEnum):
    """What a sheet lies on while it is sawn."""

    HORSES = "sawhorses"
    """Two sawhorses with bearers across; pieces are turned on them."""
    GRID = "slatted grid"
    """Slats that may be sawn into; one walks round, and turns nothing."""
    FOAM = "foam sheet"
    """Rigid foam on the floor or a table; one walks round, and turns nothing."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Rail:
    """Guide rails of one length, or straightedges.

    Attributes
    ----------
    length
        Of one rail, in ticks.
    joined
        Up to so many of them can be joined end to end; 1 for none.
    count
        How many there are; fewer than ``joined`` cannot be meant.
    """

    length: Length
    joined: int = 1
    count: int = 1

    @property
    def whole(self) -> Length:
        """Length of as many as can be joined, in ticks."""
        return self.length * self.joined


@dataclass(frozen=True, slots=True, kw_only=True)
class SawBase:
    """The base of a circular saw, measured with the blade in use; lengths in ticks.

    Left and right are those of the saw as it is pushed away from the body.

    Attributes
    ----------
    left_near, left_far
        From the left edge of the base to the blade's nearer and farther face.
    right_near, right_far
        The same from the right edge.
    length
        Of the base, along the cut.
    """

    left_near: Length
    left_far: Length
    right_near: Length
    right_far: Length
    length: Length


@dataclass(frozen=True, slots=True, kw_only=True)
class Span:
    """What a guide or fence can be set to, from least to most, in ticks."""

    least: Length = 0
    most: Length


ABSENT: Final = Span(least=1, most=0)
"""A guide or stop that is not there: it can be set to nothing."""


@dataclass(frozen=True, slots=True, kw_only=True)
class TableSaw:
    """A table saw.

    ``kerf`` is measured, ``fence`` what the fence can be set to, in ticks. Pieces up to
    ``longest`` by ``widest``, in ticks, and ``heaviest_g`` grams can be handled there by one
    person; with a ``longest`` of 0 no whole run is taken there.
    """

    tool: str = "table saw"
    kerf: Length
    fence: Span
    longest: Length = 0
    widest: Length = 0
    heaviest_g: int = 0


@dataclass(frozen=True, slots=True, kw_only=True)
class Gear:
    """What belongs to a saw and changes with it: its name, blade and what leads it.

    Fields as in `Shop`; lengths in ticks.
    """

    tool: str
    kerf: Length
    rails: tuple[Rail, ...]
    rail_width: Length
    rail_side: Hand
    guide: Span | None
    carry: Length


class Limit(StrEnum):
    """What a cut may break; the value is the code of the saw's issue."""

    REACH = "cut-beyond-reach"
    """No rail is long enough."""
    CARRY = "cut-carries-no-rail"
    """Neither piece is wide enough for the rail to rest on."""
    HOLD = "cut-nothing-to-hold"
    """The piece under the saw is too small to be held."""
    FENCE = "cut-beyond-fence"
    """The fence of the table saw cannot be set to the size."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Shop:
    """Saws, rails, pace, limits, and what is worth keeping.

    Attributes
    ----------
    tool
        What the maker calls the saw that runs on the rail.
    kerf
        Measured width of its slot, in ticks.
    cut_s, metre_s, setup_s, measure_s, unguided_s, rail_s, join_s, lift_s, turn_s, heavy_s, skim_s
        Seconds that each kind of work takes: a cut, and each metre of it; setting guide, stop or
        fence to a size, and measuring the first of several pieces at one setting; measuring and
        marking a size at both ends, which nothing can be set to; taking another rail in hand, and
        joining or parting rails; laying a piece on its support, turning it there, and as much
        more when it is heavier than ``lift_g``, or only turned, than ``turn_g``; and extra for a
        skim cut.
    keep_length, keep_width
        Least size of an offcut worth labelling, in ticks, long side and short side.
    runs_on, base
        Whether the saw runs on a rail or along a straightedge; then the base of the saw,
        ``None`` while it is not measured.
    aside
        The gear of the saw that runs on the other of both, to be taken up again; ``None`` for
        none yet. No cut depends on it.
    rails
        Rails, or straightedges, that the saw can run on; with none given any cut can be made.
    rail_width
        Width of the rail or straightedge, in ticks; 0 when that is no matter.
    rail_side
        On which side of the blade the rail or straightedge lies.
    splinter_guard
        Whether the saw has a guard against splinters on the side away from the rail.
    overhang
        How much longer than the cut a rail has to be, in ticks.
    guide
        What the parallel guide of the rail can be set to, or the edge guide of a circular saw;
        ``None`` when that is no matter, `ABSENT` when there is none. Without a rail ``None`` is
        none as well.
    stop
        What the stop for crosscuts can be set to; ``None`` when that is no matter, `ABSENT` when
        there is none. Without a rail there is none.
    square
        Length of the longest square, in ticks; 0 for none.
    support
        What sheets lie on.
    carry
        Least width of a piece, at right angles to the cut, that carries the rail, in ticks.
    hold
        Least long side of a piece that can be held under the saw, in ticks.
    table
        The table saw, if there is one.
    oversize
        How much larger both ways a part is cut at the rail that is finished at the table
        saw, in ticks; a part takes it over when it is told so.
    lift_g, turn_g
        What can be lifted alone, and what can be turned alone on its support, in grams.
    loose
        Most pieces that may lie about, begun and not finished.
    sawing
        By sheet, or by set-up across sheets.
    """

    tool: str = "track saw"
    kerf: Length = 22 * MM // 10
    cut_s: int = 60
    metre_s: int = 0
    setup_s: int = 60
    measure_s: int = 0
    unguided_s: int = 60
    rail_s: int = 0
    join_s: int = 0
    lift_s: int = 0
    turn_s: int = 0
    heavy_s: int = 0
    skim_s: int = 60
    keep_length: Length = 300 * MM
    keep_width: Length = 100 * MM
    runs_on: RunsOn = RunsOn.RAIL
    base: SawBase | None = None
    aside: Gear | None = None
    rails: tuple[Rail, ...] = ()
    rail_width: Length = 0
    rail_side: Hand = Hand.LEFT
    splinter_guard: bool = False
    overhang: Length = 250 * MM
    guide: Span | None = None
    stop: Span | None = None
    square: Length = 0
    support: Support = Support.HORSES
    carry: Length = 0
    hold: Length = 0
    table: TableSaw | None = None
    oversize: Length = 6 * MM
    lift_g: int = 0
    turn_g: int = 0
    loose: int = 12
    sawing: SawingOrder = SawingOrder.BY_SHEET

    @property
    def gear(self) -> Gear:
        """What changes with the saw."""
        return Gear(
            tool=self.tool,
            kerf=self.kerf,
            rails=self.rails,
            rail_width=self.rail_width,
            rail_side=self.rail_side,
            guide=self.guide,
            carry=self.carry,
        )

    def keeps(self, one: Length, other: Length) -> bool:
        """Say whether an offcut with these sides, in ticks, is worth keeping."""
        short, long = sorted((one, other))
        return long >= self.keep_length and short >= self.keep_width

    @property
    def reach(self) -> Length | None:
        """Longest cut a rail takes, in ticks, 0 if none takes any; ``None`` for no limit."""
        if not self.rails:
            return None
        return max(0, max(rail.whole for rail in self.rails) - self.beyond)

    @property
    def beyond(self) -> Length:
        """How much longer than the cut what leads the saw has to be, both ends together.

        A rail the maker's overhang; a straightedge one base length at each end, so that the base
        is led before the blade enters and until it has left.
        """
        if self.runs_on is RunsOn.RAIL:
            return self.overhang
        return 0 if self.base is None else 2 * self.base.length

    @property
    def limits_runs(self) -> bool:
        """Whether any limit depends on which pieces of a run are sawn off, and in which order."""
        return self.carry > 0 or self.hold > 0

    @property
    def limits_cuts(self) -> bool:
        """Whether any limit can forbid a cut on the rail."""
        return self.reach is not None or self.limits_runs

    def goes_to_table(self, near: Length, far: Length) -> bool:
        """Whether the last cut of a piece, which has a fall, is made at the table saw.

        Neither what is sawn off nor the fall carries the rail, and the fence can be set to
        the first; sizes in ticks at right angles to the cut.
        """
        if self.table is None or max(near, far) >= self.carry:
            return False
        return self.table.fence.least <= near <= self.table.fence.most
