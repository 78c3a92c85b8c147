"""A rip moves within its sheet, and the strip with all in it moves with it."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shared.cuts.moves import move_rip, rip_index, why_not
from shared.cuts.sequence import layout_sheet, saw_up
from shared.cuts.tally import tally
from shared.job import Job
from shared.layout import LayoutSheet
from shared.lengths import MM
from shared.parts import Part
from shared.plan import Plan
from shared.saw import verify
from shared.shop import Axis, Shop
from shared.stock import Stock, Trims
from shared.tree import Piece, Place, Run

KERF = 3 * MM
WIDTHS = (100, 60, 80)
JOB = Job(
    parts=tuple(
        Part(id=f"p{w}", name=f"p{w}", length=300 * MM, width=w * MM, copies=2, material="ply")
        for w in WIDTHS
    ),
    stock=(
        Stock(
            id="s",
            name="ply",
            material="ply",
            length=800 * MM,
            width=400 * MM,
            thickness=18 * MM,
            trims=Trims(near=10 * MM),
        ),
    ),
    shop=Shop(kerf=KERF),
)


def strip(width: int) -> Piece:
    """Return a strip with both copies of the part of that width."""
    copies = tuple(
        Piece(size=300 * MM, place=Place(part=f"p{width}", copy=copy)) for copy in (1, 2)
    )
    return Piece(size=width * MM, run=Run(axis=Axis.CROSSCUT, pieces=copies))


def tree() -> Run:
    """Return three strips behind a trim, with a strip of waste before the last."""
    pieces = (strip(100), strip(60), Piece(size=20 * MM), strip(80))
    return Run(axis=Axis.RIP, trim=10 * MM, pieces=pieces)


def sheet_of(run: Run) -> LayoutSheet:
    """Lay the tree out on the job's only sheet."""
    return layout_sheet("1", JOB.stock[0], KERF, run)


def sawn(run: Run) -> Plan:
    """Saw the tree up."""
    return saw_up(JOB, [sheet_of(run)])


PLACES = st.integers(0, 3)


@given(frm=PLACES, to=PLACES)
def test_any_move_is_sawn_and_costs_the_same(frm: int, to: int) -> None:
    """The saw accepts the new order; cuts, set-ups and sawn length stay as they were."""
    before, after = sawn(tree()), sawn(move_rip(tree(), frm, to))
    assert verify(after) == ()
    assert tally(after, JOB.shop) == tally(before, JOB.shop)
    assert move_rip(move_rip(tree(), frm, to), to, frm) == tree()


def test_the_strip_moves_and_the_others_close_up() -> None:
    """Moved to the front, the last strip begins at the trim and the others behind it."""
    after = sheet_of(move_rip(tree(), 3, 0))
    tops = {lying.part: lying.y // MM for lying in after.placements}
    assert tops == {"p80": 10, "p100": 10 + 80 + 3, "p60": 10 + 80 + 3 + 100 + 3}


@pytest.mark.parametrize(("frm", "to"), [(4, 0), (-1, 0), (0, -1), (0, 4)])
def test_no_move_beyond_the_run(frm: int, to: int) -> None:
    """The trim stays first and the fall last; the reason is said and the move refused."""
    assert why_not(tree(), frm, to)
    with pytest.raises(IndexError):
        move_rip(tree(), frm, to)


def test_which_rip_a_cut_saws() -> None:
    """Cuts of level 1 count from the first piece on; trim and crosscuts saw no strip."""
    plan = sawn(tree())
    indices = [rip_index(plan, cut.number) for cut in plan.cuts]
    assert indices == [None, 0, 1, 2, 3, *[None] * 6]
    assert rip_index(plan, len(plan.cuts) + 1) is None
