"""The tables: typing, asking in place, pasting, removing."""

from dataclasses import replace

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QGuiApplication
from PySide6.QtWidgets import QComboBox
from pytestqt.qtbot import QtBot

from layout_app.document import edit_job, edit_parts
from layout_app.panels.entry import Entry, Field
from layout_app.panels.left_region import LeftRegion
from layout_app.panels.part_card import grid_of, sums_of
from layout_app.panels.table import RowTable
from shared.lengths import INCH, MM, LengthStyle, Unit, parse_length
from shared.parts import Bands, GrainRule, Part
from shared.stock import SheetGrain, Trims
from tests.layout_app.tables import (
    BANDS,
    ENTER,
    ESC,
    GRAIN,
    LENGTH,
    NUMBER,
    PART,
    TAB,
    WIDTH,
    doc_of,
    editor_of,
    open_cell,
    type_in,
)


def test_rows_stand_under_their_material(left: LeftRegion) -> None:
    """The take-off groups parts by material and says the measured thickness."""
    model = left.parts.rows
    shown = [model.index(line, PART).data() for line in range(model.rowCount())]
    assert shown == ["birch ply, 3/4 measured", "Side", "Shelf", "type or paste"]


def test_committed_cell_is_one_undo_step(left: LeftRegion, qtbot: QtBot) -> None:
    """A size typed in a cell changes the part as one step, and undo shows the old text."""
    editor = open_cell(qtbot, left.parts, 2, LENGTH)
    type_in(qtbot, editor, '29 1/2"')
    doc = doc_of(left)
    assert doc.job.part("shelf").length == 29 * INCH + INCH // 2
    assert doc.undo_stack.count() == 1
    assert left.parts.rows.index(2, LENGTH).data() == "29 1/2"
    doc.undo_stack.undo()
    assert left.parts.rows.index(2, LENGTH).data() == "30"


def test_unchanged_cell_is_no_step(left: LeftRegion, qtbot: QtBot) -> None:
    """Opening a cell and leaving it as it was changes nothing."""
    editor = open_cell(qtbot, left.parts, 2, LENGTH)
    qtbot.keyClick(editor, ENTER)
    assert doc_of(left).undo_stack.count() == 0


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("seven", "seven"),
        ("0", "more than 0"),
        ("-3", "more than 0"),
        ("2 km", "km"),
        ("", "nothing is written"),
    ],
)
def test_unreadable_size_keeps_the_cell_open(
    left: LeftRegion, qtbot: QtBot, text: str, said: str
) -> None:
    """Text that is no size stays in the open cell with a sentence; Esc gives the old size back."""
    editor = open_cell(qtbot, left.parts, 1, LENGTH)
    editor.clear()
    type_in(qtbot, editor, text)
    assert editor.isVisible()
    assert editor.question is not None
    assert said in editor.question.sentence
    qtbot.keyClick(editor, ESC)
    qtbot.waitUntil(lambda: editor_of(left.parts) is None)
    assert doc_of(left).job.part("side").length == 40 * INCH
    assert doc_of(left).undo_stack.count() == 0


def test_ambiguous_size_is_asked_in_the_cell(left: LeftRegion, qtbot: QtBot) -> None:
    """``1,234`` offers both readings below the cell; the chosen one is taken, the cell closes."""
    editor = open_cell(qtbot, left.parts, 1, LENGTH)
    type_in(qtbot, editor, "1,234")
    question = editor.question
    assert question is not None
    assert len(question.buttons) == 2
    decimal = next(b for b in question.buttons if parse_length(b.text(), Unit.INCH) < 2 * INCH)
    qtbot.mouseClick(decimal, Qt.MouseButton.LeftButton)
    assert doc_of(left).job.part("side").length == 1234 * INCH // 1000
    qtbot.waitUntil(lambda: editor_of(left.parts) is None)


