"""What an action is: words, key, when it can be used, and what it does."""

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from typing import Any, Generic, TypeVar

WINDOW, BENCH, DRAWING = "window", "bench", "drawing"
"""Where an action's key works: everywhere; on the bench and in its table; on the bench alone."""

Context = TypeVar("Context")
"""What the actions of a menu know: a small record, never the window."""


def always(context: object) -> bool:
    """Nothing is needed."""
    del context
    return True


@dataclass(frozen=True, slots=True, kw_only=True)
class ActionRow(Generic[Context]):
    """One action.

    Attributes
    ----------
    id, text, tip
        Stable name; words in the menu; one sentence for the status line.
    shortcut, no_key
        Its key, or why it has none.
    also
        Another key that does it too, ``""`` for none.
    where
        Where the key works.
    enabled
        Whether it can be used now.
    at_rest
        Whether it can only be used while no gesture is under way.
    checked
        Whether it has a tick now; ``None`` for one that never has.
    does
        What it does.
    submenu
        Menu inside the menu it stands in, ``""`` for none.
    ends_group
        Whether a line is drawn below it.
    """

    id: str
    text: str
    tip: str
    shortcut: str = ""
    no_key: str = ""
    also: str = ""
    where: str = WINDOW
    enabled: Callable[[Context], bool] = always
    at_rest: bool = False
    checked: Callable[[Context], bool] | None = None
    does: Callable[[Context], object]
    submenu: str = ""
    ends_group: bool = False


@dataclass(frozen=True, slots=True)
class Bound(Generic[Context]):
    """An action with the menu it stands in and what it is about."""

    menu: str
    row: ActionRow[Context]
    context: Context

    def enabled(self, *, gesture: bool) -> bool:
        """Say whether it can be used now, while a gesture is under way or not."""
        return self.row.enabled(self.context) and not (gesture and self.row.at_rest)

    def checked(self) -> bool | None:
        """Say whether it has a tick now; ``None`` for one that never has."""
        return None if self.row.checked is None else self.row.checked(self.context)

    def do(self) -> None:
        """Do what it does."""
        self.row.does(self.context)


def bound(
    menu: str, rows: Iterable[ActionRow[Context]], context: Context
) -> tuple[Bound[Any], ...]:
    """Return the actions of a menu with what they are about."""
    return tuple(Bound(menu, row, context) for row in rows)
