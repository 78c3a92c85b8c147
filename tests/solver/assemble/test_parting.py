"""The block of a match group is parted row by row, wherever and however it lies."""

from dataclasses import replace

import pytest

from shared.cuts.sequence import layout_sheet, saw_up
from shared.job import Job, MatchGroup
from shared.lengths import INCH, MM
from shared.parts import GrainRule, Part
from shared.plan import CutKind
from shared.saw import verify
from shared.shop import Axis
from shared.tree import Piece, Place, Run
from solver.assemble.block_parting import parted
from solver.assemble.trees import trees
from solver.budget.stop import Budget
from solver.material.instance import Block, BlockGrid, Laid, Lying, Solution, Strip
from solver.outcome import Event, Phase
from solver.planning.worker_wire import MESSAGES, Task
from solver.prepare.instances import prepare
from solver.run import run as plan_it
from tests.solver.some_jobs import EIGHTH, job, part, sheet

KERF = 3 * MM
FOUR = (("a", 1), ("b", 1), ("c", 1), ("d", 1))
GRID = BlockGrid((100 * MM, 200 * MM), (300 * MM, 400 * MM))


def place(size: int, name: str, turned: bool = False) -> Piece:
    """Return a piece of so many millimetres that is a part."""
    return Piece(size=size * MM, place=Place(part=name, copy=1, turned=turned))


def run(axis: Axis, *pieces: Piece) -> Run:
    """Return the run of these pieces."""
    return Run(axis=axis, pieces=pieces)


def test_rows_are_ripped_apart_and_then_crosscut() -> None:
    """A block that a crosscut saws off: a rip between its rows, a crosscut in each."""
    piece = parted(GRID, FOUR, Axis.CROSSCUT, turned=False, kerf=KERF)
    upper = run(Axis.CROSSCUT, place(300, "a"), place(400, "b"))
    lower = run(Axis.CROSSCUT, place(300, "c"), place(400, "d"))
    rows = run(Axis.RIP, Piece(size=100 * MM, run=upper), Piece(size=200 * MM, run=lower))
    assert piece == Piece(size=703 * MM, run=rows)


def test_rows_stay_whole_where_crosscuts_would_come_first() -> None:
    """A block that a rip saws off is one piece of a run of crosscuts, which needs no cut."""
    inner = parted(GRID, FOUR, Axis.CROSSCUT, turned=False, kerf=KERF).run
    piece = parted(GRID, FOUR, Axis.RIP, turned=False, kerf=KERF)
    whole = Piece(size=703 * MM, run=inner)
    assert piece == Piece(size=303 * MM, run=run(Axis.CROSSCUT, whole))


def test_a_turned_block_is_turned_not_mirrored() -> None:
    """Against the clock: the first row comes first along x, its last part at the top."""
    piece = parted(GRID, FOUR, Axis.RIP, turned=True, kerf=KERF)
    left = run(Axis.RIP, place(400, "b", turned=True), place(300, "a", turned=True))
    right = run(Axis.RIP, place(400, "d", turned=True), place(300, "c", turned=True))
    rows = run(Axis.CROSSCUT, Piece(size=100 * MM, run=left), Piece(size=200 * MM, run=right))
    assert piece == Piece(size=703 * MM, run=rows)


@pytest.mark.parametrize("turned", [False, True])
def test_one_line_of_parts_needs_no_rows(turned: bool) -> None:
    """A single row and a single column each take one run, from the first part on."""
    row = parted(
        BlockGrid((100 * MM,), (300 * MM, 400 * MM)), FOUR[:2], Axis.RIP, turned=turned, kerf=0
    )
    column = parted(
        BlockGrid((100 * MM, 200 * MM), (300 * MM,)), FOUR[:2], Axis.CROSSCUT, turned=turned, kerf=0
    )
    names = ["a", "b"]
    for piece, sizes in ((row, [300, 400]), (column, [100, 200])):
        assert piece.run is not None
        line = piece.run if len(piece.run.pieces) == 2 else piece.run.pieces[0].run
        assert line is not None
        assert list(line.pieces) == [
            place(size, name, turned) for size, name in zip(sizes, names, strict=True)
        ]


def fronts(number: int, columns: int, rule: GrainRule = GrainRule.ALONG_LENGTH) -> Job:
    """Return a job of so many drawer fronts of 20 by 6 inches in one group."""
    one = replace(part("front", 20 * INCH, 6 * INCH, number, rule=rule), group="Fronts")
    made = job(one, sheet())
    return replace(made, groups=(MatchGroup(name="Fronts", columns=columns),))


def test_a_group_is_one_item_of_the_instance() -> None:
    """Six fronts in rows of two are one item of 40 1/8 by 18 1/4 in, and a kerf, in eighths."""
    (instance,) = prepare(fronts(6, 2)).instances
    (item,) = instance.items
    assert (item.length, item.width, item.demand) == (40 * 8 + 2, 18 * 8 + 3, 1)
    assert item.members == tuple(("front", n) for n in range(1, 7))
    assert item.grid == BlockGrid((6 * INCH,) * 3, (20 * INCH,) * 2)


