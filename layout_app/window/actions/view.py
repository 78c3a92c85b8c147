"""The actions of the menu Bench that look at it: from nearer, from farther, in other colours."""

from dataclasses import dataclass
from typing import Final

from layout_app.bench.paper_view import ZOOM_STEP
from layout_app.bench.view import BenchView
from layout_app.document.document import Document
from layout_app.look.window_settings import Wish
from layout_app.window.actions.row import BENCH, ActionRow
from layout_app.window.settings import KeptWindow


@dataclass(frozen=True, slots=True)
class ViewContext:
    """The bench, what lies on it, and who keeps the colours."""

    document: Document
    bench: BenchView
    keeping: KeptWindow


def _has_sheets(context: ViewContext) -> bool:
    return bool(context.document.layout.sheets)


def _some_placed(context: ViewContext) -> bool:
    layout, chosen = context.document.layout, context.document.selection.parts
    return any(layout.find(key) is not None for key in chosen)


def _colours(name: str, wish: Wish, text: str, tip: str) -> ActionRow[ViewContext]:
    return ActionRow(
        id=f"bench.colours_{name}",
        text=text,
        tip=tip,
        no_key="Ctrl+Shift+L goes from light to dark and back",
        checked=lambda c: c.keeping.settings.colours is wish,
        does=lambda c: c.keeping.wish(wish),
        submenu="Colo&urs",
    )


VIEWING: Final[tuple[ActionRow[ViewContext], ...]] = (
    ActionRow(
        id="bench.whole",
        text="Whole wi&dth",
        shortcut="Ctrl+0",
        tip="Show the sheets as wide as the bench",
        does=lambda c: c.bench.fit_width(),
    ),
    ActionRow(
        id="bench.lamplight",
        text="&Lamplight",
        shortcut="Ctrl+Shift+L",
        tip="Change between light and dark",
        does=lambda c: c.keeping.switch_light(),
    ),
    ActionRow(
        id="bench.overview",
        text="Map of all s&heets",
        shortcut="M",
        where=BENCH,
        tip="While the bench is looked at from near: show where, on a small map that leads there",
        checked=lambda c: c.keeping.settings.overview,
        does=lambda c: c.keeping.switch_overview(),
        submenu="&Zoom",
    ),
    ActionRow(
        id="bench.zoom_in",
        text="&Nearer",
        shortcut="Ctrl++",
        tip="Look at the bench from nearer; Ctrl and the wheel do so at the pointer",
        enabled=_has_sheets,
        does=lambda c: c.bench.zoom(ZOOM_STEP),
        submenu="&Zoom",
    ),
    ActionRow(
        id="bench.zoom_out",
        text="&Farther",
        shortcut="Ctrl+-",
        tip="Look at the bench from farther; Ctrl and the wheel do so at the pointer",
        enabled=_has_sheets,
        does=lambda c: c.bench.zoom(1 / ZOOM_STEP),
        submenu="&Zoom",
    ),
    ActionRow(
        id="bench.all",
        text="&All sheets",
        shortcut="Ctrl+9",
        tip="Show all sheets at once",
        enabled=_has_sheets,
        does=lambda c: c.bench.fit_all(),
        submenu="&Zoom",
    ),
    ActionRow(
        id="bench.zoom_selection",
        text="&Selected parts",
        shortcut="Ctrl+8",
        tip="Show the selected parts large; on the bench the key Z does so too",
        enabled=_some_placed,
        at_rest=True,
        does=lambda c: c.bench.zoom_to_selection(),
        submenu="&Zoom",
    ),
)

COLOURS: Final = (
    _colours("system", Wish.SYSTEM, "As the &system", "Take the colours the system is set to"),
    _colours("light", Wish.LIGHT, "&Light", "Paper by day"),
    _colours("dark", Wish.DARK, "&Dark", "The same drawing by lamplight"),
    _colours("high_light", Wish.HIGH_LIGHT, "&High contrast, light", "Black lines on white"),
    _colours("high_dark", Wish.HIGH_DARK, "High contrast, d&ark", "White lines on black"),
)
