"""Reads lengths as makers write them, exactly, and never guesses.

The text goes through five steps: plain characters, digit groups, the places where it can be
meant in more than one way (each becomes a candidate text), unit names, and last a strict grammar
that sums in fractions. If the candidates that can be read differ, the maker is asked.
"""

import re
import unicodedata
from collections.abc import Iterable, Iterator
from fractions import Fraction
from functools import partial
from typing import Final

from shared.quoting import quoted
from shared.units import CM, FOOT, INCH, METRE, MM, Length, Unit, nearest

LONGEST_TEXT: Final = 120
"""Longest text looked at, in characters."""
LONGEST: Final[Length] = 1_000 * METRE
"""Anything longer is a slip of the keys; far below what 64-bit integers hold."""

_TICKS: Final = {"in": INCH, "ft": FOOT, "mm": MM, "cm": CM, "m": METRE}
_UNIT_NAMES: Final = {
    '"': "in",
    "inch": "in",
    "inches": "in",
    "'": "ft",
    "foot": "ft",
    "feet": "ft",
    "millimetre": "mm",
    "millimetres": "mm",
    "millimeter": "mm",
    "millimeters": "mm",
    "centimetre": "cm",
    "centimetres": "cm",
    "centimeter": "cm",
    "centimeters": "cm",
    "metre": "m",
    "metres": "m",
    "meter": "m",
    "meters": "m",
} | {name: name for name in _TICKS}

_PLAIN: Final = str.maketrans(
    {
        **dict.fromkeys("\u2018\u2019\u02b9\u2032\u00b4", "'"),
        **dict.fromkeys("\u201c\u201d\u02ba\u2033", '"'),
        **dict.fromkeys("\u2010\u2011\u2013", "-"),
        **dict.fromkeys("\u2044\u2215", "/"),
    }
)
_VULGAR: Final = {
    c: unicodedata.normalize("NFKC", c).replace("\u2044", "/") for c in "½⅓⅔¼¾⅕⅖⅗⅘⅙⅚⅐⅛⅜⅝⅞⅑⅒"
}
_VULGAR_SET: Final = "".join(_VULGAR)

_CLEAR_GROUPS: Final = re.compile(
    r"(?<![\d.,/])[1-9]\d{0,2}([ ,.])\d{3}"
    r"(?:(?:\1\d{3})*(?!\1)[.,]\d+|(?:\1\d{3})+)(?![\d.,/])"
)
_COMMA_OR_GROUP: Final = re.compile(r"(?<![\d.,/])([1-9]\d{0,2})[ ,](\d{3})(?![\d.,/])")
_FRACTION: Final = re.compile(r"(?<![\d.,/])(\d{1,20})/(\d{1,20})(?![\d.,/])")
_UNIT_WORD: Final = re.compile(r"(?:(?<=\d)-)?([a-z]+)\.?|([\"'])")
_OPERATOR: Final = re.compile(r" ([+-]) ")
_TERM: Final = re.compile(
    r"(?:(?P<feet>\d{1,20}) ft )?"
    r"(?:(?:(?P<whole>\d{1,20})[ -])?(?P<top>\d{1,20})/(?P<bottom>\d{1,20})"
    r"|(?P<decimal>\d{1,20}|\d{0,20}[.,]\d{1,20}))"
    r" (?P<unit>in|ft|mm|cm|m)",
    re.ASCII,
)


class LengthError(ValueError):
    """A text is no length; the message is one sentence that names the text."""


class AmbiguousLength(LengthError):  # noqa: N818 - the name says the question, not a fault
    """A text can be meant in more than one way, and the maker has to say which.

    Attributes
    ----------
    readings
        Each way to read it: clear text, and the length in ticks.
    """

    def __init__(self, sentence: str, readings: tuple[tuple[str, Length], ...]) -> None:
        super().__init__(sentence)
        self.readings = readings


