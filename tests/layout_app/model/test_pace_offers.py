"""Offers of the maker's own pace: from times of cuts, never by themselves, not asked twice."""

from dataclasses import replace

from pytestqt.qtbot import QtBot

from layout_app.document import edit_job
from layout_app.document.document import Document
from layout_app.document.edit import Consequence
from layout_app.document.replan_rest import plan_the_rest
from layout_app.document.ticks import tick, untick
from layout_app.model.pace_offers import MORE, PaceOffer, answered, pace_offer
from layout_app.model.words.pace_words import (
    all_made_words,
    answered_words,
    end_words,
    not_told_words,
    rests_on,
    told_words,
)
from layout_app.window.cost_after import SOON_MS, CostAfter
from shared.making.pace_from_ticks import PaceHeard, Told
from shared.making.timing import total_of
from shared.practice import USUAL_SHOP_IN
from shared.telling.recorded import recorded
from tests.layout_app.timed_job import long_document, saw_at


def offered(doc: Document) -> dict[str, int]:
    """Return what is offered, by field of the shop."""
    return {one.figure: one.rounded for one in pace_offer(doc.sawn).figures}


def test_a_slower_maker_is_offered_that(qtbot: QtBot) -> None:
    """Set-ups of 75 s and lifts of 40 s: both are offered with how many cuts they rest on."""
    del qtbot
    doc = long_document()
    saw_at(doc, setup_s=75, lift_s=40)
    offer = pace_offer(doc.sawn)
    assert offered(doc) == {"setup_s": 75, "lift_s": 40}
    assert rests_on(offer) == "Your pace, from 44 cuts timed at the saw:"
    said = told_words(offer.figures[0], doc.job.shop)
    assert said == f"a set-up about 75 s, not 60 ({offer.figures[0].count} cuts)"
    assert end_words(offer, doc.job.shop).endswith("tab Shop, under “Pace and order”.")
    assert doc.job.shop == USUAL_SHOP_IN, "nothing changes unasked"
    assert offer.taken_over(doc.job.shop, ["lift_s"]) == replace(USUAL_SHOP_IN, lift_s=40)


def test_the_shops_own_pace_is_no_offer(qtbot: QtBot) -> None:
    """Whoever works as the shop says is asked nothing; nor is who has ticked nothing."""
    del qtbot
    doc = long_document()
    assert offered(doc) == {}
    saw_at(doc)
    assert offered(doc) == {}
    assert end_words(pace_offer(doc.sawn), doc.job.shop) == ""


def test_what_was_declined_waits_for_eight_more_cuts(qtbot: QtBot) -> None:
    """Declined after so many times of cuts, it comes back with the eighth after that."""
    del qtbot
    doc = long_document()
    saw_at(doc, up_to=34, setup_s=90)
    assert offered(doc) == {"setup_s": 90}
    doc.set_progress(answered(doc.progress, {}, ["setup_s"]))
    for more in range(1, MORE + 1):
        assert offered(doc) == {}
        saw_at(doc, up_to=34 + more, setup_s=90)
    assert offered(doc) == {"setup_s": 90}


def test_after_taking_over_other_figures_wait_too(qtbot: QtBot) -> None:
    """One is taken over; another that differs since waits for eight more; undone, one is back."""
    del qtbot
    doc = long_document()
    saw_at(doc, up_to=38, setup_s=90)
    shop = replace(doc.job.shop, setup_s=90)
    doc.set_progress(answered(doc.progress, {"setup_s": 90}, []))
    edit_job.edit_shop(doc, shop, "take over the pace")
    doc.undo()
    assert offered(doc) == {"setup_s": 90}
    doc.redo()
    assert offered(doc) == {}
    slower = replace(doc.job.shop, cut_s=200)
    edit_job.edit_shop(doc, slower)
    assert pace_offer(doc.sawn).heard.other_than(slower), "a cut is told as 45 s"
    assert offered(doc) == {}
    saw_at(doc, up_to=45, setup_s=90, cut_s=45)
    assert offered(doc) == {}
    saw_at(doc, up_to=46, setup_s=90, cut_s=45)
    assert offered(doc) == {"cut_s": 45}


def test_whichever_figures_the_shop_has_taking_over_leaves_nothing(qtbot: QtBot) -> None:
    """Taken over and asked again without another cut: nothing, though no answer is noted."""
    del qtbot
    doc = long_document()
    saw_at(doc, setup_s=90, cut_s=5, metre_s=0)
    first = pace_offer(doc.sawn)
    assert offered(doc) == {"cut_s": 5, "setup_s": 90}
    edit_job.edit_shop(doc, first.taken_over(doc.job.shop, offered(doc)))
    assert offered(doc) == {}
    assert pace_offer(doc.sawn).heard == first.heard


