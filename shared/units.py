"""The tick, the units made of ticks, and how the maker wishes lengths shown.

One inch is 25.4 mm exactly (international yard and pound agreement, 1959), so a tick of 25 nm
holds 1/64 in, 0.001 in and 0.01 mm without a remainder.
"""

from dataclasses import dataclass
from enum import StrEnum
from fractions import Fraction
from typing import Final, TypeAlias

Length: TypeAlias = int
"""A length in ticks of 25 nm; a negative one is a difference."""

TICK_NM: Final = 25
MM: Final[Length] = 40_000
CM: Final[Length] = 10 * MM
METRE: Final[Length] = 1_000 * MM
INCH: Final[Length] = 1_016_000
FOOT: Final[Length] = 12 * INCH


class Unit(StrEnum):
    """The unit a bare number is read in, and lengths are shown in."""

    INCH = "in"
    MM = "mm"


@dataclass(frozen=True, slots=True, kw_only=True)
class LengthStyle:
    """How lengths are shown.

    Parameters
    ----------
    unit
        Inches as mixed fractions, or millimetres as decimals.
    denominator
        Finest fraction of an inch shown: 16, 32 or 64.
    decimals
        Decimals of a millimetre shown at most: 0, 1 or 2.

    Raises
    ------
    ValueError
        If the denominator or the decimals are none of these.
    """

    unit: Unit = Unit.INCH
    denominator: int = 32
    decimals: int = 1

    def __post_init__(self) -> None:
        if self.denominator not in (16, 32, 64):
            raise ValueError(f"Inches are shown in 16ths, 32nds or 64ths, not {self.denominator}.")
        if self.decimals not in (0, 1, 2):
            raise ValueError(f"Millimetres are shown with 0 to 2 decimals, not {self.decimals}.")


def nearest(value: Fraction) -> int:
    """Round to a whole number, halves away from zero, so that both signs round alike."""
    size = (2 * abs(value.numerator) + value.denominator) // (2 * value.denominator)
    return -size if value < 0 else size
