"""What one process does in a run: first towards proof, then towards less sawing."""

import time
from collections.abc import Callable, Sequence
from functools import partial

from solver.budget.effort import Effort
from solver.budget.phase import Phase
from solver.budget.stop import Limits, Stop
from solver.planning.time_shares import (
    CUTS_LEAST_S,
    CUTS_PART,
    TRADE_PART,
    Share,
    by_size,
    rounds,
    shares,
)
from solver.solutions.incumbent import Incumbent

Step = Callable[[Phase, Incumbent, Stop, Effort], None]
"""Does a phase on an incumbent until stopped, or the effort is spent."""

Enter = Callable[[Incumbent, Phase], None]
"""Hears which phase an incumbent has come to."""

SEEDS_APART = 1_000
"""Distance of the seeds of two processes."""
LEAST_S = 1e-3
"""A step that takes no longer has nothing to do."""


class WorkerLoop:
    """One process's share of a run, round after round."""

    def __init__(
        self,
        *,
        process: int,
        processes: int,
        incumbents: Sequence[Incumbent],
        limits: Limits,
        stop: Stop,
        enter: Enter,
    ) -> None:
        self._process = process
        self._shares = shares(process, processes)
        self._parts = list(zip(incumbents, by_size(incumbents), strict=True))
        self._limits = limits
        self._stop = stop
        self._enter = enter
        self._seed = limits.seed + process * SEEDS_APART
        self._settled: set[int] = set()
        self._bounds = process == min(1, processes - 1)
        self._bounded: set[int] = set()

    def take(self, step: Step) -> None:
        """Work until the run ends."""
        for number, seconds in enumerate(rounds(self._limits)):
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
        return most if self._limits.patience_s is None else max(most, share.least_s)

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
        late = number > 0 or self._limits.patience_s is None
        return self._limits.trade and incumbent.complete and (late or incumbent.is_proven())

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
