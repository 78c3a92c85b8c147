"""Weights in the maker's units."""

from fractions import Fraction

from shared.lengths import LengthStyle, Unit
from shared.units import nearest

POUND_UG = 453_592_370
"""One pound in micrograms, exact (international yard and pound agreement, 1959)."""


def weight_words(grams: int, style: LengthStyle) -> str:
    """Write a weight in pounds beside inches, in kilograms beside millimetres, rounded."""
    if style.unit is Unit.INCH:
        return f"{nearest(Fraction(grams * 1_000_000, POUND_UG))} lb"
    if grams < 10_000:
        tenths = nearest(Fraction(grams, 100))
        return f"{tenths // 10}.{tenths % 10} kg".replace(".0 ", " ")
    return f"{nearest(Fraction(grams, 1000))} kg"
