"""The sheet just before a cut: every part can be read there, and what is begun says so."""

from dataclasses import replace

import pytest
from PySide6.QtCore import QPointF

from layout_app.bench.sheet_item import arrow
from layout_app.document import edit_layout
from layout_app.document.document import TICKS_STAY
from layout_app.document.edit_job import edit_shop
from layout_app.document.ticks import tick, untick
from layout_app.look.theme import Theme
from shared.drawing import Role, Weight
from shared.plan import Keep
from shared.shop import Hand
from tests.layout_app.bench.two_sheets import inches


@pytest.mark.parametrize("cut", [1, 2, 3])
def test_parts_that_are_not_sawn_off_yet_are_named(maker, cut: int) -> None:
    """Sheet 1 holds two sides and a shelf; each name has room of its own, off all other words."""
    maker.doc.selection.select_cut(cut)
    item = maker.view.bench.sheet_item("1")
    writing = item.writing(maker.view.scale_px)
    names = [one.fitted.lines[0] for one in writing.labels if one.label.key.startswith("part:")]
    assert sorted(name.split("  ")[0] for name in names) == ["Shelf", "Side", "Side"]
    blocks = [one.fitted.block for one in writing.labels]
    for index, one in enumerate(blocks):
        for other in blocks[index + 1 :]:
            apart_x = one.x + one.length <= other.x or other.x + other.length <= one.x
            apart_y = one.y + one.width <= other.y or other.y + other.width <= one.y
            assert apart_x or apart_y


def test_a_part_to_come_is_told_by_name_and_size_where_it_will_be(maker) -> None:
    """The readout names the shelf that lies in a piece before the first cut."""
    maker.doc.selection.select_cut(1)
    drawing = maker.view.bench.sheet_item("1").drawing
    coming = {box.key for box in drawing.boxes if box.role is Role.COMING}
    named = {one.key for one in drawing.labels if one.weight is Weight.COMING}
    assert coming == named
    assert len(coming) == 3
    maker.view.around.point_at(maker.at("1", 15, 17))
    assert maker.view.around.readout.told.name == "Shelf"


def test_a_begun_sheet_says_so_in_its_title(maker) -> None:
    """With a cut of sheet 1 ticked that sheet is begun; with the tick taken back it is not."""
    title = maker.view.bench.sheet_item

    def picture():
        maker.view.settle()
        return maker.view.grab().toImage()

    before = picture()
    first = maker.doc.plan.cuts[0].number
    tick(maker.doc, [first])
    begun = maker.doc.plan.cut(first).sheet
    assert title(begun).begun
    assert [one.stand.sheet for one in maker.view.bench.sheet_items if one.begun] == [begun]
    assert picture() != before
    untick(maker.doc, [first])
    assert not title(begun).begun
    maker.view.set_theme(Theme.light())


def test_undo_after_ticks_says_once_that_they_stay(maker) -> None:
    """Two steps are undone with a cut ticked in between: the first undo says it, the second not."""
    for x in (50, 55):
        edit_layout.move_part(maker.doc, "shelf", 2, "2", inches(x), inches("97/8"))
    number = next(cut.number for cut in maker.doc.plan.cuts if cut.sheet == "1")
    tick(maker.doc, [number])
    maker.doc.undo()
    assert maker.said[-1] == TICKS_STAY
    maker.doc.undo()
    assert maker.said.count(TICKS_STAY) == 1
    assert number in maker.doc.progress.made


def test_an_arrow_stands_where_the_saw_enters_the_selected_cut(maker) -> None:
    """By hand: led on its left along the V side, a rip runs from the left end to the right.

    With the rail on the right of the blade it runs the other way, and the picture is another one.
    """
    maker.doc.selection.select_cut(1)
    cut = maker.doc.plan.cut(1)
    middle = cut.rect.y + cut.rect.width // 2
    drawing = maker.view.bench.sheet_item(cut.sheet).drawing
    assert cut.keep is Keep.NEAR
    assert drawing.saw_in == ((cut.rect.x, middle), (cut.rect.right, middle))
    edit_shop(maker.doc, replace(maker.doc.job.shop, rail_side=Hand.RIGHT))
    assert maker.doc.selection.cut == 1
    other = maker.view.bench.sheet_item(cut.sheet).drawing
    assert other.saw_in == ((cut.rect.right, middle), (cut.rect.x, middle))
    maker.doc.selection.clear()
    assert maker.view.bench.sheet_item(cut.sheet).drawing.saw_in is None


@pytest.mark.parametrize("leaves", [(100.0, 0.0), (-100.0, 0.0), (0.0, 100.0)])
def test_the_arrow_points_along_the_way_of_the_saw(leaves: tuple[float, float]) -> None:
    """Its tip is where the saw enters, its middle before that, on the line of the cut."""
    spots = list(arrow(QPointF(0, 0), QPointF(*leaves), 10.0))
    tail = (spots[1] + spots[2]) / 2
    assert spots[0] == QPointF(0, 0)
    assert (round(tail.x(), 6), round(tail.y(), 6)) == (-leaves[0] / 10, -leaves[1] / 10)
