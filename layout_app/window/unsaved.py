"""What is not saved is asked about before it is lost, and ticks are never lost with it unsaid."""

from collections.abc import Callable
from typing import TYPE_CHECKING, Final

from PySide6.QtCore import QObject

from layout_app.document.document import Document
from layout_app.model.project import Project
from layout_app.model.words.wording import counted
from layout_app.window.actions import deeds

if TYPE_CHECKING:
    from layout_app.window.main_window import MainWindow

CHANGES: Final = "This project has changes that are not saved."
PLAN_ON_PAPER: Final = (
    "The plan that went on paper is not saved: opened again, this project may be cut another way."
)
KEPT_ASIDE: Final = (
    "“Discard” drops the changes; the ticks stay aside, and the next start of Ripfirst offers them."
)
HERE_ONLY: Final = "“Discard” drops these ticks too: they are in this window only."


class Unsaved(QObject):
    """Asks before the project is left, saves it first if that is wanted, and goes on then."""

    def __init__(self, window: "MainWindow") -> None:
        super().__init__(window)
        self._window = window
        self._then: Callable[[], None] | None = None
        self._put_off: Callable[[], None] | None = None
        self._saving: tuple[Project, int] | None = None
        self._asked = ""

    def when_kept(self, act: Callable[[], None]) -> None:
        """Do something that loses the project, once what is unsaved has been asked about."""
        window = self._window
        window.left.take_typed()
        if not window.document.saved_state.modified:
            act()
            return

        def save_first() -> None:
            self._then = act
            window.save()

        save = ("Save", save_first)
        if window.safe.refused:
            save = ("Save under another name…", lambda: self.save_elsewhere(act))
        answers = (save, ("Discard", act), ("Keep working", window.bar.hide))
        self._asked = question(window.document)
        window.bar.ask(self._asked, answers)

    def save_elsewhere(self, then: Callable[[], None] | None = None) -> None:
        """Ask for another place, save there, and do what was to follow."""
        self._then = then
        deeds.save_as(self._window)

    def save_put_off(self) -> None:
        """Save elsewhere what could not be saved, and do what was to follow that."""
        self.save_elsewhere(self._put_off)

    def saving(self, project: Project, changes: int) -> None:
        """Hear what is being saved, after how many of the maker's changes."""
        self._saving = project, changes

    def stop(self) -> None:
        """Do nothing of what was to follow saving: it was not saved."""
        self._put_off, self._then = self._then, None

    def leave(self) -> None:
        """Forget what was to follow: another project is shown."""
        self._then = self._put_off = self._saving = None

    def take_saved(self, project: Project, changes: int) -> None:
        """Go on with what was to follow, once this project is saved as it is."""
        if not self._window.document.saved_state.modified:
            self._window.bar.take_back(self._asked)
        if self._then is None or self._saving is None or project is not self._saving[0]:
            return
        act, self._then = self._then, None
        if changes == self._saving[1]:
            act()
        else:
            self.when_kept(act)

    def leave_ticks(self) -> None:
        """Let what is kept aside go, or leave it for the next start if no file has its ticks."""
        window = self._window
        if any(window.document.saved_state.ticks_not_in_file):
            window.files.leave_recovery()
        else:
            window.files.drop_recovery()


def question(document: Document) -> str:
    """Say what of a project is not saved, and what becomes of ticks that no file has."""
    if document.saved_state.plan_is_new:
        return PLAN_ON_PAPER
    new, gone = document.saved_state.ticks_not_in_file
    if not (new or gone):
        return CHANGES
    where = "its file" if document.saved_state.path is not None else "a file"
    if new:
        what = f"{counted(len(new), 'ticked cut is', 'ticked cuts are')} not in {where}"
    else:
        what = f"{counted(len(gone), 'cut is', 'cuts are')} unticked but still ticked in {where}"
    kept = HERE_ONLY if document.saved_state.ticks_are_here_only else KEPT_ASIDE
    return f"{CHANGES.removesuffix('.')}, and {what}. {kept}"
