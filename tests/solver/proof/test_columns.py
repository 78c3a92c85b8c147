"""Column generation: true bounds, and how close they come to what is published or proven."""

from collections.abc import Callable
from itertools import product
from pathlib import Path

import pytest
from hypothesis import given, settings

from solver.budget.stop import Stop
from solver.limits.measure import problems
from solver.material.instance import Block, Instance, Laid, Solution
from solver.proof.bounds import lower_bound
from solver.proof.column_generation import BoundError, ColumnGeneration
from solver.proof.shapes import shapes_of
from tests.benchmarks import neutral
from tests.solver.brute_force import least_price
from tests.solver.some_instances import of_job, plain
from tests.solver.tiny_instances import tiny

FOLDER = Path(neutral.__file__).parent


def nothing_known() -> int | None:
    """Stand for a run that has no complete plan yet."""
    return None


def ignore(bound: int) -> None:
    """Hear a bound and do nothing."""


def proven(
    instance: Instance,
    costs: tuple[int, ...] = (1,),
    target: Callable[[], int | None] = nothing_known,
) -> int:
    """Return the bound of a full run."""
    return ColumnGeneration(instance, costs).run(Stop(), target, ignore)


def targets() -> list[tuple[str, str, int]]:
    """Return name, variant and published sheets of the literature instances."""
    return [
        (path.stem, variant, sheets)
        for path in sorted((FOLDER / "literature").glob("*.json"))
        for variant, sheets in neutral.targets(path).items()
    ]


def instance_of(folder: str, name: str, variant: str = "") -> Instance:
    """Read one benchmark."""
    found = neutral.load(FOLDER / folder / f"{name}.json")
    return of_job(next(b.job for b in found if b.variant == variant))


@pytest.mark.parametrize(("name", "variant", "sheets"), targets())
def test_bound_equals_the_published_number_of_sheets(name: str, variant: str, sheets: int) -> None:
    """On every literature instance (sources: README of the benchmarks) nothing is left open.

    The run ends when it reaches the published number, and raises if it goes above.
    """
    instance = instance_of("literature", name, variant)
    assert proven(instance, target=lambda: sheets) == sheets


SLOW = ("shop06", "shop18", "shop28", "shop29")
"""Lists that take seconds to prove; the benchmark runner shows them."""


def references() -> list[tuple[str, int]]:
    """Return name and fewest sheets that a general packing library reached."""
    lines = (FOLDER / "workshop" / "reference.csv").read_text("utf-8").splitlines()
    rows = [dict(zip(lines[0].split(","), line.split(","), strict=True)) for line in lines[1:]]
    return [(r["name"], int(r["fewest_sheets"])) for r in rows if r["name"] not in SLOW]


@pytest.mark.parametrize(("name", "sheets"), references())
def test_bound_equals_the_reference_on_workshop_lists(name: str, sheets: int) -> None:
    """On 26 of 30 lists the bound meets the reference within a fraction of a second."""
    assert proven(instance_of("workshop", name), target=lambda: sheets) == sheets


@pytest.mark.parametrize("name", ["gcut1", "gcut2", "gcut5", "gcut9"])
def test_without_a_target_the_bound_stops_at_the_published_number(name: str) -> None:
    """Nobody tells where to stop, and the program itself can prove no more."""
    (sheets,) = neutral.targets(FOLDER / "literature" / f"{name}.json").values()
    assert proven(instance_of("literature", name, "oriented")) == sheets


ROLLS = [
    (1380, 22), (1520, 25), (1560, 12), (1710, 14), (1820, 18), (1880, 18), (1930, 20),
    (2000, 10), (2050, 12), (2100, 14), (2140, 16), (2150, 18), (2200, 20),
]  # fmt: skip
"""Rolls of paper from master rolls of 5600: the worked example of the article "Cutting stock
problem" of the English Wikipedia; 73 master rolls are optimal. Figures from memory."""

FINALS = [(45, 97), (36, 610), (31, 395), (14, 211)]
"""Finals from raws of 100: V. Chvátal, Linear Programming (1983), chapter 13; the linear
program is worth 452.25, and 453 raws suffice. Figures from memory."""


@pytest.mark.parametrize(
    ("sizes", "stock", "fewest"), [(ROLLS, 5600, 73), (FINALS, 100, 453)], ids=["rolls", "finals"]
)
@pytest.mark.parametrize("levels", [2, 3])
@pytest.mark.parametrize("across", [False, True])
def test_cutting_in_one_dimension(
    sizes: list[tuple[int, int]], stock: int, fewest: int, levels: int, across: bool
) -> None:
    """Parts as wide as the sheet are sticks; so are parts as long, cut across."""
    parts = [(10, size, n) if across else (size, 10, n) for size, n in sizes]
    sheet = (10, stock) if across else (stock, 10)
    assert proven(plain(parts, sheet, levels=levels)) == fewest


