"""Paints cut cards: number, picture of the piece with the rail on it, sizes, what comes of it."""

from dataclasses import replace
from typing import Final, NamedTuple

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QPaintDevice, QPainter

from layout_app.look import pens
from layout_app.look.set_in import set_in
from layout_app.look.signs import paint_danger, paint_handling
from layout_app.look.theme import Theme
from layout_app.panels.cards import Bracket, Card
from layout_app.paper import ink
from layout_app.paper.cut_picture import CutLook, CutPicture
from layout_app.paper.painting import paint_items
from shared.telling import Instruction

CARD_WIDTH: Final = 156
CORNER: Final = 34
"""Pixels at the top right of a card where other signs may stand."""
CARD_HEIGHT: Final = 218
BRACKET_HEIGHT: Final = 26
PICTURE: Final = ink.Spread(x=18, y=44, length=CARD_WIDTH - 36, width=56)
"""Where the piece is drawn on a card, in pixels."""
CAPTION: Final = 12
"""Room for words below it, where it lies with its show face down."""
LEFT: Final = 12.0
WIDE: Final = CARD_WIDTH - 2 * LEFT
"""Where words stand on a card, in pixels."""
LINES_FROM: Final = 138.0
"""Where the lines begin on a card, in pixels."""
ROOM: Final = CARD_HEIGHT - 3 - LINES_FROM
"""How much room they have, in pixels."""
MORE: Final = (0.0, 11.0, 22.0)
"""How much the picture can give them."""
LINE_PX: Final = (12, 11, 10)
"""Sizes of their type, in pixels: as large as lets all of them in."""
SIZE_PX: Final = (18, 17, 16)
"""Sizes of the type of what is set: as large as lets the length of the cut stand beside it."""
LONG_PX: Final = 10
"""Size of the type of that length."""
SIGN: Final = 15.0
"""Side of a sign, in pixels."""

_LEFT = Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter
_RIGHT = Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter
_CENTRE = Qt.AlignmentFlag.AlignCenter


