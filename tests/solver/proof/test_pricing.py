"""Dearest strips and sheets against trying everything on tiny grids."""

from collections.abc import Iterator
from functools import cache

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from solver.budget.stop import Stop
from solver.material.instance import Instance
from solver.proof.normal_patterns import ScaledPositions
from solver.proof.pricing import Pricing, Stopped, dearest_sheet
from solver.proof.shapes import ScaledShape, grid_of, shapes_of
from tests.solver.some_instances import plain
from tests.solver.tiny_instances import tiny

PRICES = st.lists(st.integers(0, 50), min_size=8, max_size=8)


def grids(instance: Instance, most: int) -> Iterator[ScaledShape]:
    """Yield the grid of every shape."""
    return (grid_of(instance, shape, most, most) for shape in shapes_of(instance))


def dearest_proper_strip(
    instance: Instance, grid: ScaledShape, prices: list[int], height: int
) -> int:
    """Return the best strip of a height that holds each copy once, by trying everything."""
    copies = [i for i, item in enumerate(instance.items) for _ in range(item.demand)]
    kind = instance.kinds[grid.shape.kinds[0]]

    def extents(copy: int) -> list[tuple[int, int]]:
        return [instance.size(copies[copy], t) for t in kind.orientations[copies[copy]]]

    @cache
    def best(rest: frozenset[int], room: int) -> int:
        """Value of more blocks from the rest in what room is left."""
        found = 0
        for copy in rest:
            for x, y in extents(copy):
                if x <= room and y <= height:
                    found = max(found, stack(rest - {copy}, height - y, x, room, copy))
        return found

    @cache
    def stack(rest: frozenset[int], left: int, length: int, room: int, last: int) -> int:
        """Value of a block so long with its last item, and of all that may follow."""
        found = best(rest, room - length)
        for copy in rest if instance.levels > 2 else ():
            for x, y in extents(copy):
                if x <= length and y <= left:
                    found = max(found, stack(rest - {copy}, left - y, length, room, copy))
        return prices[copies[last]] + found

    return best(frozenset(range(len(copies))), kind.length)


@given(instance=tiny(4), prices=PRICES)
@settings(max_examples=60, deadline=None)
def test_no_proper_strip_is_dearer(instance: Instance, prices: list[int]) -> None:
    """On the exact scale the price of a height is at least that of any strip of that height."""
    for grid in grids(instance, 10_000):
        assert grid.is_exact
        heights = np.arange(1, len(grid.across))
        best = Pricing(grid, np.array(prices)).best(heights, Stop())
        for height, value in zip(grid.across.points[1:].tolist(), best.tolist(), strict=True):
            assert value >= dearest_proper_strip(instance, grid, prices, height)


@given(instance=tiny(8), prices=PRICES, most=st.sampled_from((6, 15, 10_000)))
@settings(max_examples=100, deadline=None)
def test_strips_are_worth_what_was_said_and_fit(
    instance: Instance, prices: list[int], most: int
) -> None:
    """The contents of a strip sum to its price, no more than `at_most`, and fit its scale."""
    for grid in grids(instance, most):
        pricing = Pricing(grid, np.array(prices))
        heights = np.arange(1, len(grid.across))
        best = pricing.best(heights, Stop())
        assert (best <= pricing.at_most()[heights]).all()
        cells = {lie.lying: (lie.length, lie.width) for lie in grid.lies}
        for height, value, strip in zip(
            heights, best, pricing.strips(heights, Stop()), strict=True
        ):
            assert value == sum(prices[lying.item] for block in strip.blocks for lying in block)
            assert strip.height <= height
            widths = (sum(cells[lying][1] for lying in block) for block in strip.blocks)
            assert max(widths, default=0) <= grid.across.points[height]
            lengths = (max(cells[lying][0] for lying in block) for block in strip.blocks)
            assert sum(lengths) <= grid.along.scale.cells


def dearest_filling(across: ScaledPositions, values: list[int]) -> int:
    """Return the most value of strips by height, within the whole width."""

    @cache
    def best(room: int) -> int:
        options = (
            value + best(room - int(cells))
            for cells, value in zip(across.points[1:], values[1:], strict=True)
            if cells <= room
        )
        return max(options, default=0)

    return best(across.scale.cells)


@given(
    copies=st.dictionaries(st.integers(2, 12), st.just(20), min_size=1, max_size=3),
    values=st.lists(st.integers(0, 30), min_size=41, max_size=41),
)
@settings(max_examples=100, deadline=None)
def test_the_dearest_sheet_fills_the_width_best(copies: dict[int, int], values: list[int]) -> None:
    """Where sizes repeat enough, no choice of strips is dearer, and the strips named make it up."""
    across = ScaledPositions(copies, 40, 1000)
    prices = [0, *sorted(values[: len(across) - 1])]
    sheet = dearest_sheet(across, np.array(prices))
    assert sheet.value == dearest_filling(across, prices)
    assert sum(prices[height] for height in sheet.heights) == sheet.value
    assert sum(int(across.points[height]) for height in sheet.heights) <= 40


def test_tracing_strips_hears_a_stop() -> None:
    """Whoever asks to stop does not wait for the strips of all heights."""
    (grid,) = grids(plain([(3, 2, 4), (5, 3, 2)], (20, 10)), 10_000)
    asked = Stop()
    asked.ask()
    with pytest.raises(Stopped):
        Pricing(grid, np.array([3, 5])).strips(np.arange(1, len(grid.across)), asked)
