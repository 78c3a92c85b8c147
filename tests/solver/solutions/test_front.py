"""What is kept of solutions that trade stock for sawing."""

from itertools import islice
from random import Random

import pytest
from hypothesis import given
from hypothesis import strategies as st

from solver.budget.effort import Effort, Notes
from solver.budget.phase import Phase
from solver.budget.stop import Stop
from solver.limits.measure import Cost, cost, problems
from solver.material.instance import Instance, Solution
from solver.planning.steps import KERNEL, take_step
from solver.planning.worker import TaskWorker
from solver.planning.worker_pool import _Known
from solver.planning.worker_wire import MESSAGES, Message, News, Task
from solver.search.constructive import first, passes
from solver.solutions.incumbent import Incumbent, UnsoundSolution
from solver.solutions.pareto_front import ParetoFront
from tests.solver.some_instances import anything, plain

SQUARES = plain([(4, 4, 4), (3, 3, 2)], (12, 8), levels=2)
"""Four squares of 4 and two of 3 from sheets of 12 by 8, two levels deep, without kerf.

On one sheet the four need two strips of 4, for a strip holds three of them; so both smaller
ones are trimmed, and 24 - 4 x 4 - 2 x 3 = 2 are left of the strips' length: 3 pieces of
waste, and cuts are parts - sheets + waste = 6 - 1 + 3 = 8. On two sheets the small ones get a
strip of 3: its end, the rest of that sheet and the rest of the other are waste, 6 - 2 + 3 = 7.
Set-ups are 4 either way: rips of 4, crosscuts of 4 and 3, and trims, or else rips, of 3.
"""


def costs() -> st.SearchStrategy[Cost]:
    """Costs of which many are equal in something."""
    few = st.integers(0, 6)
    return st.builds(
        Cost,
        unplaced=st.sampled_from((0, 0, 0, 5)),
        price=few,
        sheets=few,
        seconds=few,
        spare=few.map(int.__neg__),
        cuts=st.just(0),
        setups=st.just(0),
        skims=st.just(0),
    )


def undominated(offered: list[Cost]) -> set[Cost]:
    """Compare everything with everything."""
    complete = [one for one in offered if not one.unplaced]

    def is_worse(one: Cost, other: Cost) -> bool:
        mine, its = (one.price, one.sheets), (other.price, other.sheets)
        no_better = its <= mine and other.seconds <= one.seconds
        equal = its == mine and other.seconds == one.seconds
        return other.spare < one.spare if equal else no_better

    return {one for one in complete if not any(is_worse(one, other) for other in complete)}


@given(st.lists(costs(), max_size=30))
def test_the_front_keeps_exactly_what_nothing_beats(offered: list[Cost]) -> None:
    """In any order of offers; of equal stock and sawing the largest remainder stays, once."""
    front = ParetoFront()
    for number, one in enumerate(offered):
        front.take(one, Solution((), (number,)))
    kept = [candidate.cost for candidate in front.candidates]
    assert set(kept) == undominated(offered)
    assert len(set(kept)) == len(kept)
    assert [c.stock for c in front.candidates] == sorted(c.stock for c in front.candidates)


def test_a_dearer_solution_with_less_sawing_is_kept_beside_the_best() -> None:
    """The best stays the best, and the front holds both; listeners of the best hear nothing."""
    incumbent = traded(SQUARES)
    told: list[Incumbent] = []
    fresh = Incumbent(SQUARES, incumbent.solution)
    fresh.listen(told.append)
    assert not fresh.offer(incumbent.front.candidates[-1].solution)
    assert fresh.solution is incumbent.solution
    assert len(fresh.front.candidates) == 2
    assert not told


def test_an_unsound_dearer_solution_is_refused_too() -> None:
    """A solution that saves sawing by leaving out a block without saying so is none."""
    incumbent = traded(SQUARES)
    good = incumbent.front.candidates[-1].solution
    strip = good.sheets[0].strips[0]
    short = strip._replace(blocks=strip.blocks[:1])
    bad = Solution((good.sheets[0]._replace(strips=(short,)), *good.sheets[1:]), good.left)
    fresh = Incumbent(SQUARES, incumbent.solution)
    with pytest.raises(UnsoundSolution):
        fresh.offer(bad)


def traded(instance: Instance, work: int = 20_000) -> Incumbent:
    """Return the incumbent of an instance after a little of every search that saves sawing."""
    KERNEL.wait()
    incumbent = Incumbent(instance, first(instance))
    for phase in (Phase.SQUEEZE, Phase.SAWING, Phase.TRADE):
        take_step(phase, incumbent, Stop(), Effort(60.0, 0, work))
    return incumbent


def test_a_sheet_more_saves_a_cut() -> None:
    """The example derived by hand: 8 cuts on one sheet, 7 on two, 4 set-ups either way."""
    found = [(c.cost.sheets, c.cost.cuts, c.cost.setups) for c in traded(SQUARES).front.candidates]
    assert found == [(1, 8, 4), (2, 7, 4)]


def test_nothing_dearer_is_tried_when_no_sheet_is_left() -> None:
    """With one sheet at hand there is one choice."""
    row = SQUARES.rows[0]
    only = Instance(
        material="oak",
        unit=1,
        kerf=0,
        items=SQUARES.items,
        kinds=SQUARES.kinds,
        rows=(type(row)(stock=row.stock, price=0, at_hand=1),),
        levels=2,
    )
    assert [c.cost.sheets for c in traded(only).front.candidates] == [1]


@pytest.mark.parametrize("seed", range(25))
def test_all_on_a_front_is_sound_and_costs_what_it_says(seed: int) -> None:
    """Whatever kerf, trims, prices, limits and rules an instance has."""
    instance = anything(seed)
    incumbent = traded(instance, 500)
    for solution in islice(passes(instance, Random(seed)), 10):
        incumbent.offer(solution)
    for candidate in incumbent.front.candidates:
        assert problems(instance, candidate.solution) == []
        assert cost(instance, candidate.solution) == candidate.cost
        assert not any(candidate.solution.left)
    if incumbent.complete:
        assert incumbent.front.candidates[0].cost == incumbent.cost


def test_what_a_mate_meets_reaches_the_front() -> None:
    """A dearer solution found in the other process travels as news and is kept here."""
    sent: list[Message] = []
    worker = TaskWorker(lambda text: sent.append(MESSAGES.decode(text)))
    KERNEL.wait()
    best = traded(SQUARES).solution
    incumbent = Incumbent(SQUARES, best)
    task = Task(
        task=1, phase=Phase.TRADE, instance=SQUARES, solution=best, bound=1, seconds=0.3, seed=0
    )
    assert not worker._do(task, Notes())
    known = _Known(incumbent)
    for news in sent:
        assert isinstance(news, News)
        known.take(incumbent, news)
    assert [c.cost.cuts for c in incumbent.front.candidates] == [8, 7]
