"""At the sawhorses: one press a cut, nothing passed that is not on disk."""

from functools import partial
from pathlib import Path
from unicodedata import normalize

import pypdf
import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QKeyEvent, QPdfWriter
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QLabel
from pytestqt.qtbot import QtBot

from layout_app.document.document import Document
from layout_app.document.replan_rest import plan_the_rest
from layout_app.document.ticks import tick
from layout_app.look.style_sheet import dress
from layout_app.look.theme import Theme
from layout_app.panels.ticks import all_cards
from layout_app.store.project_file import read_project, save_project
from layout_app.walk.moments import (
    Before,
    CheckSheet,
    CutNow,
    End,
    RailChange,
    SetUp,
    Start,
    moments_of,
    same_place,
)
from layout_app.walk.view import Walk
from layout_app.window.main_window import MainWindow
from shared.cautions import CAUTIONS, DEFER, cautions_for
from tests.layout_app.closing import close
from tests.layout_app.monkey import silent_planner
from tests.layout_app.small_job import document
from tests.layout_app.walk.pressing import begin, number, press
from tests.properties.test_mistakes import plan_around

WAIT_MS = 20_000


def named(walk: Walk) -> tuple[str, int]:
    """Return what kind of moment is shown, and its cut; 0 for none."""
    number = 0 if isinstance(walk.moment, Start | End) else walk.moment.card.number
    return type(walk.moment).__name__, number


def test_back_and_untick_go_over_what_comes_before_a_cut(walk: Walk, doc: Document) -> None:
    """Space to the first cut behind a change of the rail, then back: every moment, in turn.

    U on the change unticks the cut before it; nothing that comes before a cut ticks one.
    """
    begin(walk)
    shown = [named(walk)]
    while not isinstance(walk.moment, RailChange):
        press(walk, Qt.Key.Key_Space)
        shown.append(named(walk))
    made = doc.progress.made
    last = walk.moment.card.number - 1
    assert made == tuple(range(1, last + 1))
    assert walk.status.place.startswith(f"before cut {last + 1} of ")
    for moment in reversed(shown[:-1]):
        press(walk, Qt.Key.Key_Left)
        assert named(walk) == moment
    assert doc.progress.made == made
    while not isinstance(walk.moment, RailChange):
        press(walk, Qt.Key.Key_Space)
    press(walk, Qt.Key.Key_U)
    assert doc.progress.made == made[:-1]
    assert number(walk) == last


@pytest.mark.parametrize(
    "key", [Qt.Key.Key_Space, Qt.Key.Key_Return, Qt.Key.Key_Right, Qt.Key.Key_PageDown]
)
def test_one_press_ticks_and_goes_on(walk: Walk, doc: Document, key: Qt.Key) -> None:
    """From the cautions to rail, sheet and first cut; the next press ticks it, and goes on."""
    while isinstance(walk.moment, Start):
        press(walk, key)
    assert named(walk) == ("RailChange", 1)
    press(walk, key)
    assert named(walk) == ("CheckSheet", 1)
    press(walk, key)
    assert number(walk) == 1
    assert doc.progress.made == ()
    press(walk, key)
    assert doc.progress.made == (1,)
    assert isinstance(walk.moment, SetUp)
    press(walk, key)
    assert number(walk) == 2
    assert doc.progress.made == (1,)


@pytest.mark.parametrize(
    "key", [Qt.Key.Key_Left, Qt.Key.Key_Up, Qt.Key.Key_PageUp, Qt.Key.Key_Backspace]
)
def test_back_shows_the_cut_before_and_leaves_its_tick(
    walk: Walk, doc: Document, key: Qt.Key
) -> None:
    """Back goes over the set-up to the first cut, which stays made; on passes it as it is."""
    begin(walk)
    press(walk, Qt.Key.Key_Space)
    press(walk, key)
    assert number(walk) == 1
    assert walk.status.state == "made"
    press(walk, Qt.Key.Key_Space)
    assert doc.progress.made == (1,)
    assert isinstance(walk.moment, SetUp)


def test_key_held_down_counts_once(walk: Walk, doc: Document) -> None:
    """Presses that a held key repeats by itself tick nothing."""
    begin(walk)
    kind, none = QKeyEvent.Type.KeyPress, Qt.KeyboardModifier.NoModifier
    for _ in range(5):
        again = QKeyEvent(kind, Qt.Key.Key_Space, none, " ", True)
        QApplication.sendEvent(walk, again)
    assert doc.progress.made == ()
    assert number(walk) == 1


def test_it_begins_where_the_ticks_end(doc: Document, qtbot: QtBot) -> None:
    """With three cuts made the walk goes from the cautions to the fourth, set-up first."""
    tick(doc, [1, 2, 3])
    walk = Walk(doc, dark=True)
    qtbot.addWidget(walk)
    while not isinstance(walk.moment, CutNow):
        walk.next()
    assert number(walk) == 4


