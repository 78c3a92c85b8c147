"""The sign of what is held: a thin double rule around it, open at one place for the word.

Where it is narrow the rules stand at its ends only, so that there is room for names.

All in pixels from the sheet's reference corner.
"""

from collections.abc import Sequence
from itertools import pairwise
from typing import NamedTuple

from PySide6.QtCore import QLineF, QRectF, Qt
from PySide6.QtGui import QPainter

from layout_app.bench.frame import to_mm
from layout_app.look import pens
from layout_app.look.theme import Theme
from layout_app.model.locks import HeldArea
from shared.drawing import Space
from shared.layout import Scope

WORD = "locked"
WORD_PX = 10
RULES_PX = (3.5, 6.5)
"""How far inside the edge the two rules run."""
END_RULES_PX = (12.0, 15.0)
"""How far from the ends of a narrow area they stand: a tag may lie before them."""
LEAST_PX = 40.0
"""An area narrower than this has rules at its two ends only, and no word."""
ASIDE_PX = 12.0
"""How far from the corner the word stands."""
FREE_PX = 3.0
"""Words keep so far from a rule."""


class HeldSign(NamedTuple):
    """The rules around one area, and where the word stands if it found room."""

    area: Space
    word: Space | None = None
    text: str = WORD

    @property
    def narrow(self) -> bool:
        """Whether there is room for rules at the ends only."""
        return min(self.area.length, self.area.width) < LEAST_PX

    @property
    def rules(self) -> list[QRectF]:
        """The rules that run all around."""
        area = QRectF(self.area.x, self.area.y, self.area.length, self.area.width)
        insets = () if self.narrow else RULES_PX
        return [area.adjusted(inset, inset, -inset, -inset) for inset in insets]

    @property
    def ends(self) -> list[QLineF]:
        """The rules that stand at the ends of a narrow area."""
        if not self.narrow:
            return []
        x, y, length, width = self.area.x, self.area.y, self.area.length, self.area.width
        if length >= width:
            places = [at for i in END_RULES_PX for at in (x + i, x + length - i)]
            return [QLineF(at, y + 1, at, y + width - 2) for at in places]
        places = [at for i in END_RULES_PX for at in (y + i, y + width - i)]
        return [QLineF(x + 1, at, x + length - 2, at) for at in places]

    @property
    def obstacles(self) -> list[Space]:
        """What other words must not cover."""
        word = [self.word] if self.word is not None else []
        return [*word, *(_about(line) for line in self._lines())]

    def _lines(self) -> list[QLineF]:
        sides = [
            QLineF(*one, *other) for rect in self.rules for one, other in pairwise(_corners(rect))
        ]
        return [*self.ends, *sides]


def _corners(rect: QRectF) -> list[tuple[float, float]]:
    """Return the corners of a rectangle, the first one again at the end."""
    left, top, right, bottom = rect.left(), rect.top(), rect.right(), rect.bottom()
    return [(left, top), (right, top), (right, bottom), (left, bottom), (left, top)]


def _about(line: QLineF) -> Space:
    """Return the room that belongs to a rule."""
    x, y = min(line.x1(), line.x2()), min(line.y1(), line.y2())
    return Space(
        x=x - FREE_PX,
        y=y - FREE_PX,
        length=abs(line.dx()) + 2 * FREE_PX,
        width=abs(line.dy()) + 2 * FREE_PX,
    )


def bare_signs(held: Sequence[HeldArea], scale: float) -> list[HeldSign]:
    """Return the rules around each area at a scale in pixels a millimetre, without words."""
    return [HeldSign(_px(one, scale)) for one in held]


def lettered(
    held: Sequence[HeldArea], signs: Sequence[HeldSign], taken: Sequence[Space]
) -> list[HeldSign]:
    """Return the signs with the word where nothing else stands, as far as there is room.

    What the lock costs stands behind it where there is room for that too. A sheet that is held
    whole has the words in its title.
    """
    return [
        sign if one.scope is Scope.SHEET else _lettered(one, sign, taken)
        for one, sign in zip(held, signs, strict=True)
    ]


def words_of(one: HeldArea) -> str:
    """Return the word of a sign, and what the lock costs."""
    return f"{WORD}, {one.cost}" if one.cost else WORD


def _lettered(one: HeldArea, sign: HeldSign, taken: Sequence[Space]) -> HeldSign:
    for text in dict.fromkeys((words_of(one), WORD)):
        if (place := _place(sign, text, taken)) is not None:
            return sign._replace(word=place, text=text)
    return sign


def _px(one: HeldArea, scale: float) -> Space:
    rect = one.rect
    x, y, length, width = (
        to_mm(ticks) * scale for ticks in (rect.x, rect.y, rect.length, rect.width)
    )
    return Space(x=x, y=y, length=length, width=width)


def _place(sign: HeldSign, text: str, taken: Sequence[Space]) -> Space | None:
    """Return the first free place along the far edge, then along the near one."""
    area, length = sign.area, pens.em_width(text, bold=True) * WORD_PX + 6
    width = WORD_PX * 1.3
    if sign.narrow or area.length < length + 2 * ASIDE_PX:
        return None
    last = area.x + area.length - length - ASIDE_PX
    xs = (last, area.x + ASIDE_PX, (last + area.x + ASIDE_PX) / 2)
    for y in (area.y + area.width - width - 2, area.y + 2):
        for x in xs:
            spot = Space(x=x, y=y, length=length, width=width)
            if not any(spot.meets(other) for other in taken):
                return spot
    return None


def paint_signs(painter: QPainter, signs: Sequence[HeldSign], theme: Theme) -> None:
    """Paint the rules, and the word on a patch that opens them."""
    for sign in signs:
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.setPen(pens.pen(theme.graphite))
        painter.drawRects(sign.rules)
        painter.drawLines(sign.ends)
        if sign.word is not None:
            _paint_word(painter, sign.word, sign.text, theme)


def _paint_word(painter: QPainter, at: Space, text: str, theme: Theme) -> None:
    painter.fillRect(QRectF(at.x, at.y, at.length, at.width), pens.brush(theme.paper))
    painter.setPen(pens.colour(theme.graphite))
    painter.setFont(pens.font(WORD_PX, bold=True))
    painter.drawStaticText(round(at.x + 3), round(at.y), pens.written(text, WORD_PX, bold=True))
