"""After a wrong piece: the better plan that is offered, and what the bar says the rest needs."""

import re
from collections.abc import Iterator
from dataclasses import dataclass, replace

import pytest
from PySide6.QtCore import QObject
from pytestqt.qtbot import QtBot

from layout_app.document import edit_job, edit_layout, edit_locks, edit_parts
from layout_app.document.document import Document
from layout_app.document.replan_rest import plan_the_rest
from layout_app.document.ticks import tick
from layout_app.look.asking_bar import AskingBar
from layout_app.model.cut_order import to_order, with_order
from layout_app.model.pieces_on_hand import touched
from layout_app.model.project import Project
from layout_app.model.replan import Wrong
from layout_app.model.sawing import saw
from layout_app.model.words.choice_words import offer_words, saved
from layout_app.panels.cards import Card
from layout_app.panels.ticks import all_cards
from layout_app.planner.after_replan import Aftermath, Before, need_words
from layout_app.planner.aside import Aside, Offering
from layout_app.planner.going_on import GoingOn
from layout_app.planner.live import Planning
from layout_app.planner.status_words import sawing_sentence
from shared.layout import Scope
from shared.lengths import INCH
from shared.making.record import Way
from shared.plan import Plan
from shared.practice import running_on
from shared.saw import verify
from shared.shop import RunsOn
from solver.outcome import Done, EndReason
from solver.run import Stop, put_in_order
from tests.layout_app.adopting import adopt
from tests.layout_app.at_once import AtOnce, plan_of, sawn_of
from tests.layout_app.small_job import KERF, document, part, planned, small_job


@dataclass
class Desk:
    """A document, and who plans and speaks beside it."""

    doc: Document
    planner: AtOnce
    planning: Planning
    offering: Offering
    bar: AskingBar
    aftermath: Aftermath
    owner: QObject

    def look(self) -> str:
        """Look for a better plan now; return what is offered."""
        self.offering._begin()
        return self.offering.sentence

    def plan_rest(self) -> None:
        """Plan what is free, as the window does after a step."""
        adopt(self.doc, plan_of(self.doc.project))
        self.planner.done.emit(Done(reason=EndReason.PROVEN, elapsed_s=0.0, statistics=()))


@pytest.fixture
def desk(qtbot: QtBot) -> Iterator[Desk]:
    """Return the small job: sheet 1 planned, a shelf laid by hand on sheet 2."""
    doc, planner, owner, bar = document(), AtOnce(), QObject(), AskingBar()
    qtbot.addWidget(bar)
    doc.leaving.connect(bar.leave)
    planning = Planning(doc, planner, owner)
    planning.start = lambda *_: None
    aside = Aside(doc, planning, planner, owner)
    made = Desk(
        doc,
        planner,
        planning,
        Offering(doc, planning, aside, owner),
        bar,
        Aftermath(doc, planner, bar, owner),
        owner,
    )
    edit_layout.add_sheet(doc, "full")
    edit_layout.move_part(doc, "shelf", 3, "2", 10 * INCH, 10 * INCH)
    yield made
    doc.undo_stack.clear()


def spoil(desk: Desk) -> None:
    """Rip strip 1a, and have it ruined; the rest is planned around sheet 2, kept as it lies."""
    tick(desk.doc, [1])
    assert plan_the_rest(desk.doc, {"1a": Wrong()})
    desk.plan_rest()
    assert any(sheet.id == "2" and sheet.yours for sheet in desk.doc.layout.sheets)


def test_the_offer_replans_an_uncut_sheet_laid_by_hand_and_says_what_it_saves(desk: Desk) -> None:
    """Strip 1a ruined, its two sides lack room beside sheet 2 alone: one sheet of 52.00 less."""
    spoil(desk)
    now = desk.doc.plan
    assert now is not None
    sentence = desk.look()
    offered = desk.offering._offered
    assert offered is not None
    assert offered.plan is not None
    assert verify(offered.plan) == ()
    sheets = [sum(not one.piece for one in plan.sheets) for plan in (now, offered.plan)]
    assert sheets[0] - sheets[1] == 1
    assert sentence.startswith("Better plan: saves 52.00, 1 sheet")
    assert sentence.endswith("; replans sheet 2, laid out by hand")


def test_taking_the_offer_is_one_step_and_ticks_stay(desk: Desk) -> None:
    """A cut ticked after the mistake is the same cut in the plan that is taken; undo is exact."""
    doc = desk.doc
    edit_layout.add_sheet(doc, "full")
    edit_layout.move_part(doc, "shelf", 2, "3", 10 * INCH, 10 * INCH)
    spoil(desk)
    assert doc.plan is not None
    tick(doc, [next(cut.number for cut in doc.plan.cuts if cut.sheet not in {"2", "3"})])
    ticked, before = doc.progress.ticked, doc.project
    assert desk.look()
    steps = doc.undo_stack.count()
    assert desk.offering.take()
    assert doc.undo_stack.count() == steps + 1
    assert doc.progress.ticked == ticked
    assert not any(sheet.yours for sheet in doc.layout.sheets)
    assert desk.offering.sentence == ""
    doc.undo()
    assert doc.project == before


