"""Paints one moment of the walk: few words, as large as the screen allows."""

from dataclasses import dataclass
from math import ceil
from typing import Final

from PySide6.QtCore import QPointF, QRectF
from PySide6.QtGui import QPainter

from layout_app.look import pens
from layout_app.panels.card_words import from_words, unbroken
from layout_app.panels.cards import Card
from layout_app.walk.blocks import Cautions, Columns, Rows, Stacked, fitting
from layout_app.walk.colours import Colours
from layout_app.walk.lettering import CENTRE, RIGHT, pen, write, write_lines
from layout_app.walk.moments import Before, CutNow, End, Moment, Start
from layout_app.walk.notices import notice
from layout_app.walk.picture import MARGIN, paint_cut
from shared.cautions import DEFER
from shared.lengths import LengthStyle
from shared.making.settings import Device
from shared.telling import Instruction
from shared.telling.words import marked_at

KEYS: Final = "Space, Enter, pedal: made, next     ← back     Esc: leave"
READ_KEYS: Final = "Space, Enter, pedal: read on     ← back     Esc: leave"
START_KEYS: Final = "Space, Enter, pedal: begin     Esc: leave"
READY_KEYS: Final = "Space, Enter, pedal: it is done     ← back     Esc: leave"
BEFORE, LAST = "Before the first cut", "No cut is left"

LARGE_TYPE: Final = frozenset({"sheet", "set", "cut"})
"""What stands in large type, or on a page before the cut, and so not among the lines below."""
MOST_OF_BODY: Final = 0.64
"""So much of the page between head and foot the words take at most; the picture has the rest."""
MOST_CROWDED: Final = 0.82
"""So much where they would be too small to read else: the picture gives way."""
LEAST_TEXT: Final = 1 / 28
"""Type of the words that is read from two metres, as a share of the screen's height."""
SET_WIDE: Final = 0.3
SET_WIDE_CROWDED: Final = 0.56
"""How wide what is set is, as a share of the page: wide, and on one line, where it is low."""
PLAN_FROM: Final = 0.8
"""Where the plan's number begins in the line below all, as a share of the page."""
HEAD: Final = 0.1
"""The line below the head, as a share of the page's height."""
MOST_BELOW: Final = 0.5
"""So much the words below a figure take."""
TEXT: Final = 0.042
"""Size of the words, as a share of the page's height, where all of them have room."""
LARGE_TEXT: Final = 0.06
"""The same before a cut, when there is less to say."""


@dataclass(frozen=True, slots=True, kw_only=True)
class WalkStatus:
    """What is known beside the moment: which cut of how many, and what lies there.

    ``state`` is ``""``, ``made`` or ``being saved``; ``unticks`` the cut that U takes the tick of;
    ``pace`` what the times between ticks say, at the end; ``plan`` the number on the plan's pages.
    """

    place: str
    lies: str = ""
    pace: str = ""
    state: str = ""
    unticks: int | None = None
    plan: str = ""
    style: LengthStyle


