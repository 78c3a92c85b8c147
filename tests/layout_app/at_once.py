"""A planner that answers at once, in the same process, with the first plan it makes."""

from collections.abc import Collection

from layout_app.model.locks import settled
from layout_app.model.merge_plan import adopted
from layout_app.model.project import Project
from layout_app.model.sawing import Sawn, saw
from layout_app.planner.process import PlannerProcess
from layout_app.planner.run import PlannerRun, Work
from shared.plan import Plan
from solver.budget.stop import Budget
from solver.run import run


def plan_of(project: Project, spared: Collection[str] = ()) -> Plan:
    """Return the planner's first plan of what it may plan of a project."""
    around = settled(project, spared)
    plan = run(project.job, Budget(time_s=0.0), lambda event: None, around)
    assert plan is not None
    return plan


def sawn_of(project: Project, spared: Collection[str] = ()) -> Sawn:
    """Return it joined with what stays, and sawn."""
    return saw(adopted(project, plan_of(project, spared)))


class AtOnce(PlannerProcess):
    """Answers what is planned aside before it returns; keeps what it was asked."""

    def __init__(self) -> None:
        super().__init__()
        self.aside: list[Project] = []

    def plan_aside(self, project: Project, limits: Budget) -> PlannerRun:
        """Plan it now."""
        del limits
        self.aside.append(project)
        self.tried.emit(sawn_of(project))
        self.tried_all.emit()
        return PlannerRun(0, Work.ASIDE, project, over=True)

    def order(self, project: Project, seconds: float) -> PlannerRun:
        """Leave the order of the cuts as it is."""
        return PlannerRun(0, Work.ORDER, project, over=True)
