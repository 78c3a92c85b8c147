"""Runs at the table saw: worked by hand, and trees at random that the independent saw cuts.

What a run leaves is the handbook formula for equal strips, with either kerf: of U, n strips w
wide leave U - n w - (n - 1) k, less a kerf once the last is sawn off.
"""

from collections import Counter
from collections.abc import Iterator
from dataclasses import replace
from random import Random

import pytest

from shared.cuts.sequence import layout_sheet, saw_up
from shared.cuts.table_runs import still_tabled
from shared.job import Job
from shared.lengths import MM, Length
from shared.making.record import Bed, Way
from shared.making.recording import records
from shared.making.settings import Device
from shared.parts import GrainRule, Part
from shared.plan import CutKind, Plan
from shared.recognise import find_tree
from shared.saw import verify
from shared.shop import Axis, Shop, Span, TableSaw
from shared.stock import NoGo, Stock, Trims
from shared.tree import Piece, Place, Run, left_over, runs
from solver.assemble.table_runs import may_have_table_runs, with_table_runs
from solver.budget.stop import Budget
from solver.run import run

TABLE = TableSaw(
    kerf=32 * MM // 10,
    fence=Span(least=25 * MM, most=610 * MM),
    longest=1200 * MM,
    widest=600 * MM,
    heaviest_g=15_000,
)
SHOP = Shop(kerf=22 * MM // 10, guide=Span(least=150 * MM, most=610 * MM), table=TABLE)
ROW = Stock(
    id="s",
    name="s",
    material="ply",
    length=2440 * MM,
    width=1220 * MM,
    thickness=18 * MM,
    density=680,
    trims=Trims(near=10 * MM, start=10 * MM),
)


def part(name: str, length: Length, width: Length, copies: int, group: str = "") -> Part:
    """Return a part that lies as it likes."""
    rule = GrainRule.EITHER
    return Part(
        id=name,
        name=name,
        length=length,
        width=width,
        copies=copies,
        material="ply",
        grain_rule=rule,
        group=group,
    )


def runners(number: int, width: Length, across: Length, long: Length = 600 * MM) -> Run:
    """Return a sheet with one strip, of which one block is ripped to so many runners."""
    rips = Run(
        axis=Axis.RIP,
        pieces=tuple(
            Piece(size=width, place=Place(part="runner", copy=copy))
            for copy in range(1, number + 1)
        ),
    )
    blocks = Run(axis=Axis.CROSSCUT, trim=10 * MM, pieces=(Piece(size=long, run=rips),))
    return Run(axis=Axis.RIP, trim=10 * MM, pieces=(Piece(size=across, run=blocks),))


def job_of(*parts: Part, shop: Shop = SHOP, row: Stock = ROW) -> Job:
    """Return the job of some parts and one row of stock."""
    return Job(name="j", parts=parts, stock=(row,), shop=shop)


def planned(job: Job, tree: Run) -> Plan:
    """Return the plan of one sheet with that tree."""
    return saw_up(job, [layout_sheet("1", job.stock[0], job.shop.kerf, tree)])


def tabled(tree: Run) -> list[Run]:
    """Return the runs of a tree that are made at the table saw."""
    return [run for _, run, _ in runs(tree, ROW.whole, SHOP.kerf) if run.kerf]


def test_the_fall_makes_up_for_the_wider_kerf() -> None:
    """9 of 40 mm from 400: 400 - 360 - 9 x 2.2 leaves 20.2 at the rail, 9 x 3.2 leaves 11.2."""
    job = job_of(part("runner", 600 * MM, 40 * MM, 9))
    plan = planned(job, with_table_runs(runners(9, 40 * MM, 400 * MM), ROW, job))
    assert verify(plan) == ()
    assert [lies.y for lies in plan.placements] == [10 * MM + n * 432 * MM // 10 for n in range(9)]
    at_table = [cut for cut in plan.cuts if cut.tool == TABLE.tool]
    assert {(cut.kerf, cut.size, cut.level) for cut in at_table} == {(TABLE.kerf, 40 * MM, 3)}
    assert len(at_table) == 9
    fall = next(one for one in plan.offcuts if one.length == 600 * MM)
    assert (fall.width, fall.keep) == (112 * MM // 10, False)


def test_one_setting_of_the_fence_serves_the_whole_run() -> None:
    """Nine cuts, one set-up, and nothing is laid on the piece."""
    job = job_of(part("runner", 600 * MM, 40 * MM, 9))
    plan = planned(job, with_table_runs(runners(9, 40 * MM, 400 * MM), ROW, job))
    told = [one for one in records((plan,), job.shop) if one.stroke.at_table(job.shop)]
    assert [one.anew for one in told] == [True] + 8 * [False]
    assert {(one.setting.name, one.setting.device) for one in told} == {("F1", Device.FENCE)}
    assert {(one.way, one.bed) for one in told} == {(Way.FENCE, Bed.NONE)}


@pytest.mark.parametrize(
    ("number", "width", "across"),
    [
        (9, 42, 400),  # 400 - 378 - 9 x 2.2 leaves 2.2: 9 mm more kerf are not there
        (9, 30, 394),  # leaves 104.2, worth keeping; at the table saw 95.2, which is not
        (9, 40, 3776 / 10),  # ends exactly: the last would be narrower
        (1, 40, 400),  # one rip only
        (2, 150, 400),  # the guide can be set to it
    ],
)
def test_a_run_that_would_lose_by_it_stays_on_the_rail(
    number: int, width: float, across: float
) -> None:
    """What is left behind would be another thing, or nothing is gained."""
    job = job_of(part("runner", 600 * MM, round(width * MM), number))
    tree = runners(number, round(width * MM), round(across * MM))
    assert with_table_runs(tree, ROW, job) == tree
    assert verify(planned(job, tree)) == ()


def test_with_one_kerf_for_both_saws_an_exact_run_goes_too() -> None:
    """Nothing slides there, so nothing has to make up for it."""
    shop = replace(SHOP, kerf=TABLE.kerf)
    job = job_of(part("runner", 600 * MM, 40 * MM, 9), shop=shop)
    tree = with_table_runs(runners(9, 40 * MM, 3856 * MM // 10), ROW, job)
    assert len(tabled(tree)) == 1
    assert verify(planned(job, tree)) == ()


NOT_HANDLED = {
    "longer": replace(TABLE, longest=599 * MM),
    "wider": replace(TABLE, widest=399 * MM),
    "heavier": replace(TABLE, heaviest_g=2_937),  # 0.6 x 0.4 x 0.018 m3 of 680 kg: 2,937.6 g
    "fence": replace(TABLE, fence=Span(least=41 * MM, most=610 * MM)),
    "no runs": replace(TABLE, longest=0),
}


@pytest.mark.parametrize("table", NOT_HANDLED.values(), ids=NOT_HANDLED.keys())
def test_what_cannot_be_handled_there_stays_and_the_saw_agrees(table: TableSaw) -> None:
    """The saw on its own refuses a run that somebody took there none the less."""
    made_for = job_of(part("runner", 600 * MM, 40 * MM, 9))
    tree = with_table_runs(runners(9, 40 * MM, 400 * MM), ROW, made_for)
    job = replace(made_for, shop=replace(SHOP, table=table))
    assert with_table_runs(runners(9, 40 * MM, 400 * MM), ROW, job) == still_tabled(
        tree, ROW, job.shop
    )
    assert not tabled(still_tabled(tree, ROW, job.shop))
    assert {issue.code for issue in verify(planned(job, tree))} & {"cut-tool", "cut-beyond-fence"}


def test_a_weight_that_is_not_known_is_no_matter() -> None:
    """A row without a density has no weight."""
    row = replace(ROW, density=0)
    job = job_of(
        part("runner", 600 * MM, 40 * MM, 9),
        row=row,
        shop=replace(SHOP, table=replace(TABLE, heaviest_g=0)),
    )
    tree = with_table_runs(runners(9, 40 * MM, 400 * MM), row, job)
    assert len(tabled(tree)) == 1
    assert verify(planned(job, tree)) == ()


def test_never_a_factory_edge_on_the_fence() -> None:
    """Without a trim the strip begins at the factory edge; a strip behind it at a sawn one."""
    row = replace(ROW, trims=Trims(start=10 * MM))
    job = job_of(part("runner", 600 * MM, 40 * MM, 9), row=row)
    first = replace(runners(9, 40 * MM, 400 * MM), trim=0)
    assert with_table_runs(first, row, job) == first
    second = replace(first, pieces=(Piece(size=50 * MM), *first.pieces))
    assert len(tabled(with_table_runs(second, row, job))) == 1
    forced = tabled(with_table_runs(second, row, job))[0]
    strip = first.pieces[0]
    assert strip.run is not None
    blocks = replace(strip.run, pieces=(replace(strip.run.pieces[0], run=forced),))
    wrong = replace(first, pieces=(replace(strip, run=blocks),))
    assert {issue.code for issue in verify(planned(job, wrong))} == {"cut-tool"}


def test_never_shorter_on_the_fence_than_wide() -> None:
    """390 mm of edge for a piece 400 mm wide."""
    job = job_of(part("runner", 390 * MM, 40 * MM, 9))
    tree = runners(9, 40 * MM, 400 * MM, long=390 * MM)
    assert with_table_runs(tree, ROW, job) == tree


def test_a_matched_set_stays_on_the_rail() -> None:
    """Its figure runs on over the kerf that the set was laid out with."""
    job = job_of(part("runner", 600 * MM, 40 * MM, 9, group="fronts"))
    tree = runners(9, 40 * MM, 400 * MM)
    assert with_table_runs(tree, ROW, job) == tree


def test_no_part_slides_onto_a_bad_place() -> None:
    """A knot behind the ninth runner: at the rail it ends at 387.6, at the table saw at 395.6."""
    knot = NoGo(x=100 * MM, y=388 * MM, length=30 * MM, width=10 * MM)
    row = replace(ROW, no_go=(knot,))
    job = job_of(part("runner", 600 * MM, 40 * MM, 9), row=row)
    tree = runners(9, 40 * MM, 400 * MM)
    assert with_table_runs(tree, row, job) == tree
    assert verify(planned(job, tree)) == ()


def test_one_cut_of_the_run_at_the_rail_is_refused() -> None:
    """Also where both saws take the same kerf, so that only the tool is wrong."""
    job = job_of(part("runner", 600 * MM, 40 * MM, 9), shop=replace(SHOP, kerf=TABLE.kerf))
    plan = planned(job, with_table_runs(runners(9, 40 * MM, 400 * MM), ROW, job))
    at_table = [n for n, cut in enumerate(plan.cuts) if cut.tool == TABLE.tool]
    for n in at_table:
        cuts = list(plan.cuts)
        cuts[n] = replace(cuts[n], tool=SHOP.tool)
        codes = [issue.code for issue in verify(replace(plan, cuts=tuple(cuts)))]
        assert "cut-tool" in codes


def test_a_trim_or_a_crosscut_there_is_refused() -> None:
    """Only rips go there as a whole run."""
    job = job_of(part("runner", 600 * MM, 40 * MM, 9), shop=replace(SHOP, kerf=TABLE.kerf))
    plan = planned(job, with_table_runs(runners(9, 40 * MM, 400 * MM), ROW, job))
    for n, cut in enumerate(plan.cuts):
        if cut.kind in (CutKind.TRIM, CutKind.CROSSCUT):
            cuts = list(plan.cuts)
            cuts[n] = replace(cut, tool=TABLE.tool)
            assert "cut-tool" in [one.code for one in verify(replace(plan, cuts=tuple(cuts)))]


def test_by_hand_the_run_stays_at_the_table_saw_as_parts_leave_it() -> None:
    """What stays has not moved, so it is cut as it was."""
    job = job_of(part("runner", 600 * MM, 40 * MM, 9))
    tree = with_table_runs(runners(9, 40 * MM, 400 * MM), ROW, job)
    lying = planned(job, tree).placements
    for gone in range(9):
        stay = tuple(one for n, one in enumerate(lying) if n != gone)
        found = find_tree(ROW.whole, stay, SHOP.kerf, ROW.trims, before=tree)
        assert found is not None
        assert len(tabled(found)) == 1
        plan = saw_up(job, [replace(layout_sheet("1", ROW, SHOP.kerf, found))])
        assert verify(plan) == ()
        assert {one.rect for one in plan.placements} == {one.rect for one in stay}


def trees_at_random(dice: Random) -> tuple[Job, Run]:
    """Return a job and a sheet of three levels, cut from edge to edge, all at the rail."""
    kerf = dice.choice((16, 22, 32, 40)) * MM // 10
    table = replace(TABLE, kerf=dice.choice((24, 32)) * MM // 10)
    trims = Trims(near=dice.choice((0, 10)) * MM, start=dice.choice((0, 10)) * MM)
    row = replace(ROW, trims=trims, density=dice.choice((0, 680, 3000)))
    shop = replace(SHOP, kerf=kerf, table=table, keep_width=dice.choice((20, 60, 100)) * MM)
    parts: list[Part] = []

    def block(long: Length, across: Length) -> Piece:
        width = dice.choice((30, 40, 55, 70, 160)) * MM
        most = (across + kerf) // (width + kerf)
        if not most:
            return Piece(size=long)
        name = f"p{len(parts)}"
        number = dice.randint(1, most)
        parts.append(part(name, long, width, number))
        pieces = tuple(
            Piece(size=width, place=Place(part=name, copy=n)) for n in range(1, number + 1)
        )
        return Piece(size=long, run=Run(axis=Axis.RIP, pieces=pieces))

    def strips() -> Iterator[Piece]:
        room = row.width - trims.near
        while room > 60 * MM:
            across = min(room, dice.randint(60, 500) * MM)
            blocks, ahead = [], row.length - trims.start
            while ahead > 200 * MM and len(blocks) < 4:
                long = min(ahead, dice.randint(150, 1300) * MM)
                blocks.append(block(long, across))
                ahead -= long + kerf
            run = Run(axis=Axis.CROSSCUT, trim=trims.start, pieces=tuple(blocks))
            yield Piece(size=across, run=run)
            room -= across + kerf

    tree = Run(axis=Axis.RIP, trim=trims.near, pieces=tuple(strips()))
    return job_of(*parts, shop=shop, row=row), tree


def check_at_random(dice: Random) -> int:
    """Check one tree at random; return how many of its runs went to the table saw."""
    job, tree = trees_at_random(dice)
    row = job.stock[0]
    new = with_table_runs(tree, row, job)
    before, after = planned(job, tree), planned(job, new)
    assert verify(before) == ()
    assert verify(after) == ()
    assert still_tabled(new, row, job.shop) == new
    assert kept(before) == kept(after)
    assert len(before.cuts) == len(after.cuts)
    return sum(run.kerf > 0 for _, run, _ in runs(new, row.whole, job.shop.kerf))


def kept(plan: Plan) -> Counter[tuple[Length, bool]]:
    """Count the offcuts by length and by what becomes of them."""
    return Counter((one.length, one.keep) for one in plan.offcuts)


def test_trees_at_random_are_sawn_and_leave_what_they_left() -> None:
    """The long form is `tests.soak.table_runs`."""
    went = sum(check_at_random(Random(seed)) for seed in range(25))
    assert went > 20


def test_a_run_knows_what_it_leaves_with_its_own_kerf() -> None:
    """The handbook formula, whatever the kerf is that it is asked with."""
    block = replace(ROW.whole, length=600 * MM, width=400 * MM)
    rips = Run(axis=Axis.RIP, pieces=9 * (Piece(size=40 * MM),))
    for kerf in (22, 32):
        own = replace(rips, kerf=kerf * MM // 10)
        left = 400 * MM - 9 * 40 * MM - 8 * kerf * MM // 10
        assert left_over(own, block, 5 * MM) == left


def test_with_a_thinner_kerf_than_at_the_rail_nothing_goes_there() -> None:
    """Parts would lie nearer to each other than the saw on the rail can part them."""
    shop = replace(SHOP, table=replace(TABLE, kerf=SHOP.kerf - 1))
    job = job_of(part("runner", 600 * MM, 40 * MM, 9), shop=shop)
    tree = runners(9, 40 * MM, 400 * MM)
    assert with_table_runs(tree, ROW, job) == tree


def test_no_least_sawing_is_claimed_where_runs_could_go_to_the_table_saw() -> None:
    """Two sizes of 149 mm in a shop whose guide begins at 150, or one; and no whole runs."""
    two = job_of(part("a", 600 * MM, 149 * MM, 1), part("b", 149 * MM, 700 * MM, 1))
    assert may_have_table_runs(two, "ply")
    assert not may_have_table_runs(two, "MDF")
    assert not may_have_table_runs(job_of(part("a", 600 * MM, 149 * MM, 1)), "ply")
    assert not may_have_table_runs(job_of(part("a", 600 * MM, 150 * MM, 2)), "ply")
    shop = replace(SHOP, table=replace(TABLE, longest=0))
    assert not may_have_table_runs(replace(two, shop=shop), "ply")


def test_a_plan_claims_least_sawing_only_without_whole_runs() -> None:
    """Two parts of 120 mm are proven whole; at the table saw they might be quicker."""
    parts = (part("a", 400 * MM, 120 * MM, 1), part("b", 300 * MM, 120 * MM, 1))
    for longest, claimed in ((0, True), (TABLE.longest, False)):
        shop = replace(SHOP, table=replace(TABLE, longest=longest))
        job = job_of(*parts, shop=shop, row=replace(ROW, trims=Trims()))
        plan = run(job, Budget(work=60), lambda event: None)
        assert plan is not None
        assert plan.proof.materials[0].least_sawing is claimed
