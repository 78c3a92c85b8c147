"""From an order of passes back to sheets: pieces of a run lie in the order in which they come."""

from collections.abc import Sequence

from shared.asked import CutsToOrder
from shared.cuts.forest import Pass
from shared.cuts.rearranging import rearranged, renamed
from shared.cuts.sequence import layout_sheet, saw_up
from shared.layout import LayoutSheet
from shared.making.timing import worked
from solver.outcome import Ordered


def ordered(asked: CutsToOrder, order: Sequence[Pass], least_s: int = -1) -> Ordered:
    """Return all passes in an order with their sheets, and what they take by their records.

    ``least_s`` is what every order of the mode takes at least, in seconds, or -1.
    """
    ranks = {made.key: place for place, made in enumerate(order)}
    sheets = tuple(_laid(asked, sheet, ranks) for sheet in asked.sheets)
    keys = renamed(tuple(ranks))
    plan = saw_up(asked.job, sheets, order=keys)
    seconds = worked(plan, asked.job.shop).seconds.total
    return Ordered(sheets=sheets, order=keys, seconds=seconds, least_s=min(least_s, seconds))


def _laid(asked: CutsToOrder, sheet: LayoutSheet, ranks: dict[str, int]) -> LayoutSheet:
    if sheet.tree is None:
        return sheet
    row, kerf = asked.job.stock_row(sheet.stock), asked.job.shop.kerf
    tree = rearranged(sheet.tree, sheet.id, row.whole, kerf, ranks)
    return sheet if tree == sheet.tree else layout_sheet(sheet.id, row, kerf, tree, sheet.yours)
