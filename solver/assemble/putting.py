"""Which order of a run's pieces the shop's limits demand, as near as can be to the one wanted.

Wanted is largest first. A rail that has nothing else to rest on wants the largest last; in
an exact run whose last size is spared, second to last (see `solver.limits.cut_run`).
"""

from solver.limits.cut_run import CutRun, at_table, carries, last_sizes
from solver.material.instance import ShopLimits


def places(run: CutRun, limits: ShopLimits) -> list[int]:
    """Return the pieces of a run by their places, in the order in which to saw them off.

    ``run.sizes`` are in the order wanted, of which no more is given up than must be.
    """
    order = list(range(len(run.sizes)))
    if len(order) < 2 or (not limits.bind and limits.guide is None):
        return order
    if run.ends_exactly:
        able = last_sizes(run, limits)
        if able and run.sizes[order[-1]] not in able:
            _to_end(order, [place for place in order if run.sizes[place] in able][-1])
    if _fits(run, [run.sizes[place] for place in order], limits):
        return order
    if run.fall or not run.exact:
        _to_end(order, _largest(run, order))
    else:
        last = order.pop()
        _to_end(order, _largest(run, order))
        order.append(last)
    return order


def _to_end(order: list[int], place: int) -> None:
    order.remove(place)
    order.append(place)


def _largest(run: CutRun, order: list[int]) -> int:
    """Return the last of the largest pieces."""
    return max(order, key=lambda place: (run.sizes[place], order.index(place)))


def _fits(run: CutRun, sizes: list[int], limits: ShopLimits) -> bool:
    """Whether the last cut of that order is within the limits."""
    if run.fall or not run.exact:
        rest, held = max(sizes[-1], run.fall), sizes[-1] + run.fall
    else:
        rest, held = max(sizes[-2:]), sum(sizes[-2:])
    tabled = not carries(run, limits) and at_table(run, sizes[-1], limits)
    return (tabled or rest >= limits.carry) and max(run.across, held) >= limits.hold
