"""Where cards lie in their row, how it fades out at the edges, and a card that is in the hand."""

from bisect import bisect_right
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from typing import Final

from PySide6.QtCore import QRect, QRectF, Qt
from PySide6.QtGui import QColor, QLinearGradient, QPainter

from layout_app.document.document import Document
from layout_app.document.edit_cut_order import move_cut
from layout_app.look import pens
from layout_app.look.theme import Theme
from layout_app.model.move_cut import Moving
from layout_app.panels.card_painter import BRACKET_HEIGHT, CARD_HEIGHT, CARD_WIDTH
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


BAR: Final = 4.0
"""Width of a lit place, in pixels; the one under the pointer is twice as wide."""
SLANT: Final = 2.0
"""How far a card in the hand is turned, in degrees, so that it is told from those that lie."""
LIFT: Final = 6
"""How far it lies lower than the others, in pixels."""
BAND: Final = 26
"""Height of the line that says what happens, in pixels."""


class CardDrag:
    """One card being moved; ends with `drop` or is forgotten.

    Gaps are counted like the cards: gap ``n`` is in front of the card at place ``n``.
    """

    def __init__(self, document: Document, numbers: Sequence[int], place: int) -> None:
        """Take the numbers of all cards in order, and the place of the one in the hand."""
        assert document.plan is not None
        self._document = document
        self._numbers = tuple(numbers)
        self._moving = Moving(document.project, document.plan)
        self.place = place
        self.number = numbers[place]
        self.gap = place
        allowed = self._moving.places(self.number)
        self._allowed = frozenset(n for n in range(len(numbers) + 1) if self._to(n) in allowed)

    def _to(self, gap: int) -> int:
        """Return the number the card would have in a gap."""
        last = len(self._numbers) - 1
        return self._numbers[min(last, gap - 1 if gap > self.place else gap)]

    @property
    def target(self) -> int:
        """The number the card would have where it is now."""
        return self._to(self.gap)

    @property
    def words(self) -> str:
        """What would happen if the card were let go of."""
        if self.target == self.number:
            return f"Cut {self.number} stays where it is"
        if self.gap in self._allowed:
            return f"Cut {self.number} becomes cut {self.target}"
        return self._moving.why_not(self.number, self.target)

    @property
    def may_drop(self) -> bool:
        """Whether the card may go where it is now."""
        return self.gap in self._allowed

    def lit(self) -> list[int]:
        """Return the gaps the card may go to, other than those beside itself."""
        return sorted(self._allowed - {self.place, self.place + 1})

    def drop(self) -> int | None:
        """Move the cut; return its new number, ``None`` if it did not move."""
        to = self.target
        return to if move_cut(self._document, self.number, to, self._moving) else None


def paint_places(painter: QPainter, theme: Theme, drag: CardDrag, edges: Sequence[float]) -> None:
    """Paint the lit places; ``edges`` are the middles of all gaps, in the cards' own pixels."""
    painter.setPen(Qt.PenStyle.NoPen)
    for gap in drag.lit():
        _bar(painter, theme.accent, edges[gap], BAR, 150)
    colour = theme.accent if drag.may_drop else theme.warning
    _bar(painter, colour, edges[drag.gap], 2 * BAR, 255)


def paint_in_hand(
    painter: QPainter, theme: Theme, drag: CardDrag, x: float, paint: Callable[[QPainter], None]
) -> None:
    """Paint the card in the hand itself, a little aslant, at the pointer.

    ``paint`` paints it with its corner at the origin; ``x`` is in the cards' own pixels.
    """
    painter.save()
    painter.translate(x, BRACKET_HEIGHT + CARD_HEIGHT / 2 + LIFT)
    painter.rotate(SLANT)
    painter.translate(-CARD_WIDTH / 2, -CARD_HEIGHT / 2)
    paint(painter)
    colour = theme.accent if drag.may_drop else theme.warning
    painter.setPen(pens.pen(colour, 2.0, Qt.PenStyle.DashLine))
    painter.setBrush(Qt.BrushStyle.NoBrush)
    painter.drawRoundedRect(QRectF(0, 0, CARD_WIDTH, CARD_HEIGHT), 6, 6)
    painter.restore()


def _bar(painter: QPainter, colour: str, x: float, width: float, alpha: int) -> None:
    painter.setBrush(pens.brush(colour, alpha))
    box = QRectF(x - width / 2, BRACKET_HEIGHT - 2, width, CARD_HEIGHT + 4)
    painter.drawRoundedRect(box, width / 2, width / 2)


def paint_words(painter: QPainter, theme: Theme, drag: CardDrag, room: QRectF) -> None:
    """Write at the foot of the view what would happen, or what stands in the way."""
    good = drag.may_drop
    flags = int(Qt.TextFlag.TextWordWrap | Qt.AlignmentFlag.AlignCenter)
    painter.setFont(pens.font(13, bold=True))
    wide = room.adjusted(16, 0, -16, 0)
    needed = painter.fontMetrics().boundingRect(wide.toRect(), flags, drag.words).height()
    height = max(BAND, needed + 8)
    band = QRectF(room.left(), room.bottom() - height, room.width(), height)
    painter.setPen(Qt.PenStyle.NoPen)
    painter.setBrush(pens.brush(theme.accent if good else theme.warning_wash))
    painter.drawRect(band)
    painter.setPen(pens.colour(theme.on_accent if good else theme.warning))
    painter.drawText(band.adjusted(16, 0, -16, 0), flags, drag.words)


def nearest(edges: Sequence[float], x: float) -> int:
    """Return the gap nearest to a place, in the same pixels."""
    return min(range(len(edges)), key=lambda gap: abs(edges[gap] - x))
