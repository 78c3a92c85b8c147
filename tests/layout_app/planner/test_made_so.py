"""What is made was made: a shop changed after ticks asks before it tells made cuts another way."""

from collections.abc import Callable
from dataclasses import dataclass, replace

import pytest
from PySide6.QtCore import QObject
from pytestqt.qtbot import QtBot

from layout_app.document import edit_job
from layout_app.document.document import Document
from layout_app.document.ticks import tick, untick
from layout_app.look.asking_bar import AskingBar
from layout_app.model.project import Project
from layout_app.panels.ticks import all_cards
from layout_app.planner.going_on import GoingOn
from layout_app.planner.live import Planning
from shared.lengths import INCH, MM, Unit
from shared.practice import usual
from shared.shop import ABSENT, Rail, Shop, Support
from tests.layout_app.adopting import adopt
from tests.layout_app.at_once import AtOnce, plan_of
from tests.layout_app.small_job import KERF, planned, small_job

MADE = 6

Change = Callable[[Shop], Shop]

OTHERWISE: dict[str, Change] = {
    "along a rail": lambda shop: replace(shop, rails=(Rail(length=118 * INCH),)),
    "in wide": lambda shop: replace(shop, rail_width=6 * INCH),
    "set at the guide": lambda shop: replace(shop, guide=ABSENT),
    "set at the stop": lambda shop: replace(shop, stop=ABSENT),
    "laid with a square": lambda shop: replace(shop, square=0, stop=None),
    "on sawhorses": lambda shop: replace(shop, support=Support.FOAM),
}
"""What is said of a cut, and the change that would tell it another way."""

SILENT: dict[str, Change] = {
    "pace": lambda shop: replace(shop, cut_s=70, setup_s=95, lift_s=5, join_s=400, metre_s=1),
    "a rail that no made cut takes": lambda shop: replace(
        shop, rails=(*shop.rails, Rail(length=200 * INCH))
    ),
    "what is worth keeping": lambda shop: replace(shop, keep_length=10 * INCH),
    "pieces that lie about": lambda shop: replace(shop, loose=5),
}


@dataclass
class Bench:
    """A document with cuts made, and the bar that asks."""

    doc: Document
    bar: AskingBar
    said: list[str]
    owners: tuple[object, ...]

    def told(self) -> list[tuple[object, ...]]:
        """Return how the made cuts are told."""
        return [
            (one.told.bed, one.told.led, one.told.set_line, one.told.square, one.told.reach)
            for one in all_cards(self.doc)[:MADE]
        ]


@pytest.fixture
def bench(qtbot: QtBot) -> Bench:
    """Return the small job in the usual shop, with a stop and a square, and six cuts made."""
    shop = replace(usual(Unit.INCH), kerf=KERF, square=24 * INCH)
    job = replace(small_job(), shop=shop)
    doc, bar, owner, planner = Document(Project(job=job)), AskingBar(), QObject(), AtOnce()
    qtbot.addWidget(bar)
    adopt(doc, planned(job))
    planning = Planning(doc, planner, owner)
    planning.start = lambda *_: None
    asking = GoingOn(doc, planning, planner, bar, owner)
    said: list[str] = []
    doc.said.connect(said.append)
    tick(doc, range(1, MADE + 1))
    return Bench(doc, bar, said, (owner, planner, planning, asking))


def change(bench: Bench, how: Change) -> bool:
    """Change the shop."""
    return edit_job.edit_shop(bench.doc, how(bench.doc.job.shop))


def answer(bench: Bench, words: str) -> None:
    """Click the one answer that ends so."""
    (button,) = (one for one in bench.bar.answers if one.text().endswith(words))
    button.click()


def asked(bench: Bench, how: Change) -> tuple[str, ...]:
    """Change the shop; return what is asked, and what can be answered."""
    assert not change(bench, how)
    return bench.bar.sentence, *(one.text() for one in bench.bar.answers)


def test_the_question_names_what_was_and_what_would_be(bench: Bench) -> None:
    """Both widths of the rail stand there, and each answer says what it does."""
    assert asked(bench, lambda shop: replace(shop, rail_width=9 * INCH)) == (
        "Cut 1 is ticked as made along a rail 7 1/8 in wide. Was the rail 9 in wide all along, or"
        " only from here on?",
        "9 in all along",
        "9 in from here on: replan the rest",
        "Keep 7 1/8 in",
    )
    assert asked(bench, lambda shop: replace(shop, support=Support.GRID))[1:] == (
        "A slatted grid all along",
        "A slatted grid from here on: replan the rest",
        "Keep sawhorses",
    )
    more = asked(bench, lambda shop: replace(shop, rail_width=9 * INCH, square=0, stop=None))
    assert "3 figures of the shop would change" in more[0]
    assert more[1:] == (
        "The new shop all along",
        "The new shop from here on: replan the rest",
        "Keep the shop as it was",
    )


