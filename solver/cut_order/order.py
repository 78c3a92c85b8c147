"""From the sheets of a job to the order of their cuts, and how good it is.

Set-up changes are made fewest, in one of two modes: sheet after sheet, or set-up after
set-up over all sheets while no more than so many pieces lie about. What finishes blanks
comes when all is sawn from the sheets. The order of the passes also says in which order the
pieces of a run lie, so the trees come back with it.
"""

from collections.abc import Iterator, Sequence
from dataclasses import replace

from shared.asked import CutsToOrder
from shared.cuts.forest import Forest
from shared.cuts.freedom import Freedom
from shared.cuts.growing import grow
from shared.cuts.order_problem import Problem, Wishes, problem_of, stable, without_trims
from shared.shop import SawingOrder
from solver.budget.stop import Stop
from solver.cut_order.arranging import ordered
from solver.cut_order.searching import (
    FoundOrder,
    Order,
    across,
    better,
    changes_of,
    passes_of,
    sheet_by_sheet,
)
from solver.outcome import Ordered

TAIL_S = 0.5
"""Time for the cuts that finish blanks, in seconds."""


def put_in_order(asked: CutsToOrder, stop: Stop) -> Iterator[Ordered]:
    """Yield ever better orders, the first one within a moment; nothing without a tree."""
    cuttable = tuple(sheet for sheet in asked.sheets if sheet.tree is not None)
    if not cuttable:
        return
    best: tuple[int, int] | None = None
    for order, bound in _Orderer(asked, grow(asked.job, cuttable)).orders(stop):
        found = ordered(asked, order, bound)
        worth = (found.seconds, -found.least_s)
        if best is None or worth < best:
            best = worth
            yield found


class _Orderer:
    """Puts the passes of one forest in order."""

    def __init__(self, asked: CutsToOrder, forest: Forest) -> None:
        self._forest = forest
        self._mode = asked.job.shop.sawing
        freedom = Freedom(asked.job, asked.sheets)
        spoiled = {row.id for row in asked.job.stock if row.no_go}
        self._wishes = Wishes(
            limit=max(1, asked.job.shop.loose),
            fixed=asked.fixed | {sheet.id for sheet in asked.sheets if sheet.stock in spoiled},
            is_fixed=freedom.is_fixed,
            ends_with=freedom.ends_with,
            waiting=frozenset(part.id for part in asked.job.parts if part.waits),
            before=tuple(wish for wish in asked.before if wish.then not in asked.made),
            made=asked.made,
        )

    def orders(self, stop: Stop) -> Iterator[FoundOrder]:
        """Yield order after order; ever better, or with a better bound."""
        sawn = [n for n, run in enumerate(self._forest.runs) if not run.finishes]
        finishing = [n for n, run in enumerate(self._forest.runs) if run.finishes]
        head = self._head()
        tail = self._tail(finishing, stop)
        if self._mode is SawingOrder.BY_SHEET:
            mains = sheet_by_sheet(self._of_sheets(sawn), stop)
        else:
            mains = across(self._problem(sawn), stop)
        for found in mains:
            main = [*found.order, *self._forgotten(sawn, [*head, *found.order])]
            order = [*head, *main, *tail.order]
            least = changes_of(_sure(head)) + found.bound + tail.bound
            least += _least_joints(head, main, tail.order)
            wished = self._as_wished(order)
            if wished != order:
                # Cuts of one sheet came between those of another, so less may be enough.
                least = max(0, min(least, len({made.setting for made in _sure(wished)}) - 1))
            yield FoundOrder(wished, least)

    def _forgotten(self, sawn: Sequence[int], order: Order) -> Order:
        """Return the passes of sheets that are only trimmed: no problem asks for them."""
        known = {made.key for made in order}
        passes = (made for run in sawn for made in self._forest.runs[run].passes)
        return [made for made in passes if made.key not in known]

    def _head(self) -> Order:
        """Return what is made already, in its order."""
        known = {made.key: made for made in self._forest.passes()}
        return [known[key] for key in self._wishes.made if key in known]

    def _problem(self, runs: Sequence[int]) -> Problem:
        wished = {key for wish in self._wishes.before for key in (wish.first, wish.then)}
        return without_trims(problem_of(self._forest, runs, self._wishes), wished)

    def _tail(self, finishing: Sequence[int], stop: Stop) -> FoundOrder:
        """Return the cuts that finish blanks; any number of blanks may wait for them."""
        problem = replace(self._problem(finishing), limit=len(finishing) + 1)
        if not problem.ahead:
            return FoundOrder([], 0)
        *_, sought = better(problem, stop.within(TAIL_S))
        return FoundOrder(passes_of(problem, sought.blocks), max(0, sought.least - 1))

    def _of_sheets(self, sawn: Sequence[int]) -> list[Problem]:
        """Return the problem of each sheet that is not sawn up, in the order of the sheets."""
        sheets: dict[str, list[int]] = {}
        for index in sawn:
            sheets.setdefault(self._forest.runs[index].sheet, []).append(index)
        problems = [self._problem(runs) for runs in sheets.values()]
        return [problem for problem in problems if problem.ahead]

    def _as_wished(self, order: Order) -> Order:
        """Return the order with what was set by hand across sheets."""
        if not self._wishes.before:
            return order
        wishes = replace(self._wishes, waiting=frozenset())
        whole = problem_of(self._forest, range(len(self._forest.runs)), wishes)
        number = {made.key: place for place, made in enumerate(whole.made)}
        return [whole.made[n] for n in stable(whole, [number[made.key] for made in order])]


def _least_joints(head: Order, main: Order, tail: Order) -> int:
    """Return the set-up changes between the three at least: settings that both may have stay."""
    joints = 0
    for one, other in ((head, main), (main or head, tail)):
        firsts, seconds = ({made.setting for made in _sure(some)} for some in (one, other))
        joints += bool(firsts) and bool(seconds) and not firsts & seconds
    return joints


def _sure(order: Order) -> Order:
    """Return the passes that something is surely set for."""
    return [made for made in order if made.sure]