@pytest.mark.parametrize("in_order", [False, True])
def test_minutes_that_an_offer_saves_go_from_the_status_line(desk: Desk, in_order: bool) -> None:
    """Both plans are told by their orders, whether what is shown was put in order or not."""
    doc = desk.doc
    slow = replace(doc.job.shop, setup_s=90, measure_s=40, lift_s=200, turn_s=75)
    edit_job.edit_shop(doc, slow)
    edit_layout.add_sheet(doc, "full")
    edit_layout.move_part(doc, "shelf", 2, "3", 10 * INCH, 10 * INCH)
    if in_order:
        *_, best = put_in_order(to_order(doc.project), Stop())
        assert doc.adopt_order(saw(with_order(doc.project, best)))
    sentence, before = desk.look(), sawing_sentence(doc.takes)
    saves, takes = (
        re.search(rf"{word} [^;]*?about (\d+) min", sentence) for word in ("saves", "takes")
    )
    by = int(saves[1]) if saves else -int(takes[1]) if takes else 0
    assert desk.offering.take()
    was, now = (int(re.findall(r"\d+", said)[0]) for said in (before, sawing_sentence(doc.takes)))
    assert was - now == by != 0


def test_ticked_cuts_alone_do_not_keep_an_offer_away(desk: Desk) -> None:
    """With a cut of sheet 1 ticked the shelf on sheet 2 still can come back to sheet 3's room."""
    doc = desk.doc
    edit_layout.add_sheet(doc, "full")
    edit_layout.move_part(doc, "shelf", 2, "3", 0, 0)
    tick(doc, [1])
    assert desk.look().startswith("Better plan: saves 52.00, 1 sheet")
    assert [sheet.id for sheet in desk.planner.aside[-1].layout.sheets if sheet.yours] == ["1"]


def test_a_locked_sheet_stays(desk: Desk) -> None:
    """Locked, sheet 2 takes no part: nothing is asked of the planner, nothing offered."""
    assert edit_locks.hold(desk.doc, Scope.SHEET, [("shelf", 3)])
    edit_locks.hold(desk.doc, Scope.SHEET, [("side", 1)])
    spoil(desk)
    desk.look()
    assert all(
        any(sheet.id == "2" and sheet.yours for sheet in one.layout.sheets)
        for one in desk.planner.aside
    )
    assert desk.offering.sentence == ""


def test_an_offer_says_only_what_differs() -> None:
    """Two sheets of 52.00 against one, and the same plan with itself."""
    doc = document()
    assert doc.plan is not None
    one = doc.plan
    edit_layout.add_sheet(doc, "full")
    edit_layout.move_part(doc, "shelf", 3, "2", 0, 0)
    two = doc.plan
    assert two is not None
    words = saved(doc.job, one, two)
    assert words.startswith("saves 52.00, 1 sheet")
    assert "not" not in words
    back = saved(doc.job, two, one)
    assert back.startswith("takes 52.00, 1 sheet")
    assert "saves 52.00" not in back
    assert "0 sheets" not in offer_words(doc.job, one, one, (), all_cut=True)


def bare(*sheets: tuple[str, str]) -> Plan:
    """Return a plan of sheets alone: their ids and materials."""
    [like] = planned(small_job()).sheets
    return Plan(sheets=tuple(replace(like, id=name, material=what) for name, what in sheets))


def test_more_sheets_are_counted_by_material() -> None:
    """One more of birch is one more of birch, though oak, which comes last, takes one less."""
    before = Before(bare(("1", "birch"), ("2", "oak"), ("3", "oak")))
    now = bare(("1", "birch"), ("2", "birch"), ("3", "oak"))
    assert before.more_of(now, ()) == {("birch", False): 1}


def test_the_bar_names_parts_of_the_material_that_takes_more(qtbot: QtBot) -> None:
    """Birch comes first and oak last: with a birch strip ruined, no oak part is named."""
    del qtbot
    job = small_job()
    oak = replace(job.stock[0], id="oak", name="oak sheet", material="oak", price=9000)
    panel = replace(part("panel", "Panel", (30, 20), 2), material="oak")
    job = replace(job, parts=(*job.parts, panel), stock=(*job.stock, oak))
    doc = Document(Project(job=job))
    adopt(doc, planned(job))
    tick(doc, [1])
    assert doc.plan is not None
    before = Before(doc.plan, touched(doc.project))
    assert plan_the_rest(doc, {"1": Wrong()})
    adopt(doc, plan_of(doc.project))
    words = need_words(doc.job, doc.plan, before)
    assert words.startswith(
        "This takes 1 more sheet of birch ply than was planned, to be bought, for S"
    )
    assert "Panel" not in words


def ruined(desk: Desk) -> None:
    """Have all of sheet 1 but strip 1a ruined: the bar says what is bought for it."""
    tick(desk.doc, [1])
    plan_the_rest(desk.doc, {"1": Wrong()})
    desk.plan_rest()
    assert desk.bar.sentence.startswith("This takes 1 more sheet of birch ply than was planned")
    assert not desk.bar.isHidden()


