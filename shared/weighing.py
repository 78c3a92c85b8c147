"""Weights: of sheets and pieces, from published densities; read and written.

Whole grams inside, kilograms or pounds where the maker looks.
"""

import re
from fractions import Fraction
from typing import Final

from shared.lengths import MM, Length, Unit
from shared.quoting import quoted
from shared.units import nearest

POUND_G: Final = Fraction(45_359_237, 100_000)
"""Grams of a pound, exact by the agreement of 1959."""
HEAVIEST_G: Final = 10_000_000
"""Ten tonnes; more is a slip of the keys."""

_WEIGHT: Final = re.compile(r"(\d{1,9}(?:[.,]\d{1,3})?)\s*(kg|g|lbs?|pounds?)?\.?", re.IGNORECASE)


class WeightError(ValueError):
    """A text is no weight; the message is one sentence that names the text."""


def parse_weight(text: str, unit: Unit) -> int:
    """Read a weight in grams, rounded; `WeightError` if it is none.

    A bare number is in pounds where lengths are in inches, else in kilograms; ``kg``, ``g``
    or ``lb`` behind it say otherwise.
    """
    match = _WEIGHT.fullmatch(text.strip())
    if match is None:
        like = "51 lb" if unit is Unit.INCH else "23 kg"
        raise WeightError(f"{quoted(text)} is not a weight: write it like {like}.")
    number = Fraction(match[1].replace(",", "."))
    found = nearest(number * _in_grams((match[2] or "").casefold(), unit))
    if found > HEAVIEST_G:
        raise WeightError(f"{quoted(text)} is too heavy: nobody lifts 10,000 kg.")
    return found


def format_weight(weight: int, unit: Unit) -> str:
    """Write a weight in grams with its unit to a tenth, such as ``23 kg`` or ``50.7 lb``."""
    one, name = (POUND_G, "lb") if unit is Unit.INCH else (Fraction(1000), "kg")
    whole, tenth = divmod(nearest(Fraction(abs(weight) * 10) / one), 10)
    sign = "-" if weight < 0 else ""
    return f"{sign}{whole}{f'.{tenth}' if tenth else ''} {name}"


def _in_grams(name: str, unit: Unit) -> Fraction:
    if name == "g":
        return Fraction(1)
    pounds = name.startswith(("lb", "pound")) or (not name and unit is Unit.INCH)
    return POUND_G if pounds else Fraction(1000)


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
