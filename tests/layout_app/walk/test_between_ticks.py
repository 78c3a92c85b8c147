"""The time between ticks: kept where the walk saw all of it, void where anything came between."""

from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from pytestqt.qtbot import QtBot

from layout_app.document import edit_job
from layout_app.document.document import Document
from layout_app.document.replan_rest import plan_the_rest
from layout_app.document.ticks import tick, untick
from layout_app.store.project_file import read_project, save_project
from layout_app.walk.between_ticks import AWAY_S, BetweenTicks
from layout_app.walk.moments import End
from layout_app.walk.view import Walk
from shared.lengths import MM
from shared.progress import LONGEST_S
from tests.layout_app.timed_job import long_document, saw_at
from tests.layout_app.walk.pressing import begin, number, press


class Clocks:
    """A steady clock and the time of day, moved by hand, in seconds."""

    def __init__(self) -> None:
        self.steady = 1000.0
        self.day = 1_795_000_000.0

    def go(self, seconds: float) -> None:
        """Let time pass."""
        self.steady += seconds
        self.day += seconds


@pytest.fixture
def clocks() -> Clocks:
    """Return clocks that stand still."""
    return Clocks()


@pytest.fixture
def walk(doc: Document, clocks: Clocks, qtbot: QtBot) -> Walk:
    """Return the walk by these clocks, at its first cut."""
    between = BetweenTicks(lambda: clocks.steady, lambda: clocks.day)
    made = Walk(doc, dark=False, between=between)
    qtbot.addWidget(made)
    made.resize(1024, 700)
    made.show()
    begin(made)
    return made


def tick_next(walk: Walk) -> None:
    """Go on until one more cut is ticked."""
    while number(walk) is None:
        press(walk, Qt.Key.Key_Space)
    press(walk, Qt.Key.Key_Space)


def times(doc: Document) -> dict[int, int]:
    """Return the seconds kept, by the number of the cut."""
    return {one.number: one.seconds for one in doc.progress.times}


def test_each_tick_keeps_the_time_since_the_one_before(
    walk: Walk, doc: Document, clocks: Clocks, tmp_path: Path
) -> None:
    """None for the first; then the seconds, which are in the file and go with the tick."""
    for seconds in (100, 40, 81.6, 55):
        clocks.go(seconds)
        tick_next(walk)
    assert times(doc) == {2: 40, 3: 82, 4: 55}
    save_project(tmp_path / "a.ripfirst.json", doc.project)
    assert read_project(tmp_path / "a.ripfirst.json").progress == doc.progress
    press(walk, Qt.Key.Key_U)
    assert times(doc) == {2: 40, 3: 82}
    clocks.go(30)
    tick_next(walk)
    assert times(doc) == {2: 40, 3: 82}, "ticked again, and nobody knows since when"
    clocks.go(30)
    tick_next(walk)
    assert times(doc) == {2: 40, 3: 82, 5: 30}


def test_looking_back_takes_no_time_away(walk: Walk, doc: Document, clocks: Clocks) -> None:
    """Keys that go back and forth leave the interval as it is."""
    tick_next(walk)
    clocks.go(20)
    press(walk, Qt.Key.Key_Left)
    press(walk, Qt.Key.Key_Left)
    clocks.go(20)
    tick_next(walk)
    tick_next(walk)
    assert times(doc)[2] == 40


def _clock_set_back(_walk: Walk, _doc: Document, clocks: Clocks) -> None:
    clocks.day -= 3600


def _asleep(_walk: Walk, _doc: Document, clocks: Clocks) -> None:
    clocks.day += 600


def _overnight(_walk: Walk, _doc: Document, clocks: Clocks) -> None:
    clocks.go(LONGEST_S)


def _ticked_on_a_card(_walk: Walk, doc: Document, _clocks: Clocks) -> None:
    tick(doc, [3])
    untick(doc, [3])


def _rails_changed(_walk: Walk, doc: Document, _clocks: Clocks) -> None:
    short, long = doc.job.shop.rails
    rails = short, replace(long, length=long.length + 100 * MM)
    doc.asks = lambda edit: doc.push(replace(edit, retells=True))
    edit_job.edit_shop(doc, replace(doc.job.shop, rails=rails))


def _minimised(walk: Walk, _doc: Document, clocks: Clocks) -> None:
    walk.showMinimized()
    clocks.go(AWAY_S + 1)
    walk.showNormal()


@pytest.mark.parametrize(
    "between",
    [_clock_set_back, _asleep, _overnight, _ticked_on_a_card, _rails_changed, _minimised],
)
def test_whatever_comes_between_leaves_no_time(
    walk: Walk, doc: Document, clocks: Clocks, between: Callable[[Walk, Document, Clocks], None]
) -> None:
    """The cut is ticked without a time; the one after it has one again."""
    tick_next(walk)
    clocks.go(30)
    between(walk, doc, clocks)
    clocks.go(30)
    tick_next(walk)
    assert doc.progress.made == (1, 2)
    assert times(doc) == {}
    clocks.go(50)
    tick_next(walk)
    assert times(doc) == {3: 50}


def test_minimised_for_a_moment_is_no_matter(walk: Walk, doc: Document, clocks: Clocks) -> None:
    """Half a minute may be the other window."""
    tick_next(walk)
    walk.showMinimized()
    clocks.go(AWAY_S - 1)
    walk.showNormal()
    tick_next(walk)
    assert times(doc) == {2: 29}


def test_a_tick_on_a_card_keeps_no_time(doc: Document) -> None:
    """Whoever ticks there may tick everything at the end of the day."""
    tick(doc, [1])
    tick(doc, [2])
    assert doc.progress.made == (1, 2)
    assert doc.progress.times == ()


def test_times_of_the_past_stay_when_the_rest_is_planned_anew(
    walk: Walk, doc: Document, clocks: Clocks
) -> None:
    """What was sawn keeps its time, and the first cut of the new plan has none."""
    for _ in range(3):
        clocks.go(40)
        tick_next(walk)
    assert plan_the_rest(doc, {})
    assert doc.progress.past
    assert doc.progress.made == ()
    assert times(doc) == {2: 40, 3: 40}


def test_the_end_of_the_walk_says_what_was_heard_of_the_pace(qtbot: QtBot) -> None:
    """One quiet line, spoken too, that leads to the shop; before the end nothing is said of it."""
    doc = long_document()
    saw_at(doc, setup_s=90)
    made = Walk(doc, dark=True)
    qtbot.addWidget(made)
    made.show()
    assert made.status.pace == ""
    while not isinstance(made.moment, End):
        press(made, Qt.Key.Key_Space)
    said = (
        "Your pace, from 44 cuts timed at the saw: a set-up about 90 s, not 60. See the tab Shop,"
    )
    assert made.status.pace.replace("\N{NO-BREAK SPACE}", " ").startswith(said)
    assert made.status.pace in made.accessibleDescription()
    made.grab()
