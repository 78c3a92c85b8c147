"""Paints one moment of the walk: few words, as large as the screen allows."""

from dataclasses import dataclass

from PySide6.QtCore import QPointF, QRectF
from PySide6.QtGui import QPainter

from layout_app.document.ticks import all_of
from layout_app.look import pens
from layout_app.panels.cards import Card
from layout_app.paper import ink
from layout_app.paper.cut_picture import CutLook, CutPicture
from layout_app.paper.painting import paint_items
from layout_app.walk.colours import Colours
from layout_app.walk.lettering import CENTRE, LEAST_PX, RIGHT, pen, write, write_lines
from layout_app.walk.moments import CutNow, End, Moment, SetUp, Start
from shared.cautions import CAUTIONS, DEFER
from shared.lengths import LengthStyle, format_with_remainder
from shared.making.settings import Device, Setting

KEYS = "Space, Enter, pedal: made, next     ← back     U: untick     Esc: leave"
START_KEYS = "Space, Enter, pedal: begin     Esc: leave"
BEFORE, CHANGE, LAST = "Before the first cut", "Change the set-up", "No cut is left"


@dataclass(frozen=True, slots=True, kw_only=True)
class WalkStatus:
    """What is known beside the moment: which cut of how many, and what lies there.

    ``state`` is ``""``, ``made`` or ``being saved``.
    """

    place: str
    lies: str = ""
    state: str = ""
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
            self._start(status)
        elif isinstance(moment, SetUp):
            self._set_up(moment, status)
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

    def _foot(self, words: str) -> None:
        write(self._painter, self._part(0, 0.955, 1, 1), words, self._colours.quiet, most_px=22)

    def _start(self, status: WalkStatus) -> None:
        ink_of = self._colours.ink
        write(self._painter, self._part(0, 0, 1, 0.13), BEFORE, ink_of, bold=True)
        lines = [DEFER, *(f"–  {caution}" for caution in CAUTIONS)]
        most = self._box.height() * 0.05
        write_lines(self._painter, self._part(0, 0.16, 1, 0.86), lines, ink_of, most_px=most)
        write(self._painter, self._part(0, 0.875, 1, 0.945), status.place, self._colours.quiet)
        self._foot(START_KEYS)

    def _end(self, status: WalkStatus) -> None:
        ink_of = self._colours.ink
        box = self._part(0, 0.28, 1, 0.5)
        write(self._painter, box, LAST, ink_of, align=CENTRE, bold=True)
        if status.lies:
            lines, most = [status.lies], self._box.height() * 0.045
            area = self._part(0, 0.56, 1, 0.93)
            write_lines(self._painter, area, lines, self._colours.quiet, most_px=most)
        self._foot("← back     Esc: leave")

    def _set_up(self, moment: SetUp, status: WalkStatus) -> None:
        colours, painter, setting = self._colours, self._painter, moment.setting
        size = format_with_remainder(setting.size, status.style)
        self._head(CHANGE, status)
        write(painter, self._part(0, 0.17, 1, 0.3), _set_words(setting), colours.ink, align=CENTRE)
        box = self._part(0, 0.3, 1, 0.68)
        write(painter, box, size, colours.ink, align=CENTRE, bold=True, fill=1.0)
        write(painter, self._part(0, 0.69, 1, 0.79), _named(setting), colours.ink, align=CENTRE)
        cuts = f"for {all_of(moment.numbers)}"
        write(painter, self._part(0, 0.8, 1, 0.87), cuts, colours.quiet, align=CENTRE)
        self._foot("Space, Enter, pedal: it is set     ← back     Esc: leave")

    def _cut(self, moment: CutNow, status: WalkStatus) -> None:
        card, colours, painter = moment.card, self._colours, self._painter
        self._head(card.told.title, status)
        minded = [caution.sentence for caution in card.told.cautions]
        bottom = 0.87 - (0.08 + 0.05 * min(4, len(minded)) if minded else 0.0)
        paint_cut(painter, self._part(0.47, 0.19, 0.97, bottom - 0.04), card, colours)
        self._figures(moment, bottom)
        if minded:
            self._cautions(minded, bottom + 0.015)
        if status.lies:
            below = self._part(0, 0.885, 1, 0.945)
            write(painter, below, status.lies, colours.quiet, most_px=30)
        self._foot(KEYS)

    def _figures(self, moment: CutNow, bottom: float) -> None:
        """Write set-up, size, running position, and the short words below them."""
        card, colours, painter = moment.card, self._colours, self._painter
        tall = bottom - 0.17
        write(painter, self._part(0, 0.17, 0.43, 0.17 + 0.14 * tall), card.set_words, colours.ink)
        size = self._part(0, 0.17 + 0.14 * tall, 0.43, 0.17 + 0.5 * tall)
        write(painter, size, card.told.size, colours.ink, bold=True, fill=1.05)
        told = card.told
        words = [card.running, card.keep_words, told.bed, card.long, told.makes]
        said = [line for line in words if line]
        area = self._part(0, 0.17 + 0.52 * tall, 0.43, bottom)
        most = self._box.height() * 0.05
        write_lines(painter, area, said, colours.ink, most_px=most, gap=0.2)

    def _cautions(self, sentences: list[str], top: float) -> None:
        colours, box = self._colours, self._part(0, top, 1, 0.875)
        self._painter.fillRect(box, pens.brush(colours.alarm_ground))
        inside = box.adjusted(14, 6, -14, -6)
        most = self._box.height() * 0.04
        write_lines(self._painter, inside, sentences, colours.alarm, most_px=most, gap=0.15)

    def _head(self, words: str, status: WalkStatus) -> None:
        """Write what it is about, which of how many, and a tick if it is made."""
        painter, colours = self._painter, self._colours
        write(painter, self._part(0, 0, 0.52, 0.13), words, colours.ink, bold=True)
        room = self._part(0.53, 0, 0.99, 0.13)
        if status.state == "made":
            size = room.height() * 0.72
            corner = QPointF(room.right() - size, room.center().y() - size / 2)
            self._tick(QRectF(corner.x(), corner.y(), size, size))
            room.setRight(corner.x() - size * 0.25)
        place = f"{status.place}, saving …" if status.state == "being saved" else status.place
        most = room.height() * 0.5
        write(painter, room, place, colours.ink, align=RIGHT, most_px=most)
        painter.setPen(pen(colours.ink, 2.0))
        line = self._part(0, 0.14, 1, 0.14)
        painter.drawLine(line.topLeft(), line.topRight())

    def _tick(self, box: QRectF) -> None:
        painter, across = self._painter, box.width()
        painter.setPen(pen(self._colours.ink, 2.0))
        painter.setBrush(pens.brush(self._colours.ink))
        painter.drawEllipse(box)
        painter.setPen(pen(self._colours.ground, across / 8))
        points = (QPointF(0.27, 0.52), QPointF(0.44, 0.69), QPointF(0.75, 0.33))
        painter.drawPolyline([box.topLeft() + point * across for point in points])


