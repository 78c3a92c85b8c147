"""Match groups and blanks: whatever the grid, the figure flows, or breaks where it has to."""

from collections.abc import Iterator, Sequence
from dataclasses import replace
from itertools import combinations, islice, pairwise, product
from random import Random

from hypothesis import HealthCheck, assume, given, settings
from hypothesis import strategies as st

from shared.check import check_job
from shared.cuts.sequence import layout_sheet, saw_up
from shared.geometry import Rect
from shared.groups import PartGrid, blocks_of, cell_called
from shared.job import Job, MatchGroup
from shared.lengths import MM, Length
from shared.parts import GrainRule, Part
from shared.plan import Placement, Plan
from shared.saw import verify
from shared.stock import SheetGrain, Stock
from solver.assemble.trees import trees
from solver.budget.stop import Budget
from solver.outcome import Event
from solver.prepare.instances import prepare
from solver.run import run
from solver.search.constructive import passes
from tests.examples import some_of
from tests.shop_strategies import kerfs, rules, shops
from tests.solver.brute_force import least_price
from tests.strategies import SHEETS, matched, parts, trims

QUICK = settings(
    max_examples=some_of(40),
    deadline=None,
    suppress_health_check=[HealthCheck.too_slow],
    derandomize=True,
)
SLOW = settings(QUICK, max_examples=8)


@st.composite
def matched_jobs(draw: st.DrawFn, most_singles: int = 3, most_rows: int = 4) -> Job:
    """Jobs of one material with a match group, parts beside it, and one kind of sheet."""
    size = draw(st.sampled_from(SHEETS))
    row = Stock(
        id="s",
        name="Sheet",
        material="ply",
        length=size[0],
        width=size[1],
        thickness=18 * MM,
        grain=draw(st.sampled_from(SheetGrain)),
        trims=draw(trims()),
    )
    fronts, group = draw(matched(most_rows=most_rows))
    singles = [draw(parts(n)) for n in range(1, draw(st.integers(0, most_singles)) + 1)]
    return Job(
        parts=tuple(replace(part, material="ply") for part in (*singles, *fronts)),
        stock=(row,),
        groups=(group,),
        shop=draw(shops()),
        rule=draw(rules()),
    )


def offsets(block: PartGrid, kerf: Length) -> Iterator[tuple[tuple[str, int], Rect]]:
    """Yield each member with where it lies in a block that is not turned."""
    y = 0
    for cells in block.rows:
        x = 0
        for part, copy in cells:
            size = Rect(x=x, y=y, length=part.cut_length, width=part.cut_width)
            yield (part.id, copy), size
            x = size.right + kerf
        y += cells[0][0].cut_width + kerf


def flows(block: PartGrid, lying: dict[tuple[str, int], Placement], kerf: Length) -> bool:
    """Say whether a block lies whole on one sheet, as it is or turned by a quarter either way.

    Quarter turns of the plane (x, y), y downwards: against the clock (x, y) becomes
    (y, -x), with the clock (-y, x); neither mirrors.
    """
    there = [lying[key] for key in block.copies]
    corner = min(one.x for one in there), min(one.y for one in there)
    found = [
        Rect(x=one.x - corner[0], y=one.y - corner[1], length=one.length, width=one.width)
        for one in there
    ]
    flat = [rect for _, rect in offsets(block, kerf)]
    length, width = max(r.right for r in flat), max(r.bottom for r in flat)
    ways = [flat]
    if there[0].turned:
        ways = [
            [Rect(x=r.y, y=length - r.right, length=r.width, width=r.length) for r in flat],
            [Rect(x=width - r.bottom, y=r.x, length=r.width, width=r.length) for r in flat],
        ]
    together = len({(one.sheet, one.turned) for one in there}) == 1
    return together and found in ways


def by_copy(plan: Plan) -> dict[tuple[str, int], Placement]:
    """Return where each copy lies."""
    return {one.key: one for one in plan.placements}


def constructed(job: Job, skip: int) -> Plan:
    """Return the plan of some constructive solution of a job of one material."""
    (instance,) = prepare(job).instances
    solution = next(islice(passes(instance, Random(skip)), skip, None))
    rows = {row.id: row for row in job.stock}
    sheets = [
        layout_sheet(str(n), rows[sawn.stock], job.shop.kerf, sawn.tree)
        for n, sawn in enumerate(trees(instance, solution, job), 1)
    ]
    return saw_up(job, sheets)


@QUICK
@given(job=matched_jobs(), skip=st.integers(0, 12))
def test_every_block_is_sawn_whole_and_in_order(job: Job, skip: int) -> None:
    """Members lie in one rectangle in their order, one kerf between neighbours, and can be sawn."""
    plan = constructed(job, skip)
    assert verify(plan) == ()
    lying = by_copy(plan)
    for block in blocks_of(prepare(job).job, "Fronts"):
        assert flows(block, lying, job.shop.kerf)


@SLOW
@given(job=matched_jobs(most_rows=3))
def test_the_search_keeps_blocks_whole_too(job: Job) -> None:
    """Ruin and recreate moves a block as one; every copy is placed, and the bound holds."""
    told: list[Event] = []
    plan = run(job, Budget(time_s=None, work=20), told.append)
    assert plan is not None
    assert plan.unplaced == ()
    for block in blocks_of(job, "Fronts"):
        assert flows(block, by_copy(plan), job.shop.kerf)
    assert plan.proof.bound <= len(plan.sheets)


