"""What the actions do that look at the bench from nearer or from farther."""

from typing import TYPE_CHECKING

from layout_app.bench.paper_view import ZOOM_STEP

if TYPE_CHECKING:
    from layout_app.window.main_window import MainWindow


def has_sheets(window: "MainWindow") -> bool:
    """Say whether a sheet is on the bench."""
    return bool(window.document.layout.sheets)


def zoom_in(window: "MainWindow") -> None:
    """Look from nearer at the middle of the bench."""
    window.bench.zoom(ZOOM_STEP)


def zoom_out(window: "MainWindow") -> None:
    """Look from farther."""
    window.bench.zoom(1 / ZOOM_STEP)


def fit_all(window: "MainWindow") -> None:
    """Show all sheets at once."""
    window.bench.fit_all()


def zoom_to_selection(window: "MainWindow") -> None:
    """Show the selected parts large."""
    window.bench.zoom_to_selection()