def test_all_cuts_are_accounted_for() -> None:
    """36 cuts made: what the newcomer could not add up; kinds that wait; one line a figure."""
    cut = Told(figure="cut_s", seconds=4.8, count=19, noise=1, alone=True)
    waits = (("measure_s", 5), ("setup_s", 7), ("turn_s", 2), ("lift_s", 9))
    heard = PaceHeard(told=(cut,), count=32, pauses=1, quick=1, waiting=waits)
    offer = PaceOffer(heard=heard, figures=(cut,), made=36, firsts=1, timed=34)
    said = rests_on(offer)
    assert said == (
        "Your pace, from 32 cuts timed at the saw (1 long pause and 1 cut ticked with another left"
        " out):"
    )
    words = told_words(cut, USUAL_SHOP_IN)
    assert words == "a cut about 5 s, not 45 (19 cuts with nothing else)"
    assert all_made_words(offer) == (
        "36 cuts made, 32 count; 1 without a time, as no cut was ticked right before in the walk;"
        " 1 first on a sheet, which is checked before; 1 with a long pause; 1 ticked with others."
    )
    assert not_told_words(offer) == (
        "Set-ups: 7 cuts so far, 8 are needed; first pieces 5; turns 2."
        " Not yet apart from other work: lifts."
    )
    assert not_told_words(PaceOffer()) == ""
    assert answered_words(offer, []) == "Not taken: offered again after eight more cuts."
    assert answered_words(offer, ["cut_s"]) == "Pace taken over; Ctrl+Z takes it back."


def test_past_cuts_speak_on_when_the_rest_is_planned_anew(qtbot: QtBot) -> None:
    """What was sawn keeps its times and the shop it was made with."""
    del qtbot
    doc = long_document()
    saw_at(doc, up_to=40, setup_s=90)
    before = pace_offer(doc.sawn).heard.count
    assert plan_the_rest(doc, {})
    assert doc.progress.made == ()
    assert pace_offer(doc.sawn).heard.count == before
    assert offered(doc) == {"setup_s": 90}


def test_a_pace_taken_over_changes_minutes_and_no_cut(qtbot: QtBot) -> None:
    """With cuts ticked: no planning, no sentence, the same cuts and records; undo brings it back.

    The minutes are those of all records by the new pace.
    """
    del qtbot
    doc = long_document()
    saw_at(doc, up_to=40, setup_s=90)
    heard: list[object] = []
    doc.edited.connect(heard.append)
    doc.said.connect(heard.append)
    sawn, takes = doc.sawn, doc.takes
    assert sawn.plan is not None
    assert takes is not None
    before = recorded((sawn.plan,), doc.job.shop).records
    shop = pace_offer(sawn).taken_over(doc.job.shop, ["setup_s"])
    assert edit_job.edit_shop(doc, shop, "take over the pace")
    assert heard == [Consequence.PLAN_ON]
    assert doc.plan is not None
    assert doc.takes is not None
    assert doc.plan.cuts == sawn.plan.cuts
    assert recorded((doc.plan,), shop).records == before
    assert doc.layout.sheets == sawn.project.layout.sheets
    assert doc.progress == sawn.project.progress
    assert doc.project.proof.bound == sawn.project.proof.bound
    assert doc.takes.seconds == total_of(before, shop).total > takes.seconds
    assert offered(doc) == {}
    doc.undo()
    assert doc.sawn.plan == sawn.plan
    assert offered(doc) == {"setup_s": 90}


def test_another_pace_is_no_cost_of_a_step(qtbot: QtBot) -> None:
    """Minutes differ because seconds do: nothing is said to have cost or saved any."""
    doc, said = long_document(), list[str]()
    saw_at(doc, up_to=40, setup_s=90)
    doc.said.connect(said.append)
    after = CostAfter(doc, doc)
    edit_job.edit_shop(doc, replace(doc.job.shop, setup_s=90))
    qtbot.wait(SOON_MS + 20)
    assert said == []
    after.forget()


def test_without_ticks_a_pace_is_planned_with(qtbot: QtBot) -> None:
    """The layout weighs the pace: nothing is made yet, so it is planned anew."""
    del qtbot
    doc = long_document()
    heard: list[object] = []
    doc.edited.connect(heard.append)
    edit_job.edit_shop(doc, replace(doc.job.shop, setup_s=90))
    tick(doc, [1])
    untick(doc, [1])
    edit_job.edit_shop(doc, replace(doc.job.shop, setup_s=120))
    assert [one for one in heard if one is Consequence.PLAN_ANEW] == [Consequence.PLAN_ANEW] * 2
