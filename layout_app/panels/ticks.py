"""Ticks on the cut cards: what is made is marked, and what was sawn before comes first."""

from collections.abc import Iterable
from dataclasses import replace
from typing import Final

from PySide6.QtCore import QPointF, QRectF
from PySide6.QtGui import QPainter

from layout_app.document.document import Document
from layout_app.look import pens
from layout_app.look.theme import Theme
from layout_app.panels.card_painter import CARD_HEIGHT, CARD_WIDTH
from layout_app.panels.cards import Card, cards_of

STAMP: Final = QRectF(CARD_WIDTH - 31, 9, 24, 24)
"""Where a card is ticked, in pixels from its corner."""

PLANS_KEPT: Final = 2
"""Plans whose cards are remembered."""

_TICK: Final = (QPointF(0.27, 0.52), QPointF(0.44, 0.69), QPointF(0.75, 0.33))


def all_cards(document: Document) -> tuple[Card, ...]:
    """Return the cards of what was sawn before the plan, then those of the plan."""
    past, plan, job = document.progress.past, document.plan, document.job
    if plan is not None:
        return cards_of((*past, plan), job, document.tints.known)
    shop = past[-1].shop if past else None
    return cards_of(past, replace(job, shop=shop or job.shop), document.tints.known)


class KeptCards:
    """The cards of what is shown; what is undone has those it had."""

    def __init__(self, document: Document) -> None:
        self._document = document
        self._made: list[tuple[object, tuple[Card, ...]]] = []

    def now(self) -> tuple[Card, ...]:
        """Return the cards of the plan, all that they hang on being the same."""
        document = self._document
        job, tints = document.job, dict(document.tints.known)
        of = (document.plan, document.progress.past, job.shop, job.style, tints)
        cards = next((cards for was, cards in self._made if was == of), None)
        if cards is None:
            cards = all_cards(document)
        others = [one for one in self._made if one[1] is not cards]
        self._made = [(of, cards), *others][:PLANS_KEPT]
        return cards


def is_history(document: Document, number: int) -> bool:
    """Say whether a cut was made before the plan that is shown."""
    return number < document.progress.first


def state_words(document: Document, number: int) -> str:
    """Say whether a cut is made: ``made``, or how its tick stands, or nothing."""
    if document.saved_state.is_being_saved(number):
        return "tick is being saved"
    if document.saved_state.is_here_only(number):
        return "made, tick in this window only"
    return "made" if is_history(document, number) or document.saved_state.is_done(number) else ""


def spoken(card: Card, document: Document) -> str:
    """Return a card in sentences, with its tick."""
    state = state_words(document, card.number).capitalize()
    return f"{card.told.spoken} {state}." if state else card.told.spoken


def paint_tick(
    painter: QPainter, theme: Theme, number: int, document: Document, *, selected: bool = False
) -> None:
    """Mark the card whose corner is the painter's origin as made, or as one to be ticked."""
    if is_history(document, number) or document.saved_state.is_done(number):
        painter.fillRect(
            QRectF(1, 1, CARD_WIDTH - 2, CARD_HEIGHT - 2), pens.colour(theme.panel, 120)
        )
        paint_stamp(painter, theme, STAMP)
    elif selected or document.saved_state.is_being_saved(number):
        painter.setPen(pens.pen(theme.faint, 1.4))
        painter.setBrush(pens.brush(theme.card))
        painter.drawEllipse(STAMP)


def paint_stamp(painter: QPainter, theme: Theme, box: QRectF) -> None:
    """Paint a tick on a disc."""
    painter.setPen(pens.pen(theme.graphite, 1.2))
    painter.setBrush(pens.brush(theme.graphite))
    painter.drawEllipse(box)
    painter.setPen(pens.pen(theme.card, box.width() / 8))
    across, corner = box.width(), box.topLeft()
    painter.drawPolyline([corner + point * across for point in _TICK])


def next_number(cards: Iterable[Card], document: Document) -> int | None:
    """Return the first cut that is not made, once one is; ``None`` before and after all."""
    progress = document.progress
    if not (progress.made or progress.past):
        return None
    made = set(progress.made)
    numbers = (card.number for card in cards if not is_history(document, card.number))
    return next((number for number in numbers if number not in made), None)
