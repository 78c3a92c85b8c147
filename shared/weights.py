"""What sheets and pieces weigh, from published densities."""

from typing import Final

from shared.lengths import MM, Length

DENSITIES: Final[dict[str, int]] = {
    "softwood plywood": 577,
    "hardwood plywood": 590,
    "birch plywood": 680,
    "MDF": 769,
    "chipboard": 650,
}
"""In kg/m3: 3 lb per square foot and inch for softwood plywood, 2.3 lb per square foot at
3/4 in for hardwood plywood, 769 for MDF, 680 for birch, 650 for chipboard; makers' tables."""


def grams(length: Length, width: Length, thickness: Length, density: int) -> int:
    """Return the weight of a piece in grams, rounded; 0 when the density is not known.

    Lengths in ticks, density in kg/m3.
    """
    volume = length * width * thickness
    return round(density * volume * 1000 / (1000 * MM) ** 3)