def test_the_cuts_made_are_counted_before_the_first(doc: Document, qtbot: QtBot) -> None:
    """Those made before the rest was planned anew count too, among the made and among all."""
    tick(doc, [1, 2])
    walk = Walk(doc, dark=False)
    qtbot.addWidget(walk)
    assert doc.plan is not None
    assert walk.status.place == f"{len(doc.plan.cuts)} cuts, 2 made"
    assert plan_the_rest(doc, {})
    plan_around(doc)
    assert doc.plan is not None
    walk.next()
    while not isinstance(walk.moment, CutNow):
        walk.next()
    last = int(walk.status.place.split(",")[0].rsplit(" ", 1)[1])
    assert last == 2 + len(doc.plan.cuts)
    again = Walk(doc, dark=False)
    qtbot.addWidget(again)
    assert again.status.place == f"{last} cuts, 2 made"


def test_all_the_way_to_the_end(walk: Walk, doc: Document) -> None:
    """Presses alone lead through every cut, and at the end all are made."""
    assert doc.plan is not None
    for _ in range(3 * len(doc.plan.cuts)):
        press(walk, Qt.Key.Key_PageDown)
    assert isinstance(walk.moment, End)
    assert doc.progress.made == tuple(cut.number for cut in doc.plan.cuts)
    assert "parts done: 7" in walk.status.lies


def test_what_lies_there_is_named(walk: Walk) -> None:
    """After the second cut strip 1a and the rest of sheet 1 lie there."""
    begin(walk)
    for _ in range(3):
        press(walk, Qt.Key.Key_Space)
    assert walk.status.lies == "pieces on hand: 1, 1a"


def test_untick_is_a_key_of_its_own(walk: Walk, doc: Document) -> None:
    """U takes the tick of the cut that is shown away."""
    begin(walk)
    press(walk, Qt.Key.Key_Space)
    press(walk, Qt.Key.Key_Left)
    press(walk, Qt.Key.Key_U)
    assert doc.progress.made == ()
    assert number(walk) == 1


def test_untick_before_a_cut_is_about_the_last_that_is_made(walk: Walk, doc: Document) -> None:
    """Gone back to what comes before cut 1, U takes cut 2 back, as the foot of the page says."""
    begin(walk)
    press(walk, Qt.Key.Key_Space)
    while doc.progress.made != (1, 2):
        press(walk, Qt.Key.Key_Space)
    while not isinstance(walk.moment, CheckSheet):
        press(walk, Qt.Key.Key_Left)
    assert walk.status.unticks == 2
    press(walk, Qt.Key.Key_U)
    assert doc.progress.made == (1,)
    assert number(walk) == 2


def test_a_question_goes_when_the_walk_goes_on(walk: Walk, doc: Document) -> None:
    """Asked whether to untick cuts 1 and 2, the maker passes cut 1: nothing is asked any more."""
    tick(doc, [1, 2])
    begin(walk)
    while number(walk) != 1:
        press(walk, Qt.Key.Key_Left)
    press(walk, Qt.Key.Key_U)
    assert walk.ticking.question(walk.anchor) is not None
    walk.next()
    assert walk.ticking.question(walk.anchor) is None
    assert doc.progress.made == (1, 2)


@pytest.mark.parametrize("size", [(640, 420), (1024, 700), (1440, 900)])
def test_a_question_is_large_and_at_the_foot(
    walk: Walk, doc: Document, size: tuple[int, int]
) -> None:
    """It leaves the upper half of the page free, where the size stands; all of it is inside."""
    walk.resize(*size)
    tick(doc, range(1, 15))
    while isinstance(walk.moment, Start):
        press(walk, Qt.Key.Key_Space)
    while number(walk) != 1:
        press(walk, Qt.Key.Key_Left)
    press(walk, Qt.Key.Key_U)
    question = walk.ticking.question(walk.anchor)
    assert question is not None
    assert walk.rect().contains(question.geometry())
    assert question.geometry().top() >= walk.height() // 2
    assert all(question.rect().contains(one.geometry()) for one in question.buttons)


def test_unticking_what_others_rest_on_asks_on_the_walk(walk: Walk, doc: Document) -> None:
    """The question hangs in the walk itself, all of it inside."""
    tick(doc, [1, 2])
    begin(walk)
    while number(walk) != 1:
        press(walk, Qt.Key.Key_Left)
    press(walk, Qt.Key.Key_U)
    question = walk.ticking.question(walk.anchor)
    assert question is not None
    assert walk.rect().contains(question.geometry())
    QTest.mouseClick(question.buttons[0], Qt.MouseButton.LeftButton)
    assert doc.progress.made == ()


def words_of(walk: Walk, path: Path) -> str:
    """Return what is written on the page that is shown, read back from a PDF of it."""
    writer = QPdfWriter(str(path))
    writer.setResolution(96)
    walk.render(writer)
    text = pypdf.PdfReader(path).pages[0].extract_text()
    return " ".join(normalize("NFKC", text).split())  # letters that a font joins, such as fi


