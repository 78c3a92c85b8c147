"""Room beyond the blocks of match groups, so that their last rows and parts are cut to size too.

A block that is just as large as its parts leaves the last of each row, and the last row, as what
remains. What it is larger becomes waste as it is parted.
"""

from solver.limits.block_parting import can_be_parted
from solver.limits.measure import CountedRun
from solver.material.instance import Block, Instance, Lying, ShopLimits

NOTHING = (0, 0)


def grows(instance: Instance, kind: int, lying: Lying, limits: ShopLimits) -> tuple[bool, bool]:
    """Return whether an item may be larger than its parts along x, and across x, as it lies.

    So it may where it is parted in that direction, and the last cut is within the limits, which
    are in ticks.
    """
    grid = instance.items[lying.item].grid
    if grid is None:
        return False, False
    columns, rows = len(grid.lengths) > 1, len(grid.widths) > 1
    along, across = (rows, columns) if lying.turned else (columns, rows)
    least = max(instance.kerf, 1)
    return (
        along and _parts(instance, kind, lying, (least, 0), limits),
        across and _parts(instance, kind, lying, (0, least), limits),
    )


def room_of(
    instance: Instance, kind: int, block: Block, width: int, limits: ShopLimits
) -> tuple[tuple[int, int], ...]:
    """Return by how much each item of a block is made larger, along x and across, in units.

    Parameters
    ----------
    instance, kind
        The material, and on which kind of sheet the block lies.
    block, width
        The block, and the width of its strip, in units.
    limits
        Of the shop, in ticks.

    Notes
    -----
    Only blocks of match groups grow, and of an offcut worth keeping they take a kerf at most.
    """
    least = max(instance.kerf, 1)
    spare = width - sum(instance.size(*lying)[1] for lying in block.stack)
    growing = sum(grows(instance, kind, lying, limits)[1] for lying in block.stack)
    fall = CountedRun(3, (width - spare,), width, block.length)
    share = least if fall.remainder(instance.kerf, instance.keep) else spare
    found = []
    for lying in block.stack:
        along, across = grows(instance, kind, lying, limits)
        longer = block.length - instance.size(*lying)[0] if along else 0
        wider = 0
        if across and growing * least <= spare:
            growing -= 1
            wider = least if growing else min(share, spare)
            spare -= wider
        more = longer if longer >= least else 0, wider
        found.append(more if _parts(instance, kind, lying, more, limits) else NOTHING)
    return tuple(found)


def _parts(
    instance: Instance, kind: int, lying: Lying, more: tuple[int, int], limits: ShopLimits
) -> bool:
    """Whether the block of a match group can be parted when it is so much larger."""
    grid = instance.items[lying.item].grid
    if grid is None or more == NOTHING:
        return True
    along, across = (size * instance.unit for size in more)
    spare = (across, along) if lying.turned else (along, across)
    turned = lying.turned is not instance.kinds[kind].transposed
    kerf = instance.kerf * instance.unit
    return can_be_parted(grid, turned, kerf, limits, spare)
