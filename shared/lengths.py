"""Lengths: whole ticks inside, fractions of an inch or millimetres where the maker looks.

This module is the door to all that concerns lengths; `units` holds the tick and the units,
`length_reading` the parser. Here lengths are rounded and written.
"""

from collections.abc import Callable
from fractions import Fraction
from functools import lru_cache
from math import ceil, floor

from shared.length_reading import AmbiguousLength, LengthError, parse_length
from shared.units import CM, FOOT, INCH, METRE, MM, TICK_NM, Length, LengthStyle, Unit, nearest

__all__ = [
    "CM",
    "FOOT",
    "INCH",
    "METRE",
    "MM",
    "TICK_NM",
    "AmbiguousLength",
    "Length",
    "LengthError",
    "LengthStyle",
    "Unit",
    "format_down",
    "format_exact",
    "format_length",
    "format_mark",
    "format_pair",
    "format_up",
    "format_with_remainder",
    "parse_length",
    "round_down",
    "round_nearest",
    "round_up",
    "step",
    "with_unit",
]


def step(style: LengthStyle) -> Length:
    """Finest difference a style shows, in ticks."""
    if style.unit is Unit.INCH:
        return INCH // style.denominator
    return int(MM // 10**style.decimals)


def round_down(ticks: Length, style: LengthStyle) -> Length:
    """Largest length on the style's steps that is not larger: for what must fit into a gap."""
    return ticks // step(style) * step(style)


def round_up(ticks: Length, style: LengthStyle) -> Length:
    """Smallest length on the style's steps that is not smaller: for what must cover a gap."""
    return -round_down(-ticks, style)


def round_nearest(ticks: Length, style: LengthStyle) -> Length:
    """Nearest length on the style's steps, halves away from zero."""
    return nearest(Fraction(ticks, step(style))) * step(style)


def format_length(ticks: Length, style: LengthStyle) -> str:
    """Write a length without its unit, rounded to the style, halves away from zero.

    Parameters
    ----------
    ticks
        The length in ticks.
    style
        Inches give a reduced mixed fraction (``23 1/4``), millimetres a decimal without trailing
        zeros (``590.5``).
    """
    return format_exact(ticks, style)[0]


def format_exact(ticks: Length, style: LengthStyle) -> tuple[str, Length]:
    """Write a length, and say what the rounding left over.

    Returns
    -------
    tuple[str, Length]
        The text, and the remainder in ticks: the length less what the text says, so it is
        positive if the length is a little longer.
    """
    return _exact(ticks, style)


@lru_cache(8192)
def _exact(ticks: Length, style: LengthStyle) -> tuple[str, Length]:
    """Return the same: sizes of a job repeat, and are written whenever it is drawn."""
    shown = round_nearest(ticks, style)
    sign = "-" if shown < 0 else ""
    write = _inches if style.unit is Unit.INCH else _millimetres
    return sign + write(abs(shown)), ticks - shown


def format_with_remainder(ticks: Length, style: LengthStyle) -> str:
    """Write a length and what the rounding left over, such as ``23 1/4 + 1/64``, to be read back.

    The remainder is written in 64ths of an inch if that is exact, else in 0.001 in or 0.01 mm;
    one that is smaller than half of these is not shown.
    """
    text, remainder = format_exact(ticks, style)
    small = _small_inches(abs(remainder))
    if style.unit is Unit.MM:
        small = _millimetres(abs(remainder))
    if small == "0":
        return text
    return f"{text} {'-' if remainder < 0 else '+'} {small}"


def format_mark(ticks: Length, style: LengthStyle) -> str:
    """Write a length as it is found on a rule, such as ``28 11/32 shy``.

    A length in inches that is more than a quarter of a step off the mark is ``shy`` of it, or
    ``strong``; one in millimetres gets one more decimal instead. Exact values stand in files.
    """
    return _marked(ticks, style, nearest)


def format_down(ticks: Length, style: LengthStyle) -> str:
    """Write what must fit, as `format_mark`: it is ``strong`` of the mark, never shy."""
    return _marked(ticks, style, floor)


def format_up(ticks: Length, style: LengthStyle) -> str:
    """Write what must cover, as `format_mark`: it is ``shy`` of the mark, never strong."""
    return _marked(ticks, style, ceil)


def _marked(ticks: Length, style: LengthStyle, onto: Callable[[Fraction], int]) -> str:
    """Write a length on a step that ``onto`` rounds to, and how it is off that mark."""
    fine = step(style)
    shown = onto(Fraction(ticks, fine)) * fine
    if 4 * abs(ticks - shown) <= fine:
        return format_length(shown, style)
    if style.unit is Unit.MM:
        finer = fine // 10
        return _decimal(onto(Fraction(ticks, finer)) * finer, MM, style.decimals + 1)
    return f"{format_length(shown, style)} {'shy' if ticks < shown else 'strong'}"


def format_pair(length: Length, width: Length, style: LengthStyle) -> str:
    """Write a size with its labels, such as ``L 72 × W 11 7/8``, without the unit."""
    return f"L {format_length(length, style)} × W {format_length(width, style)}"


def with_unit(text: str, style: LengthStyle) -> str:
    """Add the unit that a written length is in."""
    return f"{text} {style.unit}"


def _inches(ticks: Length) -> str:
    whole, rest = divmod(ticks, INCH)
    part = Fraction(rest, INCH)
    if not part:
        return str(whole)
    return f"{whole} {part}" if whole else str(part)


def _millimetres(ticks: Length) -> str:
    return _decimal(ticks, MM, 2)


def _small_inches(ticks: Length) -> str:
    return _inches(ticks) if ticks % (INCH // 64) == 0 else _decimal(ticks, INCH, 3)


def _decimal(ticks: Length, unit: Length, decimals: int) -> str:
    """Write a length in a unit with so many decimals at most."""
    scale = int(10**decimals)
    count = nearest(Fraction(ticks * scale, unit))
    whole, rest = divmod(abs(count), scale)
    return f"{'-' if count < 0 else ''}{whole}.{rest:0{decimals}d}".rstrip("0").rstrip(".")
