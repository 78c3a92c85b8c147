"""What can be asked of the solver, in this process: a plan, advice, and cuts in order.

A run makes ever better plans of a job, each sawn before anybody hears of it.
"""

from collections.abc import Callable, Iterator, Sequence

from shared.asked import NOTHING_SETTLED, CutsToOrder, Settled
from shared.job import Job
from shared.lengths import Length
from shared.plan import Plan
from solver.budget.stop import Budget, Stop
from solver.outcome import Advice, Done, EndReason, Event, Ordered
from solver.planning.compiling import cache_folder, fill, is_filled
from solver.planning.detours import Detours, incumbents_of
from solver.planning.proof_status import Spoiled
from solver.planning.publisher import Publisher
from solver.planning.scheduler import Scheduler
from solver.planning.trace import Trace
from solver.planning.trouble import Trouble, raise_it
from solver.planning.worker_pool import WorkerPool
from solver.prepare.instances import prepare
from solver.solutions.incumbent import Incumbent

__all__ = ["Budget", "Stop", "make_search_ready", "put_in_order", "run", "suggest"]


def run(
    job: Job,
    budget: Budget,
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
    budget
        Time, patience, work, processes, and the seed.
    say
        Hears `Better`, `Progress`, `Choices` if they are asked for, and at the end one
        `Done`, one after the other, from several threads.
    settled
        What is not planned again.
    stop
        Asked to end the run early.
    pool
        Warm workers for ``budget.workers - 1`` further processes; else they are started,
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
    if budget.time_s is not None and budget.work is None:
        ending = ending.within(budget.time_s)
    prepared = prepare(job, settled)
    incumbents = incumbents_of(prepared)
    publisher = Publisher(
        prepared, incumbents, say, trouble, ending.without_deadline(), trade=budget.trade
    )
    publisher.start()
    trace = Trace(incumbents, publisher.clock)
    used = pool or WorkerPool(budget.workers - 1)
    reason = EndReason.STOPPED
    shown: Sequence[Incumbent] = incumbents

    def work(some: Sequence[Incumbent], most: Budget, until: Stop) -> EndReason:
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
            detours = Detours(prepared, incumbents, budget, ending, publisher, work, trouble)
            reason = detours.run()
            shown = detours.incumbents
        else:
            reason = work(incumbents, budget, ending)
    except Exception as fault:
        trouble(fault)
    finally:
        if pool is None:
            used.end()
        publisher.finish()
    statistics = trace.statistics(shown)
    say(Done(reason=reason, elapsed_s=publisher.clock(), statistics=statistics))
    return publisher.plan


def suggest(
    job: Job,
    plan: Plan,
    budget: Budget,
    say: Callable[[Advice], None],
    settled: Settled = NOTHING_SETTLED,
    *,
    shorten_up_to: Length | None = None,
    stop: Stop | None = None,
    trouble: Trouble = raise_it,
) -> None:
    """Say what would save a sheet of a plan, as `solver.advice.suggesting.suggestions` does."""
    from solver.advice.suggesting import suggestions  # noqa: PLC0415 - brings OR-Tools in

    suggestions(
        job,
        plan,
        budget,
        say,
        shorten_up_to=shorten_up_to,
        settled=settled,
        stop=stop,
        trouble=trouble,
    )


def put_in_order(asked: CutsToOrder, stop: Stop) -> Iterator[Ordered]:
    """Yield ever better orders of cuts, as `solver.cut_order.order.put_in_order` does."""
    from solver.cut_order import order  # noqa: PLC0415 - brings OR-Tools in

    yield from order.put_in_order(asked, stop)


def make_search_ready(before: Callable[[], None]) -> None:
    """Compile the search if it never was; ``before`` is called first: it takes half a minute."""
    folder = cache_folder()
    if not is_filled(folder):
        before()
        fill(folder)
