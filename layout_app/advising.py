"""What would save a sheet, from the command line."""

from layout_app.heard import Heard
from layout_app.planning import interrupt_asks, make_ready, note
from layout_app.wording import proof_sentence
from shared.cautions import DEFER
from shared.job import Job
from shared.lengths import Length
from shared.plan import Plan
from solver.outcome import Better, Event
from solver.run import run
from solver.stop import Limits, Stop


def proven_plan(job: Job, limits: Limits) -> Plan:
    """Plan a job until nothing costs less, or a limit is met."""
    make_ready(limits)
    stop = Stop()

    def say(event: Event) -> None:
        if isinstance(event, Better) and event.plan.proof.proven:
            stop.ask()

    with interrupt_asks(stop):
        plan = run(job, limits, say, stop=stop, trouble=note)
    if plan is None:
        raise RuntimeError("no plan was made")
    return plan


def advise(job: Job, plan: Plan, limits: Limits, shorten_up_to: Length | None) -> Heard:
    """Look for what would save a sheet; Ctrl-C ends it early."""
    from solver.advice.suggesting import suggestions  # noqa: PLC0415 - OR-Tools loads slowly; other commands do without

    stop, heard = Stop(), Heard()
    with interrupt_asks(stop):
        suggestions(job, plan, limits, heard, shorten_up_to=shorten_up_to, stop=stop, trouble=note)
    return heard


def advice_in_words(job: Job, plan: Plan, heard: Heard) -> str:
    """Return all of it as lines for a terminal, the caution at the end."""
    lines = [job.name or "Plan", proof_sentence(plan.proof, len(plan.sheets))]
    lines += [forcing.sentence for forcing in heard.forcing]
    for suggestion in heard.suggestions:
        lines.append(f"* {suggestion.sentence}")
        if suggestion.caution:
            lines.append(f"  {suggestion.caution}")
    if heard.looked is not None:
        lines.append(heard.looked.sentence)
    return "\n".join([*lines, DEFER])
