"""The day that stands on pages: of equal plans of one day every page has the same bytes."""

import os
from datetime import UTC, date, datetime
from typing import Final

GIVEN: Final = "SOURCE_DATE_EPOCH"
"""Names the day for runs that are to be repeated, in seconds since 1970, as the specification of
reproducible-builds.org has it."""
MONTHS: Final = (
    *("Jan", "Feb", "Mar", "Apr", "May", "Jun"),
    *("Jul", "Aug", "Sep", "Oct", "Nov", "Dec"),
)


def day_of_pages() -> date:
    """Return the day that pages carry: today, or the day in UTC that the environment names.

    Raises
    ------
    ValueError
        If the environment names none: a sentence on it.
    """
    given = os.environ.get(GIVEN, "")
    if not given:
        return date.today()
    try:
        if not (given.isascii() and given.isdigit()):
            raise ValueError
        return datetime.fromtimestamp(int(given), UTC).date()
    except (ValueError, OverflowError, OSError):
        raise ValueError(f"{GIVEN} has to be whole seconds since 1970, not {given!r}.") from None


def day_words(day: date) -> str:
    """Write a day so that no reader takes the month for the day: ``30 Nov 2026``."""
    return f"{day.day} {MONTHS[day.month - 1]} {day.year}"
