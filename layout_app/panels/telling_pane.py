"""Beside cards and table: all there is to say of the selected cut; else what is set for which."""

from collections.abc import Callable, Iterable, Mapping, Sequence
from html import escape
from itertools import groupby
from typing import Final

from PySide6.QtCore import QSize, Qt, QTimer
from PySide6.QtGui import (
    QFont,
    QFontMetricsF,
    QResizeEvent,
    QShowEvent,
    QTextBlockFormat,
    QTextCharFormat,
    QTextCursor,
    QTextDocument,
    QTextOption,
)
from PySide6.QtWidgets import QFrame, QTextBrowser, QWidget

from layout_app.document.document import Document
from layout_app.look import pens
from layout_app.look.theme import Theme
from layout_app.panels.cards import Card
from layout_app.panels.sequence import SequenceView
from shared.telling import Caution

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
        self._written: object = ""
        self._told: tuple[Card, Theme] | None = None
        self._lists = False
        self.setObjectName("telling")
        self.setAccessibleName("What the selected cut says")
        self.setFrameShape(QFrame.Shape.NoFrame)
        self.setOpenLinks(False)
        self.setWordWrapMode(QTextOption.WrapMode.WordWrap)  # never inside a size
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setMinimumWidth(LEAST_WIDTH)
        self.setMaximumWidth(MOST_WIDTH)
        self.document().setDocumentMargin(8)
        self.setUndoRedoEnabled(False)
        self.document().setDefaultStyleSheet(f"p {{ margin: 0 0 {PARAGRAPH_PX}px 0; }}")
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
        if chosen is not None:
            told, self._told = self._told, (chosen, self._theme)
            if told is None or told[0] is not chosen or told[1] is not self._theme:
                text = cut_text(chosen, self._theme)
                self._write(text, chosen.told.spoken, lambda: self._write_cut(text))
        else:
            self._told = None
            served, theme, narrow = cuts_served(cards), self._theme, self.is_narrow
            self._write(
                (served, theme, narrow),
                settings_spoken(cards),
                lambda: self._write_settings(served, narrow=narrow),
            )

    def _write_settings(self, served: Mapping[str, str], *, narrow: bool) -> None:
        """Write the list and leave it scrolled as it was, from its top where a cut was told."""
        bar = self.verticalScrollBar()
        at = bar.value() if self._lists else 0
        self._lists = True
        write_settings(self.document(), served, self._theme, narrow=narrow)
        top = self.textCursor()
        top.movePosition(QTextCursor.MoveOperation.Start)
        self.setTextCursor(top)
        bar.setValue(at)

    def _write_cut(self, text: str) -> None:
        self._lists = False
        self.setHtml(text)

    def _write(self, what: object, spoken: str, write: Callable[[], None]) -> None:
        if what != self._written:
            self._written = what
            write()
        self.setAccessibleDescription(spoken)


SIZES: Final = "Settings, and the cuts they serve"

JOINED: Final = "\N{WORD JOINER}"
BLANK: Final = "\N{NO-BREAK SPACE}"
STEP_PX: Final = 12
GAP_PX: Final = 9
PARAGRAPH_PX: Final = 5


def cut_text(card: Card, theme: Theme) -> str:
    """Write all that is to be said of one cut: dangers first, handling last."""
    told = card.told
    rows = "".join(_row(heading, words, theme) for heading, words in told.lines)
    dangers = "".join(_caution(one, DANGER, theme.warning, theme) for one in told.dangers)
    handling = "".join(_caution(one, HANDLING, theme.graphite, theme) for one in told.handling)
    head = f"<p><b>{told.number}&nbsp; {escape(told.title)}</b></p>"
    return f"{head}{dangers}{_table(rows)}{handling}"


DANGER: Final = "Danger"
HANDLING: Final = "Handling"


def _caution(caution: Caution, sign: str, ink: str, theme: Theme) -> str:
    """Write a caution behind its sign, with where it comes from."""
    return (
        f'<p style="color:{ink}"><b>{sign}</b>&nbsp; {escape(caution.sentence)}'
        f' <span style="color:{theme.pencil}">({escape(caution.source)})</span></p>'
    )


def cuts_served(cards: Iterable[Card]) -> dict[str, str]:
    """Return what is set in the whole sequence, each setting once, and the cuts it serves."""
    served: dict[str, list[int]] = {}
    for card in cards:
        served.setdefault(card.label, []).append(card.number)
    return {
        label: f"{'cut' if len(numbers) == 1 else 'cuts'} {ranges(numbers)}"
        for label, numbers in served.items()
    }


def write_settings(
    paper: QTextDocument, served: Mapping[str, str], theme: Theme, *, narrow: bool = False
) -> None:
    """Write what `cuts_served` found: the cuts in a column that they keep to on every line.

    Where it is ``narrow`` the cuts stand behind their setting and go on below it, a step in.
    Line by line this is four times as quick as a table, and it is written at every drop.
    """
    pen = QTextCursor(paper)
    pen.beginEditBlock()  # all of it is laid out once, at the end
    pen.select(QTextCursor.SelectionType.Document)
    pen.removeSelectedText()
    if served:
        _write_served(pen, served, theme, narrow=narrow)
    pen.endEditBlock()


def _write_served(
    pen: QTextCursor, served: Mapping[str, str], theme: Theme, *, narrow: bool
) -> None:
    ink, pencil = QTextCharFormat(), QTextCharFormat()
    pencil.setForeground(pens.colour(theme.pencil))
    strong = QTextCharFormat(ink)
    strong.setFontWeight(QFont.Weight.Bold)
    said = QTextBlockFormat()
    said.setBottomMargin(PARAGRAPH_PX)
    line = _hanging(pen.document(), served, narrow=narrow)
    pen.setBlockFormat(said)
    pen.insertText(SIZES, strong)
    between = f"{BLANK} " if narrow else "\t"
    for label, cuts in served.items():
        pen.insertBlock(line)
        pen.insertText(_whole(label), pencil)
        pen.insertText(f"{between}{cuts.replace('-', f'-{JOINED}').replace(' ', BLANK, 1)}", ink)


def _hanging(paper: QTextDocument, served: Iterable[str], *, narrow: bool) -> QTextBlockFormat:
    """Return how the lines of a setting stand: all but the first begin further in."""
    figures = QFontMetricsF(paper.defaultFont())
    widest = max(figures.horizontalAdvance(_whole(label)) for label in served)
    step = STEP_PX if narrow else widest + GAP_PX
    line = QTextBlockFormat()
    line.setLeftMargin(step)
    line.setTextIndent(-step)
    line.setBottomMargin(2 if narrow else 0)
    if not narrow:
        line.setTabPositions([QTextOption.Tab(step, QTextOption.TabType.LeftTab)])
    return line


def settings_spoken(cards: Sequence[Card]) -> str:
    """Say how many settings there are, for a screen reader."""
    count = len({card.label for card in cards})
    return f"{count} settings. Select a cut to hear all of it." if cards else ""


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
    left = f'<td style="color:{theme.pencil}; padding-right:9px">{escape(_whole(heading))}</td>'
    return f"<tr>{left}<td>{escape(words)}</td></tr>"


def _whole(words: str) -> str:
    """Return words that no end of a line breaks, also before the rest of a size."""
    return words.replace("- ", f"-{JOINED} ").replace(" ", BLANK)
