"""The help on keys and mouse: what has no action of its own, then every action with its key."""

from collections.abc import Iterable
from itertools import groupby
from typing import Any, Final

from layout_app.window.actions.row import Bound

WITH_THE_MOUSE: Final = (
    ("Click", "select a part or a cut; with Shift this part as well, with Ctrl in or out"),
    ("Double click", "type name and sizes where the part lies"),
    ("Drag a part", "move all that are selected; Shift or Alt: no snapping; Ctrl: push aside"),
    ("Drag an edge", "make the selected part longer, shorter, wider, narrower; Ctrl: push aside"),
    ("Drag a cut's number", "move its rip earlier or later"),
    ("Drag on free ground", "select what is touched; Shift adds, Ctrl turns it round"),
    ("Right button", "menu of what lies there"),
    ("Wheel", "scroll; with Shift sideways, with Ctrl zoom at the pointer"),
    ("Middle button, or Space and drag", "move the paper"),
    ("Map of all sheets", "press or drag on it to go there; it stands there while zoomed in"),
)
ON_THE_BENCH: Final = (
    ("Tab, Shift+Tab", "next part, part before"),
    ("Arrows", "move the selected parts by the finest step; with Shift to the next stop"),
    (
        "Return",
        "carry what is selected: arrows move it, Page Up and Page Down change the sheet,"
        " past the last one Page Down opens another",
    ),
    ("T, W, P, N while carrying", "turn, set aside, push aside or not, to the place that fits"),
    ("Return, Esc while carrying", "lay down, leave"),
    ("R, Shift+R while a repair is shown", "the next, the one before; Return takes it, Esc leaves"),
    ("E", "resize: arrows move the far edges, with Shift to the next stop; E: the near ones"),
    ("P while resizing", "push aside what lies behind the edge, or not"),
    ("Alt+Shift+arrows", "move the far edge of the selected part by the finest step"),
    ("Ctrl+Shift+arrows", "move its near edge by the finest step"),
    ("Delete", "set aside, as W does"),
    ("+, -, 0, 9, Z", "zoom in and out, whole width, all sheets, the selected parts"),
    ("Arrows, Page Up, Page Down", "scroll while nothing is selected"),
    ("Esc", "leave a gesture, the sheet before a cut, an open drawer, the selection"),
)
IN_THE_TRAY: Final = (
    ("F6, or Tab after the last part", "to the tray and out of it"),
    ("Up, Down", "the part before, next part; with Shift or Ctrl several"),
    ("+, -, *", "take one more of the part, one fewer, all of them"),
    ("Return", "carry what is taken"),
    ("Shift+W", "put back what is taken, so that planning places it"),
)
INSTEAD: Final = (
    ("Alt while dragging", "Shift"),
    ("Alt+Up, Alt+Down", "drag the rip's number, or the menu of the selection (Shift+F10)"),
    ("Alt+Left, Alt+Right", "drag the card, or the menu Cuts"),
    ("Alt+Shift+arrows", "E and the arrows, F2 to type the size, or drag the edge"),
    ("Ctrl+Alt+P, Ctrl+Alt+C", "the menu Paper"),
)
"""Keys that a window manager may keep for itself, and what does the same."""


def keys_text(rows: Iterable[Bound[Any]]) -> str:
    """Write what mouse and keys do, and what to press where a key does not arrive."""
    blocks = [("With the mouse", WITH_THE_MOUSE), ("Keys on the bench", ON_THE_BENCH)]
    blocks += [("Keys in the tray of parts set aside", IN_THE_TRAY)]
    keyed = [one for one in rows if one.row.shortcut]
    blocks += [
        (f"Menu {title.replace('&', '')}", tuple(map(_line, group)))
        for title, group in groupby(keyed, key=lambda one: one.menu)
    ]
    blocks += [("Where your desktop keeps a key to itself", INSTEAD)]
    return "\n\n".join(
        "\n".join([heading, *(f"–  {keys}: {what}" for keys, what in lines)])
        for heading, lines in blocks
    )


def _line(bound: Bound[Any]) -> tuple[str, str]:
    """Return an action's keys, and its name."""
    row = bound.row
    keys = " or ".join(filter(None, (row.shortcut, row.also)))
    return keys, row.text.replace("&", "").rstrip("…")
