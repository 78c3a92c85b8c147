"""Random gestures and commands: nothing breaks, and undo and redo bring all of it back."""

import gc
import os
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

import pytest
from pytestqt.qtbot import QtBot

from layout_app.document.document import Document
from layout_app.window.main_window import MainWindow
from shared.job import MatchGroup
from shared.lengths import INCH
from shared.parts import GrainRule
from shared.stock import NoGo
from tests.layout_app.adopting import adopt
from tests.layout_app.monkey import Monkey, at_work, strays
from tests.layout_app.small_job import document, planned

OPS, MANY_OPS = 300, 10_000
STATM = Path("/proc/self/statm")
"""Pages of memory that this process holds, where the system says so."""


def wild_document() -> Document:
    """Return the small job: shelves may lie either way, sides are a set, the sheets have a knot."""
    doc = document()
    side, shelf = doc.job.parts
    knot = NoGo(x=70 * INCH, y=40 * INCH, length=2 * INCH, width=2 * INCH)
    job = replace(
        doc.job,
        parts=(replace(side, group="sides"), replace(shelf, grain_rule=GrainRule.EITHER)),
        groups=(MatchGroup(name="sides", columns=2),),
        stock=tuple(replace(row, no_go=(knot,)) for row in doc.job.stock),
    )
    made = Document(replace(doc.project, job=job))
    adopt(made, planned(job))
    return made


@pytest.fixture
def window(qtbot: QtBot, qapp) -> Iterator[MainWindow]:
    """Return a window whose planner never answers."""
    with at_work(wild_document(), qtbot, qapp) as made:
        yield made


@pytest.mark.parametrize("seed", [1])
def test_random_gestures(window: MainWindow, qtbot: QtBot, qtlog, seed: int) -> None:
    """300 random things break nothing, and can be taken back and done again."""
    roam(window, qtbot, qtlog, seed, OPS)


@pytest.mark.soak
@pytest.mark.timeout(3600)
@pytest.mark.parametrize("seed", [2])
def test_random_gestures_for_long(window: MainWindow, qtbot: QtBot, qtlog, seed: int) -> None:
    """10,000 random things break nothing, and can be taken back and done again."""
    roam(window, qtbot, qtlog, seed, MANY_OPS)


@pytest.mark.soak
@pytest.mark.timeout(3600)
@pytest.mark.skipif(not STATM.exists(), reason="memory is counted as Linux counts it")
def test_memory_stays_flat(window: MainWindow) -> None:
    """Of 4,000 random things, with 100 steps kept, the last 2,000 take no tenth more memory."""
    window.document.undo_stack.setUndoLimit(100)
    monkey, held_mb = Monkey(window, 5), []
    for op in range(1, 4_001):
        monkey.act()
        if op % 500 == 0:
            gc.collect()
            held_mb.append(int(STATM.read_text().split()[1]) * os.sysconf("SC_PAGE_SIZE") / 2**20)
    window.bench.hand.cancel()
    print("MB held after each 500 things:", *map(round, held_mb))
    assert held_mb[-1] < 1.1 * held_mb[3]


def roam(window: MainWindow, qtbot: QtBot, qtlog, seed: int, ops: int) -> None:
    """Do random things, judge each, then go back to the start and on to the end."""
    window.document.undo_stack.setUndoLimit(0)  # so that the start is never too far back
    monkey = Monkey(window, seed)
    with qtbot.captureExceptions() as raised:
        for op in range(ops):
            monkey.act()
            said = [one.message for one in qtlog.records if not one.ignored]
            where = f"seed {seed}, thing {op}, after {list(monkey.last)}"
            assert not raised, f"{where}: {raised[0][1]!r}"
            assert not said, f"{where}: {said}"
            assert not strays(window.document.project), where
        window.bench.hand.cancel()
        back_and_on(window.document, monkey)
    kept = window.document.undo_stack.count()
    print(f"{ops} things, {monkey.steps} steps of which {kept} stand, {dict(monkey.done)}")


def back_and_on(doc: Document, monkey: Monkey) -> None:
    """Undo to the start and redo to the end: both are what they were."""
    stack = doc.undo_stack
    step_through(doc.redo, doc, stack.count() - stack.index())
    end = doc.project
    step_through(doc.undo, doc, stack.count())
    assert doc.project == monkey.start
    step_through(doc.redo, doc, stack.count())
    assert doc.project == end


def step_through(step, doc: Document, times: int) -> None:
    """Take so many steps, none of which may be refused."""
    for _ in range(times):
        before = doc.undo_stack.index()
        step()
        assert doc.undo_stack.index() != before, doc.undo_stack.text(before)
