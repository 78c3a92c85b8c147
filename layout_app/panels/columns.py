"""Columns of a table: how a field is shown, and how text becomes the field."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from typing import Generic, TypeVar

from shared.job import Job
from shared.lengths import (
    INCH,
    Length,
    LengthStyle,
    Unit,
    format_exact,
    format_length,
    format_with_remainder,
    parse_length,
)

Row = TypeVar("Row")


@dataclass(frozen=True, slots=True, kw_only=True)
class Column(Generic[Row]):
    """One column.

    Attributes
    ----------
    heading, field, tip
        Words above it; name of the row's attribute, as issues name it; what it means.
    also
        Other words that may stand above it in pasted text.
    perhaps
        Words that may mean it, and do where `reads` says so of a cell below them.
    show
        Text of a row's field.
    change
        The row with a field read from text, or ``None`` for what is only shown; raises a
        ValueError whose text is a sentence.
    choices
        All that can be chosen, when nothing else may be written.
    suggests
        Words to complete what is typed with.
    wide
        A sample of the widest usual text, for the column's width.
    number
        Set to the right.
    grows
        As wide as its longest text: a number of which half is cut off is another number.
    """

    heading: str
    field: str
    also: Sequence[str] = ()
    perhaps: Sequence[str] = ()
    reads: Callable[[str], bool] = lambda _: False
    show: Callable[[Row, LengthStyle], str]
    change: Callable[[Row, str, LengthStyle], Row] | None = None
    choices: Sequence[str] = ()
    suggests: Callable[[Job], Sequence[str]] | None = None
    tip: str = ""
    wide: str = ""
    number: bool = False
    grows: bool = False


def words(text: str, what: str) -> str:
    """Return text that has to say something, on one line; ValueError if it says nothing."""
    line = " ".join(text.split())
    if not line:
        raise ValueError(f"Give the {what} a name.")
    return line


def size_text(ticks: Length, style: LengthStyle) -> str:
    """Write a length for a cell, with what rounding leaves over; empty while it is not known."""
    return format_with_remainder(ticks, style) if ticks else ""


def measured_text(ticks: Length, style: LengthStyle) -> str:
    """Write a thickness or a kerf as it is measured: thousandths where no fraction is exact."""
    if style.unit is Unit.MM:
        return format_length(ticks, replace(style, decimals=2))
    text, remainder = format_exact(ticks, style)
    return text if not remainder else f"{ticks / INCH:.3f}".rstrip("0").rstrip(".")


def positive(text: str, style: LengthStyle) -> Length:
    """Read a length above 0; ValueError if it is none."""
    ticks = parse_length(text, style.unit)
    if ticks <= 0:
        raise ValueError("A size has to be more than 0.")
    return ticks


def not_negative(text: str, style: LengthStyle) -> Length:
    """Read a length of 0 or more; ValueError if it is none."""
    ticks = parse_length(text, style.unit)
    if ticks < 0:
        raise ValueError("This cannot be less than 0.")
    return ticks


def none_or_more(text: str, style: LengthStyle) -> Length:
    """Read a length of 0 or more, where nothing or ``none`` is 0; ValueError if it is none."""
    return 0 if _is_nothing(text) else not_negative(text, style)


def measured_size(text: str, style: LengthStyle) -> Length:
    """Read a size above 0, or 0 where nothing is measured yet; ValueError if it is neither."""
    return 0 if _is_nothing(text) else positive(text, style)


def _is_nothing(text: str) -> bool:
    return text.strip().casefold() in ("", "none", "not yet")


def one_of(text: str, choices: Sequence[str]) -> str:
    """Return the choice that the text begins to spell; ValueError if there is not just one."""
    wanted = " ".join(text.casefold().split())
    exact = [one for one in choices if one.casefold() == wanted]
    found = exact or [one for one in choices if wanted and one.casefold().startswith(wanted)]
    if len(found) != 1:
        raise ValueError(f"Write one of: {', '.join(choices)}.")
    return found[0]
