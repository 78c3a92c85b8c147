"""A plan with its cuts in a first order, found within moments: so its minutes are of an order.

Whoever shows a plan for longer has its cuts put in order for longer as well.
"""

from shared.asked import CutsToOrder
from shared.cuts.sequence import saw_up
from shared.layout import sheets_of
from shared.plan import Plan
from shared.saw import verify
from solver.budget.stop import Stop
from solver.cut_order.quickly import put_quickly
from solver.prepare.instances import Prepared


class _EnoughError(Exception):
    """It is time to stop: half an order is of no use."""


def in_first_order(prepared: Prepared, plan: Plan, stop: Stop) -> Plan | None:
    """Return a plan whose cuts are in order, as the shop wishes it, and its pieces with them.

    What is kept or begun lies as it lay, and what is made keeps its place. Where the simulated saw
    refuses the order, the plan is returned as it was; ``None`` if it is time to stop before.
    """
    if stop:
        return None
    stays = {sheet.id for sheet in plan.sheets if sheet.stays}
    asked = CutsToOrder(
        job=prepared.job,
        sheets=sheets_of(plan),
        fixed=frozenset(stays),
        made=prepared.made.order,
    )
    if not asked.sheets:
        return plan

    def heard() -> bool:
        if stop:
            raise _EnoughError
        return False

    try:
        ordered = put_quickly(asked, stop=Stop().when(heard))
    except _EnoughError:
        return None
    if stop:
        return None
    made = saw_up(
        prepared.job,
        ordered.sheets,
        plan.proof,
        plan.unplaced,
        order=ordered.order,
        first=plan.first,
        finished=plan.finished,
        stays=stays,
    )
    return plan if verify(made) else made