def undone(desk: Desk) -> None:
    """Take the mistake back."""
    desk.doc.undo()


def changed(desk: Desk) -> None:
    """Change the list: what the plan needs now has other reasons too."""
    edit_parts.edit_part(desk.doc, replace(desk.doc.job.part("shelf"), copies=1))


def other_project(desk: Desk) -> None:
    """Open another project."""
    desk.doc.open(document().project, None)


def better_plan(desk: Desk) -> None:
    """Take another plan, as one that is offered."""
    assert desk.look()
    assert desk.offering.take()


@pytest.mark.parametrize("change", [undone, changed, other_project, better_plan])
def test_the_bar_goes_when_it_is_not_true_any_more(desk: Desk, change: object) -> None:
    """Undone, changed, another project opened, or a better plan taken: the sentence is gone."""
    ruined(desk)
    assert callable(change)
    change(desk)
    assert desk.bar.isHidden()
    desk.plan_rest()
    assert desk.bar.isHidden()


def test_what_is_offered_is_joined_with_what_stays(desk: Desk) -> None:
    """A plan of what is given back lays every part once."""
    spoil(desk)
    sawn = sawn_of(desk.doc.project)
    assert sawn.plan is not None
    assert verify(sawn.plan) == ()


def test_a_kerf_changed_after_ticks_is_offered_for_the_rest(desk: Desk) -> None:
    """Refused under the ticked cut, it is asked about at once; the cut keeps its own kerf."""
    doc = desk.doc
    going_on = GoingOn(doc, desk.planning, desk.planner, desk.bar, desk.owner)
    tick(doc, [1])
    ticked = doc.progress.ticked
    assert not edit_job.edit_shop(doc, replace(doc.job.shop, kerf=INCH // 10))
    assert desk.bar.sentence.startswith("Cut 1 is ticked as made with a kerf of 1/8 in.")
    desk.bar.answers[0].click()
    assert doc.job.shop.kerf == INCH // 10
    assert doc.progress.past[0].cuts == ticked
    assert ticked[0].kerf == KERF
    desk.plan_rest()
    assert doc.plan is not None
    assert verify(doc.plan) == ()
    assert {cut.kerf for cut in doc.plan.cuts} == {INCH // 10}
    assert going_on.parent() is desk.owner


def _led(card: Card) -> tuple[str, ...]:
    told = card.told
    return told.led, told.reach, told.bed, told.set_line, told.square, told.enter


def test_another_saw_after_ticks_is_offered_for_the_rest(desk: Desk) -> None:
    """Cuts made along a rail stay told so, whatever the rest is sawn with; undone, so is it all."""
    doc = desk.doc
    asking = GoingOn(doc, desk.planning, desk.planner, desk.bar, desk.owner)
    tick(doc, [1, 2])
    before = [_led(card) for card in all_cards(doc)[:2]]
    assert {card.record.way for card in all_cards(doc)} == {Way.RAIL}
    other = running_on(doc.job.shop, RunsOn.STRAIGHTEDGE, doc.job.style.unit)
    assert not edit_job.edit_shop(doc, other)
    assert doc.job.shop.runs_on is RunsOn.RAIL
    assert desk.bar.sentence.startswith("Cut 2 is ticked as made with the saw along a rail.")
    desk.bar.answers[0].click()
    assert doc.job.shop == other
    desk.plan_rest()
    assert [_led(card) for card in all_cards(doc)[:2]] == before
    made = all_cards(doc)[:2]
    assert "on the stack" in " ".join(one.told.makes + one.told.left for one in made)
    assert not any("cut 0" in one.told.makes + one.told.left for one in made)
    assert {card.record.way for card in all_cards(doc)[2:]} == {Way.STRAIGHTEDGE}
    doc.undo_stack.undo()
    assert doc.job.shop.runs_on is RunsOn.RAIL
    assert asking.parent() is desk.owner


def test_what_no_longer_fits_a_begun_sheet_is_offered_for_replanning(desk: Desk) -> None:
    """Sides longer by 10 leave the begun sheet: it is asked at once whether to replan the rest."""
    doc = desk.doc
    asking = GoingOn(doc, desk.planning, desk.planner, desk.bar, desk.owner)
    tick(doc, [1])
    edit_parts.edit_part(doc, replace(doc.job.part("side"), length=50 * INCH))
    assert "no longer fit" in desk.bar.sentence
    desk.bar.answers[0].click()
    assert {row.piece for row in doc.job.stock if row.is_piece} == {"1", "1a"}
    assert desk.bar.isHidden()
    doc.undo()
    assert doc.progress.made == (1,)
    assert asking.parent() is desk.owner


def test_a_question_about_a_change_goes_with_it(desk: Desk) -> None:
    """Undone, the longer sides ask nothing more."""
    doc = desk.doc
    asking = GoingOn(doc, desk.planning, desk.planner, desk.bar, desk.owner)
    tick(doc, [1])
    edit_parts.edit_part(doc, replace(doc.job.part("side"), length=50 * INCH))
    assert not desk.bar.isHidden()
    doc.undo()
    assert desk.bar.isHidden()
    assert asking.parent() is desk.owner
