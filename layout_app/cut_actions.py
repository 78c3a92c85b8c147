"""The actions of the cut sequence: going through it, changing it, ticking it off."""

from typing import Final

from layout_app import cut_deeds
from layout_app.action_row import ActionRow

CUT_ACTIONS: Final = (
    ActionRow(
        id="cuts.next",
        text="&Next cut",
        shortcut="Ctrl+Right",
        tip="Select the next cut; the bench shows the sheet just before it",
        enabled=cut_deeds.has_cuts,
        does=cut_deeds.next_cut,
        menu="&Cuts",
    ),
    ActionRow(
        id="cuts.back",
        text="&Previous cut",
        shortcut="Ctrl+Left",
        tip="Select the cut before",
        enabled=cut_deeds.has_cuts,
        does=cut_deeds.previous_cut,
        menu="&Cuts",
    ),
    ActionRow(
        id="cuts.leave",
        text="&Leave the sequence",
        shortcut="Ctrl+Up",
        tip="Select no cut; the bench shows the sheets with all cuts made",
        enabled=cut_deeds.cut_chosen,
        does=cut_deeds.leave_sequence,
        menu="&Cuts",
        ends_group=True,
    ),
    ActionRow(
        id="cuts.tick",
        text="&Tick the cut",
        shortcut="Ctrl+D",
        tip="Tick the selected cut as made, or the next open one; once more takes the tick away",
        enabled=cut_deeds.has_cuts,
        does=cut_deeds.tick,
        menu="&Cuts",
        ends_group=True,
    ),
    ActionRow(
        id="cuts.rip_earlier",
        text="Rip &earlier",
        shortcut="Alt+Up",
        tip="Make the selected rip one place earlier in its sheet",
        enabled=cut_deeds.rip_can_go_earlier,
        does=cut_deeds.rip_earlier,
        menu="&Cuts",
    ),
    ActionRow(
        id="cuts.rip_later",
        text="Rip l&ater",
        shortcut="Alt+Down",
        tip="Make the selected rip one place later in its sheet",
        enabled=cut_deeds.rip_can_go_later,
        does=cut_deeds.rip_later,
        menu="&Cuts",
        ends_group=True,
    ),
    ActionRow(
        id="cuts.table",
        text="As a ta&ble",
        shortcut="Ctrl+L",
        tip="Show the sequence as a table, or as cards",
        does=cut_deeds.switch_sequence,
        menu="&Cuts",
    ),
)
