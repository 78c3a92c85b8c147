"""Copies cut off the list and parts pasted: one step each, and nothing else moves."""

import csv
import json
from dataclasses import replace
from io import StringIO

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QGuiApplication
from PySide6.QtTest import QTest
from pytestqt.qtbot import QtBot

from layout_app.document import edit_locks
from layout_app.document.document import Document
from layout_app.document.edit_clipboard import MOST, copied, cut_copies, paste_parts
from layout_app.document.edit_job import edit_style
from layout_app.model.project import Project
from layout_app.panels.copied import rows_text
from layout_app.panels.parts import COLUMNS
from layout_app.panels.pasted import read_text
from layout_app.store.errors import FileProblem
from layout_app.store.parts_text import MIME, parts_of, parts_text
from layout_app.window.main_window import MainWindow
from shared.job import Job
from shared.layout import Scope
from shared.lengths import MM, LengthStyle, Unit
from shared.parts import Bands
from tests.layout_app.bench.two_sheets import document, inches
from tests.layout_app.monkey import silent_planner

SIDE_1, SIDE_2, SIDE_3, SHELF_1, RAIL = (
    ("side", 1),
    ("side", 2),
    ("side", 3),
    ("shelf", 1),
    ("rail", 1),
)


@pytest.fixture
def doc(qapp: QGuiApplication) -> Document:
    """Return the two sheets laid by hand."""
    return document()


def places(doc: Document, part: str) -> set[tuple[str, int, int]]:
    """Return where the copies of a part lie, whatever their numbers."""
    lying = (one for sheet in doc.layout.sheets for one in sheet.placements)
    return {(one.sheet, one.x, one.y) for one in lying if one.part == part}


def test_a_cut_copy_goes_and_the_others_stay_where_they_lie(doc: Document) -> None:
    """Of three sides the first goes: two are left, lying where the other two lay."""
    before, lay = doc.project, places(doc, "side")
    (gone,) = {(one.sheet, one.x, one.y) for one in [doc.layout.find(SIDE_1)] if one}
    assert cut_copies(doc, {SIDE_1})
    assert doc.job.part("side").copies == 2
    assert places(doc, "side") == lay - {gone}
    assert places(doc, "shelf") == {("1", 0, inches("97/8")), ("2", 0, inches("97/8"))}
    assert doc.undo_stack.undoText() == "cut Side 1"
    doc.undo()
    assert doc.project == before


def test_a_row_goes_with_its_last_copy(doc: Document) -> None:
    """The rail waits and is the only one; both shelves lie."""
    assert cut_copies(doc, {RAIL, SHELF_1, ("shelf", 2)})
    assert [part.id for part in doc.job.parts] == ["side"]
    assert doc.layout.waiting == ()
    assert doc.undo_stack.count() == 1


def test_what_is_locked_is_not_cut(doc: Document) -> None:
    """Nor is a copy that would have to take another number; it is said why."""
    said: list[str] = []
    doc.said.connect(said.append)
    edit_locks.hold(doc, Scope.PART, [SIDE_3])
    before = doc.project
    for keys in ({SIDE_3}, {SIDE_1}):
        assert not cut_copies(doc, keys)
        assert "Side 3 is locked" in said.pop()
    assert doc.project == before


def test_pasted_parts_raise_their_row_and_lie_beside_one(doc: Document) -> None:
    """One more side lies on a sheet where a side lies; one step, and it is selected."""
    parts = copied(doc.job, {SIDE_1})
    assert paste_parts(doc, parts)
    assert doc.job.part("side").copies == 4
    assert doc.layout.find(("side", 4)) is not None
    assert doc.selection.parts == {("side", 4)}
    assert doc.undo_stack.count() == 1
    assert doc.undo_stack.undoText() == "paste Side"


def test_pasted_parts_are_new_rows_in_another_project(doc: Document) -> None:
    """Sizes in ticks, material, grain and bands come along, under ids of that project."""
    parts = copied(doc.job, {SIDE_1, SIDE_2, RAIL})
    other = Document(Project(job=Job(name="Other")))
    assert paste_parts(other, parts_of(parts_text(parts).encode()))
    side, rail = other.job.parts
    assert (side.name, side.copies, side.length, side.material) == (
        *("Side", 2, inches(40)),
        "birch ply",
    )
    assert rail.bands == Bands(top=inches("1/8"))
    assert len({side.id, rail.id, ""}) == 3


