"""What a lock costs: cuts of waste before it, or a sheet; counted by hand, and unlocked."""

from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

import pytest
from pytestqt.qtbot import QtBot

from layout_app.document import edit_locks
from layout_app.document.document import Document
from layout_app.model.carry_over import with_waiting
from layout_app.model.cost import Costing
from layout_app.model.lock_costs import LockCost, counted, planned, without
from layout_app.model.project import Project
from layout_app.model.words.lock_words import lock_sentence
from layout_app.planner import aside, lock_prices
from layout_app.window.main_window import MainWindow
from shared.cuts.sequence import layout_sheet
from shared.job import Job
from shared.layout import Hold, Layout, LayoutSheet, Scope
from shared.lengths import INCH
from shared.plan import Proof
from shared.shop import Axis, CutRule, FirstCut
from shared.tree import Piece, Place, Run
from tests.layout_app.at_once import AtOnce, sawn_of
from tests.layout_app.small_job import KERF, part, small_job

WAIT_MS = 20_000


def side(copy: int) -> Piece:
    """Return a strip of 12 with a side of 40 at its reference end."""
    placed = Piece(size=40 * INCH, place=Place(part="side", copy=copy))
    return Piece(size=12 * INCH, run=Run(axis=Axis.CROSSCUT, pieces=(placed,)))


def waste(size: int) -> Piece:
    """Return a strip of waste."""
    return Piece(size=size * INCH)


def sheet(name: str, *strips: Piece) -> LayoutSheet:
    """Return a planned sheet with those strips."""
    tree = Run(axis=Axis.RIP, pieces=strips)
    return layout_sheet(name, small_job().stock[0], KERF, tree)


def job(copies: int = 2) -> Job:
    """Return sides alone, ripped first."""
    return replace(
        small_job(),
        parts=(part("side", "Side", (40, 12), copies),),
        rule=CutRule(first=FirstCut.RIP),
    )


def project(*sheets: LayoutSheet, copies: int = 2) -> Project:
    """Return them as a planned project."""
    of = job(copies)
    return Project(job=of, layout=with_waiting(of, sheets, Layout()))


def locked(doc: Document, scope: Scope, copy: int) -> Hold:
    """Lock a side, and return the lock."""
    assert edit_locks.hold(doc, scope, [("side", copy)])
    return doc.held.in_force[-1]


def cost_of_lock(doc: Document, scope: Scope, copy: int) -> LockCost | None:
    """Lock a side, and return what that costs."""
    hold = locked(doc, scope, copy)
    return counted(Costing(doc.sawn), hold)


@pytest.mark.parametrize("scope", Scope)
def test_waste_before_a_locked_strip_is_a_cut(scope: Scope) -> None:
    """Two strips, 6 of waste between them: without the lock the rip at 6 is not needed."""
    doc = Document(project(sheet("1", side(1), waste(6), side(2))))
    found = cost_of_lock(doc, scope, 2)
    assert found is not None
    assert (found.cuts, found.minutes, found.sheets) == (1, 2, 0)


@pytest.mark.parametrize("scope", Scope)
def test_waste_within_what_is_locked_is_a_cut(scope: Scope) -> None:
    """In the strip 10 of waste lies between two sides: without the lock the second goes up.

    The first alone does not need that waste.
    """
    one, other = (side(copy).run for copy in (1, 2))
    assert one is not None
    assert other is not None
    row = (*one.pieces, waste(10), *other.pieces)
    strip = Piece(size=12 * INCH, run=Run(axis=Axis.CROSSCUT, pieces=row))
    doc = Document(project(sheet("1", strip)))
    found = cost_of_lock(doc, scope, 2)
    assert found is not None
    assert (found.cuts, found.sheets) == (1, 0)
    assert cost_of_lock(Document(project(sheet("1", strip))), Scope.PART, 1) is None


