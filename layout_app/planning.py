"""Plan a project file from the command line."""

import os
import signal
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from types import FrameType
from typing import NamedTuple

from layout_app.cut_order import InOrder, in_order
from layout_app.store.errors import FileProblem
from shared.check import check_job
from shared.check_parts import MISFITS
from shared.check_stock import LEFT_OUT
from shared.issues import Issue, Severity
from shared.job import Job
from shared.plan import Plan
from solver.outcome import Choice, Choices, Done, Event, Progress
from solver.planning.compiling import cache_folder, fill, is_filled
from solver.run import run
from solver.statistics import Statistics
from solver.stop import Limits, Stop


def check_usable(path: Path, job: Job) -> list[Issue]:
    """Return the warnings and misfits of a job; `FileProblem` if a row of it makes no sense."""
    issues = check_job(job)
    for issue in issues:
        if issue.severity is Severity.ERROR and issue.code not in MISFITS | LEFT_OUT:
            raise FileProblem(path, _place(job, issue), issue.sentence.rstrip("."))
    return list(issues)


class Planned(NamedTuple):
    """A plan, what the run did for it, and the plans to choose from, if they were asked for."""

    plan: Plan
    statistics: Statistics | None
    choices: tuple[Choice, ...] = ()


def plan_job(job: Job, limits: Limits) -> Planned:
    """Plan a job; Ctrl-C ends it early with the best plan so far."""
    make_ready(limits)
    stop, told = Stop(), _Told()
    with interrupt_asks(stop):
        plan = run(job, limits, told, stop=stop, trouble=note)
    if sys.stderr.isatty():
        print("\r\033[K", end="", file=sys.stderr)
    if plan is None:
        raise RuntimeError("no plan was made")
    return Planned(plan, told.statistics, told.choices)


def order_cuts(plan: Plan, job: Job, limits: Limits) -> InOrder:
    """Put the cuts of a plan in order. Ctrl-C ends it early."""
    stop = Stop()
    with interrupt_asks(stop):
        return in_order(plan, job, stop, work=limits.work is not None)


def processes() -> int:
    """Return how many processes plan when nobody says."""
    return max(1, min(8, os.cpu_count() or 1))


def _place(job: Job, issue: Issue) -> str:
    """Return where in the project file the subject of an issue stands."""
    ids = {"parts": [part.id for part in job.parts], "stock": [row.id for row in job.stock]}
    for name, known in ids.items():
        if issue.subject in known:
            return f"job.{name}[{known.index(issue.subject)}].{issue.field}".rstrip(".")
    whole = {"parts": "job.parts", "stock": "job.stock", "levels": "job.rule.levels"}
    return whole.get(issue.field, f"job.shop.{issue.field}")


def make_ready(limits: Limits) -> None:
    """Compile the search if it never was: a short run would be over before it is there."""
    folder = cache_folder()
    if limits.time_s and not is_filled(folder):
        print("Compiling the search for the first time, some 20 seconds ...", flush=True)
        fill(folder)


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
        elif isinstance(event, Progress):
            _show_progress(event)


def _show_progress(event: Progress) -> None:
    if sys.stderr.isatty():
        said = f"{event.material}: {event.phase}, {event.value} (at least {event.bound})"
        print(f"\r\033[K{event.elapsed_s:5.1f} s  {said}"[:100], end="", file=sys.stderr)


@contextmanager
def interrupt_asks(stop: Stop) -> Iterator[None]:
    """Let the first Ctrl-C ask the run to end; the second is the usual one."""

    def interrupted(_number: int, _frame: FrameType | None) -> None:
        stop.ask()
        signal.signal(signal.SIGINT, before)

    before = signal.getsignal(signal.SIGINT)
    try:
        signal.signal(signal.SIGINT, interrupted)
    except ValueError:  # not the main thread: nobody sends Ctrl-C here
        yield
        return
    try:
        yield
    finally:
        signal.signal(signal.SIGINT, before)