def test_too_many_parts_are_not_pasted(doc: Document) -> None:
    """A slip of the hand costs nothing."""
    (side,) = copied(doc.job, {SIDE_1})
    assert not paste_parts(doc, (replace(side, copies=MOST + 1),))
    assert doc.undo_stack.count() == 0


@pytest.mark.parametrize(
    "data",
    [b"", b"[]", b'{"format": "ripfirst-parts"}', b'{"format": "x", "version": 1}', b"\xff"],
)
def test_what_is_no_parts_is_refused(data: bytes) -> None:
    """With a sentence that names the clipboard."""
    with pytest.raises(FileProblem, match="clipboard"):
        parts_of(data)


def test_a_part_with_a_wrong_field_is_refused(doc: Document) -> None:
    """The place of the mistake is named."""
    fields = json.loads(parts_text(copied(doc.job, {SIDE_1})))
    fields["parts"][0]["length"] = "long"
    with pytest.raises(FileProblem, match=r"parts\[0\]"):
        parts_of(json.dumps(fields).encode())


def test_rows_of_text_are_read_as_a_table(doc: Document) -> None:
    """By the csv reader of Python: headings with the unit, then one row a part."""
    parts = copied(doc.job, {SIDE_1, SIDE_2, RAIL})
    heads, *rows = csv.reader(StringIO(rows_text(parts, doc.job.style)), delimiter="\t")
    assert heads[:4] == ["part", "L (in)", "W (in)", "quantity"]
    assert [row[:4] for row in rows] == [["Side", "40", "12", "2"], ["Rail", "20", "4", "1"]]


def test_rows_of_text_are_read_by_the_take_off(doc: Document) -> None:
    """Pasted there every column is known, the unit as well."""
    pasted = read_text(rows_text(copied(doc.job, {SIDE_1}), doc.job.style), COLUMNS)
    assert pasted is not None
    assert pasted.named
    assert pasted.units[1:3] == ("in", "in")


@pytest.fixture
def windows(qtbot: QtBot):
    """Return two windows: the two sheets, and an empty project in millimetres."""
    made = MainWindow(document(), planner=silent_planner()), MainWindow(planner=silent_planner())
    for window in made:
        qtbot.addWidget(window)
    yield made
    for window in made:
        window.document.saved_state.note_opened(window.document.project, None, saved=True)
        window.close()


def test_parts_go_from_window_to_window(windows: tuple[MainWindow, MainWindow]) -> None:
    """Cut in inches, pasted in millimetres: the same ticks; then pasted as text in the table."""
    one, other = windows
    edit_style(other.document, LengthStyle(unit=Unit.MM))
    one.document.selection.select_parts([SHELF_1])
    one.menus.actions["edit.cut"].trigger()
    assert one.document.job.part("shelf").copies == 1
    assert QGuiApplication.clipboard().mimeData().hasFormat(MIME)
    other.menus.actions["edit.paste_parts"].trigger()
    (shelf,) = other.document.job.parts
    assert (shelf.name, shelf.length, shelf.copies) == ("Shelf", inches(30), 1)
    other.left.paste_parts()
    assert [part.length for part in other.document.job.parts] == [inches(30), 762 * MM]


def test_rows_of_the_take_off_are_copied_with_its_keys(
    windows: tuple[MainWindow, MainWindow], qtbot: QtBot
) -> None:
    """A selected row is all its copies: they come along, and the row goes with Ctrl+X."""
    window, other = windows
    window.show()
    window.activateWindow()
    qtbot.waitUntil(window.isActiveWindow)
    window.left.parts.setFocus()
    window.left.parts.go_to("side")
    QTest.keyClick(window.left.parts, Qt.Key.Key_X, Qt.KeyboardModifier.ControlModifier)
    assert [part.id for part in window.document.job.parts] == ["shelf", "rail"]
    other.menus.actions["edit.paste_parts"].trigger()
    assert [(part.name, part.copies) for part in other.document.job.parts] == [("Side", 3)]
