"""The search without its compiled part: slower by far, but there from the beginning.

It works while the compiled one is being compiled, the first time of all, and in its place
where the compiler does not run.
"""

from random import Random

from solver.anneal import anneal
from solver.board import Board
from solver.budget import Budget
from solver.effort import Effort
from solver.recreate import squeeze
from solver.stop import Stop

COOLING_S = 2.0
"""Seconds for one cooling at most: it may be interrupted at any time, and only a cold one
has less sawing."""


def squeeze_interpreted(board: Board, stop: Stop, effort: Effort) -> None:
    """Look for cheaper stock until there is none, or stopped."""
    budget = Budget(stop, work=effort.work)
    squeeze(
        board.instance,
        board.solution,
        Random(effort.seed),
        budget,
        on_better=board.offer,
        bound=lambda: board.bound,
    )


def save_interpreted(board: Board, stop: Stop, effort: Effort) -> None:
    """Look for less sawing, in one cooling if work is counted, else until stopped."""
    rng = Random(effort.seed)
    counted = effort.work is not None
    while not stop and board.solution.sheets:
        seconds = None if counted else min(COOLING_S, stop.remaining_s)
        budget = Budget(stop, work=effort.work, seconds=seconds)
        anneal(board.instance, board.solution, rng, budget, on_better=board.offer)
        if counted or board.is_finished():
            return
