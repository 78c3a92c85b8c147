"""What the actions do, and when they can be done."""

from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtWidgets import QFileDialog

from layout_app import hands, held, laying
from layout_app.notes import about_text, safety_text
from layout_app.project import Copy
from layout_app.store.project_file import SUFFIX
from shared.layout import Scope
from shared.parts import GrainRule

if TYPE_CHECKING:
    from layout_app.main_window import MainWindow

FILTER = f"Ripfirst projects (*{SUFFIX});;All files (*)"

# --- when --------------------------------------------------------------------------------


def always(window: "MainWindow") -> bool:
    """Nothing is needed."""
    del window
    return True


def can_undo(window: "MainWindow") -> bool:
    """There is a step to take back, and no gesture is under way."""
    return window.document.undo_stack.canUndo() and not window.document.gesture


def can_redo(window: "MainWindow") -> bool:
    """There is a step to take again, and no gesture is under way."""
    return window.document.undo_stack.canRedo() and not window.document.gesture


def has_parts(window: "MainWindow") -> bool:
    """There is something to plan."""
    return bool(window.document.job.parts) and not window.document.gesture


def has_stock(window: "MainWindow") -> bool:
    """There is a sheet to lay out."""
    return bool(window.document.job.stock) and not window.document.gesture


def run_broke_off(window: "MainWindow") -> bool:
    """The last run has ended without an end of its own."""
    return window.planning.standing.broken


def is_planning(window: "MainWindow") -> bool:
    """A run is under way."""
    return window.planning.running


def table_in_front(window: "MainWindow") -> bool:
    """A table of rows is in front."""
    return window.left.focused_table() is not None


def rows_chosen(window: "MainWindow") -> bool:
    """Rows of the table in front are selected."""
    table = window.left.focused_table()
    return table is not None and bool(table.chosen())


def one_part(window: "MainWindow") -> bool:
    """Copies of just one part are selected, and no gesture is under way."""
    parts = {part for part, _ in window.document.selection.parts}
    return len(parts) == 1 and not window.document.gesture


def some_placed(window: "MainWindow") -> bool:
    """Some selected copy lies on a sheet, and no gesture is under way."""
    return bool(_placed(window)) and not window.document.gesture


def one_placed(window: "MainWindow") -> bool:
    """Just one selected copy lies on a sheet, and no gesture is under way."""
    return len(_placed(window)) == 1 and not window.document.gesture


def one_sent(window: "MainWindow") -> bool:
    """Some selected copy was sent to wait."""
    return bool(_sent(window)) and not window.document.gesture


def can_hold(window: "MainWindow") -> bool:
    """Some selected copy lies on a sheet, or is held, and no gesture is under way."""
    return (bool(_placed(window)) or can_release(window)) and not window.document.gesture


def can_release(window: "MainWindow") -> bool:
    """Something holds a selected copy, or held it before it had to leave."""
    document = window.document
    found = held.on(document.layout, document.held, None, document.selection.parts)
    return bool(found) and not document.gesture


def some_suspended(window: "MainWindow") -> bool:
    """Some hold is not in force."""
    return bool(window.document.held.suspended) and not window.document.gesture


def _placed(window: "MainWindow") -> list[Copy]:
    chosen, layout = window.document.selection.parts, window.document.layout
    return sorted(key for key in chosen if laying.find(layout, key) is not None)


def _sent(window: "MainWindow") -> list[Copy]:
    chosen = window.document.selection.parts
    waiting = window.document.layout.waiting
    return [(w.part, w.copy) for w in waiting if w.sent and (w.part, w.copy) in chosen]


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
    path = ask_where_to_save(window)
    if path is not None:
        window.save_to(path)


def close(window: "MainWindow") -> None:
    """Close the window."""
    window.close()


def ask_where_to_save(window: "MainWindow") -> Path | None:
    """Let the maker choose a file to save to."""
    before = window.document.path or Path((window.document.job.name or "project") + SUFFIX)
    name, _ = QFileDialog.getSaveFileName(window, "Save the project", str(before), FILTER)
    if not name:
        return None
    return Path(name) if name.endswith(".json") else Path(name + SUFFIX)


def ask_what_to_open(window: "MainWindow") -> Path | None:
    """Let the maker choose a file to open."""
    folder = window.document.path.parent if window.document.path else Path()
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


