"""Rulers in the maker's units, what is read under the pointer, and zooming by fingers."""

import pytest
from PySide6.QtCore import QEvent, QPoint, QPointF, Qt
from PySide6.QtGui import QNativeGestureEvent, QPointingDevice
from PySide6.QtWidgets import QApplication, QGestureEvent, QPinchGesture

from layout_app.bench.rulers import FINE_PX, LADDERS, WRITTEN_PX, Graduation, graduation
from layout_app.document import edit_job, edit_layout
from layout_app.look.theme import Theme
from shared.lengths import INCH, MM, LengthStyle, Unit
from tests.layout_app.bench.two_sheets import inches


def test_an_inch_ruler_is_divided_by_halves():
    """At 0.4 px a mm an inch is 10.16 px: ticks at 1/2 in, 5.08 px; numbers at 6 in, 61 px."""
    halves = graduation(0.4, LengthStyle(unit=Unit.INCH))
    assert halves == Graduation(fine=INCH // 2, middle=INCH, written=6 * INCH)


def test_a_millimetre_ruler_is_divided_by_fives_and_tens():
    """At 0.6 px a mm: ticks at 10 mm, 6 px; longer at 50; numbers at 100 mm, 60 px."""
    tens = graduation(0.6, LengthStyle(unit=Unit.MM))
    assert tens == Graduation(fine=10 * MM, middle=50 * MM, written=100 * MM)


@pytest.mark.parametrize("unit", list(Unit))
def test_ticks_keep_apart_at_every_scale(unit):
    """Between the ends of the ladder no tick is nearer to the next than can be told apart."""
    style, scale = LengthStyle(unit=unit), 0.02
    while scale < 20.0:
        parts = graduation(scale, style)
        assert parts.fine / MM * scale >= FINE_PX or parts.fine == LADDERS[unit][-1]
        assert parts.written / MM * scale >= WRITTEN_PX or parts.written == LADDERS[unit][-1]
        assert parts.written % parts.middle == parts.middle % parts.fine == 0
        scale *= 1.3


def test_no_tick_is_finer_than_the_makers_units():
    """Who works in 16ths of an inch gets no 32nds, however near he looks."""
    assert graduation(20.0, LengthStyle(unit=Unit.INCH, denominator=16)).fine == INCH // 16


def test_the_rulers_begin_at_the_sheet_under_the_pointer(maker):
    """Their zeros stand at the reference corner of sheet 2, their ends at 96 and 48 in."""
    at = maker.at("2", 10, 5)
    maker.view.around.point_at(at)
    top, left = maker.view.around.top, maker.view.around.left
    corner = maker.at("2", 0, 0)
    assert (top.reading.zero, left.reading.zero) == (corner.x(), corner.y())
    assert (top.reading.end, left.reading.end) == (inches(96), inches(48))
    assert (top.mark_px, left.mark_px) == (at.x(), at.y())


def test_the_rulers_follow_the_view(maker):
    """After a zoom and a pan the zero still stands at the corner of the sheet."""
    maker.view.zoom(2.0)
    maker.view.scroll_by(QPoint(40, 30))
    maker.view.around.point_at(maker.at("1", 40, 20))
    corner = maker.at("1", 0, 0)
    assert maker.view.around.top.reading.zero == corner.x()
    assert maker.view.around.left.reading.zero == corner.y()
    assert maker.view.around.top.reading.scale == maker.view.scale_px


def test_a_part_is_read_with_size_and_place(maker):
    """The second side lies behind the first one, 40 in long, and its kerf of 1/8 in."""
    maker.view.around.point_at(maker.at("1", 60, 6))
    readout = maker.view.around.readout
    rule = "grain along its length, as its rule asks"
    said = f"L 40 × W 12, begins at 40 1/8 along, 0 across, {rule}"
    assert readout.told == ("Side", said)
    assert readout.accessibleDescription().startswith("Side, L 40")


def test_a_kerf_is_read_with_its_cut_and_width(maker):
    """The kerf between the sides is 1/8 in wide."""
    cut = next(one for one in maker.doc.plan.cuts if one.sheet == "1" and one.x == inches(40))
    maker.view.zoom(4.0, maker.at("1", 40, 6))
    maker.view.around.point_at(maker.at("1", 40.0625, 6))
    assert maker.view.around.readout.told == (f"kerf of cut {cut.number}", "1/8 wide")


def test_a_fall_is_read_with_its_size(maker):
    """Behind both sides 80 1/4 in of the strip are used up: 15 3/4 in × 12 in are left over."""
    maker.view.around.point_at(maker.at("1", 90, 6))
    told = maker.view.around.readout.told
    assert told.rest.startswith("L 15 3/4 × W 12, begins at 80 1/4 along, 0 across")


def test_a_gap_is_read_along_and_across(maker):
    """On a sheet without cuts: behind the shelf, which ends at 35 + 30 in, 31 in by 48 in."""
    edit_layout.move_part(maker.doc, "shelf", 2, "2", inches(35), inches(5))
    assert "2" in maker.doc.problems
    maker.view.around.point_at(maker.at("2", 80, 10))
    assert maker.view.around.readout.told == ("gap", "31 along, 48 across")


def test_off_the_sheets_nothing_is_read(maker):
    """The pointer leaves: no mark, no words; between the sheets no words."""
    maker.view.around.point_at(QPoint(2, 2))
    assert maker.view.around.readout.told.name == ""
    QApplication.sendEvent(maker.port, QEvent(QEvent.Type.Leave))
    assert maker.view.around.top.mark_px is None
    assert maker.view.around.readout.pointer == ""


def test_the_rulers_change_units_and_colours(maker):
    """Millimetres and lamplight reach the rulers."""
    edit_job.edit_style(maker.doc, LengthStyle(unit=Unit.MM))
    maker.view.set_theme(Theme.dark())
    assert maker.view.around.left.reading.style.unit is Unit.MM
    corner = maker.view.around.top.grab().toImage().pixelColor(1, 1)
    assert corner.name() == Theme.dark().paper


def zoomed_at(maker, event, at):
    """Send a gesture; return by which factor it zoomed and how far the place moved, in pixels."""
    before, scale = maker.view.mapToScene(at), maker.view.scale_px
    QApplication.sendEvent(maker.port, event)
    moved = maker.view.mapFromScene(before) - at
    return maker.view.scale_px / scale, moved.manhattanLength()


def test_two_fingers_on_the_pad_zoom_at_the_pointer(maker):
    """A native zoom by a quarter makes all a quarter larger about the pointer."""
    at = maker.at("1", 50, 20)
    event = QNativeGestureEvent(
        Qt.NativeGestureType.ZoomNativeGesture,
        QPointingDevice.primaryPointingDevice(),
        2,
        QPointF(at),
        QPointF(at),
        QPointF(maker.port.mapToGlobal(at)),
        0.25,
        QPointF(),
    )
    factor, moved = zoomed_at(maker, event, at)
    assert factor == pytest.approx(1.25)
    assert moved <= 2


def test_two_fingers_on_the_screen_zoom_between_them(maker):
    """A pinch by a half larger zooms about the middle of the fingers."""
    at = maker.at("1", 50, 20)
    pinch = QPinchGesture()
    pinch.setScaleFactor(1.5)
    pinch.setCenterPoint(QPointF(maker.port.mapToGlobal(at)))
    factor, moved = zoomed_at(maker, QGestureEvent([pinch]), at)
    assert factor == pytest.approx(1.5)
    assert moved <= 2
