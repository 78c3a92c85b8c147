"""All actions in one table: what they are called, their keys, when they can be used."""

from typing import Final

from layout_app import deeds
from layout_app.action_row import ActionRow
from layout_app.bench_actions import BENCH_ACTIONS
from layout_app.cut_actions import CUT_ACTIONS
from layout_app.look_actions import LOOKING, RECENT_ACTIONS
from layout_app.paper_actions import PAPER_ACTIONS

ACTIONS: Final = (
    ActionRow(
        id="project.new",
        text="&New",
        tip="Begin another project",
        shortcut="Ctrl+N",
        does=deeds.new,
        menu="&Project",
    ),
    ActionRow(
        id="project.open",
        text="&Open…",
        tip="Open a project file",
        shortcut="Ctrl+O",
        does=deeds.open_file,
        menu="&Project",
    ),
    *RECENT_ACTIONS,
    ActionRow(
        id="project.save",
        text="&Save",
        tip="Save the project",
        shortcut="Ctrl+S",
        does=deeds.save,
        menu="&Project",
    ),
    ActionRow(
        id="project.save_as",
        text="Save &as…",
        tip="Save the project under another name",
        shortcut="Ctrl+Shift+S",
        does=deeds.save_as,
        menu="&Project",
        ends_group=True,
    ),
    ActionRow(
        id="project.close",
        text="&Close",
        tip="Close the window; asks about unsaved changes",
        shortcut="Ctrl+Q",
        does=deeds.close,
        menu="&Project",
    ),
    ActionRow(
        id="edit.undo",
        text="&Undo",
        tip="Take the last step back, and its plan with it",
        shortcut="Ctrl+Z",
        enabled=deeds.can_undo,
        does=deeds.undo,
        menu="&Edit",
    ),
    ActionRow(
        id="edit.redo",
        text="&Redo",
        tip="Take the step again",
        shortcut="Ctrl+Shift+Z",
        enabled=deeds.can_redo,
        does=deeds.redo,
        menu="&Edit",
        ends_group=True,
    ),
    ActionRow(
        id="edit.part",
        text="Type a &part",
        tip="Open the empty row of the take-off",
        shortcut="Ctrl+T",
        does=deeds.type_part,
        menu="&Edit",
    ),
    ActionRow(
        id="edit.sheet",
        text="Type a &sheet",
        tip="Open the empty row of sheets & rack",
        shortcut="Ctrl+Shift+T",
        does=deeds.type_sheet,
        menu="&Edit",
    ),
    ActionRow(
        id="edit.card",
        text="Go to the &card",
        tip="Go from the row that is selected to its card below the table",
        shortcut="F4",
        enabled=deeds.rows_chosen,
        does=deeds.go_to_card,
        menu="&Edit",
    ),
    ActionRow(
        id="edit.paste",
        text="Paste r&ows",
        tip="Paste parts or sheets from a table",
        shortcut="Ctrl+Shift+V",
        enabled=deeds.table_in_front,
        does=deeds.paste,
        menu="&Edit",
    ),
    ActionRow(
        id="edit.remove",
        text="Re&move rows",
        tip="Remove the selected rows of the table",
        no_key="Delete does it in the table",
        enabled=deeds.rows_chosen,
        does=deeds.remove,
        menu="&Edit",
    ),
    *BENCH_ACTIONS,
    *LOOKING,
    *CUT_ACTIONS,
    *PAPER_ACTIONS,
    ActionRow(
        id="help.safety",
        text="&Safety cautions",
        shortcut="F1",
        tip="The usual cautions at the saw",
        does=deeds.show_safety,
        menu="&Help",
    ),
    ActionRow(
        id="help.about",
        text="&About Ripfirst",
        tip="What this is",
        no_key="seldom needed",
        does=deeds.show_about,
        menu="&Help",
    ),
)
