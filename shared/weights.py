"""What sheets and pieces weigh, from published densities."""

from fractions import Fraction
from typing import Final

from shared.lengths import MM, Length
from shared.units import nearest

DENSITIES: Final[dict[str, int]] = {
    "softwood plywood": 577,
    "hardwood plywood": 590,
    "birch plywood": 680,
    "MDF": 769,
    "chipboard": 650,
}
"""In kg/m3: 3 lb per square foot and inch for softwood plywood, 2.3 lb per square foot at
3/4 in for hardwood plywood, 769 for MDF, 680 for birch, 650 for chipboard; makers' tables."""
HEAVIEST: Final = 3_000
"""In kg/m3, as heavy as stone; more is a slip of the keys."""


def grams(length: Length, width: Length, thickness: Length, density: int) -> int:
    """Return the weight of a piece in grams, rounded; 0 when the density is not known.

    Lengths in ticks, density in kg/m3.
    """
    volume = length * width * thickness
    return nearest(Fraction(density * volume * 1000, (1000 * MM) ** 3))
