"""The cuts of a finished plan in order, for the command line."""

from dataclasses import dataclass, replace

from layout_app.adoption import adopted
from layout_app.order_words import MODES, verdict
from layout_app.project import Project
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


@dataclass(frozen=True, slots=True, kw_only=True)
class InOrder:
    """A plan with its cuts in order.

    ``sentence`` says how good the order is, ``least_changes`` how many set-up changes any
    order of the shop's mode has at least, -1 if that is not known.
    """

    plan: Plan
    sentence: str = ""
    least_changes: int = -1

    def laid_out(self, project: Project) -> Project:
        """Return the project with this plan and its order, as a window would keep it."""
        project = adopted(project, self.plan)
        if not self.sentence:
            return project
        layout = replace(
            project.layout,
            order=tuple(cut.key for cut in self.plan.cuts),
            sawing=project.job.shop.sawing,
            least_changes=self.least_changes,
        )
        return replace(project, layout=layout)


def in_order(plan: Plan, job: Job, stop: Stop, *, work: bool = False) -> InOrder:
    """Return the plan with its cuts in order.

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
    from solver.ordering.order import put_in_order  # noqa: PLC0415 - OR-Tools loads slowly; `check` does without

    job = sawable(job)
    asked = Asked(job=job, sheets=sheets_of(plan))
    orders = put_in_order(asked, stop.within(SECONDS))
    ordered = next(orders, None)
    if ordered is None:
        return InOrder(plan=plan)
    if not work:
        *_, ordered = ordered, *orders
    sawn = saw_up(job, ordered.sheets, plan.proof, order=ordered.order)
    sawn = replace(sawn, unplaced=plan.unplaced)
    if refused := verify(sawn):
        raise RuntimeError(refused[0].sentence)
    mode = MODES[job.shop.sawing].capitalize()
    changes = counted(ordered.changes, "set-up change")
    said = f"{mode}: {changes}, {verdict(ordered.changes, ordered.bound)}"
    return InOrder(plan=sawn, sentence=said, least_changes=ordered.bound)
