"""The actions of colours and of recent projects."""

from typing import Final

from layout_app.look.window_settings import RECENT, Wish
from layout_app.window.actions import look_deeds
from layout_app.window.actions.row import ActionRow

RECENT_MENU: Final = "&Project/Open &recent"
COLOURS_MENU: Final = "&Bench/Colo&urs"


def recent_id(place: int) -> str:
    """Return the id of the action that opens a recent project, counted from 0."""
    return f"project.recent_{place + 1}"


def _colours(name: str, wish: Wish, text: str, tip: str) -> ActionRow:
    return ActionRow(
        id=f"bench.colours_{name}",
        text=text,
        tip=tip,
        no_key="Ctrl+Shift+L goes from light to dark and back",
        checked=look_deeds.is_wished(wish),
        does=look_deeds.wish(wish),
        menu=COLOURS_MENU,
    )


RECENT_ACTIONS: Final = (
    *(
        ActionRow(
            id=recent_id(place),
            text=f"Project {place + 1}",
            tip="Open this project again",
            no_key="a digit chooses it in the menu",
            enabled=look_deeds.can_open_recent(place),
            does=look_deeds.open_recent(place),
            menu=RECENT_MENU,
            ends_group=place == RECENT - 1,
        )
        for place in range(RECENT)
    ),
    ActionRow(
        id="project.forget_recent",
        text="&Forget these",
        tip="Empty this list; the projects themselves stay where they are",
        no_key="seldom needed",
        enabled=look_deeds.has_recent,
        does=look_deeds.forget_recent,
        menu=RECENT_MENU,
    ),
)

LOOKING: Final = (
    _colours("system", Wish.SYSTEM, "As the &system", "Take the colours the system is set to"),
    _colours("light", Wish.LIGHT, "&Light", "Paper by day"),
    _colours("dark", Wish.DARK, "&Dark", "The same drawing by lamplight"),
    _colours("high_light", Wish.HIGH_LIGHT, "&High contrast, light", "Black lines on white"),
    _colours("high_dark", Wish.HIGH_DARK, "High contrast, d&ark", "White lines on black"),
)
