"""The menu Project: begin, open, save, close; and the projects that were open before."""

from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import Final

from PySide6.QtCore import QObject
from PySide6.QtGui import QAction
from PySide6.QtWidgets import QMenu

from layout_app.look.as_typed import in_menu, tip
from layout_app.look.window_settings import RECENT
from layout_app.window.actions.row import ActionRow
from layout_app.window.projects import Projects
from layout_app.window.settings import KeptWindow

RECENT_MENU: Final = "Open &recent"
LONGEST: Final = 46
"""Letters of a recent project's folder that are shown."""


@dataclass(frozen=True, slots=True)
class ProjectContext:
    """What the menu is about, and how the window is closed."""

    projects: Projects
    keeping: KeptWindow
    close: Callable[[], object]


def _recent(place: int) -> ActionRow[ProjectContext]:
    """Return the row of a recent project, counted from 0."""

    def can_open(context: ProjectContext) -> bool:
        recent = context.keeping.settings.recent
        return place < len(recent) and recent[place] not in context.keeping.missing

    def open_it(context: ProjectContext) -> None:
        path = Path(context.keeping.settings.recent[place])
        context.projects.when_kept(lambda: context.projects.open(path))

    return ActionRow(
        id=_recent_id(place),
        text=f"Project {place + 1}",
        tip="Open this project again",
        no_key="a digit chooses it in the menu",
        enabled=can_open,
        does=open_it,
        submenu=RECENT_MENU,
        ends_group=place == RECENT - 1,
    )


def _recent_id(place: int) -> str:
    return f"project.recent_{place + 1}"


PROJECT: Final[tuple[ActionRow[ProjectContext], ...]] = (
    ActionRow(
        id="project.new",
        text="&New",
        tip="Begin another project",
        shortcut="Ctrl+N",
        does=lambda c: c.projects.when_kept(c.projects.begin_new),
    ),
    ActionRow(
        id="project.open",
        text="&Open…",
        tip="Open a project file",
        shortcut="Ctrl+O",
        does=lambda c: c.projects.when_kept(c.projects.choose_and_open),
    ),
    *map(_recent, range(RECENT)),
    ActionRow(
        id="project.forget_recent",
        text="&Forget these",
        tip="Empty this list; the projects themselves stay where they are",
        no_key="seldom needed",
        enabled=lambda c: bool(c.keeping.settings.recent),
        does=lambda c: c.keeping.forget_recent(),
        submenu=RECENT_MENU,
    ),
    ActionRow(
        id="project.save",
        text="&Save",
        tip="Save the project",
        shortcut="Ctrl+S",
        does=lambda c: c.projects.save(),
    ),
    ActionRow(
        id="project.save_as",
        text="Save &as…",
        tip="Save the project under another name",
        shortcut="Ctrl+Shift+S",
        does=lambda c: c.projects.save_as(),
        ends_group=True,
    ),
    ActionRow(
        id="project.close",
        text="&Close",
        tip="Close the window; asks about unsaved changes",
        shortcut="Ctrl+Q",
        does=lambda c: c.close(),
    ),
)


class RecentMenu(QObject):
    """Keeps the words of the menu of recent projects in step with what is remembered."""

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
            action = self._actions[_recent_id(place)]
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
