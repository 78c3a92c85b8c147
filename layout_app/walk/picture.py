"""The picture of a cut at the sawhorses: large, with words on both sides of the line."""

from typing import Final

from PySide6.QtCore import QRectF
from PySide6.QtGui import QPainter

from layout_app.panels.cards import Card
from layout_app.paper import ink
from layout_app.paper.cut_picture import CutLook, CutPicture
from layout_app.paper.painting import paint_items
from layout_app.walk.colours import Colours
from layout_app.walk.lettering import CENTRE, LEAST_PX, write

RAIL_PX: Final = 7.0
MARGIN: Final = 22.0 + RAIL_PX
"""What is drawn beyond the piece on each side at most, in pixels: the rail and the V."""


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
        beyond=MARGIN - RAIL_PX / 2,
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
