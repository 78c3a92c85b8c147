"""The map of all sheets: when it shows, where it stands, and where a press on it leads."""

import pytest
from PySide6.QtTest import QTest

from layout_app.document import edit_layout
from tests.layout_app.bench.conftest import LEFT
from tests.layout_app.bench.two_sheets import inches


@pytest.fixture
def near(maker):
    """Return the maker with the bench looked at from so near that it scrolls both ways."""
    maker.view.resize(800, 600)
    maker.view.zoom(2.5)
    maker.view.mini_map.settle()
    return maker


def test_it_shows_while_the_sheets_are_wider_than_the_view(near):
    """From near it is there; at the whole width, and where nobody wants it, it is not."""
    small = near.view.mini_map
    assert small.isVisible()
    small.wanted = False
    assert not small.isVisible()
    small.wanted = True
    assert small.isVisible()
    near.view.fit_width()
    small.settle()
    assert not small.isVisible()


def test_it_stands_beside_the_sheets(near, qtbot):
    """It covers nothing of the view and nothing of the tray, and all of the width is used again."""
    small, view = near.view.mini_map, near.view
    edit_layout.move_part(near.doc, "rail", 1, "2", inches(60), inches(20))
    qtbot.waitUntil(lambda: view.shelf.is_thin)
    assert not small.geometry().intersects(near.port.geometry())
    assert not small.geometry().intersects(view.shelf.geometry())
    narrow, floor = near.port.width(), view.bench.floor
    small.wanted = False
    assert near.port.width() > narrow
    assert view.bench.floor == floor
    small.wanted = True
    view.fit_all()
    whole = near.port.width()
    small.settle()
    assert near.port.width() == whole


def test_a_press_brings_what_is_there_into_the_middle(near):
    """On the middle of the second sheet, as the map draws it: to within two pixels of the map."""
    small = near.view.mini_map
    stand = near.view.hand.sheets.stand("2")
    at = small.on_map(stand.rect).center().toPoint()
    QTest.mousePress(small, LEFT, pos=at)
    middle = near.view.mapToScene(near.port.rect().center())
    off = (middle - stand.rect.center()) * small.scale
    assert abs(off.x()) <= 2
    assert abs(off.y()) <= 2
    assert near.view.sheet_in_sight == "2"
    assert near.steps == 0


@pytest.mark.parametrize("high", [90, 200, 420, 900])
def test_it_leaves_half_of_the_height_to_the_tray(near, high):
    """Where half is too little for it, there is none; a press in the map's middle is on the map."""
    near.view.resize(700, high)
    near.view.zoom(3.0)
    small = near.view.mini_map
    small.settle()
    assert small.isVisible() is (high > 90)
    if small.isVisible():
        assert near.view.shelf.height() >= near.view.height() / 2
        assert near.view.childAt(small.geometry().center()) is small
