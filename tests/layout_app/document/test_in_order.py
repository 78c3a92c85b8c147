"""The order of cuts comes into the document: when it is looked for, and what is shown of it."""

from dataclasses import replace

import pytest

from layout_app.document import edit_job, edit_layout
from layout_app.document.document import Document
from layout_app.document.edit_cut_order import move_cut
from layout_app.document.ticks import tick
from layout_app.model.cut_order import is_in_order, same_parts, to_order, with_order
from layout_app.model.move_cut import Moving
from layout_app.model.sawing import Sawn, saw
from layout_app.model.words.left_words import dropped_words
from shared.cuts.tally import tally
from shared.layout import CutBefore
from shared.saw import verify
from shared.shop import SawingOrder
from solver.budget.stop import Stop
from solver.cut_order.order import put_in_order
from solver.outcome import Ordered
from tests.layout_app.small_job import document


@pytest.fixture
def doc() -> Document:
    """Return the small job with its first plan, its cuts in the plain order."""
    return document()


def best(doc: Document) -> Ordered:
    """Return the best order of what lies there."""
    return [*put_in_order(to_order(doc.project), Stop().within(5.0))][-1]


def sawn(doc: Document) -> Sawn:
    """Return what lies there, in the best order."""
    return saw(with_order(doc.project, best(doc)))


def test_an_order_is_shown_and_no_undo_step(doc: Document) -> None:
    """The better order replaces what is shown; the maker has nothing to undo."""
    assert not is_in_order(doc.project)
    assert doc.adopt_order(sawn(doc))
    assert is_in_order(doc.project)
    assert doc.plan is not None
    assert verify(doc.plan) == ()
    assert tally(doc.plan, doc.job.shop).seconds >= doc.layout.least_s > 0
    assert not doc.undo_stack.canUndo()


def test_the_other_mode_is_looked_for(doc: Document) -> None:
    """With another mode, or other limits of loose pieces, the order has to be looked for."""
    doc.adopt_order(sawn(doc))
    edit_job.edit_shop(doc, replace(doc.job.shop, sawing=SawingOrder.BY_SETUP))
    assert not is_in_order(doc.project)
    doc.adopt_order(sawn(doc))
    assert is_in_order(doc.project)
    edit_job.edit_shop(doc, replace(doc.job.shop, loose=5))
    assert not is_in_order(doc.project)


def test_a_part_moved_by_hand_asks_for_an_order(doc: Document) -> None:
    """What lies elsewhere is another job for the saw; letting a part wait is too."""
    doc.adopt_order(sawn(doc))
    one = doc.layout.sheets[0].placements[0]
    edit_layout.set_aside(doc, [one.key])
    assert not is_in_order(doc.project)
    assert doc.layout.least_s == -1


def test_an_order_of_something_else_is_not_shown(doc: Document) -> None:
    """An answer that comes after a change is dropped, and has to be asked for anew."""
    late = sawn(doc)
    one = doc.layout.sheets[0].placements[0]
    edit_layout.set_aside(doc, [one.key])
    now = doc.project
    assert not same_parts(now.layout, late.project.layout)
    assert not doc.adopt_order(late)
    assert doc.project == now


def test_nothing_is_shown_while_a_button_is_held(doc: Document) -> None:
    """Between a press and the first move the sheet under the pointer stays as it is."""
    better, before = sawn(doc), doc.project
    doc.gestures.pressed = True
    assert doc.adopt_order(better)
    assert doc.project == before
    doc.gestures.pressed = False
    assert doc.adopt_order(better)
    assert doc.project != before


def test_nothing_is_shown_during_a_gesture(doc: Document) -> None:
    """A card in the hand keeps its neighbours."""
    better = sawn(doc)
    before = doc.project
    doc.gestures.under_way = True
    assert doc.adopt_order(better)
    assert doc.project == before


def test_an_order_in_which_a_sheet_cannot_be_cut_is_not_shown(doc: Document) -> None:
    """Should the saw refuse a sheet in the new order, the old one stays."""
    before = doc.project
    broken = replace(sawn(doc), problems={"1": "Sheet 1 cannot be cut so."})
    assert doc.adopt_order(broken)
    assert doc.project == before


@pytest.mark.parametrize("mode", SawingOrder)
def test_made_cuts_stay_first_and_what_was_set_by_hand_holds(
    doc: Document, mode: SawingOrder
) -> None:
    """Whatever the order of sawing: numbers and ticks are as they were, and nothing is dropped."""
    said: list[str] = []
    doc.said.connect(said.append)
    assert doc.plan is not None
    moving = Moving(doc.project, doc.plan)
    number = next(one.number for one in doc.plan.cuts[3:] if len(moving.places(one.number)) > 1)
    to = next(one for one in moving.places(number) if one != number)
    assert move_cut(doc, number, to)
    tick(doc, [1, 2, 4])
    made, wishes = doc.plan.cuts[:4], doc.layout.before
    assert wishes
    edit_job.edit_shop(doc, replace(doc.job.shop, sawing=mode))
    assert doc.adopt_order(sawn(doc))
    assert doc.plan.cuts[:4] == made
    assert doc.progress.made == (1, 2, 4)
    assert doc.layout.before == wishes
    place = {cut.key: cut.number for cut in doc.plan.cuts}
    assert all(place[wish.first] < place[wish.then] for wish in wishes)
    assert verify(doc.plan) == ()
    assert not said


def test_a_hand_set_order_that_lost_a_cut_is_dropped_with_a_sentence(doc: Document) -> None:
    """A wish about a cut that is not there any more goes, and that is said."""
    said: list[str] = []
    doc.said.connect(said.append)
    lost = CutBefore(first="1/nobody:1", then="1/nobody:2")
    layout = replace(doc.layout, before=(lost,))
    doc.open(replace(doc.project, layout=layout), None)
    assert doc.adopt_order(sawn(doc))
    assert doc.layout.before == ()
    assert said == [
        "An order of two cuts set by hand is dropped: one of the cuts is not there any more."
    ]
    assert dropped_words(2) == (
        "2 orders of two cuts set by hand are dropped: a cut of each is not there any more."
    )
