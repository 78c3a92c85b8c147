"""Mates of the planning process: started early, kept warm, halted or ended at a word."""

import contextlib
import os
import queue
import subprocess
import sys
import threading
from collections.abc import Sequence
from pathlib import Path

from solver.board import Board
from solver.instance import Solution
from solver.mate_wire import Finished, Halt, Line, News, Task, decode_line, encode_line
from solver.outcome import Phase
from solver.steps import Effort
from solver.stop import Stop

LOOK_S = 0.02
"""Time between two looks at the stop."""
PATIENCE_S = 0.12
"""Time a halted mate has to come to an end before its process is ended."""


def surroundings() -> dict[str, str]:
    """Return the environment in which another process finds these very packages."""
    root = str(Path(__file__).resolve().parents[1])
    others = os.environ.get("PYTHONPATH")
    return {**os.environ, "PYTHONPATH": os.pathsep.join((root, others) if others else (root,))}


class MateLost(Exception):  # noqa: N818 - says what happened
    """The process of a mate has ended."""


class Mate:
    """One mate's process, as seen from here. One task at a time, from one thread."""

    def __init__(self) -> None:
        self._process: subprocess.Popen[bytes] | None = None
        self._lines: queue.SimpleQueue[Line | None] = queue.SimpleQueue()
        self._number = 0

    def start(self) -> None:
        """Start the process if it does not run."""
        if self._process is not None and self._process.poll() is None:
            return
        self._process = subprocess.Popen(
            [sys.executable, "-P", "-m", "solver.mate"],
            stdin=subprocess.PIPE,
            stdout=subprocess.PIPE,
            env=surroundings(),
        )
        self._lines = queue.SimpleQueue()
        reader = threading.Thread(
            target=_read, args=(self._process, self._lines), name="mate", daemon=True
        )
        reader.start()

    def end(self) -> None:
        """End the process at once."""
        process, self._process = self._process, None
        if process is None:
            return
        process.kill()
        process.wait()
        for pipe in (process.stdin, process.stdout):
            if pipe is not None:
                with contextlib.suppress(OSError):
                    pipe.close()

    def work(self, phase: Phase, board: Board, stop: Stop, effort: Effort) -> str:
        """Let the mate work on a board until it is done or stopped; return what broke, or "".

        Raises
        ------
        MateLost
            If its process has ended; the next task starts another.
        """
        self.start()
        self._number += 1
        known = _Known(board)
        task = Task(
            task=self._number,
            phase=phase,
            instance=board.instance,
            solution=known.solution,
            bound=known.bound,
            seconds=min(effort.seconds, stop.remaining_s),
            seed=effort.seed,
        )
        try:
            self._send(task)
            return self._follow(board, stop, known)
        except MateLost:
            self.end()
            raise

    def _follow(self, board: Board, stop: Stop, known: "_Known") -> str:
        """Exchange news until the task is over; end the process if it does not hear."""
        halted = Stop()
        while not halted:
            with contextlib.suppress(queue.Empty):
                line = self._lines.get(timeout=LOOK_S)
                if line is None:
                    raise MateLost("a mate's process has ended")
                if isinstance(line, Finished) and line.task == self._number:
                    return line.fault
                if isinstance(line, News) and line.task == self._number:
                    known.take(board, line)
            if known.differs(board):
                self._send(known.news(board, self._number))
            if stop and halted.deadline is None:
                self._send(Halt(task=self._number))
                halted = halted.within(PATIENCE_S)
        self.end()
        return ""

    def _send(self, line: Line) -> None:
        if self._process is None or self._process.stdin is None:
            raise MateLost("a mate's process is gone")
        try:
            self._process.stdin.write(encode_line(line))
            self._process.stdin.flush()
        except (OSError, ValueError) as error:
            raise MateLost("a mate does not listen") from error


class _Known:
    """What the mate knows of a board."""

    def __init__(self, board: Board) -> None:
        self.solution: Solution = board.solution
        self.bound = board.bound

    def differs(self, board: Board) -> bool:
        """Whether there is a cheaper solution, or a better bound, than the mate knows."""
        return board.solution is not self.solution or board.bound > self.bound

    def news(self, board: Board, task: int) -> News:
        """Return what the mate does not know, and take it as known."""
        self.solution, self.bound = board.solution, board.bound
        return News(task=task, solution=self.solution, bound=self.bound)

    def take(self, board: Board, news: News) -> None:
        """Write down what the mate found."""
        board.raise_bound(news.bound)
        self.bound = max(self.bound, news.bound)
        if news.solution is not None and board.offer(news.solution):
            self.solution = board.solution


class Crew:
    """So many mates; use as a context, or end it."""

    def __init__(self, mates: int) -> None:
        self.mates: Sequence[Mate] = tuple(Mate() for _ in range(mates))

    def start(self) -> None:
        """Start all processes, so that they are warm when there is work."""
        for mate in self.mates:
            mate.start()

    def end(self) -> None:
        """End all processes."""
        for mate in self.mates:
            mate.end()

    def __enter__(self) -> "Crew":
        self.start()
        return self

    def __exit__(self, *_: object) -> None:
        self.end()


def _read(process: "subprocess.Popen[bytes]", lines: "queue.SimpleQueue[Line | None]") -> None:
    """Put what the process says into the queue; ``None`` when it has ended."""
    if process.stdout is not None:
        with contextlib.suppress(ValueError, OSError):
            for text in process.stdout:
                lines.put(decode_line(text))
    lines.put(None)
