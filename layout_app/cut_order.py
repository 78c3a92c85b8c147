"""The cuts of a finished plan in order, for the command line."""

from dataclasses import replace

from layout_app.order_words import MODES, verdict
from layout_app.wording import counted
from shared.job import Job
from shared.layout import sheets_of
from shared.plan import Plan
from shared.saw import verify
from solver.ordering.asked import Asked
from solver.prepare import sawable
from solver.sequencing.sequence import saw_up
from solver.stop import Stop

SECONDS = 5.0
"""Longest time to look for fewer set-up changes."""


def in_order(plan: Plan, job: Job, stop: Stop, *, work: bool = False) -> tuple[Plan, str]:
    """Return the plan with its cuts in order, and one sentence on how good the order is.

    Parameters
    ----------
    plan, job
        A plan that the simulated saw accepts, and its job.
    stop
        Ends the search for fewer set-up changes; the first order is found before it is asked.
    work
        Take the first order, so that the result does not depend on the clock.

    Raises
    ------
    RuntimeError
        If the simulated saw refuses the order: a fault of this program.
    """
    from solver.ordering.order import put_in_order  # noqa: PLC0415 - brings OR-Tools in

    job = sawable(job)
    asked = Asked(job=job, sheets=sheets_of(plan))
    orders = put_in_order(asked, stop.within(SECONDS))
    ordered = next(orders, None)
    if ordered is None:
        return plan, ""
    if not work:
        *_, ordered = ordered, *orders
    sawn = saw_up(job, ordered.sheets, plan.proof, order=ordered.order)
    sawn = replace(sawn, unplaced=plan.unplaced)
    if refused := verify(sawn):
        raise RuntimeError(refused[0].sentence)
    mode = MODES[job.shop.sawing].capitalize()
    changes = counted(ordered.changes, "set-up change")
    return sawn, f"{mode}: {changes}, {verdict(ordered.changes, ordered.bound)}"
