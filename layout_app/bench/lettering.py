"""Paints titles, tags, running positions and labels of a sheet, in pixels."""

from typing import Protocol

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QPainter

from layout_app.bench.frame import Stand, to_mm
from layout_app.bench.grain_signs import paint_grain_signs
from layout_app.bench.held_signs import paint_signs, words_of
from layout_app.bench.scale_marks import LEAST_TEXT_PX, WrittenMark
from layout_app.bench.writing import LIGHT, Writing, WrittenLabel, WrittenTag
from layout_app.look import pens
from layout_app.look.theme import Theme
from layout_app.model.locks import HeldArea
from shared.amounts import format_price
from shared.drawing import Fitted, SheetDrawing, Weight
from shared.drawing.lettering import LEADING
from shared.drawing.words import cant_be_cut
from shared.layout import Scope
from shared.shop import Axis

HINT = "R shows a repair."


def uncut_words(drawing: SheetDrawing) -> str:
    """Say why a sheet can't be cut, and where parts are to blame which key mends it; or ``""``."""
    return " ".join(filter(None, (cant_be_cut(drawing), _hint(drawing))))


def _hint(drawing: SheetDrawing) -> str:
    return HINT if any(box.problem for box in drawing.boxes) else ""


class LetteredSheet(Protocol):
    """What is to be known of a sheet to letter it."""

    stand: Stand
    yours: bool
    begun: bool
    held: tuple[HeldArea, ...]
    title_reach: float

    @property
    def drawing(self) -> SheetDrawing:
        """What is drawn of it."""


def paint_writing(painter: QPainter, item: LetteredSheet, writing: Writing, theme: Theme) -> None:
    """Paint all words of a sheet; the painter's origin is the sheet's reference corner."""
    paint_signs(painter, writing.signs, theme)
    for label in writing.labels:
        _paint_label(painter, label, theme)
    paint_grain_signs(painter, writing.grain_signs, theme)
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    _paint_scale(painter, item, writing, theme)
    _paint_face_mark(painter, item, writing, theme)
    _paint_leaders(painter, writing, theme)
    for tag in writing.tags:
        _paint_tag(painter, tag, writing, theme)
    if writing.text_px >= LEAST_TEXT_PX:
        _paint_title(painter, item, writing, theme)
        _paint_problem(painter, item, writing, theme)


def paint_lines(
    painter: QPainter, fitted: Fitted, colours: tuple[str, str], *, bold: bool = True
) -> None:
    """Paint fitted lines: the first in the first colour and bold, the rest in the second."""
    size = int(fitted.size)
    painter.save()
    _go_to(painter, fitted)
    for index, line in enumerate(fitted.lines):
        first = index == 0
        name, heavy = colours[0 if first else 1], bold and first
        painter.setPen(pens.colour(name))
        painter.setFont(pens.font(size, bold=heavy))
        painter.drawStaticText(
            0, round(index * LEADING * size), pens.written(line, size, bold=heavy)
        )
    painter.restore()


def _paint_label(painter: QPainter, written: WrittenLabel, theme: Theme) -> None:
    weight = written.label.weight
    fall, light = weight is Weight.FALL, weight in LIGHT
    colours = (theme.pencil, theme.pencil) if fall else (theme.graphite, theme.graphite)
    patches = {
        Weight.FALL: theme.keeper,
        Weight.NO_GO: theme.card,
        Weight.PIECE: theme.card,
    }
    patch = theme.card if written.over_marks else patches.get(weight)
    if patch is not None:
        paint_patches(painter, written.fitted, patch, bold=not light)
    paint_lines(painter, written.fitted, colours, bold=not light)


def paint_patches(painter: QPainter, fitted: Fitted, name: str, *, bold: bool) -> None:
    """Clear hatching behind words, no farther than each line goes; ``bold`` is the first."""
    size = int(fitted.size)
    height = LEADING * size
    painter.save()
    _go_to(painter, fitted)
    for index, line in enumerate(fitted.lines):
        width = pens.em_width(line, bold=bold and index == 0) * size
        painter.fillRect(QRectF(-3, index * height - 1, width + 6, height + 2), pens.brush(name))
    painter.restore()


def _go_to(painter: QPainter, fitted: Fitted) -> None:
    """Put the origin at the start of the first line, x along the words."""
    block = fitted.block
    if fitted.turned:
        painter.translate(round(block.x), round(block.y + block.width))
        painter.rotate(-90.0)
    else:
        painter.translate(round(block.x), round(block.y))


def _paint_title(painter: QPainter, item: LetteredSheet, writing: Writing, theme: Theme) -> None:
    size, drawing = writing.text_px, item.drawing
    above = any(tag.tag.outside and tag.tag.axis is Axis.CROSSCUT for tag in writing.tags)
    y = -size * 2.4 - (writing.tag_px if above else 0)
    x = _words(painter, (0.0, y - 1), drawing.sheet, (size + 2, theme.graphite), bold=True)
    right = item.stand.length * writing.scale
    price = format_price(drawing.price) if drawing.price else ""
    price_width = pens.em_width(price) * size
    if item.begun:
        x = _words(painter, (x + size, y), "begun", (size, theme.graphite), bold=True)
    if item.yours:
        x = _words(painter, (x + size, y), "yours", (size, theme.accent), bold=True)
    for area in item.held:
        if area.scope is Scope.SHEET:
            x = _words(painter, (x + size, y), words_of(area), (size, theme.graphite), bold=True)
    room = max(right, item.title_reach * writing.scale) - x - size - price_width - 8
    title = _elided(drawing.title, room, size)
    end = _words(painter, (x + size, y), title, (size, theme.pencil))
    start = max(end + size, right - price_width)
    _words(painter, (start, y), price, (size, theme.pencil))


