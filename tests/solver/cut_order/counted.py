"""Set-up changes of an order, and the fewest that its least seconds leave room for.

In a shop where only cuts and set-ups take time, seconds say how often something is set.
"""

from collections.abc import Sequence
from typing import NamedTuple

from shared.cuts.sequence import saw_up
from shared.cuts.tally import tally
from shared.job import Job
from solver.outcome import Ordered


class Counted(NamedTuple):
    """Changes of an order, no less than which are proven, and whether it is said to be best."""

    changes: int
    bound: int
    proven: bool


def counted(job: Job, found: Ordered) -> Counted:
    """Count an order of a shop whose set-ups take time, but neither rails nor lifts do."""
    shop = job.shop
    assert shop.setup_s > 0
    assert not any((shop.measure_s, shop.rail_s, shop.join_s, shop.lift_s, shop.turn_s))
    takes = tally(saw_up(job, found.sheets, order=found.order), shop)
    assert takes.seconds == found.seconds
    others = takes.seconds - takes.took.setting
    bound = max(0, -(-(found.least_s - others) // shop.setup_s) - 1)
    return Counted(takes.setup_changes, bound, found.proven)


def all_counted(job: Job, orders: Sequence[Ordered]) -> list[Counted]:
    """Count several orders of one job."""
    return [counted(job, one) for one in orders]
