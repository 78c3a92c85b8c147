"""Whole runs that are ripped at the table saw: where that can be done, and where no longer.

The cuts of the saw on the rail are the rule; a run that is made at the table saw carries that
saw's kerf. It can be where one person handles the piece there, by the shop's figures, and where
the piece lies against the fence well: with a sawn edge, never a factory edge, and with no less
of it than the piece is wide. Crosscuts are never made so: no sled is known.
"""

from dataclasses import replace

from shared.geometry import Rect
from shared.lengths import Length
from shared.shop import Axis, Shop
from shared.stock import Stock
from shared.tree import Run, left_over, piece_rects
from shared.weighing import grams


def can_be_tabled(run: Run, rect: Rect, row: Stock, shop: Shop) -> bool:
    """Say whether all pieces of a run can be sawn off at the table saw.

    Parameters
    ----------
    run, rect
        The cuts, and the piece they are made in, in the frame of its sheet, in ticks; the
        kerf of the run is the one it would have.
    row
        The stock row of the sheet. Where no density is known, weight is no matter.
    shop
        With the figures of its table saw; one whose ``longest`` is 0 takes no whole run.
    """
    table, across, long = shop.table, rect.width - run.trim, rect.length
    if table is None or run.axis is not Axis.RIP or rect.y + run.trim <= 0:
        return False
    if not max(across, shop.hold) <= long <= table.longest or across > table.widest:
        return False
    if grams(long, across, row.thickness, row.density) > table.heaviest_g:
        return False
    return all(table.fence.least <= size <= table.fence.most for size in sizes(run, rect, shop))


def sizes(run: Run, rect: Rect, shop: Shop) -> list[Length]:
    """Return what the cuts of a run are set to: of an exact ending the last piece is none."""
    exact = left_over(run, rect, shop.kerf) == 0
    return [piece.size for piece in run.pieces[: len(run.pieces) - exact]]


def still_tabled(tree: Run, row: Stock, shop: Shop) -> Run:
    """Return a tree in which runs are made at the table saw only as far as that still can be.

    Other runs go back to the saw on the rail, so that their pieces slide by the difference of
    the kerfs. Parameters as in `can_be_tabled`.
    """
    return _still(tree, row.whole, row, shop)


def _still(run: Run, rect: Rect, row: Stock, shop: Shop) -> Run:
    tabled = shop.table is not None and run.kerf == shop.table.kerf
    if run.kerf and not (tabled and can_be_tabled(run, rect, row, shop)):
        run = replace(run, kerf=0)
    pieces = tuple(
        piece if piece.run is None else replace(piece, run=_still(piece.run, box, row, shop))
        for piece, box in piece_rects(run, rect, shop.kerf)
    )
    return replace(run, pieces=pieces)
