"""The menu of recent projects: says which, and which of them are missing."""

from pathlib import Path

from PySide6.QtCore import QObject
from PySide6.QtGui import QAction
from PySide6.QtWidgets import QMenu

from layout_app.look.as_typed import in_menu, tip
from layout_app.look.window_settings import RECENT
from layout_app.window.actions.look_actions import recent_id
from layout_app.window.settings import KeptWindow

LONGEST = 46
"""Letters of a folder that are shown."""


class RecentMenu(QObject):
    """Keeps the words of the menu in step with what is remembered."""

    def __init__(self, keeping: KeptWindow, actions: dict[str, QAction], menu: QMenu) -> None:
        super().__init__(keeping)
        self._keeping, self._actions = keeping, actions
        keeping.changed.connect(self.refresh)
        menu.aboutToShow.connect(keeping.look_for_recent)
        self.refresh()

    def refresh(self) -> None:
        """Name the recent projects, and hide the rows that are not needed."""
        recent, missing = self._keeping.settings.recent, self._keeping.missing
        for place in range(RECENT):
            action = self._actions[recent_id(place)]
            action.setVisible(place < len(recent))
            if place < len(recent):
                path = recent[place]
                action.setText(recent_text(place, Path(path), missing=path in missing))
                action.setToolTip(tip(path))


def recent_text(place: int, path: Path, *, missing: bool) -> str:
    """Return the words of a row, such as ``&1  desk.ripfirst.json, in ~/shop``."""
    folder = str(path.parent)
    home = str(Path.home())
    if folder == home or folder.startswith(home + "/"):
        folder = "~" + folder[len(home) :]
    if len(folder) > LONGEST:
        folder = "…" + folder[-LONGEST:]
    words = f"{in_menu(path.name)}, in {in_menu(folder)}"
    number = f"&{(place + 1) % 10}"
    return f"{number}  {words}: missing" if missing else f"{number}  {words}"