def parse_length(text: str, unit: Unit) -> Length:
    """Read a length, or a sum of lengths, as a maker writes it.

    Read are whole numbers, decimals (point or comma), fractions and mixed numbers
    (``23 1/4``, ``23-1/4``, ``23¼``), feet and inches (``1' 11 1/4"``, ``3'-2"``), the units in,
    ft, mm, cm and m with their names and marks, a leading sign, and sums (``12 + 3/4``). A minus
    needs a space on both sides, for ``23-1/4`` is a mixed number. The sum runs in fractions and
    is rounded once to whole ticks, halves away from zero.

    Parameters
    ----------
    text
        What the maker wrote.
    unit
        The unit of bare numbers; after feet a bare number is inches.

    Returns
    -------
    Length
        Ticks; negative if the text says so.

    Raises
    ------
    AmbiguousLength
        If it can be meant in more than one way: ``1,234`` (a group of thousands or a decimal
        comma), ``93/4`` (or 9 3/4 without its gap), ``3' - 2"`` (a dash or a minus),
        ``600 + 18 mm`` where bare numbers are inches.
    LengthError
        If it is no length, or longer than 1 km.
    """
    try:
        readings = _readings(_candidates(_plain(text), unit))
    except LengthError as error:
        raise LengthError(f"{quoted(text)} is not a length: {error}.") from None
    if len(readings) > 1:
        raise AmbiguousLength(_question(text, readings.values()), _as_pairs(readings))
    return next(iter(readings))


def _question(text: str, readings: Iterable[str]) -> str:
    return f"{quoted(text)} can be read as {' or as '.join(readings)}."


def _as_pairs(readings: dict[Length, str]) -> tuple[tuple[str, Length], ...]:
    return tuple((clear, ticks) for ticks, clear in readings.items())


def _plain(text: str) -> str:
    """Write a text with ASCII signs, small letters and single spaces."""
    if len(text) > LONGEST_TEXT:
        raise LengthError(f"it has more than {LONGEST_TEXT} characters")
    if not all(c.isprintable() or c.isspace() for c in text):
        raise LengthError("it holds a character that cannot be seen")
    line = " ".join(_spelled_fractions(text.translate(_PLAIN)).lower().split())
    if not line:
        raise LengthError("nothing is written")
    return _plain_minus(line).replace("''", '"')


def _spelled_fractions(text: str) -> str:
    """Spell ½ as 1/2, kept apart from digits beside it, which are no part of it."""
    apart = re.sub(rf"(?<=\d)(?=[{_VULGAR_SET}])", " ", text)
    apart = re.sub(rf"(?<=[{_VULGAR_SET}])(?=[\d{_VULGAR_SET}])", " ", apart)
    return "".join(_VULGAR.get(c, c) for c in apart)


def _plain_minus(text: str) -> str:
    """Accept the minus sign where it can only be a minus, and the plus sign anywhere."""
    text = re.sub(r"(^| )\u2212", r"\1-", text)
    return " ".join(re.sub(r"(?<=\S)\+", " + ", text).split())


def _candidates(text: str, unit: Unit) -> Iterator[str]:
    """Yield every clear text this one may stand for."""
    for ungrouped in _either_comma(_without_clear_groups(text)):
        for gapped in _either_gap(ungrouped):
            for joined in _either_dash(gapped):
                yield from _either_unit(_with_unit_names(joined), unit)


def _without_clear_groups(text: str) -> str:
    """Close up thousands that can be nothing else: 1,234.5 and 1.234,5 and 1,234,567."""
    return _CLEAR_GROUPS.sub(_ungrouped, text)


def _ungrouped(match: re.Match[str]) -> str:
    separator = match[1]
    number = match[0].replace(separator, "")
    return number.replace(",", ".")


def _either_comma(text: str) -> list[str]:
    """Read 1,234 (or 1 234) with a group of thousands, and with a decimal comma."""
    thousands = _COMMA_OR_GROUP.sub(r"\1\2", text)
    return [text] if thousands == text else [thousands, _COMMA_OR_GROUP.sub(r"\1.\2", text)]


def _either_gap(text: str) -> list[str]:
    """Read 93/4 as 23 1/4, and as 9 3/4 that has lost its gap.

    The gap is lost by typing, and by programs that turn 9¾ into 93⁄4 when text is copied.
    """
    lost = [_FRACTION.sub(partial(_with_gap, digits=digits), text) for digits in (1, 2, 3)]
    found = [candidate for candidate in lost if candidate != text]
    return [_FRACTION.sub(_as_mixed, text), *found] if found else [text]


def _with_gap(match: re.Match[str], digits: int) -> str:
    """Part an improper fraction before the last digits of its top, if that makes it proper."""
    whole, top, bottom = match[1][:-digits], match[1][-digits:], match[2]
    proper = int(top) < int(bottom) <= int(match[1])
    return f"{whole} {top}/{bottom}" if proper and top[0] != "0" else match[0]


