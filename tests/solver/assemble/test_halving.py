"""Boards too heavy to turn alone are sawn near their middle first."""

from dataclasses import replace

import pytest

from layout_app.cli.check import wrong_trees
from shared.cuts.sequence import layout_sheet, saw_up
from shared.job import Job
from shared.lengths import MM
from shared.plan import Cut, CutKind, Plan
from shared.saw import verify
from shared.shop import Axis, CutRule, FirstCut, Shop
from shared.stock import Stock, Trims
from shared.tree import Piece, Run, halves, strips
from solver.assemble.halving import halved
from solver.budget.stop import Budget
from solver.run import run as plan_it
from tests.soak.equal_parts import made
from tests.soak.halving import counted, heavy_job
from tests.solver.assemble.test_assemble import lying, part

BOARD = Stock(
    id="s",
    name="board",
    material="ply",
    length=2440 * MM,
    width=1220 * MM,
    thickness=25 * MM,
    density=769,
    trims=Trims(near=10 * MM),
)
"""MDF of 769 kg/m3 (makers' tables): 2.44 x 1.22 x 0.025 x 769 = 57.2 kg."""
ALONE = Shop(kerf=2 * MM, turn_g=46_000)


def job(widths: dict[str, int], copies: int = 1, shop: Shop = ALONE, row: Stock = BOARD) -> Job:
    """Return a job of strips as long as the board, by their widths in mm."""
    parts = tuple(part(name, 2440, width, copies) for name, width in widths.items())
    return Job(parts=parts, stock=(row,), shop=shop)


def tree(*strips: tuple[str, int, int]) -> Run:
    """Return the cuts that saw strips off a board: part, copy, and width in mm."""
    return Run(
        axis=Axis.RIP,
        trim=10 * MM,
        pieces=tuple(lying(name, copy, width) for name, copy, width in strips),
    )


def sawn(run: Run, given: Job) -> Plan:
    """Return the plan of one board, which the simulated saw has accepted."""
    sheet = layout_sheet("1", given.stock[0], given.shop.kerf, run)
    plan = saw_up(given, [sheet])
    assert verify(plan) == ()
    assert list(wrong_trees(plan)) == []
    return plan


