"""How the block of a match group is parted: rows first, then the parts of each row.

A block that lies turned is turned round by a quarter, never mirrored, or the figure would
not flow: its first row is the nearest to the short reference edge, and every row runs
towards the reference edge. A single row runs away from it: a quarter turn the other way.
"""

from collections.abc import Sequence

from shared.lengths import Length
from shared.parts import Copy
from shared.shop import Axis
from shared.tree import Piece, Place, Run
from solver.material.instance import BlockGrid


def parted(
    grid: BlockGrid,
    copies: Sequence[Copy],
    axis: Axis,
    *,
    turned: bool,
    kerf: Length,
    larger: tuple[Length, Length] = (0, 0),
) -> Piece:
    """Return the piece that is the block of a grid, with the cuts that part it.

    Parameters
    ----------
    grid
        Rows and columns of the block.
    copies
        Part id and copy of each cell, row by row.
    axis
        Direction of the cuts that part the piece from its neighbours.
    turned
        Whether its parts lie with their lengths along y, in the frame of the sheet.
    kerf
        Between neighbours, in ticks.
    larger
        By how much the piece is larger than the block, along and across the run it comes from;
        only where the block is parted in that direction.
    """
    along, across = larger
    run = _rows(grid, copies, turned)
    if run.axis is axis:
        # Cuts of the other direction come before these. They would part the rows, which
        # have to stay whole, so there are none: one piece fills its run.
        whole = Piece(size=_extent(grid, axis.other, turned, kerf) + across, run=run)
        run = Run(axis=axis.other, pieces=(whole,))
    return Piece(size=_extent(grid, axis, turned, kerf) + along, run=run)


def _rows(grid: BlockGrid, copies: Sequence[Copy], turned: bool) -> Run:
    """Return the cuts between the rows, or of a single row those between its parts."""
    across = Axis.CROSSCUT if turned else Axis.RIP
    columns = len(grid.lengths)
    rows = [copies[at : at + columns] for at in range(0, len(copies), columns)]
    if len(rows) == 1:
        return _row(grid.lengths, rows[0], across.other, turned)
    if columns == 1:
        return _row(grid.widths, copies, across, turned)
    backwards = -1 if turned else 1
    cut = [_row(grid.lengths[::backwards], row[::backwards], across.other, turned) for row in rows]
    pieces = (Piece(size=width, run=run) for width, run in zip(grid.widths, cut, strict=True))
    return Run(axis=across, pieces=tuple(pieces))


def _row(sizes: Sequence[Length], copies: Sequence[Copy], axis: Axis, turned: bool) -> Run:
    """Return the cuts between parts that lie in one line."""
    pieces = (
        Piece(size=size, place=Place(part=part, copy=copy, turned=turned))
        for size, (part, copy) in zip(sizes, copies, strict=True)
    )
    return Run(axis=axis, pieces=tuple(pieces))


def _extent(grid: BlockGrid, axis: Axis, turned: bool, kerf: Length) -> Length:
    """Return the extent of the block at right angles to cuts of that axis, in ticks."""
    along_width = (axis is Axis.RIP) is not turned
    sizes = grid.widths if along_width else grid.lengths
    return sum(sizes) + kerf * (len(sizes) - 1)
