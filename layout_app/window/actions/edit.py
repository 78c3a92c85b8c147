"""The menu Edit: steps back and again, the rows of the tables, and the ways of the keys."""

from collections.abc import Callable
from dataclasses import dataclass
from typing import Final

from layout_app.bench.view import BenchView
from layout_app.document.document import Document
from layout_app.panels.left_region import LeftRegion
from layout_app.panels.table import RowTable
from layout_app.window.actions.row import DRAWING, ActionRow
from layout_app.window.clipboard import PartsClipboard
from layout_app.window.context_menus import show_menu
from layout_app.window.regions import Regions


@dataclass(frozen=True, slots=True)
class EditContext:
    """The steps, the tables, the bench, the clipboard, and the regions that the keys go round."""

    document: Document
    left: LeftRegion
    bench: BenchView
    clipboard: PartsClipboard
    regions: Regions


def _rows_chosen(context: EditContext) -> bool:
    table = context.left.focused_table()
    return table is not None and bool(table.chosen())


def _in_table(act: Callable[[RowTable], object]) -> Callable[[EditContext], None]:
    """Return what does something in the table in front, if there is one."""

    def do(context: EditContext) -> None:
        table = context.left.focused_table()
        if table is not None:
            act(table)

    return do


def _copies_chosen(context: EditContext) -> bool:
    return bool(context.document.selection.parts)


def _select_all(context: EditContext) -> None:
    """Select all parts on the bench, or all in the tray where that has the keys."""
    tokens = context.bench.shelf.tokens
    if tokens.hasFocus():
        tokens.select_every()
    else:
        context.bench.twins.select_all()


def _can_undo(context: EditContext) -> bool:
    """There is a step, or ticks of which undo says that they stay."""
    document = context.document
    ticked = document.ticks_last and bool(document.progress.made)
    return document.undo_stack.canUndo() or ticked


EDIT: Final[tuple[ActionRow[EditContext], ...]] = (
    ActionRow(
        id="edit.undo",
        text="&Undo",
        tip="Take the last step back, and its plan with it. Ticks stay: Ctrl+U takes them back",
        shortcut="Ctrl+Z",
        enabled=_can_undo,
        at_rest=True,
        does=lambda c: c.document.undo(),
    ),
    ActionRow(
        id="edit.redo",
        text="&Redo",
        tip="Take the step again",
        shortcut="Ctrl+Shift+Z",
        also="Ctrl+Y",
        enabled=lambda c: c.document.undo_stack.canRedo(),
        at_rest=True,
        does=lambda c: c.document.redo(),
        ends_group=True,
    ),
    ActionRow(
        id="edit.cut",
        text="Cu&t",
        tip="Take the selected parts off the list and put them on the clipboard",
        shortcut="Ctrl+X",
        where=DRAWING,
        enabled=_copies_chosen,
        at_rest=True,
        does=lambda c: c.clipboard.cut(),
    ),
    ActionRow(
        id="edit.copy",
        text="&Copy",
        tip="Put the selected parts on the clipboard, for this project, another one or a table",
        shortcut="Ctrl+C",
        where=DRAWING,
        enabled=_copies_chosen,
        does=lambda c: c.clipboard.copy(),
    ),
    ActionRow(
        id="edit.paste_parts",
        text="&Paste",
        tip="Put the parts on the clipboard on the list, once more or from another project",
        shortcut="Ctrl+V",
        where=DRAWING,
        at_rest=True,
        does=lambda c: c.clipboard.paste(),
        ends_group=True,
    ),
    ActionRow(
        id="edit.all",
        text="Select &all parts",
        tip="Select all parts that lie on sheets; in a table or the tray, all that stands there",
        shortcut="Ctrl+A",
        where=DRAWING,
        enabled=lambda c: bool(c.document.layout.sheets),
        at_rest=True,
        does=_select_all,
    ),
    ActionRow(
        id="edit.in_place",
        text="Name and si&zes",
        tip="Type name, L and W of the selected part where it lies, as a double click on it does",
        shortcut="F2",
        where=DRAWING,
        enabled=_copies_chosen,
        at_rest=True,
        does=lambda c: c.bench.twins.edit(),
        ends_group=True,
    ),
    ActionRow(
        id="edit.part",
        text="T&ype a part",
        tip="Open the empty row of the take-off",
        shortcut="Ctrl+T",
        does=lambda c: c.left.type_part(),
    ),
    ActionRow(
        id="edit.sheet",
        text="Type a &sheet",
        tip="Open the empty row of sheets & rack",
        shortcut="Ctrl+Shift+T",
        does=lambda c: c.left.type_sheet(),
    ),
    ActionRow(
        id="edit.card",
        text="Go to the car&d",
        tip="Go from the row that is selected to its card below the table",
        shortcut="F4",
        enabled=_rows_chosen,
        does=lambda c: c.left.go_to_card(),
    ),
    ActionRow(
        id="edit.next_region",
        text="Go to the &next region",
        tip="Give the keys to the next region: tables, bench, cut sequence, line at the bottom",
        shortcut="F6",
        does=lambda c: c.regions.go(1),
    ),
    ActionRow(
        id="edit.last_region",
        text="Go to the region &before",
        tip="Give the keys to the region before",
        shortcut="Shift+F6",
        does=lambda c: c.regions.go(-1),
    ),
    ActionRow(
        id="edit.paste",
        text="Paste r&ows",
        tip="Paste parts or sheets from a table",
        shortcut="Ctrl+Shift+V",
        enabled=lambda c: c.left.focused_table() is not None,
        does=_in_table(lambda table: table.paste()),
    ),
    ActionRow(
        id="edit.remove",
        text="Re&move rows",
        tip="Remove the selected rows of the table",
        no_key="Ctrl+Backspace does it in the table",
        enabled=_rows_chosen,
        does=_in_table(lambda table: table.remove_chosen()),
    ),
    ActionRow(
        id="edit.menu",
        text="Menu of the se&lection",
        tip="Show what can be done to what is selected, as the right button and the menu key do",
        shortcut="Shift+F10",
        does=lambda c: show_menu(c.left.window()),
    ),
)
