"""The action of the menu Bench that repairs a sheet which can't be cut."""

from typing import Final

from layout_app.bench.repairing import Repairing
from layout_app.bench.view import BenchView
from layout_app.window.actions.row import BENCH, ActionRow


def _can_repair(bench: BenchView) -> bool:
    """Some sheet can't be cut, and nothing else is in the hand."""
    hand = bench.hand
    return bool(hand.broken) and (not hand.busy or isinstance(hand.interaction, Repairing))


def _repair(bench: BenchView) -> None:
    """Show a repair on the bench, where keys reach it."""
    bench.setFocus()
    bench.hand.repair()


REPAIRING: Final[tuple[ActionRow[BenchView], ...]] = (
    ActionRow(
        id="bench.repair",
        text="Repair this sheet",
        tip="Show the least change after which a sheet can be cut: Return takes it, R shows the"
        " next, Esc leaves it",
        shortcut="R",
        where=BENCH,
        enabled=_can_repair,
        does=_repair,
        ends_group=True,
    ),
)
"""It may be used again while a repair is shown: then it shows the next one."""
