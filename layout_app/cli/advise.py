"""What would save a sheet, from the command line."""

from dataclasses import replace
from typing import Final

from layout_app.cli.plan import make_ready, note
from layout_app.interrupts import INTERRUPTS
from layout_app.model.words.wording import proof_sentence
from layout_app.planner.heard import Heard
from shared.asked import NOTHING_SETTLED, Settled
from shared.cautions import DEFER
from shared.job import Job
from shared.lengths import Length
from shared.plan import Plan
from solver.budget.stop import Limits, Stop
from solver.outcome import Better, Event
from solver.run import run

PLAN_PART: Final = 1 / 3
"""Part of a time limit in which the plan is made and proven."""


def to_plan(limits: Limits) -> Limits:
    """Return what of some limits is for the plan."""
    seconds = None if limits.time_s is None else PLAN_PART * limits.time_s
    return replace(limits, time_s=seconds)


def to_look(limits: Limits) -> Limits:
    """Return what of some limits is for looking what would save a sheet, by one process."""
    seconds = None if limits.time_s is None else (1 - PLAN_PART) * limits.time_s
    return Limits(time_s=seconds, work=limits.work, seed=limits.seed)


def proven_plan(job: Job, limits: Limits, around: Settled = NOTHING_SETTLED) -> Plan:
    """Plan a job until nothing costs less, or a limit is met; ``around`` stays as it is."""
    make_ready(limits)
    stop = Stop()

    def say(event: Event) -> None:
        if isinstance(event, Better) and event.plan.proof.proven:
            stop.ask()

    plan = INTERRUPTS.asking(
        stop,
        lambda: run(job, limits, say, around, stop=stop, trouble=note),
    )
    if plan is None:
        raise RuntimeError("no plan was made")
    return plan


def advise(
    job: Job,
    plan: Plan,
    limits: Limits,
    shorten_up_to: Length | None,
    around: Settled = NOTHING_SETTLED,
) -> Heard:
    """Look for what would save a sheet; Ctrl+C ends it early."""
    from solver.advice.suggesting import suggestions  # noqa: PLC0415 - OR-Tools loads slowly; other commands do without

    stop, heard = Stop(), Heard()
    INTERRUPTS.asking(
        stop,
        lambda: suggestions(
            job,
            plan,
            limits,
            heard,
            shorten_up_to=shorten_up_to,
            settled=around,
            stop=stop,
            trouble=note,
        ),
    )
    return heard


def advice_in_words(job: Job, plan: Plan, heard: Heard) -> str:
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
