"""Any trees of cuts are sawn up into a plan that the simulated saw accepts."""

from hypothesis import given, settings

from shared.cuts.sequence import layout_sheet, saw_up
from shared.cuts.tally import tally
from shared.saw import lying, verify
from shared.tree import left_over, passes, runs
from tests.examples import some_of
from tests.strategies import LaidOut, laid_out


@settings(max_examples=some_of(100))
@given(made=laid_out())
def test_random_trees_are_sawn(made: LaidOut) -> None:
    """The saw accepts the plan, with as many cuts as the trees have passes."""
    plan = saw_up(made.job, made.sheets)
    kerf = made.job.shop.kerf
    assert verify(plan) == ()
    trees = [
        (run, rect) for sheet in plan.sheets for _, run, rect in runs(sheet.tree, sheet.rect, kerf)
    ]
    counts = tally(plan, made.job.shop)
    assert counts.cuts == sum(passes(run, left_over(run, rect, kerf)) for run, rect in trees)
    assert counts.setups == len({cut.setup for cut in plan.cuts})
    names = [piece.name for piece in lying(plan, len(plan.cuts) + 1)]
    assert len(names) == len(set(names)) == len(plan.placements) + len(plan.offcuts)


@settings(max_examples=some_of(100))
@given(made=laid_out(most_sheets=1))
def test_layout_of_a_tree_is_where_its_parts_lie(made: LaidOut) -> None:
    """A layout made from a tree holds just the placements the tree was grown with."""
    rows = {row.id: row for row in made.job.stock}
    for sheet in made.sheets:
        if sheet.tree is not None:
            again = layout_sheet(sheet.id, rows[sheet.stock], made.job.shop.kerf, sheet.tree)
            assert again == sheet
