"""Whatever was sawn is recognised again, and tiny layouts are judged as by trying all cuts."""

from hypothesis import given, settings
from hypothesis import strategies as st

from shared.cuts.sequence import layout_sheet, saw_up
from shared.geometry import Rect
from shared.plan import Placement
from shared.recognise import Pace, find_tree, freed_by, is_cuttable, locked, problems
from shared.saw import verify
from shared.shop import FirstCut
from shared.stock import Trims
from shared.tree import Run, left_over, passes, places, runs
from tests.brute_cuts import NEVER, BruteSaw
from tests.examples import some_of
from tests.strategies import LaidOut, laid_out

CUTS_ONLY = Pace(cut_s=1, setup_s=0, skim_s=0)


def cuts(tree: Run, sheet: Rect, kerf: int) -> int:
    """Count all passes of the saw through a sheet."""
    return sum(passes(run, left_over(run, rect, kerf)) for _, run, rect in runs(tree, sheet, kerf))


@settings(max_examples=some_of(100))
@given(made=laid_out(most_sheets=1), first=st.sampled_from(FirstCut))
def test_what_was_sawn_is_recognised(made: LaidOut, first: FirstCut) -> None:
    """Placements of any tree have a tree again, with no more cuts, that the saw accepts."""
    kerf, rows = made.job.shop.kerf, {row.id: row for row in made.job.stock}
    for sheet in made.sheets:
        row = rows[sheet.stock]
        rect = Rect(x=0, y=0, length=row.length, width=row.width)
        assert problems(rect, sheet.placements, kerf, row.trims) == ()
        tree = find_tree(rect, sheet.placements, kerf, row.trims, first, pace=CUTS_ONLY)
        assert (tree is None) == (not sheet.placements)
        if tree is None or sheet.tree is None:
            continue
        found = layout_sheet(sheet.id, row, kerf, tree)
        assert sorted(found.placements, key=repr) == sorted(sheet.placements, key=repr)
        assert cuts(tree, rect, kerf) <= cuts(sheet.tree, rect, kerf)
        assert verify(saw_up(made.job, [found])) == ()


@st.composite
def tiny_layouts(draw: st.DrawFn) -> tuple[BruteSaw, int, Trims, Rect, tuple[Placement, ...]]:
    """Draw up to six parts on a sheet of a few ticks, most of them against something."""
    kerf = draw(st.sampled_from((0, 1, 1, 2)))
    trims = Trims(near=draw(st.sampled_from((0, 0, 2))), start=draw(st.sampled_from((0, 0, 2))))
    sheet = Rect(x=0, y=0, length=draw(st.integers(4, 10)), width=draw(st.integers(4, 10)))
    lying: list[Placement] = []
    for number in range(draw(st.integers(1, 6))):
        x = draw(st.sampled_from((trims.start, *(one.rect.right + kerf for one in lying))))
        y = draw(st.sampled_from((trims.near, *(one.rect.bottom + kerf for one in lying))))
        length, width = draw(st.integers(1, 4)), draw(st.integers(1, 4))
        one = Placement(
            part=f"p{number}",
            copy=1,
            sheet="1",
            x=x + draw(st.sampled_from((0, 0, 0, 1, 2, 3))),
            y=y + draw(st.sampled_from((0, 0, 0, 1, 2, 3))),
            length=length,
            width=width,
        )
        free = Rect(
            x=one.x - kerf, y=one.y - kerf, length=length + 2 * kerf, width=width + 2 * kerf
        )
        if sheet.contains(one.rect) and not any(free.overlaps(other.rect) for other in lying):
            lying.append(one)
    return BruteSaw(kerf, trims.near, trims.start), kerf, trims, sheet, tuple(lying)


@given(layout=tiny_layouts())
@settings(max_examples=some_of(500))
def test_fewest_cuts_and_least_locks(
    layout: tuple[BruteSaw, int, Trims, Rect, tuple[Placement, ...]],
) -> None:
    """Trying every cut at every tick finds no fewer cuts, and no smaller set of locked parts."""
    saw, kerf, trims, sheet, lying = layout

    def fewest(some: tuple[Placement, ...]) -> int:
        return saw.fewest(sheet.length, sheet.width, some)

    least = fewest(lying)
    assert is_cuttable(sheet, lying, kerf, trims) == (least < NEVER)
    for first in FirstCut if lying else ():
        tree = find_tree(sheet, lying, kerf, trims, first, pace=CUTS_ONLY)
        assert (NEVER if tree is None else cuts(tree, sheet, kerf)) == least
        assert tree is None or {rect for _, rect in places(tree, sheet, kerf)} == {
            one.rect for one in lying
        }
    knot = locked(sheet, lying, kerf, trims)
    assert bool(knot) == (least == NEVER)
    for one in knot:
        assert fewest(tuple(other for other in knot if other != one)) < NEVER
    if knot:
        assert fewest(knot) == NEVER
        freeing = {one for one in lying if fewest(tuple(o for o in lying if o != one)) < NEVER}
        assert set(freed_by(sheet, lying, kerf, trims)) == freeing
