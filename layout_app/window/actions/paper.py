"""The menu Paper: what is written, printed and copied."""

from dataclasses import dataclass
from typing import Final

from layout_app.document.document import Document
from layout_app.panels.paper_drawer import PaperDrawer
from layout_app.window.actions.row import ActionRow
from layout_app.window.paper_work import PaperWork


@dataclass(frozen=True, slots=True)
class PaperContext:
    """What goes on paper, the drawer that says how, and who puts it there."""

    document: Document
    drawer: PaperDrawer
    work: PaperWork


def _has_sheets(context: PaperContext) -> bool:
    """Say whether there is a sheet with parts to be put on paper."""
    return any(sheet.placements for sheet in context.document.layout.sheets)


PAPER: Final[tuple[ActionRow[PaperContext], ...]] = (
    ActionRow(
        id="paper.save",
        text="Write &files…",
        tip="Choose what is written: plan, drawings, cut pack, labels, tables",
        shortcut="Ctrl+E",
        enabled=_has_sheets,
        does=lambda c: c.drawer.toggle(),
        ends_group=True,
    ),
    ActionRow(
        id="paper.print",
        text="&Print the cut pack…",
        tip="Print cover, lists, diagrams, cuts and labels",
        shortcut="Ctrl+P",
        enabled=_has_sheets,
        does=lambda c: c.work.print(),
    ),
    ActionRow(
        id="paper.preview",
        text="Print pre&view…",
        tip="Look at the pages before they are printed",
        shortcut="Ctrl+Alt+P",
        enabled=_has_sheets,
        does=lambda c: c.work.preview(),
        ends_group=True,
    ),
    ActionRow(
        id="paper.copy",
        text="&Copy sheet as picture",
        tip="Put a picture of the sheet that is selected, or of the one in sight, on the clipboard",
        shortcut="Ctrl+Alt+C",
        enabled=_has_sheets,
        does=lambda c: c.work.copy_sheet(),
    ),
)
