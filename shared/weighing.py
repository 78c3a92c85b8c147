"""Weights: whole grams inside, kilograms or pounds where the maker looks."""

import re
from fractions import Fraction
from typing import Final

from shared.lengths import Unit
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
    grams = nearest(number * _in_grams((match[2] or "").casefold(), unit))
    if grams > HEAVIEST_G:
        raise WeightError(f"{quoted(text)} is too heavy: nobody lifts 10,000 kg.")
    return grams


def format_weight(grams: int, unit: Unit) -> str:
    """Write a weight with its unit to a tenth, such as ``23 kg`` or ``50.7 lb``."""
    one, name = (POUND_G, "lb") if unit is Unit.INCH else (Fraction(1000), "kg")
    whole, tenth = divmod(nearest(Fraction(abs(grams) * 10) / one), 10)
    sign = "-" if grams < 0 else ""
    return f"{sign}{whole}{f'.{tenth}' if tenth else ''} {name}"


def _in_grams(name: str, unit: Unit) -> Fraction:
    if name == "g":
        return Fraction(1)
    pounds = name.startswith(("lb", "pound")) or (not name and unit is Unit.INCH)
    return POUND_G if pounds else Fraction(1000)