class WalkPage:
    """Paints moments into a rectangle of some size."""

    def __init__(self, painter: QPainter, whole: QRectF, colours: Colours) -> None:
        self._painter, self._colours = painter, colours
        self._whole = whole
        edge = min(whole.width(), whole.height()) * 0.03
        self._box = whole.adjusted(edge, edge, -edge, -edge)

    def paint(self, moment: Moment, status: WalkStatus) -> None:
        """Paint a moment."""
        self._painter.fillRect(self._whole, pens.brush(self._colours.ground))
        if isinstance(moment, Start):
            self._start(moment, status)
        elif isinstance(moment, Before):
            self._before(moment, status)
        elif isinstance(moment, CutNow):
            self._cut(moment, status)
        else:
            assert isinstance(moment, End)
            self._end(status)

    def _part(self, left: float, top: float, right: float, bottom: float) -> QRectF:
        """Return a part of the page; all from 0 to 1."""
        box = self._box
        return QRectF(
            box.left() + left * box.width(),
            box.top() + top * box.height(),
            (right - left) * box.width(),
            (bottom - top) * box.height(),
        )

    def _foot(self, words: str, plan: str, unticks: int | None = None) -> None:
        """Write which keys there are, and the plan's number as on its pages."""
        if unticks is not None:
            words = words.replace("Esc:", f"U: untick cut {unticks}     Esc:")
        quiet = self._colours.quiet
        write(self._painter, self._part(0, 0.95, PLAN_FROM, 1), words, quiet)
        if plan:
            room = self._part(PLAN_FROM + 0.01, 0.95, 1, 1)
            write(self._painter, room, f"plan {plan}", quiet, align=RIGHT)

    def _start(self, moment: Start, status: WalkStatus) -> None:
        ink_of = self._colours.ink
        self._head(moment.title(BEFORE), status)
        lines = [*([DEFER] * moment.is_first), *(f"–  {caution}" for caution in moment.cautions)]
        most = self._box.height() * 0.05
        room = self._part(0, HEAD + 0.025, 1, 0.935)
        write_lines(self._painter, room, lines, ink_of, most_px=most)
        self._foot(START_KEYS if moment.is_last else READ_KEYS, status.plan)

    def _end(self, status: WalkStatus) -> None:
        ink_of = self._colours.ink
        box = self._part(0, 0.28, 1, 0.5)
        write(self._painter, box, LAST, ink_of, align=CENTRE, bold=True)
        lines = [line for line in (status.lies, status.pace) if line]
        if lines:
            most = self._box.height() * 0.045
            area = self._part(0, 0.56, 1, 0.93)
            write_lines(self._painter, area, lines, self._colours.quiet, most_px=most)
        self._foot("← back     Esc: leave", status.plan)

    # --- before a cut ------------------------------------------------------------------

    def _before(self, moment: Before, status: WalkStatus) -> None:
        """Write what is to be done; its figure as large as the words below it let it be."""
        colours, painter, said = self._colours, self._painter, notice(moment, status.style)
        self._head(said.title, status)
        body = self._part(0, HEAD + 0.025, 1, 0.935)
        block = Stacked(
            [Rows([("", line) for line in said.lines]), Cautions(said.dangers, ())],
        )
        room = body.height() * (MOST_BELOW if said.figure else 1.0)
        size = fitting(block, body.width(), room, self._box.height() * LARGE_TEXT)
        above = body.adjusted(0, 0, 0, 0)
        above.setHeight(body.height() - block.height(body.width(), size) if said.figure else 0.0)
        block.write(painter, above.bottomLeft(), body.width(), size, colours)
        if said.figure:
            lead = QRectF(above.left(), above.top(), above.width(), above.height() * 0.24)
            write(painter, lead, said.lead, colours.ink, align=CENTRE)
            figure = above.adjusted(0, lead.height(), 0, -above.height() * 0.06)
            write(painter, figure, said.figure, colours.ink, align=CENTRE, bold=True, fill=1.0)
        self._foot(READY_KEYS, status.plan, status.unticks)

    # --- a cut -------------------------------------------------------------------------

    def _cut(self, moment: CutNow, status: WalkStatus) -> None:
        """Write what is set beside the picture, and below them all there is to know."""
        card, colours, painter = moment.card, self._colours, self._painter
        self._head(card.told.title, status)
        body = self._part(0, HEAD + 0.015, 1, 0.89 if status.lies else 0.945)
        words, wide = words_of(card.told), body.width()
        size = self._size(words, body)
        above = QRectF(body.topLeft(), body.bottomRight())
        above.setHeight(body.height() - words.height(wide, size))
        crowded = above.height() < body.height() * (1 - MOST_OF_BODY)
        beside = SET_WIDE_CROWDED if crowded else SET_WIDE
        self._set(card, above.adjusted(0, 0, (beside - 1) * wide, 0))
        frame = above.adjusted((beside + 0.02) * wide + MARGIN, MARGIN, -MARGIN, -MARGIN)
        paint_cut(painter, frame, card, colours)
        words.write(painter, above.bottomLeft(), wide, size, colours)
        if status.lies:
            below = self._part(0, 0.895, 1, 0.945)
            write(painter, below, status.lies, colours.quiet, fill=0.75)
        self._foot(KEYS, status.plan, status.unticks)

    def _size(self, words: Stacked, body: QRectF) -> int:
        """Return the size of type of the words of a cut, in pixels: read from afar if possible."""
        wide, tall = body.width(), body.height()
        size = fitting(words, wide, tall * MOST_OF_BODY, self._box.height() * TEXT)
        least = ceil(self._whole.height() * LEAST_TEXT)
        return size if size >= least else fitting(words, wide, tall * MOST_CROWDED, least)

    def _set(self, card: Card, above: QRectF) -> None:
        """Write what is set in large type at the left, and how long the cut is."""
        colours, painter, told = self._colours, self._painter, card.told
        wide, tall = above.width(), above.height()
        lead = QRectF(above.left(), above.top(), wide, tall * 0.26)
        said = f"{card.set_words} {from_words(card.record)}".strip()
        if card.record.setting.device is Device.MARK:
            said += f", at {marked_at(card.record)}"
        write_lines(painter, lead, [said], colours.ink, most_px=self._box.height() * 0.045)
        figure = QRectF(above.left(), lead.bottom(), wide, tall * 0.46)
        write(painter, figure, told.size, colours.ink, bold=True, fill=0.9)
        long = QRectF(above.left(), figure.bottom(), wide, tall * 0.2)
        write(painter, long, told.long, colours.ink, most_px=self._box.height() * 0.05)

    def _head(self, words: str, status: WalkStatus) -> None:
        """Write what it is about, which of how many, and a tick if it is made."""
        painter, colours = self._painter, self._colours
        write(painter, self._part(0, 0, 0.6, HEAD - 0.01), words, colours.ink, bold=True)
        room = self._part(0.61, 0, 0.99, HEAD - 0.01)
        if status.state == "made":
            size = room.height() * 0.72
            corner = QPointF(room.right() - size, room.center().y() - size / 2)
            self._tick(QRectF(corner.x(), corner.y(), size, size))
            room.setRight(corner.x() - size * 0.25)
        place = f"{status.place}, saving …" if status.state == "being saved" else status.place
        most = room.height() * 0.6
        write(painter, room, place, colours.ink, align=RIGHT, most_px=most)
        painter.setPen(pen(colours.ink, 2.0))
        line = self._part(0, HEAD, 1, HEAD)
        painter.drawLine(line.topLeft(), line.topRight())

    def _tick(self, box: QRectF) -> None:
        painter, across = self._painter, box.width()
        painter.setPen(pen(self._colours.ink, 2.0))
        painter.setBrush(pens.brush(self._colours.ink))
        painter.drawEllipse(box)
        painter.setPen(pen(self._colours.ground, across / 8))
        points = (QPointF(0.27, 0.52), QPointF(0.44, 0.69), QPointF(0.75, 0.33))
        painter.drawPolyline([box.topLeft() + point * across for point in points])


def words_of(told: Instruction) -> Stacked:
    """Return all that a cut says apart from what stands in large type, dangers first."""
    rows = [(name, unbroken(said)) for name, said in told.lines if name not in LARGE_TYPE]
    dangers, handling = ([one.sentence for one in said] for said in (told.dangers, told.handling))
    return Stacked([Cautions(dangers, ()), Columns(rows), Cautions((), handling)])


def spoken(moment: Moment, style: LengthStyle) -> str:
    """Return what a page says, in sentences for a screen reader."""
    if isinstance(moment, Start):
        defer = (DEFER,) if moment.is_first else ()
        return " ".join((f"{moment.title(BEFORE)}.", *defer, *moment.cautions))
    if isinstance(moment, CutNow):
        return moment.card.told.spoken
    return f"{LAST}." if isinstance(moment, End) else notice(moment, style).spoken
