"""Sums of sizes, and scales on which whatever fits still fits."""

from itertools import product

from hypothesis import given, settings
from hypothesis import strategies as st

from solver.proof.normal_patterns import Scale, ScaledPositions, normal_patterns

SIZES = st.dictionaries(st.integers(1, 40), st.integers(1, 3), min_size=1, max_size=4)


def all_sums(copies: dict[int, int], capacity: int) -> list[int]:
    """Return all sums up to a capacity by trying every combination."""
    counts = product(*(range(count + 1) for count in copies.values()))
    sums = {sum(n * size for n, size in zip(taken, copies, strict=True)) for taken in counts}
    return sorted(total for total in sums if total <= capacity)


@given(copies=SIZES, capacity=st.integers(1, 120))
@settings(max_examples=100, deadline=None)
def test_normal_patterns_are_all_sums(copies: dict[int, int], capacity: int) -> None:
    """They are the sums that trying every combination finds."""
    found = normal_patterns(copies, capacity, 1000)
    assert found is not None
    assert found.tolist() == all_sums(copies, capacity)


def test_too_many_patterns_are_not_listed() -> None:
    """Six sums are more than five."""
    assert normal_patterns({1: 5}, 10, 5) is None
    assert normal_patterns({1: 5}, 10, 6) is not None


@given(
    sizes=st.lists(st.integers(1, 500), min_size=1, max_size=8),
    cells=st.integers(1, 700),
    spare=st.integers(0, 50),
)
@settings(max_examples=300, deadline=None)
def test_what_fits_fits_on_any_scale(sizes: list[int], cells: int, spare: int) -> None:
    """Sizes that share a capacity share the cells of any scale."""
    scale = Scale(sum(sizes) + spare, cells)
    assert sum(map(scale, sizes)) <= scale.cells


@given(size=st.integers(1, 100), capacity=st.integers(1, 100))
@settings(max_examples=50, deadline=None)
def test_the_finest_scale_is_exact(size: int, capacity: int) -> None:
    """With a cell for each unit nothing changes."""
    assert Scale(capacity, capacity)(size) == size


@given(copies=SIZES, most=st.integers(3, 200))
@settings(max_examples=100, deadline=None)
def test_every_sum_has_a_point_on_a_coarse_axis(copies: dict[int, int], most: int) -> None:
    """Cells of a sum are a point, or fall short of one by sizes of no cell only."""
    axis = ScaledPositions(copies, 100, most)
    assert axis.exact == (len(all_sums(copies, 100)) <= most)
    counts = product(*(range(count + 1) for count in copies.values()))
    for taken in counts:
        if sum(n * size for n, size in zip(taken, copies, strict=True)) <= 100:
            cells = sum(n * axis.scale(size) for n, size in zip(taken, copies, strict=True))
            assert axis.points[axis.index(cells)] == cells


def test_before_is_the_last_point_that_leaves_room() -> None:
    """On points 0, 3, 5, 8 a size of 4 reaches from 5 to 0, and from 8 to 3."""
    axis = ScaledPositions({3: 1, 5: 1}, 9, 100)
    assert axis.points.tolist() == [0, 3, 5, 8]
    assert axis.before(4).tolist() == [0, 1]
