"""Plans compared: fewer sheets, or less sawing."""

from collections import Counter
from dataclasses import replace
from itertools import pairwise, product

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from shared.asked import CutsToOrder
from shared.costs import Spent
from shared.cuts.tally import tally
from shared.job import Job
from shared.layout import sheets_of
from shared.lengths import INCH
from shared.parts import Part
from shared.plan import Plan
from shared.saw import verify
from shared.shop import CutRule
from shared.stock import Stock
from solver.budget.stop import Budget, Stop
from solver.cut_order.quickly import put_quickly
from solver.outcome import Choice, Choices, Done, EndReason, Event
from solver.planning import choices as module
from solver.planning import publisher
from solver.planning.choices import MOST, ChoicePoint, combined, few, undominated, worth_choosing
from solver.planning.trouble import RefusedPlan
from solver.run import run
from solver.wire import ANSWERS, REQUESTS, ChoicesAnswer, answer
from tests.examples import some_of
from tests.solver.some_jobs import job, part, sheet
from tests.strategies import jobs

WORK = Budget(time_s=None, work=4_000, trade=True)
LITTLE = replace(WORK, work=20)
QUICK = settings(max_examples=some_of(25), suppress_health_check=[HealthCheck.too_slow])
FOUR = 4 * INCH
SLOW_S = 600


def squares(**prices: int) -> Job:
    """The squares of test_front, in units of 4 in, of each material at a price.

    A cut or a set-up takes ten minutes, so that a cut less is worth a look.
    """
    rows = [row for material, price in prices.items() for row in _squares(material, price)]
    what = replace(job(*rows, kerf=0), rule=CutRule(levels=2))
    return replace(what, shop=replace(what.shop, cut_s=SLOW_S, setup_s=SLOW_S))


def _squares(material: str, price: int) -> tuple[Part | Stock, ...]:
    return (
        part(f"large {material}", 4 * FOUR, 4 * FOUR, 4, material=material),
        part(f"small {material}", 3 * FOUR, 3 * FOUR, 2, material=material),
        sheet(f"sheet {material}", 12 * FOUR, 8 * FOUR, price=price, material=material),
    )


def chosen(what: Job, limits: Budget = WORK) -> tuple[Plan, tuple[Choice, ...], list[Event]]:
    """Plan a job; return the plan, the last choices told, and all that was told."""
    told: list[Event] = []
    plan = run(what, limits, told.append)
    assert plan is not None
    last = [event for event in told if isinstance(event, Choices)][-1]
    return plan, last.choices, told


def distinct(choice: Choice) -> int:
    """Count the distinct set-ups of a choice."""
    return len({cut.setup for cut in choice.plan.cuts})


def figures(choices: tuple[Choice, ...]) -> list[tuple[int, int, int, int]]:
    """Return sheets, price, cuts and set-ups of each."""
    return [(one.sheets, one.price, one.cuts, distinct(one)) for one in choices]


def test_a_sheet_more_saves_a_cut_in_a_whole_plan() -> None:
    """8 cuts on one sheet or 7 on two, as derived in test_front, each at its price."""
    plan, choices, _ = chosen(squares(oak=2_000))
    assert figures(choices) == [(1, 2_000, 8, 4), (2, 4_000, 7, 4)]
    assert choices[0].plan == plan


def test_two_materials_offer_their_combinations() -> None:
    """Both materials on one sheet each, or on two each: 2 x 8 cuts or 2 x 7, 4 set-ups shared.

    A second sheet of one of them alone saves a cut, but needs the rip of 3 beside the trim
    of 3: 15 cuts and 5 set-ups take as long as 16 and 4, so that is no choice.
    """
    what = squares(oak=2_000, ash=3_000)
    _, choices, _ = chosen(what)
    assert [(one.sheets, one.price) for one in choices] == [(2, 5_000), (4, 10_000)]
    assert [(one.cuts, distinct(one)) for one in choices] == [(16, 4), (14, 4)]


def test_nothing_is_told_of_choices_that_nobody_asked_for() -> None:
    """Benchmarks and other callers get the run they had."""
    told: list[Event] = []
    run(squares(oak=2_000), replace(LITTLE, trade=False), told.append)
    assert not [event for event in told if isinstance(event, Choices)]


def test_once_it_is_time_to_stop_no_choices_are_made() -> None:
    """The plan is there, sawn; nobody waits for its cuts to be put in order, nor for more plans."""
    stop, told = Stop(), list[Event]()

    def say(event: Event) -> None:
        told.append(event)
        stop.ask()

    plan = run(squares(oak=2_000), WORK, say, stop=stop)
    assert plan is not None
    assert verify(plan) == ()
    assert not [event for event in told if isinstance(event, Choices)]


def test_a_plan_ends_with_its_cuts_in_a_first_order() -> None:
    """It is the one that the quick search finds for its sheets."""
    what = squares(oak=2_000, ash=3_000)
    plan, _, _ = chosen(what)
    found = put_quickly(CutsToOrder(job=what, sheets=sheets_of(plan)))
    assert found.seconds == tally(plan, what.shop).seconds
    assert tuple(cut.key for cut in plan.cuts) == found.order


@QUICK
@given(jobs())
def test_every_choice_can_be_sawn_and_holds_what_the_plan_holds(what: Job) -> None:
    """At most five, the plan itself first, each dearer and with less sawing than the one before."""
    plan, choices, _ = chosen(what, LITTLE)
    assert 1 <= len(choices) <= MOST
    assert choices[0].plan == plan
    for one in choices:
        assert verify(one.plan) == ()
        assert _parts(one.plan) == _parts(plan)
        counts = tally(one.plan, what.shop)
        took = counts.cuts, counts.setup_changes, counts.seconds
        assert (one.cuts, one.setup_changes, one.seconds) == took
        assert one.price == sum(sheet.price for sheet in one.plan.sheets)
    for cheap, dear in pairwise(choices):
        assert cheap.spent.bought < dear.spent.bought
        assert cheap.seconds - dear.seconds >= max(300, cheap.seconds / 20)