def test_the_rule_matters() -> None:
    """Two pairs of halves of a strip need blocks that are parted: two sheets without.

    On a sheet of 10 × 6, a strip of 6 holds a block of 5 × 6 and two of 5 × 3 stacked. With
    two levels each part needs a block of its own, so strips of 6 and 3 do not share a sheet.
    """
    parts = [(5, 6, 1), (5, 3, 2)]
    assert proven(plain(parts, (10, 6), levels=3)) == 1
    assert proven(plain(parts, (10, 6), levels=2)) == 2


@given(instance=tiny())
@settings(max_examples=60, deadline=None)
def test_no_plan_is_cheaper_than_the_bound(instance: Instance) -> None:
    """Trying everything finds nothing below the bound, whatever prices, stock and rule."""
    for costs in (tuple(row.price for row in instance.rows), (1,) * len(instance.rows)):
        price = least_price(instance, costs)
        bound = proven(instance, costs)
        if price is not None:
            assert lower_bound(instance, costs) <= bound <= price


@given(instance=tiny(8))
@settings(max_examples=40, deadline=None)
def test_strips_of_the_pool_are_real(instance: Instance) -> None:
    """A sheet of any one of them is sound, but for the items it lacks."""
    generation = ColumnGeneration(instance, (1,) * len(instance.rows))
    generation.run(Stop(), nothing_known, ignore)
    for shape in shapes_of(instance):
        strips = generation.pool.of(shape)
        assert len(set(strips)) == len(strips)
        for kind, strip in product(shape.kinds, strips):
            left = [item.demand for item in instance.items]
            for block in strip.blocks:
                for lying in block.stack:
                    left[lying.item] -= 1
            assert problems(instance, Solution((Laid(kind, (strip,)),), tuple(left))) == []
            assert all(block.length == _longest(instance, block) for block in strip.blocks)


def _longest(instance: Instance, block: Block) -> int:
    return max(instance.size(*lying)[0] for lying in block.stack)


def test_stock_that_is_too_small_proves_nothing() -> None:
    """Nine squares of 51 and eight sheets of 100: there is no price for all of them."""
    instance = plain([(51, 51, 9)], (100, 100))
    (row,) = instance.rows
    scarce = type(row)(stock=row.stock, price=1, at_hand=8)
    limited = Instance(
        material="oak", unit=1, kerf=0, items=instance.items, kinds=instance.kinds, rows=(scarce,)
    )
    assert proven(limited) == 0
    assert proven(instance) == 9


def test_a_bound_above_a_plan_is_a_fault() -> None:
    """A plan on fewer sheets than proven cannot be: the run says so instead of going on."""
    with pytest.raises(BoundError):
        proven(instance_of("literature", "gcut1", "oriented"), target=lambda: 3)


def test_bounds_only_rise_and_end_at_the_result() -> None:
    """Each bound heard is higher than the one before."""
    heard: list[int] = []
    generation = ColumnGeneration(instance_of("literature", "gcut11", "oriented"), (1,))
    result = generation.run(Stop(), nothing_known, heard.append)
    assert heard == sorted(set(heard))
    assert heard[-1] == result == 9


def test_a_run_can_be_stopped_at_once() -> None:
    """Asked before it begins, it returns what costs milliseconds to know."""
    stop = Stop()
    stop.ask()
    instance = instance_of("literature", "gcut11", "oriented")
    bound = ColumnGeneration(instance, (1,)).run(stop, nothing_known, ignore)
    assert bound == lower_bound(instance, (1,)) == 8


def test_a_stop_is_heard_in_the_middle() -> None:
    """Asked while strips are priced, the run ends with the bound it has."""
    asked = iter([False] * 4 + [True] * 10_000)
    stop = Stop().when(lambda: next(asked))
    instance = instance_of("workshop", "shop18")
    assert ColumnGeneration(instance, (1,)).run(stop, nothing_known, ignore) == 5


def test_steps_and_seed_repeat_a_run() -> None:
    """The same number of steps finds the same bounds and the same strips."""
    instance = instance_of("workshop", "shop22")
    runs = [ColumnGeneration(instance, (1,), seed=7) for _ in range(2)]
    bounds = [run.run(Stop(), nothing_known, ignore, steps=6) for run in runs]
    (shape,) = shapes_of(instance)
    assert bounds[0] == bounds[1]
    assert runs[0].pool.of(shape) == runs[1].pool.of(shape)
