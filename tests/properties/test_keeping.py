"""The tree of a sheet stays as far as what lies on it does."""

from dataclasses import replace

from hypothesis import given, settings
from hypothesis import strategies as st

from shared.cuts.sequence import layout_sheet, saw_up
from shared.layout import LayoutSheet
from shared.recognise import find_tree
from shared.saw import verify
from shared.stock import Stock
from shared.tree import Run
from tests.examples import some_of
from tests.properties.test_recognise import cuts
from tests.strategies import LaidOut, laid_out


def again(made: LaidOut, sheet: LayoutSheet, lying: tuple[int, ...], before: Run) -> Run | None:
    """Find a tree for some of the parts on a sheet, by their index."""
    row, shop = row_of(made, sheet), made.job.shop
    some = [sheet.placements[index] for index in lying]
    return find_tree(row.whole, some, shop.kerf, row.trims, made.job.rule.first, before=before)


def row_of(made: LaidOut, sheet: LayoutSheet) -> Stock:
    """Return the stock row of a sheet."""
    return made.job.stock_row(sheet.stock)


@settings(max_examples=some_of(100))
@given(made=laid_out(most_sheets=1))
def test_nothing_moved_nothing_changes(made: LaidOut) -> None:
    """A sheet on which all lies as it lay keeps its very tree."""
    for sheet in made.sheets:
        everything = tuple(range(len(sheet.placements)))
        if sheet.tree is not None and everything:
            assert again(made, sheet, everything, sheet.tree) == sheet.tree


@settings(max_examples=some_of(100))
@given(made=laid_out(most_sheets=1), data=st.data())
def test_parts_that_leave_cost_nothing(made: LaidOut, data: st.DataObject) -> None:
    """Without some parts a sheet takes no cut more, and one put back is cut out again."""
    kerf = made.job.shop.kerf
    for sheet in made.sheets:
        number = len(sheet.placements)
        if sheet.tree is None or number < 2:
            continue
        gone = data.draw(st.integers(0, number - 1))
        rest = tuple(index for index in range(number) if index != gone)
        row = row_of(made, sheet)
        fewer = again(made, sheet, rest, sheet.tree)
        assert fewer is not None
        assert cuts(fewer, row.whole, kerf) <= cuts(sheet.tree, row.whole, kerf)
        back = again(made, sheet, (*rest, gone), fewer)
        assert back is not None
        for tree in (fewer, back):
            found = layout_sheet(sheet.id, row, kerf, tree)
            assert verify(saw_up(made.job, [replace(found, yours=True)])) == ()
