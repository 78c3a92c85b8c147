"""What an action is: words, key, when it can be used, and what it does."""

from collections.abc import Callable
from dataclasses import dataclass
from typing import TYPE_CHECKING

from layout_app.window.actions import deeds

if TYPE_CHECKING:
    from layout_app.window.main_window import MainWindow

WINDOW, BENCH = "window", "bench"
"""Where an action's key works: everywhere, or on the bench."""


@dataclass(frozen=True, slots=True, kw_only=True)
class ActionRow:
    """One action.

    Attributes
    ----------
    id, text, tip
        Stable name; words in the menu; one sentence for the status line.
    shortcut, no_key
        Its key, or why it has none.
    where
        Where the key works.
    enabled
        Whether it can be used now.
    checked
        Whether it has a tick now; ``None`` for one that never has.
    does
        What it does.
    menu
        Menu it stands in; submenus after a slash.
    ends_group
        Whether a line is drawn below it.
    """

    id: str
    text: str
    tip: str
    shortcut: str = ""
    no_key: str = ""
    where: str = WINDOW
    enabled: Callable[["MainWindow"], bool] = deeds.always
    checked: Callable[["MainWindow"], bool] | None = None
    does: Callable[["MainWindow"], None]
    menu: str
    ends_group: bool = False
