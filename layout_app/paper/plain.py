"""Names as one line of plain text, for files that other programs read."""

import re
from typing import Final

from layout_app.paper.xml import clean

_TURNS: Final = re.compile("[\u202a-\u202e\u2066-\u2069]")
"""Marks that turn the direction of all that follows, sizes included, until they are ended."""
_CONTROLS: Final = re.compile("[\x7f-\x9f]")


def one_line(text: str) -> str:
    """Return a text on one line.

    Line breaks, tabs and runs of spaces become one space, none at the ends; other control
    characters become the replacement character; marks that turn the writing direction of what
    follows go. Letters that are written from the right stay.
    """
    spaced = " ".join(_TURNS.sub("", text).split())
    return _CONTROLS.sub("\N{REPLACEMENT CHARACTER}", clean(spaced))
