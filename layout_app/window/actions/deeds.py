"""What the actions do, and when they can be done."""

from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtWidgets import QFileDialog

from layout_app.store.file_names import safe_name
from layout_app.store.project_file import SUFFIX
from layout_app.window.notes import about_text, safety_text

if TYPE_CHECKING:
    from layout_app.window.main_window import MainWindow

FILTER = f"Ripfirst projects (*{SUFFIX});;All files (*)"

# --- when --------------------------------------------------------------------------------


def always(window: "MainWindow") -> bool:
    """Nothing is needed."""
    del window
    return True


def can_undo(window: "MainWindow") -> bool:
    """There is a step to take back, and no gesture is under way."""
    return window.document.undo_stack.canUndo() and not window.document.gestures.under_way


def can_redo(window: "MainWindow") -> bool:
    """There is a step to take again, and no gesture is under way."""
    return window.document.undo_stack.canRedo() and not window.document.gestures.under_way


def table_in_front(window: "MainWindow") -> bool:
    """A table of rows is in front."""
    return window.left.focused_table() is not None


def rows_chosen(window: "MainWindow") -> bool:
    """Rows of the table in front are selected."""
    table = window.left.focused_table()
    return table is not None and bool(table.chosen())


# --- files -------------------------------------------------------------------------------


def new(window: "MainWindow") -> None:
    """Begin another project, once what is unsaved has been asked about."""
    window.when_kept(lambda: window.show_project(window.kept.new_project(), None))


def open_file(window: "MainWindow") -> None:
    """Open a project file, once what is unsaved has been asked about."""
    window.when_kept(window.choose_and_open)


def save(window: "MainWindow") -> None:
    """Save where it was opened from, or ask where."""
    window.save()


def save_as(window: "MainWindow") -> None:
    """Ask where to save."""
    window.left.take_typed()
    path = window.still(lambda: ask_where_to_save(window))
    if path is not None:
        window.save_to(path)
    else:
        window.unsaved.stop()


def close(window: "MainWindow") -> None:
    """Close the window."""
    window.close()


def ask_where_to_save(window: "MainWindow") -> Path | None:
    """Let the maker choose a file to save to."""
    name = safe_name(window.document.job.name, "project")
    before = window.document.saved_state.path
    if before is None or window.safe.refused:
        file = name + SUFFIX if before is None else before.name
        before = window.keeping.folder_to_save_in / file
    chosen, _ = QFileDialog.getSaveFileName(window, "Save the project", str(before), FILTER)
    if not chosen:
        return None
    return Path(chosen) if chosen.endswith(".json") else Path(chosen + SUFFIX)


def ask_what_to_open(window: "MainWindow") -> Path | None:
    """Let the maker choose a file to open."""
    path = window.document.saved_state.path
    folder = path.parent if path else window.keeping.folder
    name, _ = QFileDialog.getOpenFileName(window, "Open a project", str(folder), FILTER)
    return Path(name) if name else None


# --- edit --------------------------------------------------------------------------------


def undo(window: "MainWindow") -> None:
    """Take the last step back."""
    window.document.undo()


def redo(window: "MainWindow") -> None:
    """Take the step again."""
    window.document.redo()


def type_part(window: "MainWindow") -> None:
    """Open the row a part is typed in."""
    window.left.type_part()


def type_sheet(window: "MainWindow") -> None:
    """Open the row a sheet is typed in."""
    window.left.type_sheet()


def go_to_card(window: "MainWindow") -> None:
    """Give the keys to the card of the row that is selected."""
    window.left.go_to_card()


def next_region(window: "MainWindow") -> None:
    """Give the keys to the next region."""
    window.regions.go(1)


def region_before(window: "MainWindow") -> None:
    """Give the keys to the region before."""
    window.regions.go(-1)


def paste(window: "MainWindow") -> None:
    """Paste rows into the table in front."""
    table = window.left.focused_table()
    if table is not None:
        table.paste()


def remove(window: "MainWindow") -> None:
    """Remove the selected rows of the table in front."""
    table = window.left.focused_table()
    if table is not None:
        table.remove_chosen()


# --- help --------------------------------------------------------------------------------


def show_safety(window: "MainWindow") -> None:
    """Show the usual cautions beside the work."""
    window.show_note("Safety cautions", safety_text())


def show_about(window: "MainWindow") -> None:
    """Say what this is."""
    window.show_note("About Ripfirst", about_text())
