"""Choosing among known strips."""

from dataclasses import replace
from pathlib import Path

import pytest
from hypothesis import given, settings

from solver.budget.stop import Stop
from solver.limits.measure import goal_value, price, problems
from solver.material.instance import Block, Instance, Laid, Lying, Solution, StockRow, Strip
from solver.proof.column_generation import ColumnGeneration
from solver.proof.pool import StripProgram, add_strips, choose, without_surplus
from solver.proof.pricing import Stopped
from solver.proof.stoppable import Reach
from solver.proof.strip_pool import StripPool
from solver.search.constructive import first
from tests.benchmarks import neutral
from tests.examples import some_of
from tests.solver.some_instances import of_job, plain
from tests.solver.tiny_instances import tiny

WORK = Reach(work=2.0)
FOLDER = Path(neutral.__file__).parent / "literature"


def run(instance: Instance, costs: tuple[int, ...]) -> tuple[StripPool, int]:
    """Return pool and bound of column generation."""
    generation = ColumnGeneration(instance, costs)
    bound = generation.run(Stop(), lambda: None, lambda bound: None)
    return generation.pool, bound


@pytest.mark.parametrize(
    ("name", "variant"),
    [
        ("A-01", "oriented"),
        ("A-01", "turning"),
        ("gcut1", "oriented"),
        ("cl_05_020_05", "oriented"),
    ],
)
def test_published_sheet_counts_are_reached(name: str, variant: str) -> None:
    """On small instances the strips of column generation suffice for the fewest sheets."""
    path = FOLDER / f"{name}.json"
    instance = of_job(next(b.job for b in neutral.load(path) if b.variant == variant))
    fewest = neutral.targets(path)[variant]
    pool, bound = run(instance, (1,))
    assert bound == fewest
    found = choose(
        instance, pool, max_sheets=fewest, most_price=fewest, costs=(1,), reach=WORK, stop=Stop()
    )
    assert found is not None
    assert problems(instance, found) == []
    assert not any(found.left)
    assert goal_value(instance, found) == fewest


@given(instance=tiny(8))
@settings(max_examples=some_of(50), deadline=None)
def test_what_is_chosen_is_sound_and_no_worse_than_the_hint(instance: Instance) -> None:
    """Whatever prices and stock: never below the bound, never above the plan it began with."""
    costs = tuple(row.price for row in instance.rows)
    pool, bound = run(instance, costs)
    start = first(instance)
    hint = None if any(start.left) else start
    found = choose(instance, pool, max_sheets=8, costs=costs, hint=hint, reach=WORK, stop=Stop())
    if found is not None:
        assert problems(instance, found) == []
        assert not any(found.left)
        assert bound <= price(instance, found)
    if hint is not None:
        assert found is not None
        assert price(instance, found) <= price(instance, hint)


def test_nothing_is_found_where_nothing_can_be() -> None:
    """Two parts that fill a sheet each are on no single sheet, and no empty pool holds any."""
    instance = plain([(10, 10, 2)], (10, 10))
    pool, _ = run(instance, (1,))
    for strips, sheets in ((pool, 1), (StripPool(instance), 2)):
        assert choose(instance, strips, max_sheets=sheets, reach=WORK, stop=Stop()) is None


def test_the_cheaper_row_is_chosen_while_it_lasts() -> None:
    """Of three parts, one to a sheet, two lie on the cheap sheets at hand: 2 × 5 + 9."""
    instance = plain([(10, 10, 3)], (10, 10))
    (kind,) = instance.kinds
    rows = (
        StockRow(stock="dear", price=9, at_hand=None),
        StockRow(stock="cheap", price=5, at_hand=2),
    )
    two = replace(instance, kinds=(kind, replace(kind, row=1)), rows=rows)
    pool, bound = run(two, (9, 5))
    found = choose(two, pool, max_sheets=3, reach=WORK, stop=Stop())
    assert found is not None
    assert price(two, found) == 19 >= bound


def laid(*strips: tuple[int, list[list[int]]]) -> Laid:
    """Make a sheet of strips: width, and the items of each block, all 10 long."""
    made = (
        Strip(width, tuple(Block(10, tuple(Lying(i, False) for i in stack)) for stack in stacks))
        for width, stacks in strips
    )
    return Laid(0, tuple(made))


def test_surplus_copies_go_and_pieces_shrink() -> None:
    """Of item 0 there is one copy, so the second strip loses a block and shrinks to item 1."""
    instance = plain([(10, 5, 1), (10, 3, 2)], (20, 20))
    sheets = [laid((5, [[0], [1]]), (5, [[0], [1]]))]
    found = without_surplus(instance, sheets)
    assert found == Solution((laid((5, [[0], [1]]), (3, [[1]])),), (0, 0))


def test_sheets_of_surplus_only_go() -> None:
    """A second sheet with the only copy of an item is none."""
    instance = plain([(10, 5, 1)], (20, 20))
    assert without_surplus(instance, [laid((5, [[0]]))] * 2) == Solution((laid((5, [[0]])),), (0,))


def test_strips_of_a_plan_enter_the_pool() -> None:
    """A pool of the strips of the first plan holds at least that plan."""
    instance = plain([(37, 23, 4), (51, 17, 3), (29, 41, 3)], (100, 60))
    start = first(instance)
    pool = StripPool(instance)
    add_strips(instance, pool, start)
    found = choose(
        instance, pool, max_sheets=len(start.sheets), costs=(1,), reach=WORK, stop=Stop()
    )
    assert found is not None
    assert len(found.sheets) <= len(start.sheets)


def test_a_stop_is_heard_while_the_program_is_built() -> None:
    """Of many looks at the stop while it is built, the first that says so ends it."""
    instance = plain([(10, 5, 9), (10, 3, 9), (4, 2, 9)], (20, 20))
    pool, _ = run(instance, (1,))
    looks: list[int] = []

    def third() -> bool:
        looks.append(1)
        return len(looks) == 3

    with pytest.raises(Stopped):
        StripProgram(instance, pool, (1,), 5, Stop().when(third))
    assert len(looks) == 3
    asked = Stop()
    asked.ask()
    assert choose(instance, pool, max_sheets=5, reach=WORK, stop=asked) is None
