"""Whether the block of a match group can be parted under the shop's limits."""

from solver.limits.cut_run import CutRun, is_reached, suits
from solver.material.instance import BlockGrid, ShopLimits

PARTING = 3
"""Not the first level, whose reach is settled by the choice of kinds."""


def can_be_parted(
    grid: BlockGrid,
    turned: bool,
    kerf: int,
    limits: ShopLimits,
    spare: tuple[int, int] = (0, 0),
) -> bool:
    """Whether rows and columns can be sawn apart in the order in which the figure flows.

    Sizes of ``grid`` and ``kerf`` in ticks, as the limits are; ``turned`` is how its parts
    lie in the frame of the sheet: the columns of a turned block come in reverse.
    """
    if not limits.bind:
        return True
    widths, lengths = (tuple(size + kerf for size in side) for side in grid)
    columns = lengths[::-1] if turned and len(widths) > 1 else lengths
    longer, wider = spare
    rows = _parts(widths, sum(lengths) + longer, limits, wider)
    return rows and all(_parts(columns, width, limits, longer) for width in widths)


def _parts(sizes: tuple[int, ...], across: int, limits: ShopLimits, spare: int) -> bool:
    """Whether pieces can be sawn off in that order when so much is left beyond the last."""
    if len(sizes) == 1:
        return True
    run = CutRun(PARTING, sizes, sum(sizes) + spare, across)
    return is_reached(run, limits) and suits(run, sizes, limits)
