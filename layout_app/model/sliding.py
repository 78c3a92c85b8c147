"""Pieces of a sheet slide along when its kerf, its size or its trims change; the cuts stay.

So do those of a run that cannot be made at the table saw any longer: it has another kerf.
"""

from dataclasses import replace

from shared.cuts.table_runs import still_tabled
from shared.geometry import Rect
from shared.job import Job
from shared.layout import LayoutSheet
from shared.lengths import Length
from shared.shop import Axis
from shared.stock import Stock, Trims
from shared.tree import Run, left_over, piece_rects, places


def slid(job: Job, stock: Stock, sheet: LayoutSheet) -> LayoutSheet:
    """Keep a sheet's tree and let its pieces slide to the new kerf and trims."""
    if sheet.tree is None:
        return replace(sheet, last=None)
    return _with(job, stock, sheet, _retrimmed(sheet.tree, stock.trims))


def slid_to_rail(job: Job, stock: Stock, sheet: LayoutSheet) -> LayoutSheet:
    """Let pieces slide in runs that cannot be made at the table saw any longer."""
    tree = None if sheet.tree is None else still_tabled(sheet.tree, stock, job.shop)
    return sheet if tree is None or tree == sheet.tree else _with(job, stock, sheet, tree)


def _with(job: Job, stock: Stock, sheet: LayoutSheet, tree: Run) -> LayoutSheet:
    """Give a sheet a tree of the same parts, as far as there is room for them."""
    tree, rect = still_tabled(tree, stock, job.shop), stock.whole
    if not _fits(tree, rect, job.shop.kerf):
        return replace(sheet, placements=sheet.placements if sheet.yours else (), tree=None)
    lying = {at.key: box for at, box in places(tree, rect, job.shop.kerf)}
    boxes = ((one, lying[one.key]) for one in sheet.placements)
    moved = tuple(
        replace(one, x=box.x, y=box.y, length=box.length, width=box.width) for one, box in boxes
    )
    usable_length, usable_width = stock.length - stock.trims.end, stock.width - stock.trims.far
    if all(p.rect.right <= usable_length and p.rect.bottom <= usable_width for p in moved):
        return replace(sheet, placements=moved, tree=tree)
    return replace(sheet, placements=sheet.placements if sheet.yours else (), tree=None)


def _retrimmed(run: Run, trims: Trims, level: int = 1) -> Run:
    """Give the first run of each axis the trim that the sheet has now."""
    if level > 2:
        return run
    pieces = tuple(
        piece if piece.run is None else replace(piece, run=_retrimmed(piece.run, trims, level + 1))
        for piece in run.pieces
    )
    trim = trims.near if run.axis is Axis.RIP else trims.start
    return replace(run, trim=trim, pieces=pieces)


def _fits(run: Run, rect: Rect, kerf: Length) -> bool:
    return left_over(run, rect, kerf) >= 0 and all(
        piece.run is None or _fits(piece.run, box, kerf)
        for piece, box in piece_rects(run, rect, kerf)
    )
