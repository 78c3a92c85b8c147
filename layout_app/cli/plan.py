"""Plan a project file from the command line."""

import sys
import time
from collections.abc import Callable
from dataclasses import replace
from math import inf
from pathlib import Path
from typing import NamedTuple

from layout_app.cli.order import in_order
from layout_app.interrupts import INTERRUPTS
from layout_app.model.cut_order import is_in_order
from layout_app.model.locks import settled
from layout_app.model.merge_plan import adopted
from layout_app.model.project import Project
from layout_app.model.rank import better_of
from layout_app.model.sawing import Sawn, saw
from layout_app.store.errors import FileProblem
from shared.asked import Settled
from shared.check import check_job, sawable
from shared.check_parts import MISFITS
from shared.check_stock import LEFT_OUT
from shared.cuts.sequence import plan_part
from shared.issues import Issue, Severity
from shared.job import Job
from shared.plan import Plan
from solver.outcome import Choice, Choices, Done, Event, RunProgress, Statistics
from solver.run import Budget, Stop, make_search_ready, run

ORDER_S = 5.0
"""Longest time to look for better orders of cuts."""
ORDER_PART = 0.25
"""Part of a short time limit that is left for it."""
AFTER_EACH_S = 0.001
"""So long each copy takes once planning ends: to be sawn, put in order, sawn again (measured)."""
LEAST_PART = 0.2
"""Of the time limit, always for planning."""


def check_usable(path: Path, job: Job) -> list[Issue]:
    """Return the warnings and misfits of a job; `FileProblem` if a row of it makes no sense."""
    issues = check_job(job)
    for issue in issues:
        if issue.severity is Severity.ERROR and issue.code not in MISFITS | LEFT_OUT:
            raise FileProblem(path, _place(job, issue), issue.sentence.rstrip("."))
    return list(issues)


class Planned(NamedTuple):
    """A project with its plan, what the run did for it, and the plans to choose from.

    ``left_s`` are the seconds of the time limit that are left.
    """

    sawn: Sawn
    statistics: Statistics | None
    choices: tuple[Choice, ...] = ()
    left_s: float = 0.0


def plan_project(project: Project, limits: Budget) -> Planned:
    """Plan what is neither laid out by hand, locked, set aside nor begun, as the window does.

    A plan that the project has stays where planning finds none that is better. Ctrl+C ends it
    early with the best plan so far. Part of the time limit is left for the order of cuts.
    """
    make_ready(limits)
    began, told = time.monotonic(), _Told()
    shorter = replace(limits, time_s=_without_ordering(limits.time_s, project.job))
    plan = planned_around(settled(project), project.job, shorter, told, Stop())
    if sys.stderr.isatty():
        print("\r\033[K", end="", file=sys.stderr)
    sawn = better_of(saw(project), taken(project, plan))
    spent = time.monotonic() - began
    left_s = inf if limits.time_s is None else max(0.0, limits.time_s - spent)
    return Planned(sawn, told.statistics, told.choices, left_s)


def planned_around(
    around: Settled, job: Job, limits: Budget, say: Callable[[Event], None], stop: Stop
) -> Plan:
    """Return the best plan of a run that leaves what is settled; Ctrl+C asks it to end."""
    plan = INTERRUPTS.asking(
        stop,
        lambda: run(job, limits, say, around, stop=stop, trouble=note),
    )
    if plan is None:
        raise RuntimeError("no plan was made")
    return plan


def taken(project: Project, plan: Plan) -> Sawn:
    """Return the project with a plan of it; RuntimeError if the simulated saw refuses that."""
    sawn = saw(adopted(project, plan))
    if "" in sawn.problems:
        raise RuntimeError(sawn.problems[""])
    nothing_lies = sawn.plan is None and not sawn.problems
    return replace(sawn, plan=plan) if nothing_lies else sawn


def with_misfits(sawn: Sawn) -> Sawn:
    """Return a project whose plan names the parts, too, that fit no sheet there is."""
    plan = sawn.plan
    if plan is None:
        return sawn
    known = {part.id for part in plan.parts}
    rows = [part for part in sawable(sawn.project.job).parts if part.id not in known]
    needed = [one for one in sawn.project.unplaced if one.part in {part.id for part in rows}]
    parts = (*plan.parts, *map(plan_part, rows))
    return replace(sawn, plan=replace(plan, parts=parts, unplaced=(*plan.unplaced, *needed)))


def _without_ordering(time_s: float | None, job: Job) -> float | None:
    """Return what of a time limit is for planning; what comes after it takes the rest."""
    if time_s is None:
        return None
    after = max(min(ORDER_S, ORDER_PART * time_s), _after_s(job))
    return max(LEAST_PART * time_s, time_s - after)


def _after_s(job: Job) -> float:
    """Return how long the plan of a job takes to be sawn and put in order at least."""
    return AFTER_EACH_S * sum(part.copies for part in job.parts)


def order_cuts(sawn: Sawn, limits: Budget, left_s: float) -> Sawn:
    """Put the cuts of a project in order, unless they are. Ctrl+C ends it early."""
    if sawn.plan is None or is_in_order(sawn.project):
        return with_misfits(sawn)
    stop = Stop().within(min(left_s - _after_s(sawn.project.job), ORDER_S))
    if limits.work is not None:
        stop.ask()  # the first order does not depend on the clock
    return with_misfits(INTERRUPTS.asking(stop, lambda: in_order(sawn, stop)))


def _place(job: Job, issue: Issue) -> str:
    """Return where in the project file the subject of an issue stands."""
    ids = {"parts": [part.id for part in job.parts], "stock": [row.id for row in job.stock]}
    for name, known in ids.items():
        if issue.subject in known:
            return f"job.{name}[{known.index(issue.subject)}].{issue.field}".rstrip(".")
    whole = {"parts": "job.parts", "stock": "job.stock", "levels": "job.rule.levels"}
    return whole.get(issue.field, f"job.shop.{issue.field}")


def make_ready(limits: Budget) -> None:
    """Compile the search if it never was: a short run would be over before it is there."""
    if limits.time_s:
        first = "Compiling the search for the first time, half a minute or so ..."
        make_search_ready(lambda: print(first, flush=True))


def note(fault: Exception) -> None:
    """Say that something of the program broke; the best plan so far is not lost."""
    said = " ".join(f"{type(fault).__name__}: {fault}".split())
    print(f"ripfirst: a fault of this program was met and left out, {said}", file=sys.stderr)


class _Told:
    """Hears a run: shows where it stands, and keeps its statistics and choices."""

    def __init__(self) -> None:
        self.statistics: Statistics | None = None
        self.choices: tuple[Choice, ...] = ()

    def __call__(self, event: Event) -> None:
        if isinstance(event, Done):
            self.statistics = event.statistics
        elif isinstance(event, Choices):
            self.choices = event.choices
        elif isinstance(event, RunProgress):
            _show_progress(event)


def _show_progress(event: RunProgress) -> None:
    if sys.stderr.isatty():
        said = f"{event.material}: {event.phase}, {event.value} (at least {event.bound})"
        print(f"\r\033[K{event.elapsed_s:5.1f} s  {said}"[:100], end="", file=sys.stderr)