def _as_mixed(match: re.Match[str]) -> str:
    """Write an improper fraction as the mixed number it amounts to."""
    bottom = int(match[2])
    if not 0 < bottom <= int(match[1]):
        return match[0]
    whole, top = divmod(int(match[1]), bottom)
    return f"{whole} {top}/{bottom}" if top else str(whole)


def _either_dash(text: str) -> list[str]:
    """Read 3' - 2" as a subtraction, and as feet and inches joined by a dash."""
    text = re.sub(r"('|ft\.?|foot|feet)-(?=[\d.])", r"\1", text)
    joined = text.replace("' - ", "' ")
    return [text] if joined == text else [text, joined]


def _with_unit_names(text: str) -> str:
    """Write every unit by its short name, apart from the numbers on both sides.

    A dash right after it stays there: ``3"- 2`` must not turn into a subtraction.
    """
    named = _UNIT_WORD.sub(_unit_name, text)
    return " ".join(re.sub(r"(?<=[a-z])(?=[\d.,])", " ", named).split())


def _unit_name(match: re.Match[str]) -> str:
    written = match[1] or match[2]
    if written not in _UNIT_NAMES:
        raise LengthError(f"{quoted(written)} is no unit known here")
    return f" {_UNIT_NAMES[written]}"


def _either_unit(text: str, unit: Unit) -> Iterator[str]:
    """Give bare numbers the usual unit, and also any other that the text names."""
    terms = [_with_inches_after_feet(term) for term in _OPERATOR.split(text)]
    named = [term.rpartition(" ")[2] for term in terms[::2] if not _is_bare(term)]
    for name in dict.fromkeys([str(unit), *named]):
        yield " ".join(f"{term} {name}" if _is_bare(term) else term for term in terms)


def _is_bare(term: str) -> bool:
    return term not in ("+", "-") and not term[-1:].isalpha()


def _with_inches_after_feet(term: str) -> str:
    return f"{term} in" if " ft " in term and _is_bare(term) else term


def _readings(candidates: Iterable[str]) -> dict[Length, str]:
    """Measure each candidate that can be read; raise the first reason if none can."""
    readings: dict[Length, str] = {}
    refused: list[LengthError] = []
    for candidate in candidates:
        try:
            readings.setdefault(nearest(_sum(candidate)), candidate)
        except LengthError as error:
            refused.append(error)
    if not readings:
        raise refused[0]
    if all(abs(ticks) > LONGEST for ticks in readings):
        raise LengthError("it is longer than 1 km")
    return readings


def _sum(text: str) -> Fraction:
    """Sum the terms of a clear text, in ticks; only the first may carry its own sign."""
    unsigned = text[1:] if text[0] in "+-" else text
    first, *rest = _OPERATOR.split(unsigned)
    total = _term(first) * (-1 if text[0] == "-" else 1)
    for operator, term in zip(rest[::2], rest[1::2], strict=True):
        total += _term(term) * (-1 if operator == "-" else 1)
    return total


def _term(text: str) -> Fraction:
    """Measure one term with its unit, such as ``1 ft 11-1/4 in``, in ticks."""
    match = _TERM.fullmatch(text)
    if match is None:
        raise LengthError("write it like 23 1/4 or 1' 11 1/4\" or 590.5 mm")
    number = _number(match)
    if match["feet"]:
        _check_inches_after_feet(number, match["unit"])
    return number * _TICKS[match["unit"]] + int(match["feet"] or 0) * FOOT


def _check_inches_after_feet(number: Fraction, unit: str) -> None:
    if unit != "in" or number >= 12:
        raise LengthError("after feet come inches, fewer than 12")


def _number(match: re.Match[str]) -> Fraction:
    """Value of the decimal, fraction or mixed number that a term consists of."""
    if match["decimal"]:
        return Fraction(match["decimal"].replace(",", "."))
    if int(match["bottom"]) == 0:
        raise LengthError("a fraction cannot have 0 below the line")
    part = Fraction(int(match["top"]), int(match["bottom"]))
    if match["whole"] and part >= 1:
        raise LengthError("a fraction after a whole number is smaller than 1")
    return int(match["whole"] or 0) + part
