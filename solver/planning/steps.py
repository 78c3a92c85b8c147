"""One step of work on one incumbent: the only place that knows every method."""

import time
from collections.abc import Callable
from random import Random

from solver.budget.effort import Effort
from solver.budget.phase import Method, Phase
from solver.budget.statistics import WorkDone
from solver.budget.stop import Stop
from solver.planning.compiling import Readiness, load_kernel
from solver.proof.bounds import lower_bound
from solver.search.constructive import passes
from solver.solutions.incumbent import Incumbent


def _load_solver() -> None:
    import ortools.linear_solver.pywraplp  # noqa: PLC0415 - slow to load
    import ortools.sat.python.cp_model  # noqa: F401, PLC0415 - a second to load


THINNING = 0.08
"""Most of an effort for less sawing that goes to fewer sheets of the same price first."""
LOADING_S = 0.01
"""Left to what is loading after every constructive solution meanwhile."""
ONE_CONSTRUCTION = WorkDone(constructions=1)

TRADE_ALONE_S = 1.0
"""Time to look for dearer stock with less sawing where nothing else is left to gain."""

Step = Callable[[Incumbent, Stop, Effort], None]

KERNEL = Readiness(load_kernel)
"""The compiled search."""
SOLVER = Readiness(_load_solver)
"""OR-Tools."""


def warm_up(proves: bool = True) -> None:
    """Begin to load and compile what is slow to, before it is needed.

    ``proves`` is whether this process proves bounds.
    """
    if proves:
        SOLVER.begin()
    KERNEL.begin(after=SOLVER if proves else None)


def take_step(phase: Phase, incumbent: Incumbent, stop: Stop, effort: Effort) -> None:
    """Work on an incumbent until the phase has nothing more to gain, or is stopped."""
    _STEPS[phase](incumbent, stop.within(effort.seconds), effort)


def bound_quickly(incumbent: Incumbent, stop: Stop | None = None) -> None:
    """Raise the bound by what costs milliseconds."""
    costs = [row.price for row in incumbent.instance.rows]
    incumbent.raise_bound(lower_bound(incumbent.instance, costs, stop))


def _start(incumbent: Incumbent, stop: Stop, effort: Effort) -> None:
    """Offer constructive solutions until the fewest sheets are proven."""
    effort.by(Method.CONSTRUCTION)
    for done, solution in enumerate(passes(incumbent.instance, Random(effort.seed)), 1):
        incumbent.offer(solution)
        effort.did(ONE_CONSTRUCTION)
        if stop or incumbent.is_proven() or (effort.work is not None and done >= effort.work):
            return


def _squeeze(incumbent: Incumbent, stop: Stop, effort: Effort) -> None:
    rest = _until_ready(KERNEL, incumbent, stop, effort)
    if rest is not None and not incumbent.is_proven():
        from solver.search.fewest_sheets import squeeze_stock  # noqa: PLC0415 - needs the kernel

        squeeze_stock(incumbent, stop, rest)


def _prove(incumbent: Incumbent, stop: Stop, effort: Effort) -> None:
    rest = _until_ready(SOLVER, incumbent, stop, effort)
    if rest is not None and not incumbent.is_proven():
        from solver.proof.proving import prove_stock  # noqa: PLC0415 - needs OR-Tools

        prove_stock(incumbent, stop, rest)


def _bound_cuts(incumbent: Incumbent, stop: Stop, effort: Effort) -> None:
    rest = _until_ready(SOLVER, incumbent, stop, effort)
    if rest is not None and incumbent.is_proven():
        from solver.proof.proving import bound_cuts  # noqa: PLC0415 - needs OR-Tools

        bound_cuts(incumbent, stop, rest)


def _saw(incumbent: Incumbent, stop: Stop, effort: Effort) -> None:
    """Look for fewer sheets of the price, prove a small job whole, anneal."""
    rest = _until_ready(KERNEL, incumbent, stop, effort)
    if rest is None:
        _prove_sawing(incumbent, stop, effort)
        return
    if incumbent.is_finished():
        return
    from solver.search.annealing import save_sawing  # noqa: PLC0415 - needs the kernel
    from solver.search.fewest_sheets import thin_stock  # noqa: PLC0415 - needs the kernel

    began = time.monotonic()
    thin_stock(incumbent, stop.within(THINNING * rest.seconds), rest.part(THINNING))
    _prove_sawing(incumbent, stop, rest)
    if not incumbent.is_finished():
        save_sawing(incumbent, stop, rest.less(time.monotonic() - began))


def _trade(incumbent: Incumbent, stop: Stop, effort: Effort) -> None:
    rest = _until_ready(KERNEL, incumbent, stop, effort)
    if rest is not None:
        from solver.search.annealing import save_sawing_dearer  # noqa: PLC0415 - needs the kernel

        if incumbent.is_finished():
            rest = rest._replace(seconds=min(rest.seconds, TRADE_ALONE_S))
        save_sawing_dearer(incumbent, stop.within(rest.seconds), rest)


def _prove_sawing(incumbent: Incumbent, stop: Stop, effort: Effort) -> None:
    """Try a small job whole, in the process that has what it takes."""
    if SOLVER.ready or effort.work is not None:
        from solver.proof.proving import least_sawing  # noqa: PLC0415 - needs OR-Tools

        least_sawing(incumbent, stop, effort)


def _until_ready(
    needed: Readiness, incumbent: Incumbent, stop: Stop, effort: Effort
) -> Effort | None:
    """Construct until it is ready; return the rest of the effort, ``None`` if it fails.

    Where work is counted it is only waited for, so that the result does not depend on the
    clock.
    """
    if effort.work is not None:
        needed.wait()
    began = time.monotonic()
    needed.begin()
    if needed.pending:
        _while_loading(needed, incumbent, stop, effort)
    while needed.pending and not stop:
        time.sleep(LOADING_S)
    if not needed.ready:
        return None
    return effort.less(time.monotonic() - began)


def _while_loading(needed: Readiness, incumbent: Incumbent, stop: Stop, effort: Effort) -> None:
    """Offer constructive solutions, but leave the interpreter to what is loading."""
    effort.by(Method.CONSTRUCTION)
    for solution in passes(incumbent.instance, Random(effort.seed)):
        if stop or not needed.pending:
            return
        incumbent.offer(solution)
        effort.did(ONE_CONSTRUCTION)
        time.sleep(LOADING_S)


_STEPS: dict[Phase, Step] = {
    Phase.START: _start,
    Phase.SQUEEZE: _squeeze,
    Phase.PROVE: _prove,
    Phase.SAWING: _saw,
    Phase.TRADE: _trade,
    Phase.CUTS: _bound_cuts,
}
