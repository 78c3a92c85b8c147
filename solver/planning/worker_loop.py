"""What one process does in a run: first towards proof, then towards less sawing.

The time of a run is shared between materials, phases and processes. As long as it is not
proven that no fewer sheets will do, all processes look for them for most of the time: tight
lists give way after very different times. A phase ends as soon as the proof is there, and on
most lists that is soon; the rest goes to less sawing.
"""

import time
from collections.abc import Callable, Iterator, Sequence
from functools import partial
from typing import NamedTuple

from solver.budget.effort import Effort
from solver.budget.phase import Phase
from solver.budget.stop import Budget, Stop
from solver.solutions.incumbent import Incumbent

Step = Callable[[Phase, Incumbent, Stop, Effort], None]
"""Does a phase on an incumbent until stopped, or the effort is spent."""

Enter = Callable[[Incumbent, Phase], None]
"""Hears which phase an incumbent has come to."""

SEEDS_APART = 1_000
"""Distance of the seeds of two processes."""
LEAST_S = 1e-3
"""A step that takes no longer has nothing to do."""

FIRST_ROUND_S = 3.0
LONGEST_ROUND_S = 60.0
PROVEN_PATIENCE = 1 / 3
"""Part of the patience that is left once no cheaper stock is possible."""
TRADE_PART = 0.25
"""Part of the time for sawing that goes to dearer stock, where that is asked for."""
CUTS_PART = 0.15
"""Most of a round that the process that proves spends on the bound on cuts."""
CUTS_LEAST_S = 1.5
"""Time for that where rounds are short because patience may end the run."""


class Share(NamedTuple):
    """A phase, and when it ends at the latest: a part of the round.

    Where rounds are short because patience may end the run, it has ``least_s`` at least.
    """

    phase: Phase
    until: float
    least_s: float = 0.0


ALONE = (Share(Phase.SQUEEZE, 0.1), Share(Phase.PROVE, 0.4), Share(Phase.SQUEEZE, 0.5))
"""Before sawing, when there is one process."""

LEADING = (Share(Phase.SQUEEZE, 0.65),)
"""Before sawing, the first of several processes."""

PROVING = (Share(Phase.PROVE, 0.5, least_s=6.0), Share(Phase.SQUEEZE, 0.75))
"""Before sawing, the second process."""

SQUEEZING = (Share(Phase.SQUEEZE, 0.7),)
"""Before sawing, any further process."""


def shares(process: int, processes: int) -> Sequence[Share]:
    """Return what a process does before it turns to sawing."""
    if processes == 1:
        return ALONE
    return (LEADING, PROVING)[process] if process < 2 else SQUEEZING


def rounds(budget: Budget) -> Iterator[float]:
    """Yield the seconds of each round: one, or ever longer ones when the end is open.

    Annealing has to know its end to cool in time. When patience may end the run, rounds
    begin short, and stay shorter than the patience, so that the plan is good whenever
    that happens.
    """
    if budget.patience_s is None and budget.time_s is not None:
        yield budget.time_s
        return
    longest = LONGEST_ROUND_S
    if budget.patience_s is not None:
        longest = max(FIRST_ROUND_S, 0.8 * PROVEN_PATIENCE * budget.patience_s)
    seconds = FIRST_ROUND_S
    while True:
        yield seconds
        seconds = min(2 * seconds, longest)


def by_size(incumbents: Sequence[Incumbent]) -> list[float]:
    """Return the share of each incumbent in any time, by the number of its parts."""
    sizes = [sum(item.demand for item in incumbent.instance.items) for incumbent in incumbents]
    return [size / sum(sizes) for size in sizes]


