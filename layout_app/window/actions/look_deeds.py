"""What the actions of colours and of recent projects do, and when they can be done."""

from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING

from layout_app.look.window_settings import Wish

if TYPE_CHECKING:
    from layout_app.window.main_window import MainWindow


def wish(colours: Wish) -> "Callable[[MainWindow], None]":
    """Return the deed of choosing colours."""
    return lambda window: window.keeping.wish(colours)


def is_wished(colours: Wish) -> "Callable[[MainWindow], bool]":
    """Return whether colours are the chosen ones."""
    return lambda window: window.keeping.settings.colours is colours


def open_recent(place: int) -> "Callable[[MainWindow], None]":
    """Return the deed of opening a recent project, counted from 0."""
    return lambda window: _open(window, place)


def can_open_recent(place: int) -> "Callable[[MainWindow], bool]":
    """Return whether there is such a recent project, and it is where it was."""
    return lambda window: _can_open(window, place)


def has_recent(window: "MainWindow") -> bool:
    """Some project was open before."""
    return bool(window.keeping.settings.recent)


def forget_recent(window: "MainWindow") -> None:
    """Forget the recent projects."""
    window.keeping.forget_recent()


def _can_open(window: "MainWindow", place: int) -> bool:
    recent = window.keeping.settings.recent
    return place < len(recent) and recent[place] not in window.keeping.missing


def _open(window: "MainWindow", place: int) -> None:
    path = Path(window.keeping.settings.recent[place])
    window.when_kept(lambda: window.open_path(path))
