"""Words of a gesture keep apart and in sight: at every edge and corner, in small views too.

What is said beside the pointer, distances, and the names of what is in the hand.
"""

from collections.abc import Iterator
from dataclasses import replace
from itertools import combinations

import pytest
from PySide6.QtCore import QPoint, QPointF, QRectF, Qt
from PySide6.QtGui import QTransform, QWheelEvent
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QStyleOptionGraphicsItem

from layout_app.bench.bubble import Bubble
from layout_app.bench.measures import Measures
from layout_app.bench.overlays import Ghost
from layout_app.bench.resizing import Resizing
from layout_app.bench.spots import Edge
from layout_app.document import edit_job, edit_parts
from shared.lengths import LengthStyle, Unit
from tests.layout_app.bench.word_notes import SLACK_PX, Notes, meeting, shares

VIEWS = ((373, 135), (640, 307), (1000, 900))
"""Sizes of the bench in windows of 760 × 520 and 1024 × 700, and a large one."""
NAMES = {"side": "Drawer side, left, upper chest", "shelf": "Shelf " + "W" * 40, "rail": "Rail"}
ZOOMS = (0.5, 1.0, 3.0)


@pytest.fixture
def crowded(maker):
    """Return a maker whose parts have long names."""
    for part_id, name in NAMES.items():
        edit_parts.edit_part(maker.doc, replace(maker.doc.job.part(part_id), name=name))
    return maker


@pytest.mark.parametrize("unit", Unit)
@pytest.mark.parametrize("size", VIEWS)
def test_words_of_a_drag_keep_apart(crowded, size, unit) -> None:
    """A part is dragged over the whole view and just beyond it, at three zooms."""
    edit_job.edit_style(crowded.doc, LengthStyle(unit=unit))
    for zoom in ZOOMS:
        _show(crowded, size, zoom)
        crowded.view.hand.carry([("side", 1)])
        for at in _places(crowded):
            crowded.view.hand.move(crowded.view.mapToScene(at))
            check(crowded)
        crowded.view.hand.cancel()


@pytest.mark.parametrize("size", VIEWS)
def test_words_of_several_parts_keep_apart(crowded, size) -> None:
    """All parts of a sheet are in the hand."""
    _show(crowded, size, 1.0)
    crowded.view.hand.carry([("side", 1), ("side", 2), ("shelf", 1)])
    for at in _places(crowded):
        crowded.view.hand.move(crowded.view.mapToScene(at))
        check(crowded)


@pytest.mark.parametrize("size", VIEWS)
def test_words_of_a_resize_keep_apart(crowded, size) -> None:
    """The far corner of the shelf is drawn all over the view."""
    for zoom in ZOOMS:
        _show(crowded, size, zoom)
        hand = crowded.view.hand
        hand.begin(
            Resizing(hand, hand.document.layout.find(("shelf", 1)), Edge.RIGHT | Edge.BOTTOM)
        )
        for at in _places(crowded):
            hand.move(crowded.view.mapToScene(at))
            check(crowded)
        hand.cancel()


@pytest.mark.parametrize("size", VIEWS)
def test_words_of_a_drawing_keep_apart(crowded, size) -> None:
    """A part is drawn from the middle of sheet 2 to everywhere."""
    _show(crowded, size, 1.0)
    stand = crowded.view.hand.sheets.stand("2")
    crowded.view.hand.draw(stand, QPointF(stand.x + 1500, stand.y + 900))
    for at in _places(crowded):
        crowded.view.hand.move(crowded.view.mapToScene(at))
        check(crowded)


@pytest.mark.parametrize("size", VIEWS)
def test_words_of_keys_keep_apart(crowded, size) -> None:
    """A part is carried by arrows to the ends of its sheet and on to the next one."""
    _show(crowded, size, 1.5)
    crowded.view.hand.carry([("shelf", 1)])
    keys = Qt.Key
    for key in (*[keys.Key_Right] * 6, keys.Key_PageDown, *[keys.Key_Down] * 5, keys.Key_Left):
        QTest.keyClick(crowded.view, key)
        check(crowded)