class WorkerLoop:
    """One process's share of a run, round after round."""

    def __init__(
        self,
        *,
        process: int,
        processes: int,
        incumbents: Sequence[Incumbent],
        budget: Budget,
        stop: Stop,
        enter: Enter,
    ) -> None:
        self._process = process
        self._shares = shares(process, processes)
        self._parts = list(zip(incumbents, by_size(incumbents), strict=True))
        self._budget = budget
        self._stop = stop
        self._enter = enter
        self._seed = budget.seed + process * SEEDS_APART
        self._settled: set[int] = set()
        self._bounds = process == min(1, processes - 1)
        self._bounded: set[int] = set()

    def take(self, step: Step) -> None:
        """Work until the run ends."""
        for number, seconds in enumerate(rounds(self._budget)):
            if self._stop:
                return
            began = time.monotonic()
            end = self._stop.within(seconds)
            for share in self._shares:
                until = began + self._until(share, seconds)
                self._towards_proof(step, share, self._stop.within(until - time.monotonic()))
            if self._bounds:
                cuts = Share(Phase.CUTS, CUTS_PART, CUTS_LEAST_S)
                self._bound_cuts(step, end.within(self._until(cuts, seconds)))
            trading = [pair for pair in self._parts if self._trades(pair[0], number)]
            self._saw(step, end.within((1.0 - TRADE_PART) * end.remaining_s) if trading else end)
            self._trade(step, trading, end)
            time.sleep(max(0.0, min(LEAST_S, end.remaining_s)))

    def _until(self, share: Share, seconds: float) -> float:
        """Return when a phase has to end, from the beginning of a round of so many seconds."""
        most = share.until * seconds
        return most if self._budget.patience_s is None else max(most, share.least_s)

    def _towards_proof(self, step: Step, share: Share, end: Stop) -> None:
        """Work in one phase on every incumbent not proven yet, each for its part of the time."""
        todo = [
            (incumbent, part)
            for incumbent, part in self._parts
            if self._is_open(incumbent, share.phase)
        ]
        for index, (incumbent, part) in enumerate(todo):
            if end:
                return
            left = sum(other for _, other in todo[index:])
            mine = end.within(end.remaining_s * part / left)
            self._enter(incumbent, share.phase)
            step(share.phase, incumbent, mine.when(incumbent.is_proven), self._effort(mine))
            if share.phase is Phase.PROVE and not mine:
                self._settled.add(id(incumbent))

    def _is_open(self, incumbent: Incumbent, phase: Phase) -> bool:
        """Whether a phase may gain anything; a proof that came to its end is not taken up again."""
        settled = id(incumbent) in self._settled or not incumbent.provable
        return not incumbent.is_proven() and not (phase is Phase.PROVE and settled)

    def _bound_cuts(self, step: Step, end: Stop) -> None:
        """Bound the cuts of every incumbent of a proven price, until that came to its end once."""
        todo = [pair for pair in self._parts if self._has_open_cuts(pair[0])]
        for index, (incumbent, part) in enumerate(todo):
            mine = end.within(end.remaining_s * part / sum(other for _, other in todo[index:]))
            if not mine:
                self._enter(incumbent, Phase.CUTS)
                step(Phase.CUTS, incumbent, mine, self._effort(mine))
            if not mine:
                self._bounded.add(id(incumbent))

    def _has_open_cuts(self, incumbent: Incumbent) -> bool:
        return incumbent.provable and incumbent.is_proven() and id(incumbent) not in self._bounded

    def _saw(self, step: Step, end: Stop) -> None:
        """Share what time is left between the incumbents; processes begin at different ones."""
        pairs = self._parts[:: -1 if self._process % 2 else 1]
        for index, (incumbent, part) in enumerate(pairs):
            left = sum(other for _, other in pairs[index:])
            self._anneal(step, incumbent, end.within(end.remaining_s * part / left))

    def _anneal(self, step: Step, incumbent: Incumbent, end: Stop) -> None:
        """Anneal, and begin again whenever another process finds cheaper stock."""
        while not end and not incumbent.is_finished():
            self._enter(incumbent, Phase.SAWING)
            known, began = incumbent.stock, time.monotonic()
            cheaper = end.when(partial(incumbent.cheaper_than, known)).when(incumbent.is_finished)
            step(Phase.SAWING, incumbent, cheaper, self._effort(end))
            if incumbent.stock == known or time.monotonic() - began < LEAST_S:
                return

    def _trades(self, incumbent: Incumbent, number: int) -> bool:
        """Whether it is time to look for dearer stock that takes less sawing.

        While patience may end the run and stock may get cheaper, the first round goes without.
        """
        late = number > 0 or self._budget.patience_s is None
        return self._budget.trade and incumbent.complete and (late or incumbent.is_proven())

    def _trade(self, step: Step, trading: Sequence[tuple[Incumbent, float]], end: Stop) -> None:
        """Share what time is left between incumbents with a plan worth trading."""
        for index, (incumbent, part) in enumerate(trading):
            if end:
                return
            left = sum(other for _, other in trading[index:])
            mine = end.within(end.remaining_s * part / left)
            self._enter(incumbent, Phase.TRADE)
            step(Phase.TRADE, incumbent, mine, self._effort(mine))
            if incumbent.is_finished():
                incumbent.front.settle()

    def _effort(self, end: Stop) -> Effort:
        """Return the effort up to an end, with a seed of its own."""
        self._seed += 1
        return Effort(end.remaining_s, self._seed)