# --- bench -------------------------------------------------------------------------------


def plan(window: "MainWindow") -> None:
    """Plan everything; sheets laid by hand are given back."""
    hands.plan(window.document)


def plan_again(window: "MainWindow") -> None:
    """Run again what broke off; sheets laid by hand stay."""
    window.planning.run_again()


def stop(window: "MainWindow") -> None:
    """End the run and keep what it has found."""
    window.planning.stop()


def turn(window: "MainWindow") -> None:
    """Turn the selected copy."""
    for part, copy in _placed(window):
        hands.turn_part(window.document, part, copy)


def next_grain(window: "MainWindow") -> None:
    """Give the selected part the next rule."""
    rules = list(GrainRule)
    part = _one_part(window)
    now = window.document.job.part(part).grain_rule
    _set_grain(window, rules[(rules.index(now) + 1) % len(rules)])


def grain_length(window: "MainWindow") -> None:
    """Let the grain run along the part's length."""
    _set_grain(window, GrainRule.ALONG_LENGTH)


def grain_width(window: "MainWindow") -> None:
    """Let the grain run along the part's width."""
    _set_grain(window, GrainRule.ALONG_WIDTH)


def grain_either(window: "MainWindow") -> None:
    """Let the grain run either way."""
    _set_grain(window, GrainRule.EITHER)


def _set_grain(window: "MainWindow", rule: GrainRule) -> None:
    hands.set_grain_rule(window.document, _one_part(window), rule)


def _one_part(window: "MainWindow") -> str:
    (part,) = {part for part, _ in window.document.selection.parts}
    return part


def let_wait(window: "MainWindow") -> None:
    """Send the selected copies to wait, as one step."""
    hands.wait_parts(window.document, _placed(window))


def call_back(window: "MainWindow") -> None:
    """Let planning place the selected copies again."""
    hands.call_back(window.document, _sent(window))


def hold_part(window: "MainWindow") -> None:
    """Hold the selected copies, or release them."""
    hands.hold_or_release(window.document, Scope.PART, window.document.selection.parts)


def hold_strip(window: "MainWindow") -> None:
    """Hold the strips of the selected copies, or release them."""
    hands.hold_or_release(window.document, Scope.STRIP, window.document.selection.parts)


def hold_sheet(window: "MainWindow") -> None:
    """Hold the sheets of the selected copies, or release them."""
    hands.hold_or_release(window.document, Scope.SHEET, window.document.selection.parts)


def release(window: "MainWindow") -> None:
    """Release all that holds the selected copies."""
    hands.release(window.document, None, window.document.selection.parts)


def release_suspended(window: "MainWindow") -> None:
    """Forget the holds that are not in force."""
    hands.release_holds(window.document, [hold for hold, _ in window.document.held.suspended])


def lay_out_sheet(window: "MainWindow") -> None:
    """Put an empty sheet on the bench."""
    job = window.document.job
    chosen = window.left.stock.chosen()
    parts = {part for part, _ in window.document.selection.parts}
    wanted = {part.material for part in job.parts if part.id in parts}
    suiting = [row.id for row in job.stock if row.material in wanted]
    hands.add_sheet(window.document, (chosen or suiting or [job.stock[0].id])[0])


def fit_width(window: "MainWindow") -> None:
    """Show the sheets as wide as the bench."""
    window.bench.fit_width()


def switch_theme(window: "MainWindow") -> None:
    """Change between light and dark."""
    window.switch_theme()


# --- paper -------------------------------------------------------------------------------


def save_drawings(window: "MainWindow") -> None:
    """Write plan and drawings into a folder the maker chooses; sheets without cuts are named."""
    start = window.document.path.parent if window.document.path else Path()
    name = QFileDialog.getExistingDirectory(window, "Save plan and drawings", str(start))
    plan = window.document.plan
    if name and plan is not None:
        window.files.export(plan, window.document.job, Path(name))


# --- help --------------------------------------------------------------------------------


def show_safety(window: "MainWindow") -> None:
    """Show the usual cautions beside the work."""
    window.show_note("Safety cautions", safety_text())


def show_about(window: "MainWindow") -> None:
    """Say what this is."""
    window.show_note("About Ripfirst", about_text())
