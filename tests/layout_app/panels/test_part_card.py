"""The card of a part: its show face, its two sizes, and the measured size of a fit part."""

from collections.abc import Sequence
from dataclasses import replace

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QGuiApplication
from pytestqt.qtbot import QtBot

from layout_app.document import edit_job, edit_parts
from layout_app.document.document import Document
from layout_app.panels.left_region import LeftRegion
from layout_app.panels.part_card import sums_of
from shared.check import check_job
from shared.lengths import INCH, MM, LengthStyle
from shared.parts import Bands, Part
from shared.plan import CutKind
from tests.layout_app.adopting import adopt
from tests.layout_app.small_job import planned, small_job
from tests.layout_app.tables import doc_of, type_in

DOOR = Part(
    id="door",
    name="Door",
    length=20 * INCH,
    width=10 * INCH,
    material="birch ply",
    bands=Bands(left=INCH // 8),
)


def shown(left: LeftRegion, **changes: object) -> Document:
    """Add the door, changed, to the job, and show its card."""
    doc = doc_of(left)
    edit_parts.add_parts(doc, [replace(DOOR, **changes)])
    doc.selection.select_parts([("door", 1)])
    return doc


def door(doc: Document) -> Part:
    """Return the door as it is now."""
    return doc.job.part("door")


def value(lines: Sequence[tuple[str, str]], words: str) -> str:
    """Return what stands behind words on the card."""
    return next(text for name, text in lines if name == words)


def test_show_face_is_ticked_in_one_step(left: LeftRegion, qtbot: QtBot) -> None:
    """With the space bar, and undo takes it back."""
    doc = shown(left)
    box = left.card.finishing.show_face
    box.setFocus()
    qtbot.keyClick(box, Qt.Key.Key_Space)
    assert door(doc).show
    assert doc.undo_stack.undoText() == "show face of Door"
    doc.undo_stack.undo()
    assert not door(doc).show
    assert not box.isChecked()


def test_a_part_finished_at_the_table_saw_takes_the_shops_oversize(left: LeftRegion) -> None:
    """20 − 1/8 + 1/4 by 10 + 1/4 is cut at the rail, 19 7/8 by 10 at the table saw."""
    doc = shown(left)
    edit_job.edit_shop(doc, replace(doc.job.shop, oversize=INCH // 4))
    left.card.finishing.table.click()
    assert door(doc).oversize == INCH // 4
    assert doc.undo_stack.undoText() == "finish Door at the table saw"
    lines = sums_of(door(doc), LengthStyle())
    assert value(lines, "blank L") == "20 − 1/8 + 1/4 = 20 1/8"
    assert value(lines, "blank W") == "10 + 1/4 = 10 1/4"
    assert value(lines, "final") == "L 19 7/8 × W 10"
    left.card.finishing.table.click()
    assert door(doc).oversize == 0
    assert "final" not in dict(sums_of(door(doc), LengthStyle()))


def test_without_a_figure_of_the_shop_common_practice_serves(left: LeftRegion) -> None:
    """1/4 in is rough-cut all round and finished at the fence (woodworking tip sheets)."""
    doc = shown(left)
    edit_job.edit_shop(doc, replace(doc.job.shop, oversize=0))
    left.card.finishing.table.click()
    assert door(doc).oversize == INCH // 4


def test_a_fit_part_is_made_on_the_card(left: LeftRegion) -> None:
    """One tick lets it wait with the usual allowance; without it what was measured is forgotten."""
    doc = shown(left)
    card = left.card.finishing
    card.fit.click()
    assert door(doc).fit_allowance == doc.job.shop.oversize
    assert door(doc).waits
    assert card.measured_length.isVisibleTo(left)
    assert doc.undo_stack.undoText() == "let Door wait for its mate"
    edit_parts.measure(doc, "door", 20 * INCH, 10 * INCH)
    card.fit.click()
    assert door(doc) == DOOR
    assert not card.fit.isChecked()


def test_measured_fields_are_those_of_a_fit_part(left: LeftRegion) -> None:
    """A part that is cut to plan is not measured."""
    doc = shown(left)
    assert not left.card.finishing.measured_length.isVisible()
    edit_parts.edit_part(doc, replace(door(doc), fit_allowance=INCH // 4))
    assert left.card.finishing.measured_length.isVisible()
    waits = value(sums_of(door(doc), LengthStyle()), "final")
    assert waits == "waits for its mate to be measured"


def test_measured_both_ways_finishes_the_part(left: LeftRegion, qtbot: QtBot) -> None:
    """One way it still waits and that is said; both ways its blank is cut to what was measured."""
    doc = shown(left, fit_allowance=INCH // 4)
    card = left.card.finishing
    type_in(qtbot, card.measured_length, "20 1/16")
    assert door(doc).waits
    assert [one.code for one in check_job(doc.job)] == ["part-measured-one-way"]
    type_in(qtbot, card.measured_width, "9 15/16")
    assert not door(doc).waits
    assert doc.undo_stack.undoText() == "measure Door"
    lines = sums_of(door(doc), LengthStyle())
    assert value(lines, "final") == "L 19 15/16 × W 9 15/16, as measured"
    assert value(lines, "blank L") == "20 − 1/8 + 1/4 = 20 1/8"
    type_in(qtbot, card.measured_width, " ")
    assert door(doc).waits


@pytest.mark.parametrize("text", ["0", "-1", "about right"])
def test_what_cannot_be_measured_is_asked_about(left: LeftRegion, qtbot: QtBot, text: str) -> None:
    """None, less than none and words stay in the field with a sentence."""
    doc = shown(left, fit_allowance=INCH // 4)
    field = left.card.finishing.measured_length
    type_in(qtbot, field, text)
    assert field.question is not None
    assert door(doc).measured_length == 0


def test_measured_larger_than_the_blank_names_the_part(left: LeftRegion) -> None:
    """It is said that the blank is too small; the part is planned as large as it was measured."""
    doc = shown(left, fit_allowance=INCH // 4)
    said: list[str] = []
    doc.said.connect(said.append)
    edit_parts.measure(doc, "door", 21 * INCH, 10 * INCH)
    assert "Door" in said[-1]
    assert "new stock" in said[-1]
    assert door(doc).length == 21 * INCH


def test_a_measured_blank_is_cut_last(left: LeftRegion) -> None:
    """What is measured brings finishing cuts into the plan, and its blank stays where it lies."""
    doc = doc_of(left)
    side = replace(small_job().parts[0], fit_allowance=INCH // 4)
    edit_parts.edit_part(doc, side)
    adopt(doc, planned(doc.job))
    lay = [one for sheet in doc.layout.sheets for one in sheet.placements]
    assert doc.plan is not None
    assert not [cut for cut in doc.plan.cuts if cut.kind is CutKind.FINISH]
    edit_parts.measure(doc, "side", 40 * INCH, 12 * INCH)
    assert doc.plan is not None
    assert [cut for cut in doc.plan.cuts if cut.kind is CutKind.FINISH]
    assert [one for sheet in doc.layout.sheets for one in sheet.placements] == lay
    doc.undo_stack.undo()
    assert not [cut for cut in doc.plan.cuts if cut.kind is CutKind.FINISH]


def test_the_four_columns_are_pasted_by_name(left: LeftRegion) -> None:
    """Show face, oversize and both measured sides are known in pasted lines, as in a CSV."""
    lines = (
        "part,L,W,fit allowance,show face,oversize,measured L,measured W\n"
        "Flap,20,6,1/4,yes,6 mm,20 1/16,5 15/16\nShelf,20,6,none,no,none,,"
    )
    QGuiApplication.clipboard().setText(lines)
    left.parts.paste()
    flap, shelf = doc_of(left).job.parts[-2:]
    assert (flap.show, flap.oversize, flap.fit_allowance) == (True, 6 * MM, INCH // 4)
    assert flap.measured_length == 20 * INCH + INCH // 16
    assert flap.measured_width == 6 * INCH - INCH // 16
    assert (shelf.show, shelf.oversize, shelf.waits) == (False, 0, False)


def test_columns_show_what_the_card_sets(left: LeftRegion) -> None:
    """The table and the card are views on the same part."""
    doc = shown(left, fit_allowance=INCH // 4)
    edit_job.edit_shop(doc, replace(doc.job.shop, oversize=INCH // 4))
    left.card.finishing.show_face.click()
    left.card.finishing.table.click()
    edit_parts.measure(doc, "door", 20 * INCH, 10 * INCH)
    model = left.parts.rows
    line = model.line_of("door")
    cells = {one.field: model.index(line, i).data() for i, one in enumerate(model.columns)}
    assert cells["show"] == "yes"
    assert cells["oversize"] == "1/4"
    assert (cells["measured_length"], cells["measured_width"]) == ("20", "10")
