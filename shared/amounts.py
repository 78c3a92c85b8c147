"""Prices and counts: read and written at the edge, whole numbers inside."""

import re
from typing import Final

from shared.quoting import quoted

HIGHEST_COUNT: Final = 999_999
"""Highest count read; more is a slip of the keys."""

_PRICE: Final = re.compile(r"(\d{0,9})(?:[.,](\d{1,2}))?", re.ASCII)
_GROUPED: Final = re.compile(r"[1-9]\d{0,2}(?:(?:,\d{3})+(?:\.\d{1,2})?|(?:\.\d{3})+,\d{1,2})")
_ONE_GROUP: Final = re.compile(r"\d{1,3},\d{3}")


class AmountError(ValueError):
    """A text is no price or no count; the message is one sentence that names the text."""


def parse_price(text: str) -> int:
    """Read a price in the maker's own money, written without its sign.

    Parameters
    ----------
    text
        ``52``, ``52.00``, ``52,50``; thousands may be grouped where nothing else can be meant
        (``1,250.00``, ``1.250,00``).

    Returns
    -------
    int
        Hundredths.

    Raises
    ------
    AmountError
        If it is no price, is negative, has more than two decimals, or can be read in two ways.
    """
    plain = text.strip()
    if _ONE_GROUP.fullmatch(plain):
        raise AmountError(
            f"{quoted(text)} can be read in two ways: write a price with no decimals or with two."
        )
    match = _PRICE.fullmatch(_ungrouped(plain))
    if match is None or not any(match.groups()):
        raise AmountError(f"{quoted(text)} is not a price: write it like 52 or 52.50.")
    return int(match[1] or 0) * 100 + int((match[2] or "").ljust(2, "0"))


def format_price(hundredths: int) -> str:
    """Write a price or a difference of prices with two decimals, such as ``312.00``."""
    whole, rest = divmod(abs(hundredths), 100)
    return f"{'-' if hundredths < 0 else ''}{whole}.{rest:02d}"


def parse_count(text: str) -> int:
    """Read how many there are: a whole number, 0 or more.

    Raises
    ------
    AmountError
        If it is no whole number, or above `HIGHEST_COUNT`.
    """
    plain = text.strip()
    if not re.fullmatch(r"\d{1,20}", plain, re.ASCII):
        raise AmountError(f"{quoted(text)} is not a count: write a whole number like 12.")
    if int(plain) > HIGHEST_COUNT:
        raise AmountError(f"{quoted(text)} is too many: {HIGHEST_COUNT} is the most.")
    return int(plain)


def _ungrouped(text: str) -> str:
    """Close up groups of thousands where the decimals, or a second group, make them clear."""
    return re.sub(r"[.,](?=\d{3})", "", text) if _GROUPED.fullmatch(text) else text


def percent_saved(before: int, after: int) -> str:
    """Say which part of a cost is saved, such as ``12 %``."""
    return f"{100 * (before - after) // max(1, before)} %"
