"""Words of the maker in labels, tips, menus and titles: shown as they were typed.

Qt takes words that look like HTML for rich text, in labels as in tips: a part called
``<i>Top</i>`` would lose its marks, and ``<img src="...">`` would be looked for. In a menu or
on a button an ampersand marks a key, in the title of a window ``[*]`` a change.
"""

import re
from html import escape
from typing import Final

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QLabel, QWidget

LONGEST_LINE: Final = 100
"""Letters; a tip with a longer line is broken into several."""
LONGEST_ROW: Final = 72
"""Letters of a row of a menu; what is longer ends in an ellipsis."""
BREAK: Final = "\u200b"
"""A place where a line may end; it is not seen (ZERO WIDTH SPACE, Unicode Standard, 23.2)."""
_RUN: Final = re.compile(r"\S{25,}")
_WITHIN: Final = re.compile(r"(\S{7}\w)(?=\w)")


class Label(QLabel):
    """A label whose words, and those of its tip, are never taken for rich text.

    A run of letters that is wider than any word may be broken where the label is.
    """

    def __init__(self, text: str = "", parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._given = ""
        self.setTextFormat(Qt.TextFormat.PlainText)
        self.setText(text)

    def setText(self, text: str) -> None:
        """Show text as it is."""
        self._given = text
        super().setText(breakable(text))

    def text(self) -> str:
        """Return what is shown, as it was given."""
        return self._given

    def clear(self) -> None:
        """Show nothing."""
        self.setText("")

    def setToolTip(self, text: str) -> None:
        """Show text as it is in the tip."""
        super().setToolTip(tip(text))
        self.setAccessibleDescription(text)  # else Qt would have the tip's own marks read out


def breakable(text: str) -> str:
    """Return text in which a run of letters that is wider than any word can go on a new line."""
    return _RUN.sub(lambda run: _WITHIN.sub(rf"\1{BREAK}", run[0]), text)


def tip(text: str) -> str:
    """Return what to hand to Qt so that a tip shows text as it is, in lines that are not too long.

    A tip that Qt takes for plain text is never broken, and wider than the screen in the end.
    """
    if any(len(line) > LONGEST_LINE for line in text.splitlines()):
        return _as_html(breakable(text), "pre-wrap")
    guessed = "<" in text or "&lt;" in text  # without one of them Qt does not think of HTML
    return _as_html(text, "pre") if guessed else text


def _as_html(text: str, white_space: str) -> str:
    return f'<div style="white-space: {white_space}">{escape(text)}</div>'


def in_menu(text: str) -> str:
    """Return text for the row of a menu: no letter of it a key, on one line, its end left out.

    A menu is as wide as its longest row, and its keys stand behind that.
    """
    line = " ".join(text.split())
    kept = line if len(line) <= LONGEST_ROW else line[: LONGEST_ROW - 1] + "…"
    return kept.replace("&", "&&")


def title(text: str) -> str:
    """Return text for the title of a window, on one line; ``[*]`` in it marks no change."""
    return " ".join(text.split()).replace("[*]", "[*][*]")