def _parts(plan: Plan) -> Counter[tuple[str, int]]:
    return Counter(one.key for one in plan.placements)


def test_counted_work_gives_the_same_choices_again() -> None:
    """Seed and work decide alone."""
    what = squares(oak=2_000, ash=3_000)
    assert chosen(what)[1] == chosen(what)[1]


def test_a_job_that_is_solved_whole_is_traded_before_the_run_ends() -> None:
    """Price and sawing are proven within moments; the dearer plan is looked for all the same."""
    what = squares(oak=2_000)
    _, choices, told = chosen(what, Budget(time_s=100.0, patience_s=50.0, trade=True))
    assert [one.cuts for one in choices] == [8, 7]
    end = told[-1]
    assert isinstance(end, Done)
    assert end.reason is EndReason.PROVEN


def test_a_choice_the_saw_refuses_is_left_out(monkeypatch: pytest.MonkeyPatch) -> None:
    """Whoever hears of faults hears of it, and the others are told."""
    real = module.compose

    def refuse_dear(*what: object) -> Plan:
        plan = real(*what)
        if len(plan.sheets) > 1:
            raise RefusedPlan("no")
        return plan

    monkeypatch.setattr(module, "compose", refuse_dear)
    faults: list[Exception] = []
    told: list[Event] = []
    run(squares(oak=2_000), WORK, told.append, trouble=faults.append)
    last = [event for event in told if isinstance(event, Choices)][-1]
    assert figures(last.choices) == [(1, 2_000, 8, 4)]
    assert [str(fault) for fault in faults] == ["no"]


def test_choices_travel_to_the_window() -> None:
    """A line written and read back holds the same plans."""
    _, choices, _ = chosen(squares(oak=2_000))
    event = Choices(choices=choices, elapsed_s=1.5)
    assert ANSWERS.decode(REQUESTS.encode(answer(7, event))) == ChoicesAnswer(run=7, event=event)
    assert publisher.CHOICES_PAUSE_S >= 1.0


def points() -> st.SearchStrategy[ChoicePoint]:
    """Points of which many are equal in something."""
    few_values = st.integers(0, 9)
    return st.tuples(few_values, few_values, few_values).map(lambda row: ChoicePoint(*row))


def brute(offered: list[ChoicePoint]) -> set[tuple[int, int, int]]:
    """Compare everything with everything."""
    return {
        one[:3]
        for one in offered
        if not any(
            o.stock <= one.stock and o.seconds <= one.seconds and o[:3] != one[:3] for o in offered
        )
    }


@given(st.lists(st.lists(points(), min_size=1, max_size=6), max_size=3))
def test_combining_keeps_every_undominated_sum(fronts: list[list[ChoicePoint]]) -> None:
    """Price, sheets and seconds of one of each, against all combinations."""
    sums = [
        ChoicePoint(
            sum(p.price for p in row), sum(p.sheets for p in row), sum(p.seconds for p in row)
        )
        for row in product(*fronts)
    ]
    assert {point[:3] for point in combined(fronts)} == brute(sums)


@given(st.lists(points(), min_size=1, max_size=40), st.integers(2, 6))
def test_few_keep_the_ends_and_the_largest_steps(offered: list[ChoicePoint], most: int) -> None:
    """Never more than allowed; what is left out saves no more than any kept inner step."""
    front = undominated(offered)
    kept = few(front, most)
    assert len(kept) == min(most, len(front))
    assert (kept[0], kept[-1]) == (front[0], front[-1])
    assert set(kept) <= set(front)
    before = dict(zip(front[1:], front, strict=False))
    inner = [one.seconds - other.seconds for one, other in pairwise(kept[:-1])]
    gone = [before[point].seconds - point.seconds for point in front if point not in kept]
    assert all(saved <= min(inner, default=saved) for saved in gone)


def _choice(price: int, minutes: int, sheets: int = 1) -> Choice:
    spent = Spent(money=price)
    took = 60 * minutes
    return Choice(
        plan=Plan(), price=price, spent=spent, sheets=sheets, seconds=took, cuts=1, setup_changes=1
    )


def test_a_combination_that_saves_nothing_as_a_plan_is_dropped() -> None:
    """Set-ups shared between materials can make a dearer combination no better than a cheap one."""
    cheap, same, less = _choice(100, 60), _choice(200, 60), _choice(300, 50)
    assert list(worth_choosing([less, same, cheap])) == [cheap, less]


def test_less_sawing_at_the_same_price_is_no_dearer_choice() -> None:
    """It saves half an hour, but on one sheet more of the same price in all."""
    plan, also = _choice(8_900, 90), _choice(8_900, 60, sheets=2)
    assert list(worth_choosing([plan, also])) == [plan]


@pytest.mark.parametrize(
    ("before", "after", "offered"),
    [(60, 58, False), (60, 55, True), (60, 56, False), (200, 194, False), (200, 190, True)],
)
def test_a_dearer_choice_saves_five_minutes_and_a_twentieth(
    before: int, after: int, offered: bool
) -> None:
    """Less than that is not worth another sheet, nor told apart by an estimate of minutes."""
    plan, dearer = _choice(8_900, before), _choice(9_900, after)
    assert list(worth_choosing([plan, dearer])) == ([plan, dearer] if offered else [plan])
