"""Words on pages: reckoned for the usual office font, since a page brings its font along."""

from collections.abc import Callable, Sequence

from layout_app.paper import ink, letters
from layout_app.paper.letters import SNUG
from layout_app.paper.pens import NARROW, OUTLINE

LEADING = 1.35
"""From line to line, in text sizes."""

Draw = Callable[[float, float, float], Sequence[ink.Item]]
"""Returns the items of a block whose top left corner is at x, y and that is so many mm long."""


def wrapped(text: str, room: float, size: float, *, bold: bool = False) -> list[str]:
    """Break text into lines of at most so many mm at a text size in mm."""
    return letters.wrapped(text, room / size / SNUG[bold], bold=bold)


def shortened(text: str, room: float, size: float, *, bold: bool = False) -> str:
    """Return text that takes at most so many mm; what is left out shows as dots."""
    return letters.shortened(text, room / size / SNUG[bold], bold=bold)


def two_lines(text: str, room: float, size: float) -> list[str]:
    """Break bold text into two lines at most; what is left out shows as dots."""
    return letters.two_lines(text, room / size / SNUG[True])


def length_of(text: str, size: float, *, bold: bool = False) -> float:
    """Return what a line takes, in mm."""
    return SNUG[bold] * letters.width_of(text, bold=bold) * size


def words(
    text: str,
    x: float,
    y: float,
    size: float,
    *,
    bold: bool = False,
    anchor: ink.Anchor = ink.Anchor.START,
) -> ink.Words:
    """Set a line whose capitals have their middle at y; all in mm."""
    return ink.Words(text=text, x=x, y=y, size=size, bold=bold, anchor=anchor, snug=True)


def rule(left: float, right: float, y: float, *, heavy: bool = False) -> ink.Item:
    """Draw a line across, in mm."""
    pen = ink.Pen(width=OUTLINE if heavy else NARROW)
    return ink.Strokes(lines=(((left, y), (right, y)),), pen=pen)
