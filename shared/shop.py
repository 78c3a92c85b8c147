"""The maker's saws, rails and habits, as far as a plan depends on them.

What is 0, empty or ``None`` sets no limit; `shared.practice` has the figures of common
practice that a new project begins with.
"""

from dataclasses import dataclass
from enum import StrEnum

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


@dataclass(frozen=True, slots=True, kw_only=True)
class Rail:
    """A guide rail, or equal rails joined end to end.

    ``length`` is that of one rail in ticks, ``joined`` how many make it up.
    """

    length: Length
    joined: int = 1

    @property
    def whole(self) -> Length:
        """Length of all of it, in ticks."""
        return self.length * self.joined


@dataclass(frozen=True, slots=True, kw_only=True)
class Span:
    """What a guide or fence can be set to, from least to most, in ticks."""

    least: Length = 0
    most: Length


@dataclass(frozen=True, slots=True, kw_only=True)
class TableSaw:
    """A table saw: its measured kerf in ticks, and what its fence can be set to."""

    tool: str = "table saw"
    kerf: Length
    fence: Span


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
    cut_s, setup_s, skim_s, unguided_s
        Seconds for one cut, for setting a guide or stop, and extra for a skim cut, and for
        a rip that the guide cannot be set to: it is measured at both ends.
    keep_length, keep_width
        Least size of an offcut worth labelling, in ticks, long side and short side.
    rails
        What the saw can run on; with none given any cut can be made.
    overhang
        How much longer than the cut a rail has to be, in ticks.
    guide
        What the parallel guide of the rail can be set to; ``None`` when that is no matter.
    carry
        Least width of a piece, at right angles to the cut, that carries the rail, in ticks.
    hold
        Least long side of a piece that can be held under the saw, in ticks.
    table
        The table saw, if there is one.
    oversize
        How much larger both ways a part is cut at the rail that is finished at the table
        saw, in ticks; a part takes it over when it is told so.
    lift_g
        What can be lifted alone, in grams.
    loose
        Most pieces that may lie about, begun and not finished.
    sawing
        By sheet, or by set-up across sheets.
    """

    tool: str = "rail saw"
    kerf: Length = 22 * MM // 10
    cut_s: int = 60
    setup_s: int = 60
    skim_s: int = 60
    unguided_s: int = 60
    keep_length: Length = 300 * MM
    keep_width: Length = 100 * MM
    rails: tuple[Rail, ...] = ()
    overhang: Length = 250 * MM
    guide: Span | None = None
    carry: Length = 0
    hold: Length = 0
    table: TableSaw | None = None
    oversize: Length = 6 * MM
    lift_g: int = 0
    loose: int = 12
    sawing: SawingOrder = SawingOrder.BY_SHEET

    def keeps(self, one: Length, other: Length) -> bool:
        """Say whether an offcut with these sides, in ticks, is worth keeping."""
        short, long = sorted((one, other))
        return long >= self.keep_length and short >= self.keep_width

    @property
    def reach(self) -> Length | None:
        """Longest cut a rail takes, in ticks, 0 if none takes any; ``None`` for no limit."""
        if not self.rails:
            return None
        return max(0, max(rail.whole for rail in self.rails) - self.overhang)

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

    def rail_for(self, length: Length) -> Rail | None:
        """Return the shortest rail that takes a cut of that length; single rails first."""
        long_enough = [rail for rail in self.rails if rail.whole - self.overhang >= length]
        return min(long_enough, key=lambda rail: (rail.joined, rail.length), default=None)