def _paint_problem(painter: QPainter, item: LetteredSheet, writing: Writing, theme: Theme) -> None:
    if item.drawing.problem:
        size, hint = writing.text_px, _hint(item.drawing)
        room = item.title_reach * writing.scale - pens.em_width(f" {hint}", bold=True) * size
        why = _elided(cant_be_cut(item.drawing), room, size)
        words = f"{why} {hint}".rstrip()
        y = item.stand.width * writing.scale + size * 0.5
        _words(painter, (0.0, y), words, (size, theme.warning), bold=True)


def _elided(words: str, room: float, size: int) -> str:
    """Shorten words to the room they have."""
    if pens.em_width(words, bold=True) * size <= room:
        return words
    while words and pens.em_width(words + "…", bold=True) * size > room:
        words = words[:-1]
    return words and words + "…"


def _words(
    painter: QPainter,
    place: tuple[float, float],
    words: str,
    style: tuple[int, str],
    *,
    bold: bool = False,
) -> float:
    """Write words from their top left corner; return where they end."""
    size, name = style
    painter.setFont(pens.font(size, bold=bold))
    painter.setPen(pens.colour(name))
    point = QPointF(round(place[0]), round(place[1]))
    painter.drawStaticText(point, pens.written(words, size, bold=bold))
    return place[0] + pens.em_width(words, bold=bold) * size


def _paint_leaders(painter: QPainter, writing: Writing, theme: Theme) -> None:
    """Paint the leaders of tags outside the sheet, below all tags: none runs through a number."""
    painter.setPen(pens.pen(theme.pencil))
    for tag in writing.tags:
        if tag.tag.outside:
            painter.drawLine(QPointF(tag.x, tag.y), QPointF(*tag.entry))


def _paint_tag(painter: QPainter, tag: WrittenTag, writing: Writing, theme: Theme) -> None:
    middle, radius = QPointF(tag.x, tag.y), tag.diameter / 2
    current, done = tag.tag.current, tag.tag.done
    fill = theme.accent if current else theme.paper if done else theme.tag
    line = theme.accent if current else theme.faint if done else theme.tag_line
    painter.setBrush(pens.brush(fill))
    painter.setPen(pens.pen(line, 2.0 if current else 1.2))
    painter.drawEllipse(middle, radius, radius)
    painter.setBrush(Qt.BrushStyle.NoBrush)
    words = str(tag.tag.number)
    room = 1.15 if len(words) < 3 else 0.85
    size = int(min(writing.tag_px * 0.56, tag.diameter * room / max(pens.em_width(words), 0.5)))
    if size >= LEAST_TEXT_PX:
        name = theme.on_accent if current else theme.pencil if done else theme.on_tag
        place = (tag.x - pens.em_width(words, bold=not done) * size / 2, tag.y - size * 0.66)
        _words(painter, place, words, (size, name), bold=not done)


def _paint_face_mark(
    painter: QPainter, item: LetteredSheet, writing: Writing, theme: Theme
) -> None:
    """Paint the V that joiners pencil on a face edge; its tip stands on the reference edge."""
    x, y = (to_mm(ticks) * writing.scale for ticks in item.drawing.face_mark)
    half = min(4.5, writing.unit_px * 0.6)
    top, tip = y - 2 - 2 * half, y - 2
    painter.setPen(pens.pen(theme.accent, 2.0))
    painter.drawPolyline([QPointF(x - half, top), QPointF(x, tip), QPointF(x + half, top)])


def _paint_scale(painter: QPainter, item: LetteredSheet, writing: Writing, theme: Theme) -> None:
    """Paint the running positions on their scale line, with a dot at its zero."""
    marks = writing.marks
    if not marks:
        return
    along_y = marks[0].mark.axis is Axis.RIP
    beyond = item.stand.length if along_y else item.stand.width
    line = beyond * writing.scale + min(14.0, writing.unit_px * 1.2)

    def turn(across: float, along: float) -> QPointF:
        return QPointF(across, along) if along_y else QPointF(along, across)

    painter.setPen(pens.pen(theme.pencil))
    painter.drawLine(turn(line, marks[0].at), turn(line, marks[-1].at))
    painter.setBrush(pens.brush(theme.pencil))
    painter.drawEllipse(turn(line, marks[0].at), 2.5, 2.5)
    painter.setBrush(Qt.BrushStyle.NoBrush)
    for mark in marks[1:]:
        painter.setPen(pens.pen(theme.pencil))
        painter.drawLine(turn(line - 4, mark.at), turn(line + 4, mark.at))
        _paint_mark(painter, mark, line, writing, theme)


def _paint_mark(
    painter: QPainter, mark: WrittenMark, line: float, writing: Writing, theme: Theme
) -> None:
    size, words = writing.mark_px, mark.mark.text
    if mark.mark.axis is Axis.RIP:
        if abs(mark.words_at - mark.at) > 1:
            painter.drawLine(QPointF(line + 4, mark.at), QPointF(line + 8, mark.words_at))
        place = (line + 10, mark.words_at - size * 0.7)
    else:
        place = (mark.words_at - pens.em_width(words) * size / 2, line + 5)
    _words(painter, place, words, (size, theme.graphite))
