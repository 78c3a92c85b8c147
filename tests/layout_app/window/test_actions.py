"""The table of actions, walked row by row as it stands in the real window."""

from collections import Counter
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QKeySequence
from PySide6.QtWidgets import QMenu, QToolButton
from pytestqt.qtbot import QtBot

from layout_app.document import edit_parts
from layout_app.model.project import Project
from layout_app.planner.process import PlannerProcess
from layout_app.window.actions.keys import INSTEAD, keys_text
from layout_app.window.actions.row import WINDOW, ActionRow
from layout_app.window.frame import TOOLBAR
from layout_app.window.main_window import MainWindow
from tests.layout_app.small_job import document


@pytest.fixture
def window(qtbot: QtBot) -> Iterator[MainWindow]:
    """Return a window with a planned document; its planner is never started."""
    made = MainWindow(document(), planner=PlannerProcess())
    qtbot.addWidget(made)
    made.show()
    yield made
    made.document.saved_state.note_saved(made.document.project, Path("not-written"))
    made.close()


def rows(window: MainWindow) -> list[ActionRow[Any]]:
    """Return the rows of all menus, in their order."""
    return [one.row for one in window.menus.rows.values()]


def test_rows_say_what_they_are(window: MainWindow) -> None:
    """Every action has words, a sentence for the status line, and a key or a reason for none."""
    for row in rows(window):
        action = window.menus.actions[row.id]
        assert action.text().replace("&", "").strip(), row.id
        assert action.statusTip().strip(), row.id
        assert bool(row.shortcut) != bool(row.no_key), row.id
        assert bool(action.shortcut().toString()) is bool(row.shortcut), row.id


def test_ids_and_keys_are_unique(window: MainWindow) -> None:
    """No two actions share an id, and no two share a key."""
    assert max(Counter(row.id for row in rows(window)).values()) == 1
    every = [key for row in rows(window) for key in (row.shortcut, row.also) if key]
    keys = Counter(QKeySequence(key).toString() for key in every)
    assert max(keys.values()) == 1


def test_the_help_on_keys_names_every_key(window: MainWindow) -> None:
    """Each action that has a key stands there with it; each key with Alt has another way."""
    text = keys_text(window.menus.rows.values())
    for row in rows(window):
        words = row.text.replace("&", "").rstrip("…")
        keys = " or ".join(filter(None, (row.shortcut, row.also)))
        assert not keys or f"–  {keys}: {words}\n" in text + "\n", row.id
        if "Alt+" in row.shortcut:
            assert any(row.shortcut in taken for taken, _ in INSTEAD), row.id


def test_every_action_stands_in_its_menu(window: MainWindow) -> None:
    """What the table says is what the menus hold, in that order, with no letter twice."""
    found = [action.data() for menu in _menus(window) for action in menu.actions()]
    assert sorted(name for name in found if name) == sorted(row.id for row in rows(window))
    for menu in _menus(window):
        letters = [_letter(action.text()) for action in menu.actions() if "&" in action.text()]
        assert len(set(letters)) == len(letters), menu.title()


def _menus(window: MainWindow) -> list[QMenu]:
    return [menu for menu in window.menuBar().findChildren(QMenu) if menu.title()]


def _letter(text: str) -> str:
    return text[text.index("&") + 1].lower()


def test_bench_keys_work_on_the_bench_only(window: MainWindow) -> None:
    """Single letters belong to the bench, so that they can be typed into a table."""
    for row in rows(window):
        context = window.menus.actions[row.id].shortcutContext()
        on_bench = context is Qt.ShortcutContext.WidgetWithChildrenShortcut
        assert on_bench is (row.where != WINDOW)
        if len(row.shortcut) == 1:
            assert on_bench


def test_toolbar_buttons_have_names(window: MainWindow) -> None:
    """What a screen reader says of a button is what the action is called."""
    buttons = {button.accessibleName() for button in window.findChildren(QToolButton)}
    names = {row.text.replace("&", "") for row in rows(window) if row.id in TOOLBAR}
    assert names <= buttons


def test_every_region_has_an_accessible_name(window: MainWindow) -> None:
    """Tables, cards, issues and bench can be told apart without seeing them."""
    regions = (
        window.left.parts,
        window.left.stock,
        window.left.issues,
        window.sequence.cards,
        window.sequence.table,
        window.bench,
    )
    names = [region.accessibleName() for region in regions]
    assert all(names)
    assert len(set(names)) == len(names)


def test_actions_follow_selection_and_gesture(window: MainWindow) -> None:
    """Turn and wait need a part that lies on a sheet, and rest while a gesture is under way."""
    turn, wait = window.menus.actions["bench.turn"], window.menus.actions["bench.wait"]
    assert not turn.isEnabled()
    window.document.selection.select_parts([("side", 1)])
    assert turn.isEnabled()
    assert wait.isEnabled()
    window.document.gestures.under_way = True
    assert not turn.isEnabled()
    assert not wait.isEnabled()
    window.document.gestures.under_way = False
    assert turn.isEnabled()


def test_actions_do_what_they_say(window: MainWindow) -> None:
    """Wait, undo, grain, next cut, rip later: each reaches the document."""
    doc, acts = window.document, window.menus.actions
    doc.selection.select_parts([("side", 1)])
    acts["bench.wait"].trigger()
    assert [(w.part, w.copy, w.sent) for w in doc.layout.waiting] == [("side", 1, True)]
    assert acts["edit.undo"].text() == "&Undo set Side 1 aside"
    acts["edit.undo"].trigger()
    assert doc.layout.waiting == ()
    acts["bench.grain_either"].trigger()
    assert doc.job.part("side").grain_rule == "either"
    acts["edit.undo"].trigger()
    acts["cuts.next"].trigger()
    assert doc.selection.cut == 1
    before = doc.layout.sheets[0].tree
    acts["cuts.rip_later"].trigger()
    assert doc.layout.sheets[0].tree != before
    assert doc.selection.cut == 2


def test_empty_project_offers_what_can_begin_it(qtbot: QtBot) -> None:
    """With nothing entered, typing, opening and help can be used; planning and cuts cannot."""
    window = MainWindow(planner=PlannerProcess())
    qtbot.addWidget(window)
    window.document.open(Project(), None)
    usable = {name for name, action in window.menus.actions.items() if action.isEnabled()}
    assert {"project.open", "edit.part", "edit.sheet", "help.safety"} <= usable
    assert not usable & {"bench.plan", "bench.stop", "cuts.next", "edit.undo", "bench.turn"}
    window.close()


def test_undo_names_a_part_with_an_ampersand(window: MainWindow) -> None:
    """An ampersand of a name is not taken for the mark of a key."""
    part = window.document.job.parts[0]
    edit_parts.edit_part(window.document, replace(part, name="Top & back"))
    edit_parts.set_show_face(window.document, part.id, shown=not part.show)
    text = window.menus.actions["edit.undo"].text()
    assert "Top && back" in text
    assert text.startswith("&Undo ")