def test_ambiguous_size_can_be_answered_with_keys(
    left: LeftRegion, qtbot: QtBot, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The first reading has the keys at once; Enter takes it, once it can have been read."""
    monkeypatch.setattr("layout_app.look.unseen.UNSEEN_S", 0.0)
    editor = open_cell(qtbot, left.parts, 1, WIDTH)
    type_in(qtbot, editor, "1' - 2\"")
    question = editor.question
    assert question is not None
    first = question.buttons[0]
    qtbot.waitUntil(first.hasFocus)
    wanted = parse_length(first.text(), Unit.INCH)
    qtbot.keyClick(first, ENTER)
    assert doc_of(left).job.part("side").width == wanted


def test_new_part_is_typed_in_the_last_row(left: LeftRegion, qtbot: QtBot) -> None:
    """Name, L, W and quantity with Tab between: one step adds the part of the usual material."""
    model = left.parts.rows
    editor = open_cell(qtbot, left.parts, model.draft_line, PART)
    type_in(qtbot, editor, "Foot", TAB)
    qtbot.waitUntil(lambda: _open_column(left.parts) == LENGTH)
    type_in(qtbot, _must(editor_of(left.parts)), "8", TAB)
    qtbot.waitUntil(lambda: _open_column(left.parts) == WIDTH)
    type_in(qtbot, _must(editor_of(left.parts)), "4 1/4", TAB)
    qtbot.waitUntil(lambda: _open_column(left.parts) == NUMBER)
    type_in(qtbot, _must(editor_of(left.parts)), "1", TAB)
    doc = doc_of(left)
    qtbot.waitUntil(lambda: len(doc.job.parts) == 3)
    foot = doc.job.parts[-1]
    assert (foot.name, foot.length, foot.width) == ("Foot", 8 * INCH, 4 * INCH + INCH // 4)
    assert foot.material == "birch ply"
    assert foot.id not in ("side", "shelf", "")
    assert doc.undo_stack.count() == 1


def _open_column(table: RowTable) -> int:
    return table.currentIndex().column() if editor_of(table) is not None else -1


def _must(editor: Entry | None) -> Entry:
    assert editor is not None
    return editor


def test_whole_typed_row_is_added_on_leaving_it(left: LeftRegion, qtbot: QtBot) -> None:
    """A row that lacks nothing is not lost when the maker goes elsewhere."""
    model, doc = left.parts.rows, doc_of(left)
    for column, text in ((PART, "Foot"), (LENGTH, "8"), (WIDTH, "4")):
        model.change(model.index(model.draft_line, column), text)
    left.parts.setCurrentIndex(model.index(1, PART))
    qtbot.waitUntil(lambda: len(doc.job.parts) == 3)


def test_enter_after_the_name_opens_the_length(left: LeftRegion, qtbot: QtBot) -> None:
    """After the name alone, Enter leads to the length."""
    editor = open_cell(qtbot, left.parts, left.parts.rows.draft_line, PART)
    type_in(qtbot, editor, "Foot", ENTER)
    qtbot.waitUntil(lambda: _open_column(left.parts) == LENGTH)
    assert len(doc_of(left).job.parts) == 2


def test_paste_adds_rows(left: LeftRegion, qtbot: QtBot) -> None:
    """Lines with tabs become parts in the order of the columns, as one step."""
    text = "Rail\t20 1/2\t2\t4\teither\nPost\t590.5 mm\t1 1/2\t2"
    QGuiApplication.clipboard().setText(text)
    left.parts.paste()
    doc = doc_of(left)
    rail, post = doc.job.parts[2:]
    assert (rail.name, rail.copies, rail.grain_rule) == ("Rail", 4, GrainRule.EITHER)
    assert post.length == 5905 * MM // 10
    assert doc.undo_stack.count() == 1


def test_paste_follows_a_line_of_headings(left: LeftRegion) -> None:
    """Columns may come in any order when the first line names them."""
    QGuiApplication.clipboard().setText("W,part,L,material\n2,Rail,20,oak")
    left.parts.paste()
    rail = doc_of(left).job.parts[-1]
    assert (rail.name, rail.length, rail.width, rail.material) == (
        "Rail",
        20 * INCH,
        2 * INCH,
        "oak",
    )


def test_paste_that_cannot_be_read_adds_nothing(left: LeftRegion, qtbot: QtBot) -> None:
    """One bad line, and nothing is pasted; the sentence names line and column."""
    QGuiApplication.clipboard().setText("Rail\t20\t2\nPost\tlong\t2")
    with qtbot.waitSignal(left.said) as heard:
        left.parts.paste()
    assert "line 2, L" in heard.args[0]
    assert len(doc_of(left).job.parts) == 2


def test_grain_rule_is_chosen_from_a_list(left: LeftRegion, qtbot: QtBot) -> None:
    """The cell opens a list of the three rules; the choice is one step."""
    table = left.parts
    index = table.rows.index(2, GRAIN)
    table.setCurrentIndex(index)
    table.edit(index)
    box = _must_box(table)
    assert [box.itemText(i) for i in range(box.count())] == [
        "along length",
        "along width",
        "either",
    ]
    box.setCurrentText("either")
    box.activated.emit(box.currentIndex())
    assert doc_of(left).job.part("shelf").grain_rule is GrainRule.EITHER
    qtbot.waitUntil(lambda: not table.findChildren(QComboBox))


def _must_box(table: RowTable) -> QComboBox:
    (box,) = table.findChildren(QComboBox)
    return box


def test_material_is_completed_from_those_known(left: LeftRegion, qtbot: QtBot) -> None:
    """The first letters of a material that is in use are enough."""
    column = [column.field for column in left.parts.rows.columns].index("material")
    editor = open_cell(qtbot, left.parts, 2, column)
    editor.clear()
    type_in(qtbot, editor, "bir")
    assert doc_of(left).job.part("shelf").material == "birch ply"
    assert doc_of(left).undo_stack.count() == 0


def test_bands_give_the_cut_size(left: LeftRegion) -> None:
    """Finished L 30 × W 10 with 2 mm on both long edges and 1/8 on the left is cut smaller.

    30 - 1/8 = 29 7/8 long; 10 in - 4 mm = 254 - 4 = 250 mm wide.
    """
    model = left.parts.rows
    model.change(model.index(2, BANDS), "long 2 mm; left 1/8")
    shelf = doc_of(left).job.part("shelf")
    assert shelf.bands == Bands(top=2 * MM, bottom=2 * MM, left=INCH // 8)
    assert (shelf.cut_length, shelf.cut_width) == (30 * INCH - INCH // 8, 250 * MM)
    assert model.index(2, BANDS + 1).data().startswith("L 29 7/8 × W ")


@pytest.mark.parametrize("text", ["2 mm", "inside 2 mm", "top", "top 1,234"])
def test_bands_that_cannot_be_read_are_refused(left: LeftRegion, text: str) -> None:
    """A band without an edge, an unknown edge, no size, or an ambiguous one is not guessed at."""
    model = left.parts.rows
    with pytest.raises(ValueError, match=r"[Ww]rite|read"):
        model.change(model.index(2, BANDS), text)


def test_sums_stand_on_the_card_of_the_part() -> None:
    """The card writes the sums out: 30 - 1/8 - 1/8 = 29 3/4."""
    shelf = Part(
        id="s",
        name="Shelf",
        length=30 * INCH,
        width=10 * INCH,
        material="ply",
        bands=Bands(left=INCH // 8, right=INCH // 8),
    )
    assert ("cut L", "30 − 1/8 − 1/8 = 29 3/4") in sums_of(shelf, LengthStyle())


def test_the_blank_of_a_fit_part_is_summed_up() -> None:
    """With 1/4 in for fitting the blank is 30 + 1/4 by 10 + 1/4, and the card calls it so."""
    front = Part(
        id="f",
        name="Front",
        length=30 * INCH,
        width=10 * INCH,
        material="ply",
        fit_allowance=INCH // 4,
    )
    lines = sums_of(front, LengthStyle())
    assert ("blank L", "30 + 1/4 = 30 1/4") in lines
    assert ("blank W", "10 + 1/4 = 10 1/4") in lines


def test_match_group_and_allowance_are_typed_in_the_take_off(left: LeftRegion) -> None:
    """Both cells read what was typed, show it again, and are emptied by writing nothing."""
    model, doc = left.parts.rows, doc_of(left)
    fields = [column.field for column in model.columns]
    typed = (("group", "  Drawer  fronts "), ("fit_allowance", "6.35 mm"))
    for field, text in typed:
        model.change(model.index(1, fields.index(field)), text)
    part = doc.job.parts[0]
    assert (part.group, part.fit_allowance) == ("Drawer fronts", INCH // 4)
    assert model.index(1, fields.index("group")).data() == "Drawer fronts"
    assert model.index(1, fields.index("fit_allowance")).data() == "1/4"
    for field, _ in typed:
        model.change(model.index(1, fields.index(field)), "")
    assert (doc.job.parts[0].group, doc.job.parts[0].fit_allowance) == ("", 0)
    with pytest.raises(ValueError, match="less than 0"):
        model.change(model.index(1, fields.index("fit_allowance")), "-1/4")


def test_paste_brings_groups_and_allowances(left: LeftRegion) -> None:
    """Headings of the two columns are known in pasted lines, as in a CSV."""
    lines = "part,L,W,qty,match group,fit allowance\nFront,20,6,4,Fronts,1/4"
    QGuiApplication.clipboard().setText(lines)
    left.parts.paste()
    front = doc_of(left).job.parts[-1]
    assert (front.group, front.fit_allowance, front.copies) == ("Fronts", INCH // 4, 4)


def test_the_card_of_a_matched_part_sets_the_length_of_the_rows(
    left: LeftRegion, qtbot: QtBot
) -> None:
    """Four fronts of 20 by 6 stack to 24 3/8; two in a row make 40 1/8 by 12 1/8, one undo step."""
    doc = doc_of(left)
    front = replace(
        doc.job.parts[0],
        id="front",
        name="Front",
        copies=4,
        length=20 * INCH,
        width=6 * INCH,
        bands=Bands(),
        group="Fronts",
    )
    edit_job.edit_shop(doc, replace(doc.job.shop, kerf=INCH // 8))
    edit_parts.add_parts(doc, [front])
    doc.selection.select_parts([("front", 1)])
    assert grid_of(doc.job, "Fronts")[1:] == [
        ("grid", "4 rows of 1"),
        ("1 block", "L 20 × W 24 3/8"),
    ]
    field = next(
        one for one in left.card.findChildren(Field) if one.accessibleName() == "parts in a row"
    )
    field.setFocus()
    field.setText("2")
    qtbot.keyClick(field, ENTER)
    assert doc.job.columns_of("Fronts") == 2
    assert grid_of(doc.job, "Fronts")[1:] == [
        ("grid", "2 rows of 2"),
        ("1 block", "L 40 1/8 × W 12 1/8"),
    ]
    field.setText("0")
    qtbot.keyClick(field, ENTER)
    assert field.question is not None
    assert doc.undo_stack.undoText() == "rows of 2 in Fronts"
    doc.undo_stack.undo()
    assert doc.job.columns_of("Fronts") == 1


def test_sheet_row_takes_trims_price_and_number(left: LeftRegion) -> None:
    """The cells of sheets & rack read their fields, and say as needed for no limit."""
    model = left.stock.rows
    fields = [column.field for column in model.columns]
    assert model.index(0, fields.index("at_hand")).data() == "as needed"
    for field, text in (
        ("trims", "near 1/4; end 10 mm"),
        ("price", "61.50"),
        ("at_hand", "3"),
        ("thickness", "0.703"),
        ("grain", "along W"),
    ):
        model.change(model.index(0, fields.index(field)), text)
    row = doc_of(left).job.stock[0]
    assert row.trims == Trims(near=INCH // 4, end=10 * MM)
    assert (row.price, row.at_hand) == (6150, 3)
    assert row.thickness == 703 * INCH // 1000
    assert row.grain is SheetGrain.ALONG_W
    assert model.index(0, fields.index("thickness")).data() == "0.703"


def test_selected_rows_and_copies_go_together(left: LeftRegion) -> None:
    """A row selects all copies of its part, and a copy selected elsewhere selects its row."""
    doc = doc_of(left)
    left.parts.selectRow(2)
    assert doc.selection.parts == {("shelf", 1), ("shelf", 2), ("shelf", 3)}
    doc.selection.select_parts([("side", 2)])
    assert left.parts.chosen() == ["side"]
    assert doc.selection.parts == {("side", 2)}


def test_a_size_with_what_rounding_leaves_over_is_shown_whole(left: LeftRegion) -> None:
    """720 mm are 28 11/32 in and a little: its column grows, unless the maker has set it."""
    table, doc = left.parts, doc_of(left)
    edit_parts.edit_part(doc, replace(doc.job.part("side"), length=720 * MM, width=1111 * MM))
    for place in (LENGTH, WIDTH):
        text = table.rows.index(1, place).data()
        assert len(text) > len("34 19/32")
        assert table.fontMetrics().horizontalAdvance(text) + 10 <= table.columnWidth(place)
    table.setColumnWidth(LENGTH, 40)
    edit_parts.edit_part(doc, replace(doc.job.part("side"), length=721 * MM))
    assert table.columnWidth(LENGTH) == 40
    edit_parts.edit_part(doc, replace(doc.job.part("side"), width=20 * INCH))
    assert table.columnWidth(WIDTH) < 80
