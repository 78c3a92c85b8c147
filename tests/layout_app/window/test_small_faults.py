"""What is out of sight takes no keys, and what belongs together stays on one line."""

from collections.abc import Iterator
from dataclasses import replace

import pytest
from PySide6.QtGui import QTextDocument
from PySide6.QtWidgets import QWidget
from pytestqt.qtbot import QtBot

from layout_app.bench.shelf import Shelf
from layout_app.document.document import Document
from layout_app.document.ticks import tick
from layout_app.look.theme import Theme
from layout_app.model.project import Project
from layout_app.model.sawing import problem
from layout_app.model.words.wording import unbroken
from layout_app.panels.telling_pane import cuts_served, settings_spoken, write_settings
from layout_app.panels.ticks import all_cards
from layout_app.window.actions.help import CARD
from layout_app.window.main_window import MainWindow
from shared.layout import LayoutSheet
from shared.parts import GrainRule
from shared.stock import SheetGrain
from tests.layout_app.bench import two_sheets
from tests.layout_app.small_job import document, part, small_job


@pytest.fixture
def window(qtbot: QtBot) -> Iterator[MainWindow]:
    """Return a window on the small job with a cut made."""
    made = MainWindow()
    qtbot.addWidget(made)
    made.show()
    made.document.open(document().project, None)
    tick(made.document, [1])
    yield made
    made.planner.close()


def test_cards_that_are_hidden_are_not_ticked(window: MainWindow) -> None:
    """While what lies there is listed, keys tick and move nothing; then they do again."""
    window.document.selection.select_cut(2)
    for action in ("cuts.tick", "cuts.later"):
        assert window.menus.actions[action].isEnabled()
    window.menus.actions["cuts.mistake"].trigger()
    for action in ("cuts.tick", "cuts.later"):
        assert not window.menus.actions[action].isEnabled()
    window.drawers.lying.put_away()
    for action in ("cuts.tick", "cuts.later"):
        assert window.menus.actions[action].isEnabled()


def test_a_question_goes_with_the_cards_it_hangs_at(window: MainWindow) -> None:
    """What was asked about ticks does not lie over the list of what lies there."""
    last = len(window.sequence.cards.cards)
    window.sequence.toggle_tick(last)
    cards: QWidget = window.sequence.cards
    assert window.sequence.ticking.question(cards) is not None
    window.menus.actions["cuts.mistake"].trigger()
    assert window.sequence.ticking.question(cards) is None


def test_a_part_that_no_sheet_takes_is_shown_in_the_tray(qtbot: QtBot) -> None:
    """A part of 97 in from a sheet of 96 in lies nowhere, so it is listed beside the bench."""
    job = small_job()
    long = part("long", "Long rail", (97, 4), 2)
    parent = QWidget()
    qtbot.addWidget(parent)
    doc = Document(Project(job=replace(job, parts=(*job.parts, long))))
    shelf = Shelf(doc, Theme.light(), parent)
    said = [shelf.tokens.item(row).text() for row in range(shelf.tokens.count())]
    (long_rail,) = (words for words in said if words.startswith("Long rail"))
    assert long_rail.startswith("Long rail, L 97 × W 4, 2 not planned until fixed, ")
    assert "is larger than every sheet of birch ply" in long_rail
    assert shelf.stacks[-1].copies == ()


@pytest.mark.parametrize(
    ("sentence", "whole"),
    [
        ("is L 2 440 × W 1 220 mm, more", "is L_2_440_×_W_1_220_mm, more"),
        ("takes 23 1/4 + 1/64 in of it", "takes 23_1/4_+_1/64_in of it"),
        ("Piece 1a weighs 30 kg, and 25 kg", "Piece 1a weighs 30_kg, and 25_kg"),
        ("cut 4 makes it. In all 3 parts", "cut 4 makes it. In all 3 parts"),
    ],
)
def test_no_line_ends_inside_a_size(sentence: str, whole: str) -> None:
    """Numbers stay with their fractions and units; other words may part."""
    assert unbroken(sentence) == whole.replace("_", "\N{NO-BREAK SPACE}")


def test_settings_are_not_taken_for_set_ups(qapp: object) -> None:
    """The list tells which cuts each setting serves, as the help says; it counts no set-ups."""
    del qapp
    cards = all_cards(document())
    written = QTextDocument()
    write_settings(written, cuts_served(cards), Theme.light())
    assert "Settings, and the cuts they serve" in written.toPlainText()
    assert "settings" in settings_spoken(cards)
    assert any("which cuts each setting serves" in line for line in CARD)


@pytest.mark.parametrize(
    ("other", "words"),
    [
        ({"material": "MDF"}, "Sheet 1: Side 1 lies on birch ply: lay it on a sheet of MDF."),
        (
            {"grain_rule": GrainRule.ALONG_WIDTH},
            "Sheet 1: Side 1 lies against its grain rule, along width: turn it.",
        ),
    ],
)
def test_a_part_where_it_must_not_lie_is_said_with_what_to_do(
    other: dict[str, object], words: str
) -> None:
    """The list of what is wrong names the sheet, the part, and what puts it right."""
    job = two_sheets.JOB
    parts = tuple(replace(one, **other) if one.id == "side" else one for one in job.parts)
    wrong = replace(job, parts=parts, stock=(replace(job.stock[0], grain=SheetGrain.ALONG_L),))
    sheet = LayoutSheet(id="1", stock="full", placements=two_sheets.ON_1, tree=None)
    assert problem(wrong, wrong, sheet) == words
