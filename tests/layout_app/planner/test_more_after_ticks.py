"""More parts after cuts are made: what the rest takes then, and what is asked of it."""

from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace

import pytest
from PySide6.QtCore import QObject
from pytestqt.qtbot import QtBot

from layout_app.document import edit_layout, edit_parts
from layout_app.document.document import Document
from layout_app.document.ticks import tick, untick
from layout_app.look.asking_bar import AskingBar
from layout_app.planner.going_on import GoingOn, more_taken
from layout_app.planner.live import Planning
from shared.progress import Progress
from shared.saw import verify
from solver.outcome import Done, EndReason
from tests.layout_app.adopting import adopt
from tests.layout_app.at_once import AtOnce, plan_of
from tests.layout_app.small_job import document, part


@dataclass
class Begun:
    """A small job of which the first cut of a sheet is made, and who asks beside it."""

    doc: Document
    planner: AtOnce
    bar: AskingBar
    owner: QObject

    def plan(self) -> None:
        """Plan what is free around the begun sheet, as the window does after a step."""
        adopt(self.doc, plan_of(self.doc.project))
        self.planner.done.emit(Done(reason=EndReason.PROVEN, elapsed_s=0.0, statistics=()))

    def sheets(self) -> int:
        """Count the whole sheets of the plan."""
        assert self.doc.plan is not None
        return sum(not sheet.piece for sheet in self.doc.plan.sheets)


@pytest.fixture
def begun(qtbot: QtBot) -> Iterator[Begun]:
    """Return the small job planned on one sheet, its first cut ticked."""
    doc, planner, owner, bar = document(), AtOnce(), QObject(), AskingBar()
    qtbot.addWidget(bar)
    planning = Planning(doc, planner, owner)
    planning.start = lambda *_: None
    asking = GoingOn(doc, planning, planner, bar, owner)
    assert asking.parent() is owner
    tick(doc, [1])
    yield Begun(doc, planner, bar, owner)
    doc.undo_stack.clear()


def quantity(doc: Document) -> None:
    """Type one shelf more."""
    edit_parts.edit_part(doc, replace(doc.job.part("shelf"), copies=4))


def duplicated(doc: Document) -> None:
    """Make one more of two shelves; there is room on the sheet for the first as it lies."""
    assert edit_parts.duplicate(doc, [("shelf", 1), ("shelf", 2)])


def new_row(doc: Document) -> None:
    """Type one more kind of part."""
    edit_parts.add_parts(doc, [part("rail", "Rail", (30, 8))])


@pytest.mark.parametrize("enlarge", [quantity, duplicated, new_row])
def test_more_parts_after_ticks_may_come_from_the_pieces_on_hand(
    begun: Begun, enlarge: Callable[[Document], None]
) -> None:
    """What takes a second sheet is asked about once it is planned; from the pieces none is."""
    doc = begun.doc
    assert begun.sheets() == 1
    enlarge(doc)
    assert begun.bar.isHidden()
    begun.plan()
    assert begun.sheets() == 2
    assert begun.bar.sentence == (
        "This takes 1 more sheet of birch ply, with what is begun left as it lies."
        " Replan the rest from the pieces on hand?"
    )
    begun.bar.answers[0].click()
    assert doc.progress.past
    begun.plan()
    assert begun.sheets() == 0
    assert begun.bar.isHidden()
    assert doc.plan is not None
    assert not doc.plan.unplaced
    assert verify(doc.plan) == ()


def test_a_question_about_more_sheets_stays_while_more_is_typed(begun: Begun) -> None:
    """A new row and then its quantity: what was asked of the first is asked again of both."""
    new_row(begun.doc)
    begun.plan()
    assert not begun.bar.isHidden()
    row = begun.doc.job.parts[-1]
    edit_parts.edit_part(begun.doc, replace(row, copies=2))
    assert begun.bar.isHidden()
    begun.plan()
    assert begun.bar.sentence.startswith("This takes 1 more sheet of birch ply,")
    assert not begun.bar.isHidden()
    begun.doc.undo()
    assert begun.bar.isHidden()


def test_left_so_it_is_not_asked_again(begun: Begun) -> None:
    """The maker would rather buy a sheet: planning again asks nothing."""
    quantity(begun.doc)
    begun.plan()
    begun.bar.answers[1].click()
    edit_layout.plan(begun.doc)
    begun.plan()
    assert begun.bar.isHidden()


def test_where_no_more_is_taken_or_nothing_is_begun_nothing_is_asked(begun: Begun) -> None:
    """Fewer parts, planning again, and more parts before any cut is made ask nothing."""
    doc = begun.doc
    edit_parts.edit_part(doc, replace(doc.job.part("shelf"), copies=2))
    begun.plan()
    edit_layout.plan(doc)
    begun.plan()
    assert begun.bar.isHidden()
    doc.undo()
    untick(doc, [1])
    edit_parts.edit_part(doc, replace(doc.job.part("side"), copies=12))
    begun.plan()
    assert begun.sheets() > 1
    assert begun.bar.isHidden()


def test_sheets_beyond_those_before_count_where_pieces_are_left() -> None:
    """Held against itself a plan takes no more; with no cut made there is no piece."""
    doc = document()
    before = doc.plan
    assert before is not None
    tick(doc, [1])
    quantity(doc)
    adopt(doc, plan_of(doc.project))
    assert doc.plan is not None
    assert more_taken(before, doc.project, doc.plan) == {"birch ply": 1}
    assert more_taken(doc.plan, doc.project, doc.plan) == {}
    assert more_taken(before, replace(doc.project, progress=Progress()), doc.plan) == {}
