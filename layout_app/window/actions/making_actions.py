"""The actions that make parts on the bench, take sheets away, and plan a part of it."""

from typing import Final

from layout_app.window.actions import making_deeds
from layout_app.window.actions.row import BENCH, ActionRow

MAKING: Final = (
    ActionRow(
        id="bench.draw",
        text="&Draw a part",
        tip="Drag a rectangle on free stock: it becomes a part of the take-off, laid there",
        shortcut="D",
        where=BENCH,
        enabled=making_deeds.some_sheet,
        does=making_deeds.draw,
        menu="&Bench/Parts and sheets",
    ),
    ActionRow(
        id="bench.duplicate",
        text="D&uplicate",
        tip="One more copy of the selected parts, laid on the same sheet where it fits; of each row"
        " in the take-off",
        shortcut="Ctrl+D",
        enabled=making_deeds.parts_chosen,
        does=making_deeds.duplicate,
        menu="&Bench/Parts and sheets",
    ),
    ActionRow(
        id="bench.tidy",
        text="&Tidy this sheet",
        tip="Lay the parts of this sheet anew on it, as the planner would",
        shortcut="Ctrl+Shift+Y",
        enabled=making_deeds.sheet_filled,
        does=making_deeds.tidy,
        menu="&Bench/Parts and sheets",
    ),
    ActionRow(
        id="bench.remove_sheet",
        text="Remo&ve sheet",
        tip="Take the sheet of the selection off the bench; what lies on it waits",
        shortcut="Ctrl+Shift+Delete",
        enabled=making_deeds.sheet_chosen,
        does=making_deeds.remove_sheet,
        menu="&Bench/Parts and sheets",
    ),
    ActionRow(
        id="bench.offer",
        text="Use the better plan",
        tip="Use the plan that is offered; undo brings back the one before",
        shortcut="Ctrl+F6",
        enabled=making_deeds.is_offered,
        does=making_deeds.take_offer,
        menu="&Bench",
        ends_group=True,
    ),
)
