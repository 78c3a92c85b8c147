"""Where cards lie beside each other, and how their row fades out at the edges of a view."""

from bisect import bisect_right
from collections.abc import Iterable
from dataclasses import dataclass
from typing import Final

from PySide6.QtCore import QRect, QRectF
from PySide6.QtGui import QColor, QLinearGradient, QPainter

from layout_app.panels.card_painter import CARD_WIDTH
from layout_app.panels.cards import Bracket

GAP, BREAK, MARGIN = 8, 22, 14
"""Pixels between cards, between brackets, and at the ends."""


@dataclass(frozen=True, slots=True)
class CardRow:
    """The left edges of all cards in their order, in pixels from the beginning of the row."""

    lefts: tuple[int, ...] = ()

    @classmethod
    def of(cls, brackets: Iterable[Bracket]) -> "CardRow":
        """Lay cards out, those of one bracket close together."""
        lefts: list[int] = []
        x = MARGIN
        for bracket in brackets:
            for _ in bracket.cards:
                lefts.append(x)
                x += CARD_WIDTH + GAP
            x += BREAK - GAP
        return cls(tuple(lefts))

    @property
    def width(self) -> int:
        """How long the row is, with its margins; 0 without cards."""
        return self.lefts[-1] + CARD_WIDTH + MARGIN if self.lefts else 0

    @property
    def edges(self) -> list[float]:
        """The middles of the gaps between the cards, and places before the first and the last."""
        inner = [
            (one + CARD_WIDTH + other) / 2
            for one, other in zip(self.lefts, self.lefts[1:], strict=False)
        ]
        return [self.lefts[0] - GAP / 2, *inner, self.lefts[-1] + CARD_WIDTH + GAP / 2]

    def at(self, x: int) -> int:
        """Return which card begins last before a place; -1 if none does."""
        return bisect_right(self.lefts, x) - 1

    def brought(self, place: int, begin: int, view: int) -> int:
        """Return where a view of the row should begin to show a card, and half of its neighbour.

        Where it begins already if the whole card is in sight; ``view`` is how wide it is.
        """
        left = self.lefts[place]
        if left - begin < MARGIN:
            return left - MARGIN - CARD_WIDTH // 2
        over = left + CARD_WIDTH + MARGIN - begin - view
        return begin + over + CARD_WIDTH // 2 if over > 0 else begin


FADE_PX: Final = 44
"""How wide the fading is."""


def fade(painter: QPainter, view: QRect, ground: str, *, left: bool, right: bool) -> None:
    """Let what is painted fade into the ground at the edges beyond which there is more."""
    if left:
        _fade(painter, view, ground, view.left(), view.left() + FADE_PX)
    if right:
        _fade(painter, view, ground, view.right() + 1, view.right() + 1 - FADE_PX)


def _fade(painter: QPainter, view: QRect, ground: str, edge: int, inside: int) -> None:
    """Fade out from a line inside to the edge, along x."""
    covering, clear = QColor(ground), QColor(ground)
    clear.setAlpha(0)
    shade = QLinearGradient(edge, 0, inside, 0)
    shade.setColorAt(0.0, covering)
    shade.setColorAt(0.25, covering)
    shade.setColorAt(1.0, clear)
    strip = QRectF(min(edge, inside), view.top(), FADE_PX, view.height())
    painter.fillRect(strip, shade)