def test_what_the_lock_does_not_force_is_not_its_cost() -> None:
    """No waste before it; waste before it on a sheet of the maker's own, which stays anyway."""
    doc = Document(project(sheet("1", side(1), side(2), waste(6))))
    assert cost_of_lock(doc, Scope.STRIP, 2) is None
    mine = replace(sheet("1", side(1), waste(6), side(2)), yours=True)
    doc = Document(project(mine))
    assert cost_of_lock(doc, Scope.STRIP, 2) is None


def test_another_lock_behind_it_stays_where_it_is() -> None:
    """Going up would take the strip behind along, which is locked as well."""
    doc = Document(project(sheet("1", side(1), waste(6), side(2), side(3)), copies=3))
    first = locked(doc, Scope.STRIP, 2)
    locked(doc, Scope.STRIP, 3)
    assert counted(Costing(doc.sawn), first) is None


def test_a_sheet_that_a_lock_costs() -> None:
    """Two sides fit one sheet at 52.00; the lock keeps the second on a sheet of its own."""
    doc = Document(project(sheet("1", side(1)), sheet("2", side(2))))
    hold = locked(doc, Scope.SHEET, 2)
    locked(doc, Scope.PART, 1)
    found = planned(doc.sawn, (hold,), sawn_of(without(doc.project, [hold])))
    assert found is not None
    assert (found.sheets, found.price, found.certain) == (1, 5200, False)
    assert planned(doc.sawn, (hold,), doc.sawn) is None


LOCK = Hold(scope=Scope.SHEET, sheet="2")
SENTENCES = (
    (LockCost(holds=(LOCK,), sheets=1, price=5200), "The lock of sheet 2 costs 1 sheet, 52.00."),
    (
        LockCost(holds=(LOCK,), cuts=1, minutes=3),
        "The lock of sheet 2 costs 1 cut, about 3 min.",
    ),
    (
        LockCost(holds=(LOCK, replace(LOCK, sheet="3")), sheets=1),
        "The locks of sheet 2 and sheet 3 together cost 1 sheet.",
    ),
    (
        LockCost(holds=(LOCK,), sheets=1, certain=False),
        "Without the lock of sheet 2 there is a plan that takes 1 sheet less.",
    ),
)


@pytest.mark.parametrize(("cost", "sentence"), SENTENCES)
def test_what_it_costs_in_words(cost: LockCost, sentence: str) -> None:
    """Costs only what is known to; else it is told what was found."""
    assert lock_sentence(job(), cost) == sentence


@pytest.fixture
def window(qtbot: QtBot, monkeypatch: pytest.MonkeyPatch) -> Iterator[MainWindow]:
    """Return a window on two sides that lie on two sheets; it does not wait for quiet."""
    for module in (aside, lock_prices):
        monkeypatch.setattr(module, "QUIET_MS", 1)
    doc = Document(project(sheet("1", side(1)), sheet("2", side(2))))
    made = MainWindow(doc, planner=AtOnce())
    qtbot.addWidget(made)
    made.show()
    yield made
    made.document.saved_state.note_saved(made.document.project, Path("not-written"))
    assert made.close()


def test_the_window_says_it_and_unlocks(window: MainWindow, qtbot: QtBot) -> None:
    """One lock on each sheet: together they cost one sheet; one click takes both away."""
    doc, prices = window.document, window.offers.locks
    locked(doc, Scope.SHEET, 1)
    locked(doc, Scope.SHEET, 2)
    doc.take_bounds(Proof(value=2, bound=2, proven=True, rule="rip first, around what is locked"))
    qtbot.waitUntil(lambda: bool(prices.costs), timeout=WAIT_MS)
    (cost, *_) = prices.costs
    assert (cost.sheets, cost.price) == (1, 5200)
    window.drawers.advice.open()
    assert prices.sentence(cost) in {
        one.sentence.text() for one in window.drawers.advice._lock_rows
    }
    steps = doc.undo_stack.index()
    unlock, keep = window.bar.answers
    assert window.bar.sentence == prices.sentence(cost)
    assert keep.text().startswith("Keep")
    unlock.click()
    assert doc.undo_stack.index() == steps + 1
    assert len(doc.held.in_force) == 2 - len(cost.holds)
    assert prices.costs == ()
    assert window.bar.isHidden()
