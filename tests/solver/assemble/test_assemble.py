"""Solutions in the solver's numbers become the trees of cuts they stand for."""

from collections import Counter
from itertools import chain, combinations, islice
from random import Random

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from shared.cuts.sequence import layout_sheet, saw_up
from shared.cuts.tally import tally
from shared.job import Job
from shared.lengths import MM
from shared.parts import GrainRule, Part
from shared.saw import verify
from shared.shop import Axis, CutRule, FirstCut, Shop
from shared.stock import Stock, Trims
from shared.tree import Piece, Place, Run
from solver.assemble.piece_order import Sizes, spared
from solver.assemble.trees import trees
from solver.limits.measure import cost
from solver.material.instance import Block, Laid, Lying, Solution, Strip
from solver.prepare.instances import prepare
from solver.search.constructive import passes
from tests.examples import some_of

KERF = 3 * MM


def part(part_id: str, length: int, width: int, copies: int = 1) -> Part:
    """Return a part of so many millimetres that may lie either way."""
    return Part(
        id=part_id,
        name=part_id,
        length=length * MM,
        width=width * MM,
        copies=copies,
        material="ply",
        grain_rule=GrainRule.EITHER,
    )


def job_of(
    parts: tuple[Part, ...],
    length: int,
    width: int,
    first: FirstCut = FirstCut.RIP,
    trims: Trims | None = None,
) -> Job:
    """Return a job with one stock row of so many millimetres and a kerf of 3 mm."""
    row = Stock(
        id="s",
        name="ply",
        material="ply",
        length=length * MM,
        width=width * MM,
        thickness=18 * MM,
        trims=trims or Trims(),
    )
    return Job(parts=parts, stock=(row,), shop=Shop(kerf=KERF), rule=CutRule(first=first))


def lying(part_id: str, copy: int, size: int, turned: bool = False) -> Piece:
    """Return a piece of so many millimetres that is a copy of a part."""
    return Piece(size=size * MM, place=Place(part=part_id, copy=copy, turned=turned))


def test_stacks_trims_and_order() -> None:
    """Stacks are ripped, short parts trimmed last, large pieces first, copies in reading order."""
    job = job_of(
        (part("a", 500, 197, 2), part("b", 300, 97), part("c", 250, 97)), 1000, 500, trims=Trims()
    )
    (instance,) = prepare(job).instances
    unit = instance.unit
    scale = (3 * MM + 300 * MM) // unit, (200 * MM) // unit, (503 * MM) // unit
    stack = Block(scale[0], (Lying(1, False), Lying(2, False)))
    whole = Block(scale[2], (Lying(0, False),))
    sheet = Laid(0, (Strip(scale[1], (whole,)), Strip(scale[1], (stack, whole))))
    ((_, stock, tree),) = trees(instance, Solution((sheet,), (0, 0, 0)), job)
    trimmed = Run(axis=Axis.CROSSCUT, pieces=(lying("c", 1, 250),))
    blocks = Run(axis=Axis.RIP, pieces=(lying("b", 1, 97), Piece(size=97 * MM, run=trimmed)))
    two = Run(
        axis=Axis.CROSSCUT,
        pieces=(lying("a", 1, 500), Piece(size=300 * MM, run=blocks)),
    )
    one = Run(axis=Axis.CROSSCUT, pieces=(lying("a", 2, 500),))
    assert stock == "s"
    assert tree == Run(
        axis=Axis.RIP,
        pieces=(Piece(size=197 * MM, run=two), Piece(size=197 * MM, run=one)),
    )


def test_crosscut_first_is_turned_back() -> None:
    """A transposed kind gives crosscuts first, trims exchanged, and parts that lie turned."""
    trims = Trims(near=10 * MM, start=20 * MM)
    job = job_of((part("a", 400, 300),), 1000, 500, FirstCut.CROSSCUT, trims)
    (instance,) = prepare(job).instances
    size = instance.size(0, False)
    sheet = Laid(0, (Strip(size[1], (Block(size[0], (Lying(0, False),)),)),))
    ((_, _, tree),) = trees(instance, Solution((sheet,), (0,)), job)
    assert tree == Run(
        axis=Axis.CROSSCUT,
        trim=20 * MM,
        pieces=(
            Piece(
                size=300 * MM,
                run=Run(axis=Axis.RIP, trim=10 * MM, pieces=(lying("a", 1, 400, turned=True),)),
            ),
        ),
    )


