"""The actions that move several parts at once."""

from typing import Final

from layout_app.window.actions import bench_deeds
from layout_app.window.actions.making_deeds import sheet_filled
from layout_app.window.actions.row import BENCH, ActionRow

MOVING: Final = (
    ActionRow(
        id="bench.swap",
        text="Swap two parts",
        tip="Lay the two selected parts each where the other lies",
        shortcut="S",
        where=BENCH,
        enabled=bench_deeds.two_placed,
        does=bench_deeds.swap,
        menu="&Bench",
    ),
    ActionRow(
        id="bench.close_up",
        text="Close up",
        tip="Push the parts of this sheet together toward the reference corner, a kerf between"
        " them, in the order they lie in",
        shortcut="C",
        where=BENCH,
        enabled=sheet_filled,
        does=bench_deeds.close_up,
        menu="&Bench",
    ),
)
