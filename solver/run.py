"""One planning run: from a job to ever better plans, each sawn before anybody hears of it."""

from collections.abc import Callable, Sequence

from shared.asked import NOTHING_SETTLED, Settled
from shared.job import Job
from shared.plan import Plan
from solver.budget.stop import Limits, Stop
from solver.outcome import Done, Event, Reason
from solver.planning.detours import Detours, incumbents_of
from solver.planning.proof_status import Spoiled
from solver.planning.publisher import Publisher
from solver.planning.scheduler import Scheduler
from solver.planning.trace import Trace
from solver.planning.trouble import Trouble, raise_it
from solver.planning.worker_pool import WorkerPool
from solver.prepare.instances import prepare
from solver.solutions.incumbent import Incumbent


def run(
    job: Job,
    limits: Limits,
    say: Callable[[Event], None],
    settled: Settled = NOTHING_SETTLED,
    *,
    stop: Stop | None = None,
    pool: WorkerPool | None = None,
    trouble: Trouble = raise_it,
) -> Plan | None:
    """Plan a job until it is proven and sawing stops getting less, or a limit is met.

    Parameters
    ----------
    job
        What is needed and what it is cut from; rows with errors are left out.
    limits
        Time, patience, work, processes, and the seed.
    say
        Hears `Better`, `Progress`, `Choices` if they are asked for, and at the end one
        `Done`, one after the other, from several threads.
    settled
        What is not planned again.
    stop
        Asked to end the run early.
    pool
        Warm workers for ``limits.workers - 1`` further processes; else they are started,
        and ended with the run.
    trouble
        Hears of faults of the program that need not end the run: a plan that the simulated
        saw refuses is not told, a worker that breaks is left out, a search that breaks ends
        with what it has. Raises by default.

    Returns
    -------
    Plan or None
        The best plan, also told as the last `Better`; a limit of 0 s still gives the first.
        ``None`` only if the saw refused every plan and ``trouble`` did not raise.
    """
    ending = Stop() if stop is None else stop
    if limits.time_s is not None and limits.work is None:
        ending = ending.within(limits.time_s)
    prepared = prepare(job, settled)
    incumbents = incumbents_of(prepared)
    publisher = Publisher(prepared, incumbents, say, trouble, trade=limits.trade)
    publisher.start()
    trace = Trace(incumbents, publisher.clock)
    used = pool or WorkerPool(limits.workers - 1)
    reason = Reason.STOPPED
    shown: Sequence[Incumbent] = incumbents

    def work(some: Sequence[Incumbent], most: Limits, until: Stop) -> Reason:
        trace.follow(some)
        scheduler = Scheduler(
            some,
            most,
            until,
            workers=used.workers,
            enter=publisher.enter,
            trace=trace,
            trouble=trouble,
        )
        return scheduler.run()

    try:
        if any(isinstance(incumbent, Spoiled) for incumbent in incumbents):
            detours = Detours(prepared, incumbents, limits, ending, publisher, work, trouble)
            reason = detours.run()
            shown = detours.incumbents
        else:
            reason = work(incumbents, limits, ending)
    except Exception as fault:
        trouble(fault)
    finally:
        if pool is None:
            used.end()
        publisher.finish()
    statistics = trace.statistics(shown)
    say(Done(reason=reason, elapsed_s=publisher.clock(), statistics=statistics))
    return publisher.plan
