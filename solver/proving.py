"""Prove that no cheaper stock will do: column generation, then what closes the last gap."""

from solver.board import Board
from solver.columns import ColumnGeneration
from solver.effort import Effort
from solver.stop import Stop


def prove_stock(board: Board, stop: Stop, effort: Effort) -> None:
    """Raise the bound of a board until it is proven, or nothing more can be gained."""

    def target() -> int | None:
        return board.value if board.complete else None

    def on_bound(bound: int) -> None:
        board.raise_bound(bound)

    ColumnGeneration(board.instance, seed=effort.seed).run(stop, target, on_bound, effort.work)
