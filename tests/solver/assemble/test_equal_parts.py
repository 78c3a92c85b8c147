"""Equal parts come off equal settings where stock is left over for it."""

from dataclasses import replace

from shared.cuts.sequence import layout_sheet, saw_up
from shared.job import Job, MatchGroup
from shared.lengths import MM
from shared.practice import USUAL_SHOP
from shared.saw import verify
from shared.shop import CutRule, Shop
from shared.tree import Run, left_over, runs
from solver.assemble.equal_parts import equalised, with_equals
from solver.assemble.trees import trees
from solver.limits.measure import problems
from solver.material.instance import Laid, Lying, Solution, Strip
from solver.prepare.instances import prepare
from tests.soak.equal_parts import counted, made, some_job
from tests.solver.assemble.test_assemble import job_of, part


def sawn(job: Job, *strips: tuple[tuple[int, ...], ...]) -> Run:
    """Return the tree of one sheet whose strips are blocks of items, none of them turned."""
    (instance,) = prepare(job).instances
    laid = Laid(
        0,
        tuple(
            instance.strip(instance.block(Lying(item, False) for item in block) for block in strip)
            for strip in strips
        ),
    )
    left = tuple(0 for _ in instance.items)
    equals = with_equals(instance, job)
    solution = equalised(instance, Solution((laid,), left), job, equals)
    assert problems(instance, solution) == []
    ((_, _, tree),) = trees(instance, solution, job, equals)
    return tree


def sizes(tree: Run, job: Job, level: int) -> list[tuple[list[int], int]]:
    """Return the sizes in mm of each run of a level, and what is left beyond, in mm."""
    whole, kerf = job.stock[0].whole, job.shop.kerf
    found = [
        (run, left_over(run, rect, kerf)) for n, run, rect in runs(tree, whole, kerf) if n == level
    ]
    return [([piece.size // MM for piece in run.pieces], left // MM) for run, left in found]


def test_a_strip_of_two_equal_rows_becomes_two_strips() -> None:
    """Three pairs of 300 by 100 in a strip of 203: 2 rips and 6 crosscuts, not 1 + 3 + 6."""
    job = job_of((part("a", 300, 100, 6),), 1000, 400)
    tree = sawn(job, ((0, 0), (0, 0), (0, 0)))
    assert sizes(tree, job, 1) == [([100, 100], 400 - 206 + 3)]
    assert sizes(tree, job, 2) == [([300] * 3, 94)] * 2


def test_a_strip_is_widened_where_it_cannot_be_parted() -> None:
    """Beside 203 wide a pair of 100s is cut twice once the strip is 203 + 3 and 2 more wide.

    The fall of 192 is too short to be kept at 900, so the rip that takes it off is spared.
    """
    job = job_of((part("a", 300, 100, 2), part("b", 300, 203)), 900, 400)
    job = replace(job, shop=replace(job.shop, keep_length=100 * MM))
    tree = sawn(job, ((0, 0), (1,)))
    assert sizes(tree, job, 1) == [([208], 192)]
    assert sizes(tree, job, 3) == [([203], 5), ([100, 100], 5)]


def test_what_is_too_small_to_keep_goes_to_the_strip() -> None:
    """Of a fall of 40 nothing is kept: the strip takes it, and its rip is spared."""
    job = job_of((part("a", 300, 100, 2), part("b", 300, 203)), 900, 243)
    tree = sawn(job, ((0, 0), (1,)))
    assert sizes(tree, job, 1) == [([243], 0)]
    assert sorted(sizes(tree, job, 3)) == [([100, 100], 40), ([203], 40)]


def test_a_part_without_equals_may_be_what_remains() -> None:
    """A strip of 100, 100 and 80, of which there is one 80, stays as it is and ends with it."""
    job = job_of((part("a", 300, 100, 2), part("b", 300, 80), part("c", 500, 286)), 1000, 400)
    tree = sawn(job, ((2,), (0, 0, 1)))
    assert sizes(tree, job, 1) == [([286], 114)]
    assert sizes(tree, job, 3) == [([100, 100, 80], 0)]


def test_without_stock_nothing_changes() -> None:
    """On a sheet just as wide the second of two equal rows is what remains."""
    job = job_of((part("a", 300, 100, 2), part("b", 300, 203)), 900, 203)
    tree = sawn(job, ((0, 0), (1,)))
    assert sizes(tree, job, 3) == [([100, 100], 0)]


def test_the_best_offcut_stays_worth_keeping() -> None:
    """A fall of 102 by 900 would be 97 wide, and 100 is the least that is kept: it stays."""
    job = job_of((part("a", 300, 100, 2), part("b", 300, 203)), 900, 203 + 3 + 102)
    tree = sawn(job, ((0, 0), (1,)))
    assert sizes(tree, job, 1) == [([203], 105)]
    wide = job_of((part("a", 300, 100, 2), part("b", 300, 203)), 900, 203 + 3 + 105)
    assert sizes(sawn(wide, ((0, 0), (1,))), wide, 1) == [([208], 103)]


def test_limits_of_the_shop_are_kept_to() -> None:
    """A block of 250 by 208 cannot be held where 300 are wanted, so no cut trims it to 203."""
    job = job_of((part("a", 250, 100, 2), part("b", 250, 203)), 900, 400)
    job = replace(job, shop=Shop(kerf=3 * MM, hold=300 * MM))
    (instance,) = prepare(job).instances
    strip = instance.strip([instance.block([Lying(1, False)])])
    solution = Solution((Laid(0, (strip,)),), (2, 0))
    assert equalised(instance, solution, job, with_equals(instance, job)) == solution


def test_all_parts_of_a_set_are_cut_to_size() -> None:
    """Four fronts in rows of two: each row, and the last row, end with a cut."""
    front = replace(part("front", 300, 100, 4), group="fronts")
    job = job_of((front,), 1000, 500)
    job = replace(job, groups=(MatchGroup(name="fronts", columns=2),), rule=CutRule())
    (_, plan), *_ = made([job], 1)
    assert verify(plan) == ()
    cut = [(one.level, one.size // MM) for one in plan.cuts]
    rows = [size for _, size in cut].count(100)
    assert (rows, [size for _, size in cut].count(300)) == (2, 4)


def test_made_up_jobs_leave_no_equal_part_to_what_remains() -> None:
    """Counted from the cuts alone: a kerf more was nowhere to be had (`tests.soak.equal_parts`)."""
    jobs = [some_job(seed) for seed in range(8)]
    assert {job.shop.carry for job in jobs} == {0, USUAL_SHOP.carry}
    count = counted(made(jobs, 5), told=False)
    assert count["sized"] > 100
    assert count["wrong"] == 0


def test_the_counter_sees_what_remains() -> None:
    """Of two equal halves of a strip one is what remains; beyond it lies a fall."""
    job = job_of((part("a", 300, 100, 2), part("b", 300, 203)), 900, 400)
    (instance,) = prepare(job).instances
    strip = Strip(
        instance.size(1, False)[1],
        tuple(instance.block(Lying(n, False) for n in block) for block in ((0, 0), (1,))),
    )
    ((_, stock, tree),) = trees(instance, Solution((Laid(0, (strip,)),), (0, 0)), job)
    plan = saw_up(job, [layout_sheet("1", job.stock_row(stock), job.shop.kerf, tree)])
    count = counted([("one", plan)], told=False)
    assert (count["sized"], count["remains"], count["wrong"]) == (4, 1, 1)
