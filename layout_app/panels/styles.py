"""The ways to write lengths that can be chosen."""

from typing import Final

from shared.lengths import LengthStyle, Unit

STYLES: Final = {
    LengthStyle(unit=Unit.INCH, denominator=16): "inches to 1/16",
    LengthStyle(unit=Unit.INCH, denominator=32): "inches to 1/32",
    LengthStyle(unit=Unit.INCH, denominator=64): "inches to 1/64",
    LengthStyle(unit=Unit.MM, decimals=0): "whole millimetres",
    LengthStyle(unit=Unit.MM, decimals=1): "millimetres to 0.1",
    LengthStyle(unit=Unit.MM, decimals=2): "millimetres to 0.01",
}


def style_text(style: LengthStyle) -> str:
    """Say how lengths are written."""
    return next((text for known, text in STYLES.items() if is_same(known, style)), str(style.unit))


def known_style(style: LengthStyle) -> LengthStyle:
    """Return the choice that writes lengths as a style does; the style itself if none does."""
    return next((known for known in STYLES if is_same(known, style)), style)


def is_same(one: LengthStyle, other: LengthStyle) -> bool:
    """Say whether two styles write every length alike."""
    if one.unit is not other.unit:
        return False
    if one.unit is Unit.INCH:
        return one.denominator == other.denominator
    return one.decimals == other.decimals