RAIL_PX = 7.0


def paint_cut(painter: QPainter, box: QRectF, card: Card, colours: Colours) -> None:
    """Paint the piece of a cut to scale into a box, and write on both sides what they are."""
    frame = ink.Spread(x=box.x(), y=box.y(), length=box.width(), width=box.height())
    picture = CutPicture(card.told, frame, _look(colours))
    painter.save()
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    paint_items(painter, (*picture.wood(), *picture.marks()))
    painter.restore()
    told, stroke = card.told, card.told.stroke
    for side, rect in ((told.near, stroke.near), (told.far, stroke.far)):
        if side is not None:
            words = f"{side.name}: {side.part}" if side.name and side.part else ""
            _name(painter, picture.box(rect), words or side.name or side.part, colours.ink)


def _look(colours: Colours) -> CutLook:
    return CutLook(
        stays=colours.wood,
        off=colours.off,
        waste=colours.waste,
        hatching=ink.Pen(width=1.4, colour=colours.quiet),
        apart=16.0,
        kerf=colours.kerf,
        narrowest=4.0,
        outline=ink.Pen(width=3.0, colour=colours.ink),
        rail=ink.Pen(width=RAIL_PX, colour=colours.rail),
        rail_beside=RAIL_PX / 2,
        dashes=(5 * RAIL_PX, RAIL_PX),
        beyond=22.0 + RAIL_PX / 2,
        mark=ink.Pen(width=3.5, colour=colours.rail),
        mark_at=(26.0, 26.0),
        mark_half=9.0,
        mark_tall=17.0,
    )


def _name(painter: QPainter, side: ink.Spread, words: str, colour: str) -> None:
    """Write on a side where there is room for type that can be read."""
    box = QRectF(side.x, side.y, side.length, side.width).adjusted(8, 3, -8, -3)
    if not words or box.width() < 30 or box.height() < LEAST_PX * 1.3:
        return
    painter.save()
    if box.width() < box.height() and box.width() <= 150:
        painter.translate(box.center())
        painter.rotate(-90)
        box = QRectF(-box.height() / 2, -box.width() / 2, box.height(), box.width())
    write(painter, box, words, colour, align=CENTRE, bold=True, most_px=44)
    painter.restore()


def spoken(moment: Moment, style: LengthStyle) -> str:
    """Return what a page says, in sentences for a screen reader."""
    if isinstance(moment, Start):
        return " ".join((f"{BEFORE}.", DEFER, *CAUTIONS))
    if isinstance(moment, CutNow):
        return moment.card.told.spoken
    if isinstance(moment, End):
        return f"{LAST}."
    setting = moment.setting
    size = format_with_remainder(setting.size, style)
    cuts = all_of(moment.numbers)
    return f"{CHANGE}. {_set_words(setting)} {size}, {_named(setting)}, for {cuts}."


def _set_words(setting: Setting) -> str:
    article = "the " if setting.device is not Device.BOTH_ENDS else ""
    return f"Set {article}{setting.device} to"


def _named(setting: Setting) -> str:
    return f"{setting.name}, {setting.tool}" if setting.name else setting.tool
