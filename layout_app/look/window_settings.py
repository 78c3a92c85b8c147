"""What a window keeps of itself: its colours, its shape, and the projects it had open."""

from dataclasses import dataclass, replace
from enum import StrEnum
from pathlib import Path
from typing import Final

RECENT: Final = 10
"""So many projects are remembered."""
ACROSS, DOWN = "across", "down"
"""Names of what divides the window: the tables from the rest, and that from top to bottom."""
FARTHEST: Final = 2**24 - 1
"""Pixels: no window of Qt is larger (QWIDGETSIZE_MAX), and none stands farther out."""


class Wish(StrEnum):
    """Which colours the maker wants."""

    SYSTEM = "system"
    """Whatever the system is set to, now and later."""
    LIGHT = "light"
    DARK = "dark"
    HIGH_LIGHT = "high contrast light"
    HIGH_DARK = "high contrast dark"


@dataclass(frozen=True, slots=True, kw_only=True)
class Shape:
    """Where a window stands and how it is divided; all in pixels of the desktop.

    ``across`` are the widths of the tables and of what is right of them, ``down`` the heights
    of the bench, the advice and the cut sequence; 0 for what is hidden. ValueError for what no
    desktop has room for.
    """

    x: int
    y: int
    length: int
    height: int
    maximised: bool = False
    across: tuple[int, ...] = ()
    down: tuple[int, ...] = ()

    def __post_init__(self) -> None:
        sizes = (self.length, self.height, *self.across, *self.down)
        if max(map(abs, (self.x, self.y, *sizes))) > FARTHEST or min(sizes) < 0:
            raise ValueError(f"pixels go up to {FARTHEST}")


@dataclass(frozen=True, slots=True, kw_only=True)
class WindowSettings:
    """Everything in ``window.json``.

    ``recent`` are paths, the last one opened first; ``folder`` is where the last project lay;
    ``overview`` whether a map of all sheets is shown while the bench is looked at from near.
    """

    colours: Wish = Wish.SYSTEM
    shape: Shape | None = None
    recent: tuple[str, ...] = ()
    folder: str = ""
    overview: bool = True

    def with_opened(self, path: str) -> "WindowSettings":
        """Return the settings with a project in front of the recent ones."""
        others = (one for one in self.recent if one != path)
        recent = (path, *others)[:RECENT]
        return replace(self, recent=recent, folder=str(Path(path).parent))
