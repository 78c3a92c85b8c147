"""What the planner was asked: one run, held by whoever asked for it."""

from dataclasses import dataclass
from enum import Enum, auto

from layout_app.model.carry_over import same_problem
from layout_app.model.project import Project


class Work(Enum):
    """What a run is for."""

    PLAN = auto()
    ADVICE = auto()
    """What would save a sheet."""
    ORDER = auto()
    """The cuts of what lies there, in an order that takes less time."""
    ASIDE = auto()
    """A plan of something else than what is shown, to be offered."""


@dataclass(slots=True, eq=False)
class PlannerRun:
    """One run of the planner; safe to ask from any thread.

    Attributes
    ----------
    number
        By which its answers are known.
    work
        What it is for.
    project
        What its plans are joined with: the one asked for, or one in which only words differ.
    over
        Whether nothing more comes of it: it has ended, or something else was asked since.
    """

    number: int
    work: Work
    project: Project
    over: bool = False


def same_question(asked: Project, now: Project) -> bool:
    """Whether a project is of the same opening as the one asked about, and the same to plan."""
    return asked.opening == now.opening and same_problem(asked.job, now.job)
