"""What is left for later by the window: come now, instead of after a while."""

from collections.abc import Iterator
from contextlib import contextmanager

from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from layout_app.planner.process import PlannerProcess
from solver.wire import DoneAnswer

WAIT_MS = 30_000
TURNS = 5
"""So deep are chains of things that each wait for the next turn, and more."""


def take_turns() -> None:
    """Let the event loop turn until nothing is posted, and no timer without a pause is left."""
    for _ in range(TURNS):
        QApplication.processEvents()


@contextmanager
def heard_out(planner: PlannerProcess, qtbot: QtBot) -> Iterator[None]:
    """End the planner's run within: after that all has come that it had to say.

    A real planner answers in turn, so that after the end of that run, or of one that took its
    place, nothing of it can come.
    """

    def ends(run: object, answer: object) -> bool:
        del run
        return isinstance(answer, DoneAnswer)

    with qtbot.waitSignal(planner._answered, timeout=WAIT_MS, check_params_cb=ends):
        yield
    take_turns()
