"""All actions in one table: what they are called, their keys, when they can be used."""

from collections.abc import Callable
from dataclasses import dataclass
from typing import TYPE_CHECKING, Final

from layout_app import deeds

if TYPE_CHECKING:
    from layout_app.main_window import MainWindow

WINDOW, BENCH, TABLES = "window", "bench", "tables"
"""Where an action's key works: everywhere, on the bench, in the tables."""


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
    does: Callable[["MainWindow"], None]
    menu: str
    ends_group: bool = False


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
        ends_group=True,
    ),
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
    ActionRow(
        id="bench.plan",
        text="&Plan",
        shortcut="F5",
        enabled=deeds.has_parts,
        tip="Plan everything but what is held, and take back the sheets you laid by hand",
        does=deeds.plan,
        menu="&Bench",
    ),
    ActionRow(
        id="bench.stop",
        text="&Stop planning",
        tip="End planning and keep the best so far",
        shortcut="Shift+F5",
        enabled=deeds.is_planning,
        does=deeds.stop,
        menu="&Bench",
        ends_group=True,
    ),
    ActionRow(
        id="bench.turn",
        text="&Turn",
        tip="Turn the selected part by a quarter",
        shortcut="T",
        where=BENCH,
        enabled=deeds.one_placed,
        does=deeds.turn,
        menu="&Bench",
    ),
    ActionRow(
        id="bench.grain",
        text="&Grain rule",
        shortcut="G",
        where=BENCH,
        tip="Give the selected part the next grain rule",
        enabled=deeds.one_part,
        does=deeds.next_grain,
        menu="&Bench",
    ),
    ActionRow(
        id="bench.grain_length",
        text="Grain along &length",
        where=BENCH,
        tip="The grain has to run along the part's length",
        no_key="G goes through the rules",
        enabled=deeds.one_part,
        does=deeds.grain_length,
        menu="&Bench/Set grain &rule",
    ),
    ActionRow(
        id="bench.grain_width",
        text="Grain along &width",
        where=BENCH,
        tip="The grain has to run along the part's width",
        no_key="G goes through the rules",
        enabled=deeds.one_part,
        does=deeds.grain_width,
        menu="&Bench/Set grain &rule",
    ),
    ActionRow(
        id="bench.grain_either",
        text="&Either way",
        where=BENCH,
        tip="The part may be cut either way",
        no_key="G goes through the rules",
        enabled=deeds.one_part,
        does=deeds.grain_either,
        menu="&Bench/Set grain &rule",
    ),
    ActionRow(
        id="bench.wait",
        text="Let &wait",
        shortcut="W",
        where=BENCH,
        tip="Take the selected parts from their sheets; planning leaves them waiting",
        enabled=deeds.some_placed,
        does=deeds.let_wait,
        menu="&Bench",
    ),
    ActionRow(
        id="bench.call_back",
        text="&Call back",
        shortcut="Shift+W",
        where=BENCH,
        tip="Let planning place the selected waiting part again",
        enabled=deeds.one_sent,
        does=deeds.call_back,
        menu="&Bench",
    ),
    ActionRow(
        id="bench.hold",
        text="&Hold part",
        shortcut="H",
        where=BENCH,
        tip="Hold the selected parts, with what lies before them in their strips, or release them;"
        " planning goes around what is held",
        enabled=deeds.can_hold,
        does=deeds.hold_part,
        menu="&Bench",
    ),
    ActionRow(
        id="bench.hold_strip",
        text="Hold str&ip",
        shortcut="Shift+H",
        where=BENCH,
        tip="Hold the strip of the selected part with all that lies in it, or release it",
        enabled=deeds.can_hold,
        does=deeds.hold_strip,
        menu="&Bench",
    ),
    ActionRow(
        id="bench.hold_sheet",
        text="Hold sh&eet",
        shortcut="Ctrl+H",
        where=BENCH,
        tip="Hold the sheet of the selected part whole, or release it",
        enabled=deeds.can_hold,
        does=deeds.hold_sheet,
        menu="&Bench",
    ),
    ActionRow(
        id="bench.release",
        text="Rele&ase",
        no_key="H, Shift+H and Ctrl+H release what they hold",
        where=BENCH,
        tip="Release all that holds the selected parts",
        enabled=deeds.can_release,
        does=deeds.release,
        menu="&Bench",
    ),
    ActionRow(
        id="bench.release_suspended",
        text="&Forget suspended holds",
        no_key="seldom needed",
        tip="Release the holds that are not in force, since what they hold no longer fits",
        enabled=deeds.some_suspended,
        does=deeds.release_suspended,
        menu="&Bench",
        ends_group=True,
    ),
    ActionRow(
        id="bench.sheet",
        text="Lay &out a sheet",
        tip="Put an empty sheet on the bench: of the row selected in sheets & rack, or one that"
        " suits the selected part",
        shortcut="Ctrl+Shift+N",
        enabled=deeds.has_stock,
        does=deeds.lay_out_sheet,
        menu="&Bench",
        ends_group=True,
    ),
    ActionRow(
        id="bench.whole",
        text="Whole wi&dth",
        shortcut="Ctrl+0",
        tip="Show the sheets as wide as the bench",
        does=deeds.fit_width,
        menu="&Bench",
    ),
    ActionRow(
        id="bench.lamplight",
        text="&Lamplight",
        shortcut="Ctrl+Shift+L",
        tip="Change between light and dark",
        does=deeds.switch_theme,
        menu="&Bench",
    ),
    ActionRow(
        id="cuts.next",
        text="&Next cut",
        shortcut="Ctrl+Right",
        tip="Select the next cut; the bench shows the sheet just before it",
        enabled=deeds.has_cuts,
        does=deeds.next_cut,
        menu="&Cuts",
    ),
    ActionRow(
        id="cuts.back",
        text="&Previous cut",
        shortcut="Ctrl+Left",
        tip="Select the cut before",
        enabled=deeds.has_cuts,
        does=deeds.previous_cut,
        menu="&Cuts",
    ),
    ActionRow(
        id="cuts.leave",
        text="&Leave the sequence",
        shortcut="Ctrl+Up",
        tip="Select no cut; the bench shows the sheets with all cuts made",
        enabled=deeds.cut_chosen,
        does=deeds.leave_sequence,
        menu="&Cuts",
        ends_group=True,
    ),
    ActionRow(
        id="cuts.rip_earlier",
        text="Rip &earlier",
        shortcut="Alt+Up",
        tip="Make the selected rip one place earlier in its sheet",
        enabled=deeds.rip_can_go_earlier,
        does=deeds.rip_earlier,
        menu="&Cuts",
    ),
    ActionRow(
        id="cuts.rip_later",
        text="Rip l&ater",
        shortcut="Alt+Down",
        tip="Make the selected rip one place later in its sheet",
        enabled=deeds.rip_can_go_later,
        does=deeds.rip_later,
        menu="&Cuts",
        ends_group=True,
    ),
    ActionRow(
        id="cuts.table",
        text="As a &table",
        shortcut="Ctrl+L",
        tip="Show the sequence as a table, or as cards",
        does=deeds.switch_sequence,
        menu="&Cuts",
    ),
    ActionRow(
        id="paper.save",
        text="Save plan and &drawings…",
        tip="Write plan.json and a true-size SVG of every sheet into a folder",
        shortcut="Ctrl+E",
        enabled=deeds.has_cuts,
        does=deeds.save_drawings,
        menu="Pa&per",
    ),
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
