"""Beside cards and table: all there is to say of the selected cut; else what is set for which."""

from collections.abc import Iterable, Sequence
from html import escape
from itertools import groupby
from typing import Final

from PySide6.QtCore import QSize, Qt, QTimer
from PySide6.QtGui import QResizeEvent, QShowEvent, QTextOption
from PySide6.QtWidgets import QFrame, QTextBrowser, QWidget

from layout_app.document.document import Document
from layout_app.look.theme import Theme
from layout_app.panels.cards import Card
from layout_app.panels.sequence import SequenceView

LEAST_WIDTH, MOST_WIDTH = 236, 400
"""In pixels."""
COLUMNS = 38
"""Figures that have to find room beside each other, for settings and cuts to be columns."""


class TellingPane(QTextBrowser):
    """Follows the selected cut; longer than the pane, it scrolls."""

    def __init__(
        self, document: Document, cards: SequenceView, theme: Theme, parent: QWidget | None = None
    ) -> None:
        super().__init__(parent)
        self._document, self._cards, self._theme = document, cards, theme
        self._written = ""
        self.setObjectName("telling")
        self.setAccessibleName("What the selected cut says")
        self.setFrameShape(QFrame.Shape.NoFrame)
        self.setOpenLinks(False)
        self.setWordWrapMode(QTextOption.WrapMode.WordWrap)  # never inside a size
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setMinimumWidth(LEAST_WIDTH)
        self.setMaximumWidth(MOST_WIDTH)
        self.document().setDocumentMargin(8)
        self.document().setDefaultStyleSheet("p { margin: 0 0 5px 0; }")
        document.selection.changed.connect(self.refresh)
        for changed in (
            document.layout_changed,
            document.job_changed,
            document.progress_changed,
        ):
            changed.connect(self.refresh_soon)

    def sizeHint(self) -> QSize:
        """Ask for no more height than the cards do."""
        return QSize(MOST_WIDTH, self.minimumSizeHint().height())

    def set_theme(self, theme: Theme) -> None:
        """Write in other colours."""
        self._theme = theme
        self.refresh()

    def showEvent(self, event: QShowEvent) -> None:
        """Catch up with the plan."""
        super().showEvent(event)
        self.refresh()

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Write anew if there is room for columns now, or no more."""
        super().resizeEvent(event)
        self.refresh()

    @property
    def is_narrow(self) -> bool:
        """Whether two columns would have too little room."""
        return self.viewport().width() < self.fontMetrics().horizontalAdvance("0") * COLUMNS

    def refresh_soon(self) -> None:
        """Write what is to be said, as soon as there is time."""
        QTimer.singleShot(0, self, self.refresh)

    def refresh(self) -> None:
        """Write what is to be said now; a pane that nobody sees waits until it is seen."""
        if not self.isVisible():
            return
        number, cards = self._document.selection.cut, self._cards.cards
        chosen = next((card for card in cards if card.number == number), None)
        if chosen is None:
            text = settings_text(cards, self._theme, narrow=self.is_narrow)
            self._write(text, settings_spoken(cards))
        else:
            self._write(cut_text(chosen, self._theme), chosen.told.spoken)

    def _write(self, text: str, spoken: str) -> None:
        if text != self._written:
            self._written = text
            self.setHtml(text)
        self.setAccessibleDescription(spoken)


SIZES: Final = "Sizes to set, each named once"
NOTE: Final = "Levels share a size here; as set-ups, which cost time, they count one a level."
"""Why there are not as many sizes as set-ups; see *Set-up* in `shared.cuts.tally`."""

JOINED: Final = "\N{WORD JOINER}"
STEP_PX: Final = 12


def cut_text(card: Card, theme: Theme) -> str:
    """Write all that is to be said of one cut, its cautions first."""
    told = card.told
    rows = "".join(_row(heading, words, theme) for heading, words in told.lines)
    minded = "".join(
        f'<p style="color:{theme.warning}"><b>!</b>&nbsp; {escape(one.sentence)}'
        f' <span style="color:{theme.pencil}">({escape(one.source)})</span></p>'
        for one in told.cautions
    )
    return f"<p><b>{told.number}&nbsp; {escape(told.title)}</b></p>{minded}{_table(rows)}"


def settings_text(cards: Sequence[Card], theme: Theme, *, narrow: bool = False) -> str:
    """List what is set in the whole sequence, each setting once, with the cuts it serves.

    Where it is ``narrow`` the cuts stand behind their setting and go on below it, not in a column.
    """
    if not cards:
        return ""
    served: dict[str, list[int]] = {}
    for card in cards:
        served.setdefault(card.label, []).append(card.number)
    line = _behind if narrow else _row
    rows = "".join(
        line(label, f"{'cut' if len(numbers) == 1 else 'cuts'} {ranges(numbers)}", theme)
        for label, numbers in served.items()
    )
    note = f'<p style="color:{theme.pencil}">{escape(NOTE)}</p>'
    return f"<p><b>{SIZES}</b></p>{note}{rows if narrow else _table(rows)}"


def settings_spoken(cards: Sequence[Card]) -> str:
    """Say how many settings there are, for a screen reader."""
    count = len({card.label for card in cards})
    return f"{count} sizes to set. {NOTE} Select a cut to hear all of it." if cards else ""


def ranges(numbers: Iterable[int]) -> str:
    """Write rising numbers in short, such as ``1-4, 9``."""
    groups = groupby(enumerate(numbers), key=lambda pair: pair[1] - pair[0])
    found = []
    for _, group in groups:
        run = [number for _, number in group]
        found.append(str(run[0]) if len(run) == 1 else f"{run[0]}-{run[-1]}")
    return ", ".join(found)


def _table(rows: str) -> str:
    return f'<table cellspacing="0" cellpadding="0">{rows}</table>'


def _row(heading: str, words: str, theme: Theme) -> str:
    left = f'<td style="color:{theme.pencil}; padding-right:9px">{_whole(heading)}</td>'
    return f"<tr>{left}<td>{escape(words)}</td></tr>"


def _behind(heading: str, words: str, theme: Theme) -> str:
    """Write both on one line; where it is too long it goes on under the heading, a step in."""
    left = f'<span style="color:{theme.pencil}">{_whole(heading)}</span>'
    cuts = escape(words).replace("-", f"-{JOINED}").replace(" ", "&nbsp;", 1)
    return (
        f'<p style="margin:0 0 2px {STEP_PX}px; text-indent:-{STEP_PX}px">{left}&nbsp; {cuts}</p>'
    )


def _whole(words: str) -> str:
    """Return words that no end of a line breaks, also before the rest of a size."""
    return escape(words).replace("- ", f"-{JOINED} ").replace(" ", "&nbsp;")
