"""The menu Help: texts to read beside the work; their window blocks nothing."""

from collections.abc import Callable
from dataclasses import dataclass
from typing import Final

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QDialog, QDialogButtonBox, QVBoxLayout, QWidget

from layout_app.look.as_typed import Label
from layout_app.panels.widgets import scrolled
from layout_app.window.actions.row import ActionRow
from layout_app.window.beside import Beside
from shared.cautions import DEFER

CARD: Final = (
    "Rip 1b2: the piece is named as it lies. Sheet 1 is piece 1, its strips are 1a, 1b; blocks of"
    " 1a are 1a1, 1a2. What is left of a piece keeps its name.",
    "Set guide 15 3/4: set it now, and measure the first piece before cutting the next. Guide, as"
    " before: it is set already. What is set comes off when the rail is changed.",
    "Mark 1/4 from the factory edge: a trim is marked, not set. Mark both ends, or both edges of a"
    " crosscut: neither guide nor stop can be set to that size.",
    "15 3/4 long: the length of the cut.",
    "The V stands on the edge that the size is measured from. Keep 1a (V side): the kerf lies"
    " beyond the line. Keep 1a (far side): what lies at the V is taken off.",
    "55 in rail on 1a: the rail lies on what is kept, its edge on the line. Where little is"
    " kept it lies on the other side, be that waste or not, one kerf past the line.",
    "In the picture the band is the rail or straightedge, as wide as it is, where it lies. The"
    " arrow is where the saw enters.",
    "Show face down: the piece lies turned over and is drawn so. Left and right ends have changed"
    " places, and the V stands on the face that is up. The sheets above the cards show the show"
    " face.",
    "Makes and Left: both sides of the cut, and what becomes of them. For cut 8: it waits on the"
    " stack. Sizes are L x W as the piece lies on its sheet.",
    "28 11/32 shy is a little less than the mark, 28 11/32 strong a little more: by more than a"
    " quarter of a step. In millimetres there is one more decimal instead.",
    "Triangle: danger, something can kick, tip, fall or pinch. Box with an H: handling. Select the"
    " cut to read each in full, beside the cards.",
    "Guide, as before: it stands at this size already. The list beside the cards, while no cut is"
    " selected, tells which cuts each setting serves.",
)
"""What a cut card says, line by line."""


@dataclass(frozen=True, slots=True)
class HelpContext:
    """The window, what holds the texts beside it, and what writes those that change."""

    beside: Beside
    window: QWidget
    keys: Callable[[], str]
    cautions: Callable[[], tuple[str, ...]]
    counted: Callable[[], tuple[str, ...]]

    def show(self, title: str, text: str) -> None:
        """Show a text beside the work."""
        self.beside.show(title, lambda: Note(title, text, self.window))


def _safety(cautions: tuple[str, ...]) -> str:
    return "\n".join([DEFER, "", _lines(cautions)])


def _lines(said: tuple[str, ...]) -> str:
    return "\n".join(f"–  {one}" for one in said)


def _about_text() -> str:
    """Say what this program is, and what it does not know."""
    from importlib import metadata  # noqa: PLC0415 - 20 ms of the first picture, seldom wanted

    try:
        version = metadata.version("ripfirst")
    except metadata.PackageNotFoundError:
        version = "not installed"
    return (
        f"Ripfirst, version {version}\n\nPlans how one person breaks down sheet goods with a saw"
        " on a rail, or along a straightedge: rips first, every cut numbered, every plan sawn by a"
        f" simulated saw before it is shown.\n\n{DEFER}"
    )


HIGHEST_PX, SIDE_PX = 460, 24
"""How high a text is shown at once, and what a bar beside it takes."""


def _height(words: Label) -> int:
    """Return how high a text is at its least width."""
    return words.heightForWidth(words.minimumWidth()) + 6


class Note(QDialog):
    """A text in a window of its own."""

    def __init__(self, title: str, text: str, parent: QWidget) -> None:
        super().__init__(parent)
        self.setWindowTitle(title)
        words = Label(text, self)
        words.setWordWrap(True)
        words.setMinimumWidth(440)
        words.setMargin(2)
        area = scrolled(words, self)
        area.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        area.setMinimumSize(words.minimumWidth() + SIDE_PX, min(HIGHEST_PX, _height(words)))
        words.setTextInteractionFlags(Qt.TextInteractionFlag.TextSelectableByMouse)
        buttons = QDialogButtonBox(QDialogButtonBox.StandardButton.Close, self)
        buttons.rejected.connect(self.close)
        column = QVBoxLayout(self)
        column.setContentsMargins(18, 16, 18, 12)
        column.addWidget(area, 1)
        column.addWidget(buttons)


HELP: Final[tuple[ActionRow[HelpContext], ...]] = (
    ActionRow(
        id="help.safety",
        text="&Safety cautions",
        shortcut="F1",
        tip="What holds at every cut in your shop",
        does=lambda c: c.show("Safety cautions", _safety(c.cautions())),
    ),
    ActionRow(
        id="help.card",
        text="&Reading a cut card",
        tip="What stands on a cut card, in the walk and beside the cards, line by line",
        no_key="read once",
        does=lambda c: c.show("Reading a cut card", _lines(CARD)),
    ),
    ActionRow(
        id="help.minutes",
        text="&How minutes are counted",
        tip="Each kind of work, and how many seconds it takes in your shop",
        no_key="read once",
        does=lambda c: c.show("How minutes are counted", _lines(c.counted())),
    ),
    ActionRow(
        id="help.keys",
        text="&Keys and mouse",
        shortcut="Shift+F1",
        tip="What keys and mouse do, and what to do where your desktop keeps a key to itself",
        does=lambda c: c.show("Keys and mouse", c.keys()),
    ),
    ActionRow(
        id="help.about",
        text="&About Ripfirst",
        tip="What this is",
        no_key="seldom needed",
        does=lambda c: c.show("About Ripfirst", _about_text()),
    ),
)
