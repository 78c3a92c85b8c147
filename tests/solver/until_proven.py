"""Planning runs that end as soon as the stock is proven least: tests of proofs need no more."""

from shared.job import Job
from shared.plan import Plan
from solver.budget.stop import Budget, Stop
from solver.outcome import Better, Event
from solver.run import run


def until_proven(job: Job, work: int) -> Plan:
    """Plan with so many units of work a stage, but do not go on to save sawing."""
    stop = Stop()

    def say(event: Event) -> None:
        if isinstance(event, Better) and event.plan.proof.proven:
            stop.ask()

    plan = run(job, Budget(time_s=None, work=work), say, stop=stop)
    assert plan is not None
    return plan
