"""Stage B: less sawing on the same sheets."""

import time
from collections import Counter
from collections.abc import Sequence

import numpy as np

from solver.board import Board
from solver.effort import Effort
from solver.instance import Solution
from solver.phase import Method
from solver.search.cheaper import with_begun
from solver.search.kernel.fleet import desk, to_sheets
from solver.search.kernel.saving import Ledger, energy, save
from solver.search.kernel.setups import no_setups
from solver.search.tempo import Tempo
from solver.statistics import Work
from solver.stop import Stop

HOT, COLD = 0.5, 0.05
"""Temperature at the start and the end, in times of a cut and a set-up together."""
SHOW_S = 0.25
"""Least time between two solutions shown."""


def save_sawing(board: Board, stop: Stop, effort: Effort) -> None:
    """Anneal the best solution once, cooling by the effort's tries or by its seconds."""
    anneal(board, board.solution, stop, effort)


def anneal(
    board: Board, start: Solution, stop: Stop, effort: Effort, more: Sequence[int] = ()
) -> None:
    """Anneal a solution once, with empty sheets of ``more`` kinds beside its own."""
    if not start.sheets:
        return
    effort.by(Method.ANNEALING)
    instance, weights = board.instance, board.instance.weights
    kinds = [*(sheet.kind for sheet in start.sheets), *more]
    rest = (Counter(with_begun(instance, kinds)) - Counter(kinds)).elements()
    search = desk(instance, start.sheets, [*kinds, *rest], effort.seed)
    setups = no_setups()
    ledger = Ledger(setups, float(weights.cut_s), float(weights.setup_s), float(weights.skim_s))
    now = energy(search, ledger)
    unit = max(1.0, float(weights.cut_s + weights.setup_s))
    heat = np.array([HOT * unit, HOT * unit, now, now], np.float64)
    clock = _Clock(stop, effort)
    tempo = Tempo(steady=effort.work is not None)
    shown, shown_at = now, time.monotonic()

    def work(some: int) -> int:
        save(search, ledger, some, heat)
        return some

    def show() -> None:
        board.offer(Solution(to_sheets(search.best, search.rooms), start.left))

    while (share := clock.share()) < 1.0:
        heat[0] = heat[1]
        heat[1] = unit * HOT * (COLD / HOT) ** share
        clock.took(tempo.take(work, clock.left))
        if heat[3] < shown and time.monotonic() - shown_at > SHOW_S:
            show()
            shown, shown_at = heat[3], time.monotonic()
    if heat[3] < shown:
        show()


class _Clock:
    """How much of an effort is spent, by tries if it counts them, else by time."""

    def __init__(self, stop: Stop, effort: Effort) -> None:
        self.made = 0
        self._stop = stop
        self._effort = effort
        self._began = time.monotonic()

    @property
    def left(self) -> int:
        """Tries left."""
        return 1 << 30 if self._effort.work is None else self._effort.work - self.made

    def took(self, tries: int) -> None:
        """Count tries that were made."""
        self.made += tries
        self._effort.did(Work(tries=tries))

    def share(self) -> float:
        """Return the part that is spent, 1.0 at the end or when stopped."""
        if self._stop:
            return 1.0
        if self._effort.work is not None:
            return self.made / max(1, self._effort.work)
        return (time.monotonic() - self._began) / max(1e-3, self._effort.seconds)
