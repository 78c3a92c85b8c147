"""The maker's saw and habits, as far as a plan depends on them."""

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


@dataclass(frozen=True, slots=True, kw_only=True)
class Shop:
    """Kerf, pace and what is worth keeping.

    Attributes
    ----------
    tool
        What the maker calls the saw.
    kerf
        Measured width of the slot, in ticks.
    cut_s, setup_s, skim_s
        Seconds for one cut, for setting a guide or stop, and extra for a skim cut.
    keep_length, keep_width
        Least size of an offcut worth labelling, in ticks, long side and short side.
    """

    tool: str = "rail saw"
    kerf: Length = 22 * MM // 10
    cut_s: int = 60
    setup_s: int = 60
    skim_s: int = 60
    keep_length: Length = 300 * MM
    keep_width: Length = 100 * MM
