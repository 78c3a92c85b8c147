"""What a maker types is handed to Qt so that it is seen as it was typed, whatever it looks like."""

import re
from pathlib import Path

import pytest
from hypothesis import example, given
from hypothesis import strategies as st
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication, QMainWindow, QMenu
from pytestqt.qtbot import QtBot

import layout_app
from layout_app.look.as_typed import (
    LONGEST_LINE,
    LONGEST_ROW,
    Label,
    breakable,
    in_menu,
    tip,
    title,
)
from layout_app.look.elided_label import Cutting
from tests.layout_app.seen import seen, seen_in, seen_tip

HOME = Path(layout_app.__file__).parent
LETTERS = st.characters(codec="utf-8", exclude_categories=("C", "Zl", "Zp", "Zs", "M"))
TYPED = st.text(LETTERS | st.sampled_from('<>&;"/[]* ibp\n'), max_size=160)
"""One line or several, as they are typed or pasted; no letter that Qt may compose with another."""


@given(TYPED)
@example("<i>Top</i>")
@example('<img src="top.png">')
@example("A &lt; B")
@example("<!doctype html>")
@example("<?xml?><b>Top</b>")
@example("first\n<b>second</b>")
@example("two  spaces, and a long line" + " of words" * 12)
def test_a_tip_shows_what_was_typed(text: str) -> None:
    """Read as Qt reads a tip, it says every letter, space and line break again."""
    assert seen(tip(text)) == text


@given(TYPED)
def test_a_long_tip_is_one_that_qt_breaks_into_lines(text: str) -> None:
    """Qt breaks the lines of rich text alone ("QToolTip", the Qt documentation)."""
    wide = max(map(len, text.splitlines()), default=0) > LONGEST_LINE
    assert not wide or tip(text).startswith("<div")


@given(TYPED)
def test_a_break_changes_no_letter(text: str) -> None:
    """Only places that are not seen are added, and none outside of long runs of letters."""
    broken = breakable(text)
    assert broken.replace("\u200b", "") == text
    if all(len(run) < 25 for run in re.findall(r"\S+", text)):
        assert broken == text


@pytest.mark.parametrize("text", ["<b>Top</b> & rail", "W" * 300, "first\nsecond"])
def test_a_label_shows_what_it_was_given(qtbot: QtBot, text: str) -> None:
    """Also in its tip, and it says so when asked."""
    label = Label(text)
    qtbot.addWidget(label)
    assert label.textFormat() is Qt.TextFormat.PlainText
    assert label.text() == text
    label.setToolTip(text)
    assert seen_tip(label) == text
    label.clear()
    assert label.text() == ""


def test_a_run_without_spaces_is_broken_where_the_label_is(qtbot: QtBot) -> None:
    """A wrapped label of 300 letters in one run is no wider than 25 of the widest would be."""
    label = Label("W" * 300)
    qtbot.addWidget(label)
    label.setWordWrap(True)
    assert label.minimumSizeHint().width() < label.fontMetrics().horizontalAdvance("W" * 25)


def test_a_line_that_gives_way_stays_a_line(qtbot: QtBot) -> None:
    """A break in what was typed makes it no higher, and its tip still has it."""
    label = Cutting("first")
    qtbot.addWidget(label)
    high = label.sizeHint().height()
    label.setText("first\nsecond")
    assert label.sizeHint().height() == high
    assert seen_in(label) == "first second"
    assert seen_tip(label) == "first\nsecond"


def test_an_ampersand_is_in_menu_of_a_menu(qtbot: QtBot) -> None:
    """Qt gives the row no key, and a line break in a name makes it no higher."""
    menu = QMenu()
    qtbot.addWidget(menu)
    plain, typed = menu.addAction("Nut and bolt"), menu.addAction(in_menu("Nut &\nbolt && &nut"))
    assert typed.text() == "Nut && bolt &&&& &&nut"
    high = [menu.actionGeometry(action).height() for action in (plain, typed)]
    assert high[0] == high[1]


@given(TYPED)
def test_a_row_of_a_menu_is_not_too_long(text: str) -> None:
    """As it was typed as far as it goes, its end an ellipsis where there is more."""
    row, line = in_menu(text).replace("&&", "&"), " ".join(text.split())
    assert row == line or (len(row) == LONGEST_ROW < len(line) and row[:-1] == line[: len(row) - 1])


@pytest.mark.parametrize("name", ["Top[*]", "[*] Top", "Top [*][*]", "Top"])
def test_a_title_keeps_what_looks_like_the_mark_of_a_change(qtbot: QtBot, name: str) -> None:
    """The window's own mark comes and goes, the name stays."""
    window = QMainWindow()
    qtbot.addWidget(window)
    window.setWindowTitle(f"{title(name)}[*] — Ripfirst")
    window.show()
    for modified, mark in ((False, ""), (True, "*")):
        window.setWindowModified(modified)
        QApplication.processEvents()
        assert window.windowHandle().title().startswith(f"{name}{mark} — Ripfirst")


def test_no_label_is_left_to_guess() -> None:
    """No module but one takes Qt's own label, so all labels show their words as they are."""
    taken = re.compile(r"^from PySide6.* import .*\bQLabel\b|^    QLabel,$|\.QLabel\b", re.M)
    files = HOME.rglob("*.py")
    found = {file.name for file in files if taken.search(file.read_text(encoding="utf-8"))}
    assert found == {"as_typed.py"}