def told(cuts: tuple[Cut, ...]) -> list[tuple[str, int, int]]:
    """Return piece, level and size in mm of each cut."""
    return [(cut.piece, cut.level, cut.size // MM) for cut in cuts]


def test_strips_together_reach_nearest_to_the_middle() -> None:
    """Of 500, 300, 250 and 100 no one and no pair is nearer to half of 1210 than 500 + 2 + 100.

    The middle is at 605, that of the blade at 603; of 500 alone at 501, of 300 + 2 + 250 at 553.
    """
    widths = {"a": 500, "b": 300, "c": 250, "d": 100}
    given = job(widths)
    run = halved(tree(*((name, 1, width) for name, width in widths.items())), BOARD, given)
    plan = sawn(run, given)
    assert told(plan.cuts) == [
        ("1", 1, 10),
        ("1", 1, 602),
        ("1", 1, 300),
        ("1", 1, 250),
        ("1a", 1, 500),
    ]
    assert {cut.kind for cut in plan.cuts} == {CutKind.TRIM, CutKind.RIP}


def test_one_strip_goes_first_where_it_reaches_as_near() -> None:
    """600 is nearer to 605 than 350 + 2 + 250 + 3 would be; no cut is added."""
    given = job({"a": 350, "b": 600, "c": 240})
    run = halved(tree(("a", 1, 350), ("b", 1, 600), ("c", 1, 240)), BOARD, given)
    assert told(sawn(run, given).cuts)[:2] == [("1", 1, 10), ("1", 1, 600)]
    assert len(sawn(run, given).cuts) == 4


def test_blocks_of_a_board_that_is_not_ripped_come_nearest_to_the_middle() -> None:
    """Of 500, 900 and 400 across the whole board 900 + 2 + 400 come nearest to 1220."""
    blocks = {"a": 500, "b": 900, "c": 400}
    parts = tuple(part(name, size, 1210) for name, size in blocks.items())
    given = Job(parts=parts, stock=(BOARD,), shop=ALONE)
    cuts = Run(
        axis=Axis.CROSSCUT, pieces=tuple(lying(name, 1, size) for name, size in blocks.items())
    )
    whole = Run(axis=Axis.RIP, trim=10 * MM, pieces=(Piece(size=1210 * MM, run=cuts),))
    plan = sawn(halved(whole, BOARD, given), given)
    assert told(plan.cuts) == [("1", 1, 10), ("1", 2, 1302), ("1", 2, 500), ("1a", 2, 900)]


def test_what_can_be_turned_stays_as_it_is() -> None:
    """Of 18 mm the board weighs 41 kg; without a density nothing is known of its weight."""
    strips = tree(("a", 1, 500), ("b", 1, 300))
    for row in (replace(BOARD, thickness=18 * MM), replace(BOARD, density=0)):
        assert halved(strips, row, job({"a": 500, "b": 300}, row=row)) is strips
    nobody = replace(ALONE, turn_g=0)
    assert halved(strips, BOARD, job({"a": 500, "b": 300}, shop=nobody)) is strips


def test_equal_strips_are_all_cut_to_size() -> None:
    """Two of four strips of 280 are a half of 562; 2 + 2 more let the second be cut at 280 too."""
    given = job({"a": 280}, copies=4)
    run = halved(tree(*(("a", copy, 280) for copy in range(1, 5))), BOARD, given)
    sizes = [cut.size // MM for cut in sawn(run, given).cuts]
    assert sizes.count(280) == 4
    assert sizes[:2] == [10, 280 + 2 + 280 + 2 + 2]


def test_halves_that_are_too_heavy_are_halved_again() -> None:
    """Where 20 kg are the most, halves of 28 kg are sawn near their own middle."""
    weak = replace(ALONE, turn_g=20_000)
    widths = {name: 100 + 7 * at for at, name in enumerate("abcdefgh")}
    given = job(widths, shop=weak)
    run = halved(tree(*((name, 1, width) for name, width in widths.items())), BOARD, given)
    plan = sawn(run, given)
    heavy = [place for place, cut in enumerate(plan.cuts[1:]) if cut.piece == "1"]
    near, far = plan.cuts[1].size, 1210 * MM - plan.cuts[1].size
    assert 57.2 * min(near, far) / (1220 * MM) > 20
    assert heavy[0] == 0
    assert halves(run) == 2
    inner = run.pieces[0].run
    assert inner is not None
    assert halves(inner) == 1
    assert len(plan.cuts) == 1 + 8
    assert {piece.size // MM for piece, _ in strips(run, BOARD.whole, 2 * MM)} == set(
        widths.values()
    )


@pytest.mark.parametrize("first", [FirstCut.RIP, FirstCut.CROSSCUT])
def test_the_order_of_cuts_keeps_the_half_first(first: FirstCut) -> None:
    """Whatever sizes repeat, the cut nearest to the middle is made right after the trim."""
    parts = (part("a", 600, 400, 4), part("b", 500, 390, 3), part("c", 600, 180, 4))
    given = Job(parts=parts, stock=(BOARD,), shop=ALONE, rule=CutRule(first=first))
    plan = plan_it(given, Budget(time_s=None, work=5), lambda event: None)
    assert plan is not None
    for sheet in plan.sheets:
        assert sheet.tree is not None
        cuts = [cut for cut in plan.cuts if cut.sheet == sheet.id and cut.kind is not CutKind.TRIM]
        across = [(cut, cut.rect) for cut in cuts if cut.level == 1]
        rip = first is FirstCut.RIP
        begin, end = (10 * MM, sheet.width) if rip else (0, sheet.length)
        off = [
            abs((2 * box.y + box.width if rip else 2 * box.x + box.length) - begin - end)
            for _, box in across
        ]
        assert cuts[0] is across[0][0]
        assert off[0] <= min(off) + 2 * (ALONE.kerf + 2 * MM)


def test_made_up_boards_are_sawn_near_their_middle_first() -> None:
    """Short form of `tests.soak.halving`: every board, some of them into halves of strips."""
    count = counted(made(map(heavy_job, range(3)), 5))
    assert count["nearest first"] == count["boards"] > 3
    assert count["in halves"] > 0
    assert count["wrong"] == count["other trees"] == 0
