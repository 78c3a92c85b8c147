"""What the actions of the menu Paper do, and when they can be used."""

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from layout_app.window.main_window import MainWindow


def has_sheets(window: "MainWindow") -> bool:
    """Say whether there is a sheet with parts to be put on paper."""
    return any(sheet.placements for sheet in window.document.layout.sheets)


def open_drawer(window: "MainWindow") -> None:
    """Open the drawer that says what is written, or put it away."""
    window.paper.toggle()


def print_pack(window: "MainWindow") -> None:
    """Print the cut pack through the system's dialog."""
    window.paper_work.print()


def preview_pack(window: "MainWindow") -> None:
    """Show the pages in the system's preview."""
    window.paper_work.preview()


def copy_sheet(window: "MainWindow") -> None:
    """Put a picture of one sheet on the clipboard."""
    window.paper_work.copy_sheet()
