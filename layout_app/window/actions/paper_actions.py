"""The actions of the menu Paper."""

from layout_app.window.actions import paper_deeds
from layout_app.window.actions.row import ActionRow

PAPER_ACTIONS = (
    ActionRow(
        id="paper.save",
        text="Write &files…",
        tip="Choose what is written: plan, drawings, cut pack, labels, tables",
        shortcut="Ctrl+E",
        enabled=paper_deeds.has_sheets,
        does=paper_deeds.open_drawer,
        menu="Pa&per",
        ends_group=True,
    ),
    ActionRow(
        id="paper.print",
        text="&Print the cut pack…",
        tip="Print cover, lists, diagrams, cut cards and labels",
        shortcut="Ctrl+P",
        enabled=paper_deeds.has_sheets,
        does=paper_deeds.print_pack,
        menu="Pa&per",
    ),
    ActionRow(
        id="paper.preview",
        text="Print pre&view…",
        tip="Look at the pages before they are printed",
        shortcut="Ctrl+Alt+P",
        enabled=paper_deeds.has_sheets,
        does=paper_deeds.preview_pack,
        menu="Pa&per",
        ends_group=True,
    ),
    ActionRow(
        id="paper.copy",
        text="&Copy sheet as picture",
        tip="Put a picture of the sheet of the selected parts, or of the first, on the clipboard",
        shortcut="Ctrl+Alt+C",
        enabled=paper_deeds.has_sheets,
        does=paper_deeds.copy_sheet,
        menu="Pa&per",
    ),
)
