"""How issues about rows of the take-off and of the stock are made, and what is common to them."""

from collections.abc import Callable, Iterable, Iterator
from dataclasses import replace
from typing import Final, TypeVar

from shared.issues import Issue, Severity
from shared.lengths import (
    METRE,
    Length,
    LengthStyle,
    format_length,
    format_pair,
    format_with_remainder,
    round_down,
    round_up,
    with_unit,
)
from shared.parts import Part
from shared.stock import Stock

LONGEST: Final[Length] = 100 * METRE
"""No sheet and no part is longer than this; a slip of the unit is."""

Row = TypeVar("Row", Part, Stock)
Judged = list[tuple[Row, list[Issue]]]
"""Rows in the maker's order, each with what is wrong with it."""


def error(code: str, subject: str, sentence: str, field: str = "") -> Issue:
    """Make the issue that leaves its subject out of the plan."""
    return Issue(
        code=code, severity=Severity.ERROR, subject=subject, field=field, sentence=sentence
    )


def warning(code: str, subject: str, sentence: str, field: str = "") -> Issue:
    """Make the issue that only asks whether this was meant."""
    return replace(error(code, subject, sentence, field), severity=Severity.WARNING)


def is_sound(issues: Iterable[Issue]) -> bool:
    """Say whether there is no error among the issues."""
    return all(issue.severity is not Severity.ERROR for issue in issues)


def sound(judged: Judged[Row]) -> tuple[Row, ...]:
    """Return the rows without an error."""
    return tuple(row for row, issues in judged if is_sound(issues))


def judge(rows: Iterable[Row], kind: str, faults: Callable[[Row], Iterator[Issue]]) -> Judged[Row]:
    """Collect what is wrong with each row; of rows with one id, all but the first are wrong."""
    seen: set[str] = set()
    judged: Judged[Row] = []
    for row in rows:
        issues = list(faults(row))
        if row.id in seen:
            said = f"{called(row)}: another row has the same id, {row.id}."
            issues.insert(0, error(f"{kind}-id-twice", row.id, said, "id"))
        seen.add(row.id)
        judged.append((row, issues))
    return judged


def called(row: Part | Stock) -> str:
    """Return what a sentence calls a row."""
    return row.name or f"{row.id} (no name)"


def about(ticks: Length, style: LengthStyle) -> str:
    """Write a length where a step of the style more or less does not matter."""
    return with_unit(format_length(ticks, style), style)


def say(ticks: Length, style: LengthStyle) -> str:
    """Write a length with its unit; what rounding would hide is written beside it."""
    return with_unit(format_with_remainder(ticks, style), style)


def say_size(length: Length, width: Length, style: LengthStyle) -> str:
    """Write a size with its labels and unit; what rounding would hide is written beside it."""
    along = format_with_remainder(length, style)
    return f"L {along} × W {say(width, style)}"


def say_at_least(ticks: Length, style: LengthStyle) -> str:
    """Write with its unit what is needed: rounded up to the style's step, so that it is enough."""
    return about(round_up(ticks, style), style)


def say_at_most(ticks: Length, style: LengthStyle) -> str:
    """Write with its unit what there is: rounded down to the style's step, never more."""
    return about(round_down(ticks, style), style)


def say_room(length: Length, width: Length, style: LengthStyle) -> str:
    """Write the size of what there is, with its labels and unit, rounded down."""
    return with_unit(format_pair(round_down(length, style), round_down(width, style), style), style)


def size_faults(row: Part | Stock, kind: str, style: LengthStyle) -> Iterator[Issue]:
    """Yield an error for each side that no sheet or part can have."""
    for field, ticks in (("length", row.length), ("width", row.width)):
        if ticks == 0:
            said = f"{called(row)}: the {field} is missing."
            yield error(f"{kind}-size-not-positive", row.id, said, field)
        elif ticks < 0:
            said = f"{called(row)}: the {field} is {say(ticks, style)}; it must be more than 0."
            yield error(f"{kind}-size-not-positive", row.id, said, field)
        elif ticks > LONGEST:
            said = f"{called(row)}: the {field} is {about(ticks, style)}, more than 100 m."
            yield error(f"{kind}-size-absurd", row.id, said, field)
