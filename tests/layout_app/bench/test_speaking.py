"""The bench speaks: what is selected, and what is said of a part in the hand."""

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QAccessible

from layout_app.bench.held_signs import words_of
from layout_app.document import edit_layout, edit_locks
from shared.layout import Scope

SIDE_1, SHELF_1, RAIL = ("side", 1), ("shelf", 1), ("rail", 1)
Key = Qt.Key


class Heard:
    """Hears what a bench speaks, as soon as it is to be spoken."""

    def __init__(self, maker):
        self.voice = maker.view.speaking.voice
        self.voice.speak()
        self.all = []
        self.voice.said.connect(self.all.append)

    def now(self):
        """Return what is spoken since the last time."""
        self.voice.speak()
        said, self.all[:] = list(self.all), []
        return said


@pytest.fixture
def heard(maker):
    """Return who hears a bench."""
    return Heard(maker)


def test_a_selected_part_is_told_whole(maker, heard):
    """Name, copy, sizes, place, grain, sheet: the words of the readout, once each."""
    maker.doc.selection.select_parts([SIDE_1])
    (said,) = heard.now()
    assert said.startswith("Side 1, L 40 × W 12, begins at 0 along, 0 across, grain along")
    assert said.endswith(", sheet 1")
    assert maker.view.accessibleDescription() == said
    maker.view.around.look()
    maker.doc.selection.changed.emit()
    assert heard.now() == []


def test_locks_and_what_is_wrong_are_told(maker, heard):
    """A locked part says so, one that reaches over another says what the words beside it say."""
    edit_locks.hold(maker.doc, Scope.STRIP, [SIDE_1])
    maker.doc.selection.select_parts([SIDE_1])
    assert heard.now()[-1].endswith("sheet 1, strip locked")
    edit_layout.move_part(maker.doc, *SHELF_1, "2", 0, 0)
    maker.doc.selection.select_parts([SHELF_1])
    said = heard.now()[-1]
    assert ", sheet 2, " in said
    assert "overlap" in said


def test_what_a_lock_costs_is_told(maker, heard):
    """As its sign says it, behind what is locked."""
    edit_locks.hold(maker.doc, Scope.STRIP, [SIDE_1])
    (hold,) = maker.doc.held.in_force
    maker.view.bench.show_lock_costs({hold: "costs 1 cut"})
    maker.doc.selection.select_parts([SIDE_1])
    assert heard.now()[-1].endswith("sheet 1, strip locked, costs 1 cut")
    (area,) = maker.view.bench.sheet_item("1").held
    assert words_of(area) == "locked, costs 1 cut"


def test_parts_off_the_sheets_say_what_their_slips_say(maker, heard):
    """Set aside, or not placed; the rail of 4 is cut 1/8 less, for its band."""
    maker.doc.selection.select_parts([RAIL])
    assert heard.now() == ["Rail, L 20 × W 3 7/8, not placed"]
    edit_layout.set_aside(maker.doc, [RAIL])
    assert heard.now() == ["Rail, L 20 × W 3 7/8, set aside"]


def test_several_parts_are_named_and_counted(maker, heard):
    """Four names, and how many more."""
    every = [one.key for sheet in maker.doc.layout.sheets for one in sheet.placements]
    maker.doc.selection.select_parts(every)
    assert heard.now() == ["5 parts: Shelf 1, Shelf 2, Side 1, Side 2 and 1 more"]


def test_what_is_carried_by_keys_says_verdict_and_place(maker, heard):
    """Each stop is spoken with its sheet and place, and nothing twice."""
    maker.doc.selection.select_parts([SHELF_1])
    heard.now()
    maker.key(Key.Key_Return)
    (first,) = [said for said in heard.now() if "sheet 1, " in said]
    assert first.endswith("sheet 1, 0 along, 12 1/8 across")
    assert heard.now() == []
    maker.key(Key.Key_PageDown)
    (there,) = heard.now()
    assert "Shelf 1" in there
    assert "sheet 2, " in there
    maker.key(Key.Key_W)
    (aside,) = heard.now()
    assert aside.startswith("will be set aside. Shelf 1")


def test_frames_of_a_drag_are_not_spoken(maker, heard):
    """Hundred moves ask for no words; held still, what is shown then is spoken once."""
    start = maker.at("1", 15, 17)
    maker.press(start)
    maker._pointer = start
    asked = []
    maker.view.speaking.in_hand = lambda: asked.append("") or ""
    maker.go(maker.at("2", 40, 30), steps=100)
    assert asked == []
    heard.now()
    assert len(asked) == 1
    maker.key(Key.Key_Escape)


def test_a_refusal_beside_the_pointer_is_spoken(maker, heard):
    """A locked part that is dragged says why it stays."""
    edit_locks.hold(maker.doc, Scope.PART, [SIDE_1])
    maker.drag(("1", 10, 6), ("1", 20, 20), drop=False)
    assert any("Side 1 is locked: unlock it first" in said for said in heard.now())


def test_the_tray_and_the_rulers_are_found_in_the_bench(maker):
    """A scroll area hides them from a screen reader; this one is a drawing area with children."""
    seen = QAccessible.queryAccessibleInterface(maker.view)
    names = [seen.child(n).text(QAccessible.Text.Name) for n in range(seen.childCount())]
    assert seen.role() is QAccessible.Role.Canvas
    assert bool(seen.state().focusable)
    assert names[-2:] == ["Under the pointer", "Set aside"]
    assert [seen.indexOfChild(seen.child(n)) for n in range(len(names))] == list(range(len(names)))
    assert seen.child(len(names)) is None


def test_a_slip_says_how_many_are_taken(maker):
    """As a screen reader finds it in the list."""
    edit_layout.set_aside(maker.doc, [SIDE_1, ("side", 2)])
    maker.doc.selection.select_parts([SIDE_1, ("side", 2)])
    tokens = QAccessible.queryAccessibleInterface(maker.view.shelf.tokens)
    names = [tokens.child(n).text(QAccessible.Text.Name) for n in range(tokens.childCount())]
    assert "Side, L 40 × W 12, 2 set aside, 2 of 2 taken" in names