def test_rails_too_short_for_the_rest_are_asked_about_in_one_sentence(bench: Bench) -> None:
    """What they would not reach is named with both lengths; no row is said to have an error."""
    short = Rail(length=50 * INCH)
    said, *_ = asked(bench, lambda shop: replace(shop, rails=(short,)))
    assert said == (
        "Cut 1 is ticked, and no whole sheet of birch ply could be cut: neither a rip of 96 in nor"
        " a crosscut of 48 in is within the reach of the rails, 40 in. Replan the rest from the"
        " pieces on hand, without what no rail reaches?"
    )
    untick(bench.doc, range(2, MADE + 1))
    before = bench.doc.project
    said, *answers = asked(bench, lambda shop: replace(shop, rails=(short,)))
    assert said == (
        "Cut 1 is ticked, and no rail would reach 2 of the cuts ahead, the longest 96 in (cut 2):"
        " the reach would be 40 in. Replan the rest from the pieces on hand, without what no rail"
        " reaches?"
    )
    assert bench.doc.plan is not None
    ahead = bench.doc.plan.cuts[1:]
    assert [cut.number for cut in ahead if max(cut.length, cut.width) > 40 * INCH] == [2, 3]
    assert answers == ["50 in from here on: replan the rest", "Keep 55 1/8 in and 106 5/16 in"]
    assert not bench.said
    bench.bar.answers[-1].click()
    assert bench.bar.isHidden()
    assert (bench.said, bench.doc.project) == ([], before)


@pytest.mark.parametrize("how", OTHERWISE.values(), ids=list(OTHERWISE))
def test_a_shop_that_tells_made_cuts_another_way_is_asked_about(bench: Bench, how: Change) -> None:
    """Nothing changes, and the bar alone asks, in one sentence that says how a cut was made."""
    before, told = bench.doc.project, bench.told()
    assert not change(bench, how)
    assert bench.doc.project == before
    assert bench.told() == told
    (words,) = (one for one, other in OTHERWISE.items() if other is how)
    made, *_, question = bench.bar.sentence.split(". ")
    assert " is ticked as made " in made
    assert words in made
    assert question.endswith("all along, or only from here on?")
    assert not bench.said


@pytest.mark.parametrize("how", OTHERWISE.values(), ids=list(OTHERWISE))
def test_the_rest_is_planned_with_the_changed_shop(bench: Bench, how: Change) -> None:
    """Made cuts are told as they were, those ahead by the shop of now; undo restores all of it."""
    before, told = bench.doc.project, bench.told()
    change(bench, how)
    answer(bench, "from here on: replan the rest")
    doc = bench.doc
    assert doc.job.shop == how(before.job.shop)
    adopt(doc, plan_of(doc.project))
    assert bench.told() == told
    assert doc.progress.past[0].shop == before.job.shop
    assert doc.plan is not None
    assert doc.plan.first == MADE + 1
    assert doc.plan.shop == doc.job.shop
    doc.undo()
    assert doc.project.job == before.job
    assert doc.progress == before.progress
    assert bench.told() == told


def test_a_shop_that_was_typed_wrong_is_mended(bench: Bench) -> None:
    """Where cuts were made as the changed shop says, they are told so; undo takes it back."""
    told = bench.told()
    change(bench, OTHERWISE["on sawhorses"])
    answer(bench, "A foam sheet all along")
    assert bench.doc.job.shop.support is Support.FOAM
    assert {card.record.support for card in all_cards(bench.doc)} == {Support.FOAM}
    assert bench.doc.progress.made == tuple(range(1, MADE + 1))
    bench.doc.undo()
    assert bench.doc.job.shop.support is Support.HORSES
    assert bench.told() == told


@pytest.mark.parametrize("how", SILENT.values(), ids=list(SILENT))
def test_what_changes_no_made_cut_asks_nothing(bench: Bench, how: Change) -> None:
    """The pace is in no record; nor is a rail that nobody takes."""
    told = bench.told()
    assert change(bench, how)
    assert not bench.said
    assert bench.bar.isHidden()
    assert bench.told() == told


def test_rails_that_are_named_for_the_first_time_ask_nothing(qtbot: QtBot) -> None:
    """A shop that named no rail said nothing of them; what it says now is no other way."""
    del qtbot
    job = replace(small_job(), shop=replace(small_job().shop, rails=()))
    doc = Document(Project(job=job))
    adopt(doc, planned(job))
    tick(doc, [1])
    rails = (Rail(length=2700 * MM),)
    assert edit_job.edit_shop(doc, replace(doc.job.shop, rails=rails, rail_width=180 * MM))


def test_undo_of_a_changed_shop_would_tell_cuts_made_since_another_way(bench: Bench) -> None:
    """Said in a sentence, and nothing is undone while they are ticked."""
    doc = bench.doc
    untick(doc, range(2, MADE + 1))
    assert change(bench, lambda shop: replace(shop, rails=(*shop.rails, Rail(length=44 * INCH))))
    rails = {one.number: one.record.rail for one in all_cards(doc)}
    taken = [number for number, one in rails.items() if one and one.rail.whole == 44 * INCH]
    assert taken
    tick(doc, range(2, taken[0] + 1))
    doc.undo()
    assert Rail(length=44 * INCH) in doc.job.shop.rails
    assert f"Cut {taken[0]} was made along a rail 44 in long" in bench.said[-1]