def test_a_zoom_takes_the_words_along(crowded) -> None:
    """Turned by the wheel, what is said stands at the pointer as if it had just moved."""
    _show(crowded, (640, 307), 1.0)
    crowded.view.hand.carry([("side", 1)])
    at = crowded.port.rect().center()
    crowded.view.hand.move(crowded.view.mapToScene(at))
    for turns in (3, -5):
        crowded.view.wheelEvent(_wheel(crowded, at, turns))
        check(crowded)


def check(maker) -> None:
    """Look at all that is said and written now."""
    view = maker.view
    notes, cards = _painted(view)
    port = QRectF(view.viewport().rect()).adjusted(-SLACK_PX, -SLACK_PX, SLACK_PX, SLACK_PX)
    assert meeting(notes) == []
    assert [words for words, box in notes.boxes if not port.contains(box)] == []
    (said,) = cards
    assert port.contains(said)
    # The card lies over all else: no words are seen in part below it.
    beside = [(words, box) for words, box in notes.boxes if not said.contains(box.center())]
    assert [words for words, box in beside if shares(box, said)] == []
    assert len(notes.boxes) - len(beside) == len(_bubble(view)._lines)
    assert not any(one.intersects(other) for one, other in combinations(_plates(view), 2))


def _painted(view) -> tuple[Notes, list[QRectF]]:
    """Return what the overlays of the gesture paint, and the card that lies over all."""
    notes, option, cards = Notes(1.0), QStyleOptionGraphicsItem(), []
    for item in sorted(view.hand.interaction._shown, key=lambda one: one.zValue()):
        if isinstance(item, Ghost | Measures | Bubble):
            seen, transform = Notes(1.0, _transform(view, item)), _transform(view, item)
            item.paint(seen, option, view.viewport())
            notes.noted += seen.noted
            if isinstance(item, Bubble):
                cards.append(transform.mapRect(item.bounds))
    return notes, cards


def _transform(view, item) -> QTransform:
    if isinstance(item, Bubble):
        at = view.viewportTransform().map(item.pos())
        return QTransform.fromTranslate(at.x(), at.y())
    return view.viewportTransform()


def _bubble(view) -> Bubble:
    return next(one for one in view.hand.interaction._shown if isinstance(one, Bubble))


def _plates(view) -> Iterator[QRectF]:
    for one in view.hand.interaction._shown:
        if isinstance(one, Measures):
            yield from one.plates


def _show(maker, size, zoom: float) -> None:
    maker.view.resize(*size)
    maker.view.fit_width()
    maker.view.zoom(zoom)
    maker.view.verticalScrollBar().setValue(maker.view.verticalScrollBar().maximum() // 3)


def _places(maker) -> Iterator[QPoint]:
    """Yield places all over the view, at its edges and corners, and a little beyond them."""
    port = maker.port.rect()
    across = (-30, 1, 20, port.width() // 3, port.width() // 2, port.right() - 2, port.right() + 40)
    down = (-20, 1, 15, port.height() // 2, port.bottom() - 20, port.bottom() - 1)
    yield from (QPoint(x, y) for y in down for x in across)


def _wheel(maker, at: QPoint, turns: int):
    return QWheelEvent(
        QPointF(at),
        QPointF(maker.port.mapToGlobal(at)),
        QPoint(),
        QPoint(0, 120 * turns),
        Qt.MouseButton.NoButton,
        Qt.KeyboardModifier.ControlModifier,
        Qt.ScrollPhase.NoScrollPhase,
        False,
    )


def test_words_below_do_not_show_through_those_of_a_part_in_the_hand(crowded) -> None:
    """Each line of its name stands on a ground of its own, painted over all that lies there."""
    _show(crowded, (1000, 900), 1.0)
    hand, seen = crowded.view.hand, 0
    hand.carry([("side", 1)])
    for at in _places(crowded):
        hand.move(crowded.view.mapToScene(at))
        for item in hand.interaction._shown:
            if isinstance(item, Ghost):
                notes = Notes(1.0, _transform(crowded.view, item))
                item.paint(notes, QStyleOptionGraphicsItem(), crowded.port)
                grounds = [one.box for one in notes.noted[1:] if one.kind == "ground"]
                for _, box in notes.boxes:
                    seen += 1
                    assert any(ground.contains(box) for ground in grounds)
    assert seen > 10
