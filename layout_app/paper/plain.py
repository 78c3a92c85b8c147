"""Names as one line of plain text, on paper and in files that other programs read."""

import re
from typing import Final

_NOT_XML: Final = re.compile("[^\t\n\r\x20-\ud7ff\ue000-\ufffd\U00010000-\U0010ffff]")
_TURNS: Final = re.compile("[\u202a-\u202e\u2066-\u2069]")
"""Marks that turn the direction of all that follows, sizes included, until they are ended."""
_CONTROLS: Final = re.compile("[\x7f-\x9f]")


def clean(text: str) -> str:
    """Return text without the characters XML 1.0 forbids (section 2.2)."""
    return _NOT_XML.sub("\N{REPLACEMENT CHARACTER}", text)


def one_line(text: str) -> str:
    """Return a text on one line.

    Line breaks, tabs and runs of spaces become one space, none at the ends; other control
    characters become the replacement character; marks that turn the writing direction of what
    follows go. Letters that are written from the right stay.
    """
    spaced = " ".join(_TURNS.sub("", text).split())
    return _CONTROLS.sub("\N{REPLACEMENT CHARACTER}", clean(spaced))