def test_the_size_nobody_else_needs_goes_last() -> None:
    """In full strips 500 + 297 and 500 + 150 + 144 the 500, needed twice, is not spared."""
    sizes = (500, 297, 150, 144)
    job = job_of(tuple(part(f"p{size}", size, 100, 2) for size in sizes), 800, 203)
    (instance,) = prepare(job).instances
    blocks = [Block(instance.size(i, False)[0], (Lying(i, False),)) for i in range(4)]
    width = instance.size(0, False)[1]
    strips = (
        Strip(width, (blocks[0], blocks[1])),
        Strip(width, (blocks[2], blocks[0], blocks[3])),
    )
    ((_, _, tree),) = trees(instance, Solution((Laid(0, strips),), (0, 1, 1, 1)), job)
    ends = {
        tuple(piece.size // MM for piece in strip.run.pieces) for strip in tree.pieces if strip.run
    }
    assert ends in ({(500, 297), (500, 150, 144)}, {(500, 297), (500, 144, 150)})


@st.composite
def jobs(draw: st.DrawFn) -> Job:
    """Draw small jobs: kerf, trims at all edges, rule and direction at random."""
    few = st.integers(0, 12).map(lambda mm: mm * MM)
    sizes = st.lists(
        st.tuples(st.integers(40, 400), st.integers(40, 300), st.integers(1, 4)),
        min_size=1,
        max_size=7,
    )
    parts = tuple(part(f"p{i}", *size) for i, size in enumerate(draw(sizes)))
    trim = st.sampled_from((0, 5 * MM, 10 * MM))
    trims = Trims(near=draw(trim), far=draw(trim), start=draw(trim), end=draw(trim))
    job = job_of(parts, draw(st.integers(500, 900)), draw(st.integers(400, 600)), trims=trims)
    rule = CutRule(levels=draw(st.sampled_from((2, 3))), first=draw(st.sampled_from(FirstCut)))
    shop = Shop(kerf=draw(few.filter(lambda kerf: kerf <= 4 * MM)))
    return Job(parts=parts, stock=job.stock, shop=shop, rule=rule)


@settings(max_examples=some_of(100))
@given(job=jobs(), skip=st.integers(0, 30))
def test_any_solution_is_sawn_as_measured(job: Job, skip: int) -> None:
    """The saw accepts every assembled solution, with the cuts and skims the solver counted."""
    for instance in prepare(job).instances:
        solution = next(islice(passes(instance, Random(skip)), skip, None))
        cut = trees(instance, solution, job)
        rows = {row.id: row for row in job.stock}
        sheets = [
            layout_sheet(str(n), rows[stock], job.shop.kerf, tree)
            for n, (_, stock, tree) in enumerate(cut, 1)
        ]
        plan = saw_up(job, sheets)
        assert verify(plan) == ()
        counts, measured = tally(plan, job.shop), cost(instance, solution)
        assert counts.cuts == measured.cuts
        assert counts.setups <= measured.setups
        placed = Counter(lying.part for lying in plan.placements)
        assert placed.total() == len(list(solution.lying()))


def needed(runs: list[Sizes], last: tuple[int, ...]) -> int:
    """Count distinct sizes cut when each run puts its piece of that index last."""
    cut: set[int] = set()
    for run, index in zip(runs, last, strict=True):
        spare = run.may_end(run.sizes[index])
        cut.update(run.sizes[:index] + run.sizes[index + 1 :] if spare else run.sizes)
    return len(cut)


def all_lasts(runs: list[Sizes]) -> list[tuple[int, ...]]:
    """Return every choice of last pieces."""
    choices: list[tuple[int, ...]] = [()]
    for run in runs:
        choices = [(*choice, index) for choice in choices for index in range(len(run.sizes))]
    return choices


RUNS = st.lists(
    st.builds(
        Sizes,
        st.lists(st.integers(1, 6), min_size=1, max_size=4).map(tuple),
        st.sampled_from((True, True, True, False)),
    ),
    min_size=1,
    max_size=5,
)


@given(runs=RUNS)
def test_spared_sizes_are_the_most_there_can_be(runs: list[Sizes]) -> None:
    """Trying every last piece of every run finds no choice with fewer set-ups."""
    spare = spared(runs)
    sizes = {size for run in runs for size in run.sizes}
    least = min(needed(runs, last) for last in all_lasts(runs))
    assert len(sizes - spare) == least
    assert all(len(spare & set(run.sizes)) <= 1 for run in runs if run.exact)
    assert not any(spare & set(run.sizes) for run in runs if not run.exact)


@pytest.mark.parametrize("n", [5, 40])
def test_spared_on_a_ring_and_a_tangle(n: int) -> None:
    """A ring of n runs of two spares n // 2 sizes; a run of every pair spares only one."""
    ring = [Sizes((i, (i + 1) % n), True) for i in range(n)]
    tangle = [Sizes(pair, True) for pair in combinations(range(n), 2)]
    assert len(spared(ring)) == n // 2
    assert len(spared(tangle)) == 1
    assert len(spared(list(chain(ring, [Sizes((0,), False)])))) == n // 2