@SLOW
@given(job=matched_jobs(most_singles=1, most_rows=4))
def test_no_bound_is_above_the_least_there_is(job: Job) -> None:
    """Trying everything, with blocks as single pieces, never needs less than the bound."""
    job = replace(job, parts=tuple(replace(part, copies=min(part.copies, 4)) for part in job.parts))
    assume(all(issue.code != "group-uneven" for issue in check_job(job)))
    (instance,) = prepare(job).instances
    assume(sum(item.demand for item in instance.items) <= 5)
    told: list[Event] = []
    plan = run(job, Budget(time_s=None, work=20), told.append)
    assert plan is not None
    least = least_price(instance, tuple(row.price for row in instance.rows))
    assert least is not None
    assert plan.proof.bound <= least <= len(plan.sheets)


def fewest_runs(sizes: Sequence[Length], room: Length, kerf: Length) -> int:
    """Return the fewest consecutive runs of sizes that fit a room, trying every way to part."""
    places = range(1, len(sizes))
    for number in range(len(sizes)):
        for ends in combinations(places, number):
            edges = [0, *ends, len(sizes)]
            runs = [sizes[a:b] for a, b in pairwise(edges)]
            if all(sum(run) + kerf * (len(run) - 1) <= room for run in runs):
                return number + 1
    raise AssertionError("a size is larger than the room")


SIZES = st.lists(st.integers(60, 500).map(lambda mm: mm * MM), min_size=2, max_size=7)


@QUICK
@given(sizes=SIZES, kerf=kerfs(), in_one_row=st.booleans())
def test_a_group_too_long_falls_into_the_fewest_blocks(
    sizes: list[Length], kerf: Length, in_one_row: bool
) -> None:
    """Whole rows, or the parts of a single row, are split in order into as few blocks as can be."""
    room = 800 * MM
    fronts = [
        Part(
            id=f"f{n}",
            name=f"Front {n}",
            length=size if in_one_row else 300 * MM,
            width=300 * MM if in_one_row else size,
            material="ply",
            grain_rule=GrainRule.ALONG_LENGTH,
            group="Fronts",
        )
        for n, size in enumerate(sizes, 1)
    ]
    sheet = Stock(id="s", name="s", material="ply", length=room, width=room, thickness=18 * MM)
    group = MatchGroup(name="Fronts", columns=len(sizes) if in_one_row else 1)
    job = Job(parts=tuple(fronts), stock=(sheet,), groups=(group,))
    job = replace(job, shop=replace(job.shop, kerf=kerf))
    blocks = blocks_of(job, "Fronts")
    assert [cell for block in blocks for cell in block.cells] == [(part, 1) for part in fronts]
    assert len(blocks) == fewest_runs(sizes, room, kerf)
    said = [one.sentence for one in check_job(job) if one.code == "group-too-long"]
    assert len(said) == (len(blocks) > 1)
    assert all(cell_called(block.cells[-1]) in said[0] for block in blocks[:-1])


def fewest_rectangles(
    lengths: Sequence[Length], widths: Sequence[Length], room: tuple[Length, Length], kerf: Length
) -> int:
    """Return the fewest rectangles of cells that cover a grid and fit a room, trying all ways."""

    def reaches(sizes: Sequence[Length], start: int, most: Length) -> Iterator[int]:
        for end in range(start + 1, len(sizes) + 1):
            if sum(sizes[start:end]) + kerf * (end - start - 1) <= most:
                yield end

    def least(free: frozenset[tuple[int, int]], most: int) -> int:
        if not free or not most:
            return 0 if not free else 99
        top, left = min(free)
        found = 99
        for bottom, right in product(
            reaches(widths, top, room[1]), reaches(lengths, left, room[0])
        ):
            taken = set(product(range(top, bottom), range(left, right)))
            if taken <= free:
                found = min(found, 1 + least(free - taken, min(most, found) - 1))
        return found

    return least(frozenset(product(range(len(widths)), range(len(lengths)))), 99)


CELLS = st.lists(st.integers(100, 400).map(lambda mm: mm * MM), min_size=1, max_size=3)


@QUICK
@given(lengths=CELLS, widths=CELLS, kerf=kerfs(), room=st.tuples(*[st.integers(400, 900)] * 2))
def test_a_grid_too_large_falls_into_as_few_blocks_as_any_way_to_cut_it_up(
    lengths: list[Length], widths: list[Length], kerf: Length, room: tuple[int, int]
) -> None:
    """Every cell is in one block, all blocks fit, and no set of rectangles takes fewer."""
    fronts = [
        Part(id=f"{y}{x}", name="", length=length, width=width, material="ply", group="Fronts")
        for (y, width), (x, length) in product(enumerate(widths), enumerate(lengths))
    ]
    sheet = Stock(
        id="s", name="s", material="ply", length=room[0] * MM, width=room[1] * MM, thickness=MM
    )
    group = MatchGroup(name="Fronts", columns=len(lengths))
    job = Job(parts=tuple(fronts), stock=(sheet,), groups=(group,))
    job = replace(job, shop=replace(job.shop, kerf=kerf))
    blocks = blocks_of(job, "Fronts")
    assert sorted(cell[0].id for block in blocks for cell in block.cells) == [p.id for p in fronts]
    whole = [block.as_part() for block in blocks]
    assert all(one.length <= sheet.length and one.width <= sheet.width for one in whole)
    fewest = fewest_rectangles(lengths, widths, (sheet.length, sheet.width), kerf)
    assert len(blocks) == fewest


@QUICK
@given(part=parts(1), more=st.integers(1, 20).map(lambda mm: mm * MM))
def test_a_blank_is_larger_by_its_allowance_both_ways(part: Part, more: Length) -> None:
    """What is sawn for a fit part is the planned size and the allowance, along and across."""
    planned = replace(part, fit_allowance=0)
    blank = replace(part, fit_allowance=more)
    assert blank.cut_length == planned.cut_length + more
    assert blank.cut_width == planned.cut_width + more
