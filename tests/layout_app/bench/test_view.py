"""What the bench shows: states before cuts, colours of kerfs, zoom, pan, theme."""

from dataclasses import replace

import pytest
from PySide6.QtCore import QPoint, QPointF, Qt
from PySide6.QtGui import QColor, QWheelEvent
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication

from layout_app.document import edit_job, edit_layout, edit_parts
from layout_app.look.theme import Theme
from shared.drawing import Role
from shared.lengths import Unit
from tests.layout_app.bench.test_gestures import tag_point
from tests.layout_app.bench.two_sheets import JOB, inches
from tests.layout_app.turns import take_turns


def drawing(maker, sheet):
    """Return what is drawn of a sheet."""
    return maker.view.scene().sheet_item(sheet).drawing


def roles(maker, sheet):
    """Return the roles of the boxes of a sheet."""
    return {box.role for box in drawing(maker, sheet).boxes}


def test_every_sheet_is_drawn_to_scale_one_below_the_other(maker):
    """Sheets of 96 × 48 in stand as 2438.4 × 1219.2 mm, and do not touch."""
    first, second = (item.stand for item in maker.view.scene().sheet_items)
    assert (first.length, first.width) == (2438.4, 1219.2)
    assert second.y > first.y + first.width


def test_a_selected_cut_shows_its_sheet_just_before_it(maker):
    """Cut 2 saws the shelf's strip off; sheet 2 is drawn with all cuts made."""
    maker.doc.selection.select_cut(2)
    assert {Role.KEPT, Role.LEFT, Role.CUT} <= roles(maker, "1")
    assert not {Role.KEPT, Role.CUT} & roles(maker, "2")
    maker.doc.selection.clear()
    assert Role.CUT not in roles(maker, "1")


@pytest.mark.parametrize("height", range(500, 1300, 50))
def test_the_bench_comes_to_rest_at_any_height(maker, monkeypatch, height):
    """Fitting the width and showing the scroll bar do not chase each other."""
    sizes = []
    monkeypatch.setattr(type(maker.view.shelf), "setGeometry", lambda *args: sizes.append(args[1:]))
    maker.view.resize(1000, height)
    QApplication.processEvents()
    sizes.clear()
    QApplication.processEvents()
    assert sizes == []


def test_the_sheet_of_a_selected_cut_comes_into_sight(maker):
    """The last cut is made on sheet 2; its sheet is scrolled into the view."""
    maker.view.resize(700, 300)
    maker.view.verticalScrollBar().setValue(0)
    cut = maker.doc.plan.cuts[-1]
    assert cut.sheet == "2"
    maker.doc.selection.select_cut(cut.number)
    seen = maker.view.mapToScene(maker.port.rect()).boundingRect()
    assert seen.intersects(maker.view.hand.sheets.stand("2").rect)


def test_a_click_on_a_tag_selects_the_cut(maker):
    """The round tag is the cut's card on the bench."""
    point = tag_point(maker, "1", 2)
    maker.press(point)
    maker.release(point)
    assert maker.doc.selection.cut == 2


def test_a_tag_beside_the_selected_part_can_be_clicked(maker):
    """The tag of the crosscut behind a side lies on the side's edge, and still is a tag."""
    maker.click("1", 10, 6)
    cut = next(c for c in maker.doc.plan.cuts if c.x == inches(40))
    point = tag_point(maker, "1", cut.number)
    maker.press(point)
    maker.release(point)
    assert maker.doc.selection.cut == cut.number


def test_a_click_on_bare_ground_selects_nothing(maker):
    """Beside the sheets a click clears the selection."""
    maker.doc.selection.select_cut(2)
    maker.press(QPoint(2, maker.port.height() - 3))
    maker.release(QPoint(2, maker.port.height() - 3))
    assert maker.doc.selection.cut is None


def test_a_kerf_is_seen_in_its_own_colour(maker):
    """Close up, the middle of the kerf between two sides is as white as the theme says."""
    maker.view.zoom(4.0, maker.at("1", 40, 9))
    maker.view.settle()
    point = maker.at("1", 40.0625, 9)
    picture = maker.view.grab().toImage()
    port = maker.port.geometry()
    assert picture.pixelColor(point + port.topLeft()) == QColor(Theme.light().kerf)


def test_sizes_follow_the_units(maker):
    """In millimetres the shelf, 30 × 10 in, reads L 762 × W 254 (1 in is 25.4 mm)."""
    style = replace(JOB.style, unit=Unit.MM)
    edit_job.edit_style(maker.doc, style)
    labels = {label.lines for label in drawing(maker, "1").labels}
    assert ("Shelf", "L 762 × W 254") in labels


def test_a_tip_tells_name_and_size(maker):
    """What had no room on the sheet can be read in a tip."""
    stand = maker.view.hand.sheets.stand("1")
    tip = maker.view.scene().tip_at(QPointF(stand.x + 100, stand.y + 100))
    assert tip == "Side, L 40 × W 12"


def test_ctrl_and_wheel_zoom_to_the_pointer(maker):
    """The place under the pointer stays there while the scale grows by a step."""
    at = maker.at("1", 70, 20)
    before, scale = maker.view.mapToScene(at), maker.view.scale_px
    event = QWheelEvent(
        QPointF(at),
        QPointF(maker.port.mapToGlobal(at)),
        QPoint(),
        QPoint(0, 120),
        Qt.MouseButton.NoButton,
        Qt.KeyboardModifier.ControlModifier,
        Qt.ScrollPhase.NoScrollPhase,
        False,
    )
    QApplication.sendEvent(maker.port, event)
    assert maker.view.scale_px == pytest.approx(1.2 * scale)
    after = maker.view.mapToScene(at)
    assert abs(after.x() - before.x()) * maker.view.scale_px <= 1.5
    assert abs(after.y() - before.y()) * maker.view.scale_px <= 1.5


