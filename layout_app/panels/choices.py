"""The drawer with the choices side by side, in place of the cut sequence while it is open."""

from PySide6.QtCore import Qt, QTimer, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import (
    QFrame,
    QHBoxLayout,
    QPushButton,
    QScrollArea,
    QVBoxLayout,
    QWidget,
)

from layout_app.document.document import Document
from layout_app.look.as_typed import Label
from layout_app.look.theme import Theme
from layout_app.model.words.choice_words import difference
from layout_app.panels.choice_card import HEIGHT, ChoiceCard
from layout_app.planner.choices import is_shown, take_choice, with_shown
from layout_app.planner.live import Planning
from solver.outcome import Choice
from solver.planning.choices import choice_of

SHOWN = "on the bench"
HEADING = "Choices side by side"
HINT = "dearer stock, less sawing; Undo goes back to the plan before"
_STEPS = {Qt.Key.Key_Left: -1, Qt.Key.Key_Up: -1, Qt.Key.Key_Right: 1, Qt.Key.Key_Down: 1}


class ChoicesDrawer(QFrame):
    """Closed until it is opened; closes by itself when what it shows is void."""

    opened = Signal()
    closed = Signal()

    def __init__(
        self, document: Document, planning: Planning, theme: Theme, parent: QWidget | None = None
    ) -> None:
        super().__init__(parent)
        self._document, self._planning, self._theme = document, planning, theme
        self.setObjectName("choices")
        self.cards: list[ChoiceCard] = []
        self._made_of: tuple[object, ...] = ()
        self._soon = QTimer(self)
        self._soon.setSingleShot(True)
        self._soon.setInterval(0)
        self._soon.timeout.connect(self.refresh)
        self._arrange()
        for signal in (document.layout_changed, document.job_changed, planning.changed):
            signal.connect(self._refresh_soon)
        document.leaving.connect(self._leave)
        self.hide()

    @property
    def choices(self) -> tuple[Choice, ...]:
        """What can be chosen now, the one on the bench always included."""
        offered, plan = self._planning.choices, self._document.plan
        if not offered or plan is None:
            return offered
        return with_shown(offered, plan, self._document.job)

    def toggle(self) -> None:
        """Open it and give it the keys, or put it away."""
        if self.isVisible():
            self.put_away()
        elif self.choices:
            self.show()
            self.opened.emit()
            self.refresh()
            self._focus_shown()

    def put_away(self) -> None:
        """Close it."""
        self.hide()
        self.closed.emit()

    def _leave(self) -> None:
        """Put it away with the project that its choices are of."""
        if self.isVisible():
            self.put_away()
        old, self.cards, self._made_of = self.cards, [], ()
        self._forget(old)

    def set_theme(self, theme: Theme) -> None:
        """Paint the cards in other colours."""
        self._theme, self._made_of = theme, ()
        self.refresh()

    def refresh(self) -> None:
        """Lay out the cards of what can be chosen now."""
        if not self.isVisible():
            return
        if not self.choices or self._document.plan is None:
            self.put_away()
            return
        made_of = (self._planning.choices, self._document.plan)
        if self._made_of and all(a is b for a, b in zip(made_of, self._made_of, strict=True)):
            return
        self._made_of = made_of
        self._lay_cards()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Go from card to card with the arrows, put it away with Esc."""
        step = _STEPS.get(Qt.Key(event.key()))
        if event.key() == Qt.Key.Key_Escape:
            self.put_away()
        elif step is not None and self.cards:
            card = self.cards[((self._focused() or 0) + step) % len(self.cards)]
            card.setFocus()
            self._area.ensureWidgetVisible(card)
        else:
            super().keyPressEvent(event)

    def _refresh_soon(self) -> None:
        if self.isVisible():
            self._soon.start()

    def _lay_cards(self) -> None:
        focused, old = self._focused(), self.cards
        self.cards = []
        plan = self._document.plan
        assert plan is not None
        now = choice_of(plan, self._document.job)
        for number, choice in enumerate(self.choices):
            shown = is_shown(choice, plan)
            words = SHOWN if shown else difference(choice, now)
            card = ChoiceCard(choice, words, self._theme, self)
            card.setChecked(shown)
            card.clicked.connect(self._take)
            self._row.insertWidget(number, card)
            card.show()
            self.cards.append(card)
        if focused is not None:
            self.cards[min(focused, len(self.cards) - 1)].setFocus()
        self._forget(old)

    def _take(self) -> None:
        card = self.sender()
        if isinstance(card, ChoiceCard) and card in self.cards:
            take_choice(self._document, card.choice)
            card.setChecked(is_shown(card.choice, self._document.plan))

    def _focused(self) -> int | None:
        """Return the place of the card that has the keys."""
        focused = self.window().focusWidget()
        return next((n for n, card in enumerate(self.cards) if card is focused), None)

    def _focus_shown(self) -> None:
        shown = (card for card in self.cards if card.isChecked())
        next(shown, self.cards[0]).setFocus()

    def _forget(self, cards: list[ChoiceCard]) -> None:
        for card in cards:
            self._row.removeWidget(card)
            card.hide()
            card.deleteLater()

    def _arrange(self) -> None:
        column = QVBoxLayout(self)
        column.setContentsMargins(14, 4, 14, 4)
        column.setSpacing(4)
        column.addLayout(self._head())
        inside = QWidget(self)
        self._row = QHBoxLayout(inside)
        self._row.setContentsMargins(0, 0, 0, 0)
        self._row.setSpacing(10)
        self._row.addStretch(1)
        area = QScrollArea(self)
        area.setFrameShape(QFrame.Shape.NoFrame)
        area.setWidgetResizable(True)
        area.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        area.setVerticalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        area.setWidget(inside)
        area.setFixedHeight(HEIGHT + 14)
        column.addWidget(area)
        column.addStretch(1)
        self._area = area

    def _head(self) -> QHBoxLayout:
        heading, hint = Label(HEADING, self), Label(HINT, self)
        heading.setObjectName("strong")
        hint.setObjectName("quiet")
        hint.setMinimumWidth(1)
        back = QPushButton("back to the cuts", self)
        back.setObjectName("link")
        back.setToolTip("Show the cut sequence again (Esc)")
        back.clicked.connect(self.put_away)
        row = QHBoxLayout()
        row.addWidget(heading)
        row.addWidget(hint, 1)
        row.addWidget(back)
        return row