def test_cautions_come_first(walk: Walk, doc: Document, tmp_path: Path) -> None:
    """The walk begins with the usual cautions, whole; going on is a press that ticks nothing."""
    assert isinstance(walk.moment, Start)
    said = ""
    while isinstance(walk.moment, Start):
        said += words_of(walk, tmp_path / "start.pdf")
        press(walk, Qt.Key.Key_Space)
    assert "Your saw's manual" in said
    assert [one for one in (DEFER, *cautions_for(doc.job.shop)) if one not in said] == []
    assert CAUTIONS[0] not in words_of(walk, tmp_path / "next.pdf")
    assert doc.progress.made == ()


def test_next_cut_shows_only_once_the_tick_is_on_disk(qtbot: QtBot, tmp_path: Path) -> None:
    """While the tick is being written the cut stays, and more presses do nothing."""
    path = tmp_path / "trial.ripfirst.json"
    save_project(path, document().project)
    window = MainWindow()
    qtbot.addWidget(window)
    window.show()
    window.projects.open(path)
    qtbot.waitUntil(lambda: window.document.saved_state.path == path, timeout=WAIT_MS)
    window.menus.actions["cuts.walk"].trigger()
    (walk,) = window.findChildren(Walk)
    press(walk, Qt.Key.Key_Space)
    while not isinstance(walk.moment, CutNow):
        press(walk, Qt.Key.Key_Space)
    press(walk, Qt.Key.Key_Space)
    press(walk, Qt.Key.Key_Space)
    assert number(walk) == 1
    assert walk.status.state == "being saved"
    qtbot.waitUntil(lambda: number(walk) != 1, timeout=WAIT_MS)
    assert read_project(path).progress.made == (1,)
    assert window.document.progress.made == (1,)
    press(walk, Qt.Key.Key_Escape)
    qtbot.waitUntil(lambda: not window.findChildren(Walk), timeout=WAIT_MS)
    assert window.close()


@pytest.mark.parametrize(
    "held", [Qt.KeyboardModifier.NoModifier, Qt.KeyboardModifier.ControlModifier]
)
def test_untick_on_a_cut_that_has_no_tick_takes_back_the_last_before_it(
    walk: Walk, doc: Document, held: Qt.KeyboardModifier
) -> None:
    """A press too many has passed cut 1: U, with or without Ctrl, unticks it and shows it."""
    begin(walk)
    press(walk, Qt.Key.Key_Space)
    press(walk, Qt.Key.Key_Space)
    assert (number(walk), doc.progress.made) == (2, (1,))
    QTest.keyClick(walk, Qt.Key.Key_U, held)
    assert (number(walk), doc.progress.made) == (1, ())
    QTest.keyClick(walk, Qt.Key.Key_U, held)
    assert (number(walk), doc.progress.made) == (1, ())


@pytest.mark.parametrize("dressed", [False, True])
def test_what_stops_the_walk_is_said_in_letters_for_the_sawhorses(
    walk: Walk, qapp: QApplication, dressed: bool
) -> None:
    """On a screen 900 high a sentence has letters of 40 pixels, three times those of the window."""
    if dressed:
        dress(qapp, Theme.light())
    walk.resize(1440, 900)
    walk.stop("The file cannot be written: permission denied.")
    question = walk.ticking.question(walk.anchor)
    assert question is not None
    letters = [label.fontInfo().pixelSize() for label in question.findChildren(QLabel)]
    assert letters == [40]
    assert [button.fontInfo().pixelSize() for button in question.buttons] == [40]
    assert walk.rect().contains(question.geometry())


def test_planning_ends_with_what_it_has_when_the_walk_begins(
    qtbot: QtBot, doc: Document, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Nobody reads cut 6 and finds another one there; a planner that rests is left alone."""
    window = MainWindow(doc, planner=silent_planner())
    qtbot.addWidget(window)
    window.show()
    stopped: list[str] = []
    monkeypatch.setattr(window.planning, "stop", partial(stopped.append, "stopped"))
    begin = window.menus.actions["cuts.walk"]
    begin.trigger()
    resting = list(stopped)
    window.planning.start()
    begin.trigger()
    close(window)
    assert (resting, stopped) == ([], ["stopped"])


def test_a_plan_that_changes_keeps_what_is_shown(doc: Document) -> None:
    """The same cut, the same kind of moment before it; what is gone is left for its cut."""
    moments = moments_of(all_cards(doc))
    assert [same_place(moments, one) for one in moments] == list(range(len(moments)))
    bare = tuple(one for one in moments if not isinstance(one, Before))
    for one in moments:
        if isinstance(one, Before):
            found = bare[same_place(bare, one)]
            assert isinstance(found, CutNow)
            assert found.card.number == one.card.number
