"""The list below a diagram: what is short stands in columns beside each other."""

from collections.abc import Sequence
from dataclasses import dataclass

from layout_app.paper.letters import width_of, wrapped

MOST = 4
"""Columns beside each other."""
GUTTER = 1.6
"""Between two columns, in text sizes."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Said:
    """What is said in lines of its own.

    Attributes
    ----------
    whole
        The things said, each in one piece.
    lines
        Each line as texts and how far from the left they begin, in text sizes.
    """

    whole: tuple[str, ...]
    lines: tuple[tuple[tuple[float, str], ...], ...]


def paragraph(text: str, room: float) -> Said:
    """Break one text into lines at most that wide, in text sizes."""
    lines = tuple(((0.0, line),) for line in wrapped(text, room))
    return Said(whole=(text,), lines=lines)


def rows(texts: Sequence[str], room: float) -> list[Said]:
    """Set texts row by row into as many columns as the longest leaves room for."""
    widest = max(map(width_of, texts), default=room)
    columns = max(1, min(MOST, int((room + GUTTER) / (widest + GUTTER))))
    if columns == 1:
        return [paragraph(text, room) for text in texts]
    step = (room + GUTTER) / columns
    return [
        Said(
            whole=tuple(row),
            lines=(tuple((place * step, text) for place, text in enumerate(row)),),
        )
        for row in (texts[at : at + columns] for at in range(0, len(texts), columns))
    ]
