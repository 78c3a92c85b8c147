"""Who works on which material for how long, until a run has to end."""

import math
import sys
import threading
import time
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from functools import partial

from solver.board import Board
from solver.crew import Mate, MateLost
from solver.effort import Effort
from solver.outcome import Phase, Reason
from solver.schedule import START_PART, by_size, rounds, shares
from solver.steps import KERNEL, bound_quickly, take_step, warm_up
from solver.stop import Limits, Stop
from solver.trouble import BrokenMate, Trouble

Step = Callable[[Phase, Board, Stop, Effort], None]
"""Does a phase on a board until stopped, or the effort is spent."""

Enter = Callable[[Board, Phase], None]

SEEDS_APART = 1_000
"""Distance of the seeds of two processes."""


class Search:
    """The boards of a run and all who work on them."""

    def __init__(
        self,
        boards: Sequence[Board],
        limits: Limits,
        stop: Stop,
        *,
        mates: Sequence[Mate],
        enter: Enter,
        trouble: Trouble,
    ) -> None:
        self._boards = boards
        self._parts = by_size(boards)
        self._limits = limits
        self._asked = stop
        self._stop = stop.when(self._finished)
        if limits.patience_s is not None:
            self._stop = self._stop.when(self._tired)
        self._mates = mates[: limits.workers - 1]
        self._enter = enter
        self._trouble = trouble
        self._faults: list[Exception] = []

    def run(self) -> Reason:
        """Search until the end; say why it came."""
        if not self._boards:
            return Reason.EMPTY
        for board in self._boards:
            bound_quickly(board)
        if self._limits.work is not None:
            self._by_work(self._limits.work)
        else:
            self._by_time()
        return self._reason()

    def _by_time(self) -> None:
        if not self._stop:
            warm_up(proves=not self._mates)
        for number, seconds in enumerate(rounds(self._limits)):
            if self._stop:
                return
            end = self._stop.within(seconds)
            seed = self._limits.seed + 97 * number
            if number == 0:
                self._start(end, seconds, seed)
            self._round(end, min(seconds, end.remaining_s), seed)

    def _by_work(self, work: int) -> None:
        """Take every step for so many units of work, in one process and a fixed order."""
        for phase in (Phase.START, Phase.SQUEEZE, Phase.PROVE, Phase.SQUEEZE, Phase.SAWING):
            for board in self._boards:
                if not self._stop and (phase is Phase.SAWING or not board.is_proven()):
                    self._enter(board, phase)
                    effort = Effort(math.inf, self._limits.seed, work)
                    take_step(phase, board, self._stop, effort)

    def _start(self, end: Stop, seconds: float, seed: int) -> None:
        for board, part in zip(self._boards, self._parts, strict=True):
            if not end and not board.is_proven():
                take_step(Phase.START, board, end, Effort(START_PART * seconds * part, seed))

    def _round(self, end: Stop, seconds: float, seed: int) -> None:
        """Let every process work until the end; return when all are done."""
        with self._beside(end, seconds, seed):
            self._work(0, take_step, end, seconds, seed)
        if self._faults:
            self._trouble(self._faults.pop())

    @contextmanager
    def _beside(self, end: Stop, seconds: float, seed: int) -> Iterator[None]:
        """Have the mates work meanwhile, each followed by a thread."""
        threads = [
            threading.Thread(
                target=self._follow,
                args=(number, mate, end, seconds, seed + number * SEEDS_APART),
                name=f"follows mate {number}",
                daemon=True,
            )
            for number, mate in enumerate(self._mates, 1)
        ]
        for thread in threads:
            thread.start()
        yield
        for thread in threads:
            thread.join()

    def _follow(self, number: int, mate: Mate, end: Stop, seconds: float, seed: int) -> None:
        """Do a mate's share of a round; a mate that is lost is left out of it."""

        def step(phase: Phase, board: Board, stop: Stop, effort: Effort) -> None:
            fault = mate.work(phase, board, stop, effort)
            if fault:
                raise BrokenMate(fault)

        try:
            self._work(number, step, end, seconds, seed)
        except MateLost as lost:
            print(lost, file=sys.stderr)
        except Exception as fault:
            self._faults.append(fault)

    def _work(self, process: int, step: Step, end: Stop, seconds: float, seed: int) -> None:
        """Do one process's share of a round: first towards proof, then towards less sawing."""
        for share in shares(process, 1 + len(self._mates)):
            for board, part in zip(self._boards, self._parts, strict=True):
                if not end and not board.is_proven():
                    self._enter(board, share.phase)
                    effort = Effort(share.part * part * seconds, seed)
                    step(share.phase, board, end.when(board.is_proven), effort)
                    seed += 1
        self._saw(process, step, end, seed)

    def _saw(self, process: int, step: Step, end: Stop, seed: int) -> None:
        """Share what time is left between the boards; processes begin at different ones."""
        pairs = list(zip(self._boards, self._parts, strict=True))
        if process % 2:
            pairs.reverse()
        for index, (board, part) in enumerate(pairs):
            left = sum(other for _, other in pairs[index:])
            self._anneal(board, step, end.within(end.remaining_s * part / left), seed)

    def _anneal(self, board: Board, step: Step, end: Stop, seed: int) -> None:
        """Anneal, and begin again whenever another process finds cheaper stock."""
        while not end and not board.is_finished():
            self._enter(board, Phase.SAWING)
            known = board.stock
            began = time.monotonic()
            cheaper = end.when(partial(board.cheaper_than, known)).when(board.is_finished)
            step(Phase.SAWING, board, cheaper, Effort(end.remaining_s, seed))
            seed += 1
            if board.stock == known or time.monotonic() - began < 1e-3:
                return

    def _finished(self) -> bool:
        """Whether nothing can get better."""
        return all(board.is_finished() for board in self._boards)

    def _tired(self) -> bool:
        """Whether nothing has got better for as long as patience lasts; loading is not counted."""
        if KERNEL.pending:
            return False
        last = max(KERNEL.done_at, *(board.changed_at for board in self._boards))
        return time.monotonic() - last > (self._limits.patience_s or 0.0)

    def _reason(self) -> Reason:
        if self._asked.asked:
            return Reason.STOPPED
        if all(board.is_proven() for board in self._boards):
            return Reason.PROVEN
        if self._limits.work is not None:
            return Reason.WORK
        return Reason.TIME if self._asked.late else Reason.PATIENCE
