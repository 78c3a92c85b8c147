"""Room around the sheets of the bench: nothing that is written runs into another sheet."""

from dataclasses import replace
from itertools import combinations, pairwise

import pytest
from pytestqt.qtbot import QtBot

from layout_app.bench.frame import columns_in_view, lay_out
from layout_app.bench.scene import BenchScene
from layout_app.document.document import Document
from layout_app.look.theme import Theme
from layout_app.model.project import Project
from shared.lengths import INCH
from shared.shop import Rail
from shared.stock import Trims
from tests.layout_app.adopting import adopt
from tests.layout_app.small_job import planned, small_job


def across(rail: int) -> Document:
    """Return a small job cut across with a rail of 60 in; with one of 120, one strip is."""
    job = small_job()
    shop = replace(job.shop, rails=(Rail(length=rail * INCH),), overhang=10 * INCH)
    if rail > 60:
        whole = replace(job.parts[0], length=40 * INCH, width=job.stock[0].width, copies=2)
        row = replace(job.stock[0], trims=Trims())
        job = replace(job, parts=(whole,), stock=(row,))
    doc = Document(Project(job=replace(job, shop=shop)))
    adopt(doc, planned(doc.job))
    return doc


@pytest.mark.parametrize("rail", [60, 120])
@pytest.mark.parametrize("room_px", [500, 900, 1400])
def test_title_and_scale_of_a_sheet_cut_across_have_room(
    qtbot: QtBot, room_px: int, rail: int
) -> None:
    """The title stands above the tags, and the words of the scale below it, inside the item."""
    del qtbot
    doc = across(rail)
    scene = BenchScene(doc, Theme.light())
    scene.suit(room_px)
    item, scale = scene.sheet_items[0], room_px / scene.floor.bounds.width()
    written, bounds = item.writing(scale), item.boundingRect()
    assert written.marks
    assert written.text_px * 2.4 + written.tag_px + 1 <= -bounds.top() * scale
    scale_px = min(14.0, written.unit_px * 1.2) + 5 + written.text_px * 1.3
    assert scale_px <= (bounds.bottom() - item.stand.width) * scale


def test_rooms_of_sheets_do_not_overlap() -> None:
    """A sheet cut across first takes more room, and the next one stands below it."""
    sheets = [(name, 96 * INCH, 48 * INCH) for name in "abc"]
    floor = lay_out(sheets, across={"b"})
    rooms = [floor.room(stand) for stand in floor.stands]
    assert all(one.bottom() <= two.top() + 1e-6 for one, two in pairwise(rooms))
    assert rooms[1].height() > rooms[0].height() == pytest.approx(rooms[2].height())
    assert floor.bounds.bottom() >= rooms[2].bottom()


@pytest.mark.parametrize("columns", [1, 2, 3, 5])
def test_rooms_of_sheets_beside_each_other_do_not_overlap(columns: int) -> None:
    """They stand from left to right and then down, each with its title, tags and scale."""
    sheets = [(name, (96 - 10 * at) * INCH, 48 * INCH) for at, name in enumerate("abcde")]
    floor = lay_out(sheets, across={"b"}, columns=columns)
    rooms = [floor.room(stand) for stand in floor.stands]
    for one, two in combinations(rooms, 2):
        assert not one.adjusted(1e-6, 1e-6, -1e-6, -1e-6).intersects(two)
    assert all(floor.bounds.contains(stand.rect) for stand in floor.stands)
    assert len({stand.x for stand in floor.stands}) == columns
    assert [(one.y, one.x) for one in floor.stands] == sorted((s.y, s.x) for s in floor.stands)
    for stand, room in zip(floor.stands, rooms, strict=True):
        assert room.right() <= stand.x + floor.reach(stand) + 1e-6


@pytest.mark.parametrize("size", [(780, 440), (440, 780), (1900, 900)])
def test_all_sheets_are_shown_as_large_as_columns_allow(size: tuple[int, int]) -> None:
    """No other number of columns shows nine sheets larger; a wide view takes several of them."""
    sheets = [(str(at), 96 * INCH, 48 * INCH) for at in range(9)]

    def scale(columns: int) -> float:
        bounds = lay_out(sheets, size[0], columns=columns).bounds
        return min(size[0] / bounds.width(), size[1] / bounds.height())

    chosen = columns_in_view(sheets, *size)
    assert scale(chosen) == max(scale(columns) for columns in range(1, 10))
    assert (chosen > 1) is (size[0] > size[1])
