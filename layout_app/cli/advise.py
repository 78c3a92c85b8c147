"""The command ``advise``: what would save a sheet."""

import argparse
import sys
from dataclasses import replace
from typing import Final

from layout_app.cli.limits import UsageError, length_of, limits_of
from layout_app.cli.plan import check_usable, make_ready, note, planned_around
from layout_app.cli.plan_commands import ALL_PLANNED, SOME_UNPLACED
from layout_app.interrupts import INTERRUPTED, INTERRUPTS
from layout_app.model.carry_over import opened
from layout_app.model.locks import settled
from layout_app.model.sawing import saw
from layout_app.model.words.wording import proof_sentence, uncut_words
from layout_app.planner.heard import Heard
from layout_app.store.errors import FileProblem
from layout_app.store.project_file import read_project
from shared.asked import NOTHING_SETTLED, Settled
from shared.cautions import DEFER
from shared.job import Job
from shared.lengths import Length
from shared.plan import Plan
from solver.outcome import Better, Event
from solver.run import Budget, Stop, suggest

ADVICE_S: Final = 30.0
"""How long it is planned, and looked for what would save a sheet."""
PLAN_PART: Final = 1 / 3
"""Part of a time limit in which the plan is made and proven."""


def advise(arguments: argparse.Namespace) -> int:
    """Say what would save a sheet of a project."""
    path = arguments.project
    project = opened(read_project(path))
    job, limits = project.job, limits_of(arguments)
    check_usable(path, job)
    if uncut := [sheet for sheet in saw(project).problems if sheet]:
        said = f"{uncut_words(uncut)}, so nothing can be said of what would save a sheet."
        raise FileProblem(path, "layout", said)
    up_to = _shorten_up_to(job, arguments.shorten_up_to)
    planned = proven_plan(job, _to_plan(limits), settled(project))
    heard = _advise(job, planned, _to_look(limits), up_to, settled(project))
    print(_in_words(job, planned, heard))
    if INTERRUPTS.times:
        print("ripfirst advise: interrupted; there may be more that helps.", file=sys.stderr)
        return INTERRUPTED
    return SOME_UNPLACED if planned.unplaced else ALL_PLANNED


def _shorten_up_to(job: Job, text: str | None) -> Length | None:
    """Read how much shorter a part may get, in the unit of the job."""
    if text is None:
        return None
    length = length_of(text, job.style.unit)
    if length <= 0:
        raise UsageError("a part gets shorter by more than 0.")
    return length


def _to_plan(limits: Budget) -> Budget:
    """Return what of some limits is for the plan."""
    seconds = None if limits.time_s is None else PLAN_PART * limits.time_s
    return replace(limits, time_s=seconds)


def _to_look(limits: Budget) -> Budget:
    """Return what of some limits is for looking what would save a sheet, by one process."""
    seconds = None if limits.time_s is None else (1 - PLAN_PART) * limits.time_s
    return Budget(time_s=seconds, work=limits.work, seed=limits.seed)


def proven_plan(job: Job, limits: Budget, around: Settled = NOTHING_SETTLED) -> Plan:
    """Plan a job until nothing costs less, or a limit is met; ``around`` stays as it is."""
    make_ready(limits)
    stop = Stop()

    def say(event: Event) -> None:
        if isinstance(event, Better) and event.plan.proof.proven:
            stop.ask()

    return planned_around(around, job, limits, say, stop)


def _advise(
    job: Job,
    plan: Plan,
    limits: Budget,
    shorten_up_to: Length | None,
    around: Settled = NOTHING_SETTLED,
) -> Heard:
    """Look for what would save a sheet; Ctrl+C ends it early."""
    stop, heard = Stop(), Heard()
    INTERRUPTS.asking(
        stop,
        lambda: suggest(
            job,
            plan,
            limits,
            heard,
            around,
            shorten_up_to=shorten_up_to,
            stop=stop,
            trouble=note,
        ),
    )
    return heard


def _in_words(job: Job, plan: Plan, heard: Heard) -> str:
    """Return all of it as lines for a terminal, the caution at the end."""
    lines = [job.name or "Plan", proof_sentence(plan)]
    lines += [forcing.sentence for forcing in heard.forcing]
    for suggestion in heard.suggestions:
        lines.append(f"* {suggestion.sentence}")
        if suggestion.caution:
            lines.append(f"  {suggestion.caution}")
    if heard.looked is not None:
        lines.append(heard.looked.sentence)
    return "\n".join([*lines, DEFER])
