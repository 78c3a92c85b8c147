"""What is painted when: old pictures while zooming, sharp ones after, nothing out of sight."""

import pytest
from PySide6.QtCore import QPoint, QPointF, QRectF
from PySide6.QtGui import QColor
from PySide6.QtWidgets import QApplication

from layout_app.bench.drawings import Drawings
from layout_app.bench.pictures import PICTURES_KB, Darkroom, Picture, take
from layout_app.document import edit_layout
from layout_app.look.theme import Theme
from tests.layout_app.bench.two_sheets import inches


def scales(maker):
    """Return the scales of the pictures that are kept of both sheets."""
    room = maker.view.bench.darkroom
    return {picture.scale for sheet in ("1", "2") if (picture := room.picture(sheet))}


def test_while_zooming_the_old_picture_is_shown_and_then_a_sharp_one(maker, qtbot):
    """A step of a zoom paints no sheet anew; shortly after the last, each is sharp again."""
    maker.view.settle()
    before = maker.view.scale_px
    assert scales(maker) == {before}
    for _ in range(3):
        maker.view.zoom(1.1)
        maker.view.grab()
        assert scales(maker) == {before}
    qtbot.waitUntil(lambda: scales(maker) == {maker.view.scale_px}, timeout=3000)


def test_no_blur_is_left_standing(maker, qtbot):
    """When a zoom has come to rest, the bench looks as if it had been painted so at once."""
    maker.view.zoom(1.3, QPoint(200, 200))
    maker.view.grab()
    qtbot.waitUntil(lambda: scales(maker) == {maker.view.scale_px}, timeout=3000)
    QApplication.processEvents()
    rested = maker.view.grab().toImage()
    maker.view.bench.darkroom.clear()
    maker.view.settle()
    assert maker.view.grab().toImage() == rested


def test_a_sheet_out_of_sight_is_not_drawn(maker, monkeypatch):
    """Sheet 2 is drawn when it comes into sight, not when a part of it has moved."""
    drawn, draw = [], Drawings._draw
    monkeypatch.setattr(
        Drawings, "_draw", lambda self, sheet: drawn.append(sheet.id) or draw(self, sheet)
    )
    maker.view.resize(1000, 300)
    maker.view.verticalScrollBar().setValue(0)
    maker.view.settle()
    drawn.clear()
    edit_layout.move_part(maker.doc, "shelf", 2, "2", inches(50), inches(30))
    QApplication.processEvents()
    maker.view.settle()
    assert "2" not in drawn
    maker.view.verticalScrollBar().setValue(maker.view.verticalScrollBar().maximum())
    maker.view.settle()
    assert drawn.count("2") == 1


def test_a_moved_part_is_shown_where_it_lies_at_once(maker):
    """Even with no time to paint, the sheet of a drop is not shown as it was before."""
    maker.view.settle()
    maker.view.bench.darkroom.hold()
    before = maker.view.grab().toImage()
    edit_layout.move_part(maker.doc, "shelf", 1, "1", inches(50), inches(30))
    after = maker.view.grab().toImage()
    corner = maker.port.geometry().topLeft()
    point = maker.at("1", 60, 32) + corner
    assert after.pixelColor(point) != before.pixelColor(point)


@pytest.mark.parametrize("ratio", [1.0, 1.5, 2.0])
def test_a_picture_has_the_dots_of_its_screen(ratio):
    """A sheet of 100 × 50 mm at 2 px a mm has 200 × 100 px, times the dots a pixel."""
    seen = []
    bounds = QRectF(0, 0, 100, 50)
    pixmap, left, top = take(
        lambda painter, area: seen.append(area), bounds, bounds, (2.0, ratio), QColor("white")
    )
    assert (pixmap.width(), pixmap.height()) == (200 * ratio, 100 * ratio)
    assert (left, top) == (0, 0)
    assert seen == [bounds]


def test_of_a_large_sheet_only_what_is_about_the_sight_is_painted():
    """At a sight of 10 × 10 mm in the middle, half as much again is painted on each side."""
    seen = []
    take(
        lambda painter, area: seen.append(area),
        QRectF(0, 0, 100, 100),
        QRectF(40, 40, 10, 10),
        (1.0, 1.0),
        QColor("white"),
    )
    assert seen == [QRectF(35, 35, 20, 20)]


def test_the_room_for_pictures_has_an_end(qapp):
    """Pictures of 1000 × 1000 dots take 3906 kB each; the oldest make room."""
    room = Darkroom()
    pixmap, left, top = take(
        lambda painter, area: None,
        QRectF(0, 0, 1000, 1000),
        QRectF(0, 0, 1000, 1000),
        (1.0, 1.0),
        QColor("white"),
    )
    for sheet in range(40):
        picture = Picture(
            pixmap=pixmap, scale=1.0, ratio=1.0, left=left, top=top, of=None, lie=None
        )
        room.keep(str(sheet), picture)
    kept = [sheet for sheet in range(40) if room.picture(str(sheet))]
    assert len(kept) == PICTURES_KB // 3906
    assert kept[-1] == 39


def test_another_theme_leaves_no_old_picture(maker):
    """Every sheet in sight is painted anew in the other colours."""
    maker.view.settle()
    maker.view.set_theme(Theme.dark())
    maker.view.grab()
    point = maker.at("1", 40.0625, 6) + maker.port.geometry().topLeft()
    maker.view.settle()
    assert maker.view.grab().toImage().pixelColor(point) == QColor(Theme.dark().kerf)


def test_what_is_selected_is_outlined_without_drawing_the_other_sheets(maker, monkeypatch):
    """To outline a part of sheet 1, sheet 2 need not be drawn."""
    drawn, of = [], Drawings.of
    monkeypatch.setattr(
        Drawings, "of", lambda self, sheet: drawn.append(sheet.id) or of(self, sheet)
    )
    maker.view.set_theme(Theme.dark())
    drawn.clear()
    rects = maker.view.bench.rects_of([("side", 1)])
    stand = maker.view.hand.sheets.stand("1")
    assert rects[0].topLeft() == QPointF(stand.x, stand.y)
    assert drawn == ["1"]