def test_blocks_are_one_type_only_if_they_are_parted_alike() -> None:
    """Two groups of one size, parted 2 by 1 and 1 by 2, are two types; two alike are one."""

    def group(name: str, length: int, width: int) -> tuple[Part, ...]:
        one = part(name, length * EIGHTH, width * EIGHTH, 2)
        return (replace(one, group=name),)

    rows = (*group("a", 81, 40), *group("b", 40, 81), *group("c", 81, 40))
    columns = (MatchGroup(name="b", columns=2),)
    (instance,) = prepare(replace(job(*rows, sheet()), groups=columns)).instances
    assert [(it.length, it.width, it.demand) for it in instance.items] == [(82, 82, 2), (82, 82, 1)]
    assert instance.items[0].members == (("a", 1), ("a", 2), ("c", 1), ("c", 2))


def test_a_mate_hears_of_the_grid() -> None:
    """An instance with a block passes the pipe to the second process unchanged."""
    (instance,) = prepare(fronts(6, 2)).instances
    task = Task(
        task=1,
        phase=Phase.START,
        instance=instance,
        solution=Solution((), (1,)),
        bound=0,
        seconds=1.0,
        seed=0,
    )
    assert MESSAGES.decode(MESSAGES.encode(task)) == task


def test_cuts_in_a_block_are_rips_and_crosscuts_however_deep() -> None:
    """In a stack, with a last trim: only the cut that brings the block to length is one."""
    made = fronts(4, 2)
    shelf = part("shelf", 60 * INCH, 10 * INCH)
    made = replace(made, parts=(*made.parts, shelf))
    (instance,) = prepare(made).instances
    block, long = instance.items
    stack = Block(long.length, (Lying(1, False), Lying(0, False)))
    strip = Strip(block.width + long.width, (stack,))
    ((_, stock, tree),) = trees(instance, Solution((Laid(0, (strip,)),), (0, 0)), made)
    plan = saw_up(made, [layout_sheet("1", made.stock_row(stock), EIGHTH, tree)])
    assert verify(plan) == ()
    assert [(cut.kind, cut.level, cut.size) for cut in plan.cuts] == [
        (CutKind.RIP, 1, 22 * INCH + 2 * EIGHTH),
        (CutKind.CROSSCUT, 2, 60 * INCH),
        (CutKind.RIP, 3, 12 * INCH + EIGHTH),
        (CutKind.LAST_TRIM, 4, 40 * INCH + EIGHTH),
        (CutKind.RIP, 5, 6 * INCH),
        (CutKind.CROSSCUT, 6, 20 * INCH),
        (CutKind.CROSSCUT, 6, 20 * INCH),
    ]


def test_the_saw_refuses_a_last_trim_that_leaves_parts_behind() -> None:
    """A deep cut between two parts is no last trim, and calling it one is refused."""
    made = fronts(4, 2)
    (instance,) = prepare(made).instances
    (item,) = instance.items
    whole = Strip(item.width, (Block(item.length, (Lying(0, False),)),))
    ((_, stock, tree),) = trees(instance, Solution((Laid(0, (whole,)),), (0,)), made)
    plan = saw_up(made, [layout_sheet("1", made.stock_row(stock), EIGHTH, tree)])
    assert verify(plan) == ()
    cuts = tuple(
        replace(cut, kind=CutKind.LAST_TRIM) if cut.level == 4 else cut for cut in plan.cuts
    )
    assert {one.code for one in verify(replace(plan, cuts=cuts))} == {"cut-kind"}


def test_when_stock_runs_out_all_members_are_named() -> None:
    """A block too many for the sheets at hand leaves all its parts unplaced, not one."""
    made = fronts(4, 2)
    made = replace(made, stock=(sheet(at_hand=1, length=45 * INCH, width=14 * INCH),))
    twice = replace(made.parts[0], id="more", name="more", group="More")
    made = replace(
        made,
        parts=(*made.parts, twice),
        groups=(*made.groups, MatchGroup(name="More", columns=2)),
    )
    told: list[Event] = []
    plan = plan_it(made, Budget(time_s=0), told.append)
    assert plan is not None
    assert [(one.copies, one.need.split(":")[0]) for one in plan.unplaced] == [
        (4, "needs one more sheet of 3/4 birch ply")
    ]
    assert len({one.part for one in plan.placements}) == 1


def test_the_cuts_that_part_a_block_are_in_the_bound_on_cuts() -> None:
    """Two cuts free one block of four fronts, three part it; three more size what would remain."""
    told: list[Event] = []
    plan = plan_it(fronts(4, 2), Budget(time_s=None, work=1_000), told.append)
    assert plan is not None
    assert plan.proof.least_cuts == 2 + 3
    assert len(plan.cuts) == 2 + 2 + 2 * 2