class CardPainter:
    """Paints with the colours of a theme; sizes in pixels."""

    def __init__(self, theme: Theme) -> None:
        self._theme = theme

    def bracket(
        self,
        painter: QPainter,
        bracket: Bracket,
        left: float,
        right: float,
        seen: tuple[float, float],
    ) -> None:
        """Paint the line that holds cards of one set-up together, and its label.

        The label stands over the part of the line that is seen, as far as there is room.
        """
        theme, y = self._theme, BRACKET_HEIGHT - 7.0
        painter.setPen(pens.pen(theme.pencil, 1.2))
        painter.drawLine(QPointF(left, y), QPointF(right, y))
        painter.drawLine(QPointF(left, y), QPointF(left, y + 5))
        painter.drawLine(QPointF(right, y), QPointF(right, y + 5))
        half = CARD_WIDTH / 2 + 10
        words = QRectF(label_middle(left, right, seen) - half, 0, 2 * half, y - 1)
        self._write(
            painter, words, bracket.label, size=12, align=_CENTRE, ink_of=theme.graphite, bold=True
        )

    def card(self, painter: QPainter, card: Card, *, selected: bool) -> None:
        """Paint a card whose corner is the painter's origin."""
        theme = self._theme
        frame = QRectF(0.5, 0.5, CARD_WIDTH - 1, CARD_HEIGHT - 1)
        painter.setPen(pens.pen(theme.accent if selected else theme.rule, 2.4 if selected else 1.0))
        painter.setBrush(pens.brush(theme.card))
        painter.drawRoundedRect(frame, 6, 6)
        self._head(painter, card, selected=selected)
        written = set_on_card(card)
        self._picture(painter, card, written.higher)
        painter.save()
        painter.translate(0, -written.higher)
        self._words(painter, card, written)
        painter.restore()

    def _head(self, painter: QPainter, card: Card, *, selected: bool) -> None:
        theme = self._theme
        tag = QRectF(8, 9, 24, 24)
        painter.setPen(pens.pen(theme.accent if selected else theme.tag_line, 1.3))
        painter.setBrush(pens.brush(theme.accent if selected else theme.tag))
        painter.drawEllipse(tag)
        dark, size = theme.graphite, 12 if card.number < 100 else 10
        number = theme.on_accent if selected else theme.on_tag
        self._write(
            painter, tag, str(card.number), size=size, align=_CENTRE, ink_of=number, bold=True
        )
        title = QRectF(39, 9, CARD_WIDTH - 39 - CORNER, 24)
        self._write(painter, title, card.title, size=13, ink_of=dark, bold=True)

    def _words(self, painter: QPainter, card: Card, written: "Written") -> None:
        """Write what is set, how long the cut is, and the lines, all of them in their room."""
        signs = self._signs(painter, QPointF(CARD_WIDTH - 10, 106), card)
        self._write(painter, QRectF(LEFT, 106, WIDE - signs, 15), card.set_words)
        self._size(painter, card.told)
        painter.setFont(pens.font(written.pixels))
        painter.setPen(pens.colour(self._theme.pencil))
        for place, line in enumerate(written.lines):
            box = QRectF(LEFT, LINES_FROM + written.pitch * place, WIDE, written.pitch)
            painter.drawText(box, int(_LEFT | Qt.TextFlag.TextDontClip), line)

    def _size(self, painter: QPainter, told: Instruction) -> None:
        """Write the size, and the length of the cut where it has room beside it."""
        fits, long = _size_beside_long(told), LONG_PX * pens.em_width(told.long)
        if fits:
            beside = QRectF(LEFT + WIDE - long, 121, long, 18)
            self._write(painter, beside, told.long, size=LONG_PX, align=_RIGHT)
        box, ink_of = QRectF(LEFT, 119, WIDE, 20), self._theme.graphite
        self._write(painter, box, told.size, size=fits or SIZE_PX[0], ink_of=ink_of, bold=True)

    def _signs(self, painter: QPainter, right: QPointF, card: Card) -> float:
        """Paint the signs that apply, each once with its number; return how wide they are."""
        theme, x = self._theme, right.x()
        for count, danger in ((len(card.told.handling), False), (len(card.told.dangers), True)):
            if not count:
                continue
            if count > 1:
                x -= SIGN / 2 + 1
                beside = QRectF(x, right.y(), SIGN / 2 + 1, SIGN)
                ink_of = theme.warning if danger else theme.pencil
                self._write(painter, beside, str(count), align=_RIGHT, ink_of=ink_of)
            x -= SIGN
            box = QRectF(x, right.y(), SIGN, SIGN)
            if danger:
                paint_danger(painter, box, theme.warning, theme.warning_wash)
            else:
                paint_handling(painter, box, theme.pencil)
            x -= 3
        return right.x() - x

    def _write(
        self,
        painter: QPainter,
        box: QRectF,
        words: str,
        *,
        size: int = 11,
        least: int = 10,
        align: Qt.AlignmentFlag = _LEFT,
        ink_of: str = "",
        bold: bool = False,
    ) -> None:
        """Write words into a box, smaller where they are too long, at last with an ellipsis."""
        room = int(box.width()) + 1
        for pixels in range(size, least - 1, -1):
            painter.setFont(pens.font(pixels, bold=bold))
            if painter.fontMetrics().horizontalAdvance(words) < room:
                break
        painter.setPen(pens.colour(ink_of or self._theme.pencil))
        cut = painter.fontMetrics().elidedText(words, Qt.TextElideMode.ElideRight, room)
        painter.drawText(box, int(align), cut)

    # --- the picture -----------------------------------------------------------------

    def _picture(self, painter: QPainter, card: Card, less: float) -> None:
        """Draw the piece to scale, as it lies, with what leads the saw; says it if it lies over.

        It is ``less`` high where the words need that.
        """
        frame = replace(PICTURE, width=PICTURE.width - less)
        if card.record.mirrored:
            frame = replace(frame, width=frame.width - CAPTION)
            below = QRectF(PICTURE.x, frame.bottom + 4, PICTURE.length, CAPTION)
            self._write(painter, below, card.told.face, align=_CENTRE)
        picture = CutPicture(card.told, frame, self._look(card, painter.device()))
        painter.save()
        painter.setRenderHint(QPainter.RenderHint.Antialiasing, False)
        paint_items(painter, picture.wood())
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        paint_items(painter, picture.marks())
        painter.restore()

    def _look(self, card: Card, device: QPaintDevice) -> CutLook:
        """Return how the picture looks: its lines are as fine as the screen can show."""
        theme, dot = self._theme, 1 / device.devicePixelRatio()
        rail = 2.2 * dot
        return CutLook(
            stays=theme.wood,
            off=pens.tint(theme, card.tint),
            waste=theme.waste,
            hatching=ink.Pen(width=dot, colour=theme.waste_hatch),
            apart=5.0,
            kerf=theme.kerf,
            narrowest=2.0,
            outline=ink.Pen(width=dot, colour=theme.graphite),
            rail=ink.Pen(width=rail, colour=theme.accent),
            dashes=(5 * rail, rail),
            beyond=6.0 + rail / 2,
            mark=ink.Pen(width=1.3 * dot, colour=theme.accent),
            mark_at=(12.0, 12.0),
            mark_half=4.0,
            mark_tall=7.0,
            grain=ink.Pen(width=dot, colour=theme.grain, opacity=0.5),
            bad=ink.Pen(width=dot, colour=theme.graphite),
            bad_fill=theme.card,
        )


class Written(NamedTuple):
    """Lines of a card as they are set, in pixels; ``higher`` says how much its words move up."""

    pixels: int
    pitch: float
    lines: tuple[str, ...]
    higher: float


def set_on_card(card: Card) -> Written:
    """Set the lines of a card, with the length of the cut where that has no room above them.

    Where they need more than their room, the picture gives them some of its own.
    """
    lines = card.lines if _size_beside_long(card.told) else (card.told.long, *card.lines)
    found = (Written(*set_in(lines, WIDE, ROOM + more, LINE_PX), more) for more in MORE)
    last = Written(*set_in(lines, WIDE, ROOM + MORE[-1], LINE_PX), MORE[-1])
    return next((one for one in found if "…" not in "".join(one.lines)), last)


def _size_beside_long(told: Instruction) -> int:
    """Return the size of type at which the length of the cut has room beside what is set, or 0."""
    long = LONG_PX * pens.em_width(told.long)
    each = ((pixels, pixels * pens.em_width(told.size, bold=True)) for pixels in SIZE_PX)
    return next((pixels for pixels, wide in each if wide + 6 + long <= WIDE), 0)


def label_middle(left: float, right: float, seen: tuple[float, float]) -> float:
    """Return where the label of a bracket has its middle: in what is seen of it, but over it.

    All in pixels along the strip of cards; ``seen`` is the part in view.
    """
    middle = (max(left, seen[0]) + min(right, seen[1])) / 2
    return min(max(middle, left + CARD_WIDTH / 2), right - CARD_WIDTH / 2)