def test_the_middle_button_pans(maker):
    """The paper follows the pointer, and nothing is selected."""
    maker.view.zoom(3.0)
    start, before = QPoint(300, 300), maker.view.mapToScene(QPoint(300, 300))
    QTest.mousePress(maker.port, Qt.MouseButton.MiddleButton, Qt.KeyboardModifier(0), start)
    QTest.mouseMove(maker.port, start - QPoint(60, 40))
    QTest.mouseRelease(
        maker.port, Qt.MouseButton.MiddleButton, Qt.KeyboardModifier(0), start - QPoint(60, 40)
    )
    after = maker.view.mapToScene(start - QPoint(60, 40))
    assert (after - before).manhattanLength() * maker.view.scale_px <= 2
    assert not maker.doc.selection.parts


def test_the_sheets_keep_as_wide_as_the_view(maker):
    """Until the maker zooms, the sheets fill the width of the view at every size."""
    for width in (700, 1200):
        maker.view.resize(width, 600)
        room = maker.view.scene().floor.bounds.width() * maker.view.scale_px
        assert room == pytest.approx(maker.port.width(), abs=1)
    maker.view.zoom(1.5)
    scale = maker.view.scale_px
    maker.view.resize(900, 600)
    assert maker.view.scale_px == scale


def test_all_sheets_fit_at_once(maker):
    """Key 9 shows every sheet whole."""
    maker.key(Qt.Key.Key_9)
    seen = maker.view.mapToScene(maker.port.rect()).boundingRect()
    assert all(seen.contains(item.stand.rect) for item in maker.view.scene().sheet_items)


def test_the_selected_part_is_shown_large(maker):
    """Key Z brings the selected part to most of the view."""
    maker.doc.selection.select_parts([("shelf", 2)])
    maker.key(Qt.Key.Key_Z)
    seen = maker.view.mapToScene(maker.port.rect()).boundingRect()
    stand = maker.view.hand.sheets.stand("2")
    assert seen.contains(QPointF(stand.x + 381, stand.y + 435))
    assert seen.width() < 3 * 762


def test_the_dark_theme_draws_the_same_sheets(maker):
    """Another theme changes colours, no drawing."""
    before = [drawing(maker, sheet) for sheet in ("1", "2")]
    maker.view.set_theme(Theme.dark())
    assert [drawing(maker, sheet) for sheet in ("1", "2")] == before
    corner = maker.view.grab().toImage().pixelColor(3, maker.view.height() - 30)
    assert corner == QColor(Theme.dark().paper)


def test_only_sheets_that_changed_are_drawn_anew(maker):
    """Moving a part of sheet 2 leaves the item of sheet 1 in place."""
    first, second = maker.view.scene().sheet_items
    edit_layout.move_part(maker.doc, "shelf", 2, "2", inches(50), inches(30))
    assert maker.view.scene().sheet_item("1") is first
    assert maker.view.scene().sheet_item("2") is not second


def test_an_empty_document_has_an_empty_bench(maker):
    """With no sheets there is nothing under the pointer, and no gesture begins."""
    edit_parts.remove_parts(maker.doc, [part.id for part in maker.doc.job.parts])
    assert maker.view.scene().sheet_items == ()
    maker.press(QPoint(100, 100))
    maker.release(QPoint(100, 100))
    assert not maker.view.hand.busy
    assert not maker.view.grab().isNull()


def test_what_is_at_the_top_stays_there_when_the_view_gets_wider(maker):
    """The sheets grow with the view; the place of the second sheet at its top is the same."""
    view = maker.view
    view.fit_width()
    view.verticalScrollBar().setValue(view.verticalScrollBar().maximum() // 2)
    top = view.mapToScene(0, 0).y()
    assert top > 0
    for width in (1300, 800, 1000):
        scale = view.scale_px
        view.resize(width, 500)
        take_turns()
        assert view.scale_px != scale
        assert abs(view.mapToScene(0, 0).y() - top) < 3 / view.scale_px
    view.verticalScrollBar().setValue(0)
    first = view.mapToScene(0, 0).y()
    view.resize(700, 500)
    take_turns()
    assert view.verticalScrollBar().value() == 0
    assert abs(view.mapToScene(0, 0).y() - first) < 3 / view.scale_px


def test_sheets_beside_each_other_can_be_worked_on(maker):
    """In a low wide view all sheets stand in columns; a part goes from one to the next by drag."""
    view = maker.view
    view.resize(1400, 420)
    take_turns()
    maker.key(Qt.Key.Key_9)
    first, second = (view.hand.sheets.stand(sheet) for sheet in ("1", "2"))
    assert second.x > first.x
    assert second.y == first.y
    seen = view.mapToScene(maker.port.rect()).boundingRect()
    assert all(seen.contains(stand.rect) for stand in (first, second))
    maker.drag(("1", 15, 17), ("2", 45, 40))
    where = maker.corner("shelf", 1)
    assert where is not None
    assert where[0] == "2"
    view.fit_width()
    assert view.hand.sheets.stand("2").x == first.x
