"""Projects come and go: opened, saved, left; what would be lost with one is asked about first."""

from collections.abc import Callable
from functools import partial
from pathlib import Path
from typing import Final, TypeVar

from PySide6.QtCore import QObject, Signal
from PySide6.QtWidgets import QFileDialog, QWidget

from layout_app.document.document import Document
from layout_app.document.kept_shop import KeptShop
from layout_app.look.asking_bar import AskingBar
from layout_app.model.project import Project
from layout_app.model.words.wording import counted
from layout_app.store.file_names import safe_name
from layout_app.store.project_file import SUFFIX
from layout_app.window.faults import Faults
from layout_app.window.files import Files
from layout_app.window.safekeeping import Safekeeping
from layout_app.window.settings import KeptWindow
from shared.shop import Shop

FILTER: Final = f"Ripfirst projects (*{SUFFIX});;All files (*)"
CHANGES: Final = "This project has changes that are not saved."
PLAN_ON_PAPER: Final = (
    "The plan that went on paper is not saved: opened again, this project may be cut another way."
)
KEPT_ASIDE: Final = (
    "“Discard” drops the changes; the ticks stay aside, and the next start of Ripfirst offers them."
)
HERE_ONLY: Final = "“Discard” drops these ticks too: they are in this window only."

_Answer = TypeVar("_Answer")


class Projects(QObject):
    """Holds one project after another in the document, and knows what of it is on disk.

    Attributes
    ----------
    files, safe, faults
        What reads and writes, keeps ticks safe, and hears what breaks.
    shop
        What new projects begin with.
    """

    shown = Signal()
    """Another project is on the bench, opened or begun by the maker."""

    def __init__(
        self,
        document: Document,
        keeping: KeptWindow,
        shop: KeptShop,
        files: Files,
        bar: AskingBar,
        *,
        window: QWidget,
        take_typed: Callable[[], None],
        shop_file: Path | None,
        aside: bool,
    ) -> None:
        """Watch over a document.

        ``take_typed`` takes what is still in an open field, ``shop_file`` is where the shop is
        kept, and ``aside`` says that ticks without a file can be kept somewhere.
        """
        super().__init__(window)
        self._document, self._keeping, self._bar = document, keeping, bar
        self._window, self._take_typed, self._shop_file = window, take_typed, shop_file
        self.files, self.shop = files, shop
        self.faults = Faults(document, files, bar, self)
        self.safe = Safekeeping(document, files, bar, aside=aside, parent=self)
        self._versions = TwoVersions(document, files, bar, self)
        self._opening: tuple[Path, int] | None = None
        self._changes = 0
        """How many changes the maker has made, to tell whether any came while a disk was slow."""
        self._saving: tuple[Project, int] | None = None
        self._then: Callable[[], None] | None = None
        """What is to follow once the project is saved."""
        self._put_off: Callable[[], None] | None = None
        self._asked = self._failure = ""
        self._may_close = False
        self._follow()
        if shop_file is not None:
            files.recall_shop(shop_file)

    def _follow(self) -> None:
        files, safe = self.files, self.safe
        self._document.leaving.connect(self._leave)
        self._document.edited.connect(self._count_change)
        self.shop.to_keep.connect(self._keep_shop)
        files.opened.connect(self._take_opened)
        files.saved.connect(self._take_saved)
        files.failed.connect(self._take_failure)
        files.recalled.connect(self._take_recalled)
        files.changed_elsewhere.connect(self._versions.ask)
        files.changed_elsewhere.connect(self.stop)
        files.unsaved.connect(self._versions.ask_for_another_place)
        files.parted.connect(self._document.said)
        safe.changed_elsewhere.connect(partial(self._versions.ask, keys=False))
        safe.recovered.connect(self._go_on_with)

    # --- opening -----------------------------------------------------------------------

    def open(self, path: Path) -> None:
        """Open a project; what is wrong with it is said, and nothing is lost."""
        self._opening = path, self._changes
        self.files.open(path)

    def open_again(self) -> None:
        """Open the file anew, in case the other window is closed now."""
        path = self._document.saved_state.path
        if path is not None:
            self.when_kept(lambda: self.open(path))

    def choose_and_open(self) -> None:
        """Let the maker choose a file, and open it."""
        path = self.still(self.ask_what_to_open)
        if path is not None:
            self.open(path)

    def begin_new(self) -> None:
        """Show an empty project with the kept shop."""
        self.show(self.shop.new_project(), None)

    def show(self, project: Project, path: Path | None) -> None:
        """Hold another project; planning of the one before ends."""
        self._leave_ticks()
        self._hold(project, path)

    def _hold(self, project: Project, path: Path | None, *, saved: bool = True) -> None:
        self.safe.begin(project.progress)
        self._document.open(project, path, saved=saved)
        self.shop.begin()
        self._keeping.opened(path)
        self.shown.emit()

    def _go_on_with(self, project: Project, left: Path) -> None:
        """Show what another window has left; it is not saved yet."""

        def show() -> None:
            self._leave_ticks()
            self._hold(project, None, saved=False)
            self.files.go_on_with(left)

        self.when_kept(show)

    def _take_opened(self, project: Project, path: Path) -> None:
        """Show what was read last, once work that was done meanwhile has been asked about."""
        if self._opening is None or self._opening[0] != path:
            return
        (_, changes), self._opening = self._opening, None
        if self._changes == changes:
            self.show(project, path)
        else:
            self.when_kept(lambda: self.show(project, path))

    def _count_change(self) -> None:
        self._changes += 1

    def _leave(self) -> None:
        """Forget what was to follow: another project is shown."""
        self._opening = self._then = self._put_off = self._saving = None

    def _leave_ticks(self) -> None:
        """Let what is kept aside go, or leave it for the next start if no file has its ticks."""
        if any(self._document.saved_state.ticks_not_in_file):
            self.files.leave_recovery()
        else:
            self.files.drop_recovery()

    # --- saving ------------------------------------------------------------------------

    def save(self) -> None:
        """Save where it was opened from, or ask where; what is open elsewhere is saved apart."""
        self._take_typed()
        path = None if self.safe.elsewhere else self._document.saved_state.path
        self._save_if_told(path or self.still(self.ask_where_to_save))

    def save_as(self) -> None:
        """Ask where to save."""
        self._take_typed()
        self._save_if_told(self.still(self.ask_where_to_save))

    def save_to(self, path: Path) -> None:
        """Save under a name."""
        self._saving = self._document.project, self._changes
        self.files.save(self._document.project, path)

    def save_elsewhere(self, then: Callable[[], None] | None = None) -> None:
        """Ask for another place, save there, and do what was to follow."""
        self._then = then
        self.save_as()

    def save_put_off(self) -> None:
        """Save elsewhere what could not be saved, and do what was to follow that."""
        self.save_elsewhere(self._put_off)

    def _save_if_told(self, path: Path | None) -> None:
        if path is not None:
            self.save_to(path)
        else:
            self.stop()

    def stop(self) -> None:
        """Do nothing of what was to follow saving: it was not saved."""
        self._put_off, self._then = self._then, None

    def _take_saved(self, project: Project, path: Path) -> None:
        """Go on with what was to follow, once this project is saved as it is."""
        self._document.saved_state.note_saved(project, path)
        self._bar.take_back(self._failure)
        self._keeping.opened(path)
        if not self._document.saved_state.modified:
            self._bar.take_back(self._asked)
        if self._then is None or self._saving is None or project is not self._saving[0]:
            return
        act, self._then = self._then, None
        if self._changes == self._saving[1]:
            act()
        else:
            self.when_kept(act)

    def _take_failure(self, sentence: str) -> None:
        self.stop()
        self._failure = sentence
        self._bar.say(sentence)

    # --- asking ------------------------------------------------------------------------

    def when_kept(self, act: Callable[[], None]) -> None:
        """Do something that loses the project, once what is unsaved has been asked about."""
        self._take_typed()
        if not self._document.saved_state.modified:
            act()
            return

        def save_first() -> None:
            self._then = act
            self.save()

        save = ("Save", save_first)
        if self.safe.refused:
            save = ("Save under another name…", lambda: self.save_elsewhere(act))
        answers = (save, ("Discard", act), ("Keep working", self._bar.hide))
        self._asked = question(self._document)
        self._bar.ask(self._asked, answers)

    def still(self, ask: Callable[[], _Answer]) -> _Answer | None:
        """Return what a dialog was answered, unless another project was opened meanwhile."""
        asked_of = self._document.project
        answer = ask()
        return answer if self._document.shows(asked_of) else None

    def ask_where_to_save(self) -> Path | None:
        """Let the maker choose a file to save to."""
        before = self._document.saved_state.path
        if before is None or self.safe.refused:
            name = safe_name(self._document.job.name, "project") + SUFFIX
            before = self._keeping.folder_to_save_in / (name if before is None else before.name)
        chosen, _ = QFileDialog.getSaveFileName(
            self._window, "Save the project", str(before), FILTER
        )
        if not chosen:
            return None
        return Path(chosen) if chosen.endswith(".json") else Path(chosen + SUFFIX)

    def ask_what_to_open(self) -> Path | None:
        """Let the maker choose a file to open."""
        path = self._document.saved_state.path
        folder = path.parent if path else self._keeping.folder
        name, _ = QFileDialog.getOpenFileName(self._window, "Open a project", str(folder), FILTER)
        return Path(name) if name else None

    # --- the shop, and the end ---------------------------------------------------------

    def _take_recalled(self, shop: Shop | None) -> None:
        """Take the shop that is kept on disk; a new project nobody touched begins with it."""
        if shop is None:
            return
        document = self._document
        untouched = document.project == self.shop.new_project() and not document.undo_stack.count()
        self.shop.recall(shop)
        if untouched and document.saved_state.path is None:
            opening = self._opening  # a file that is being read is still to come
            self.shop.begin_empty()
            self._opening = opening

    def _keep_shop(self, shop: Shop) -> None:
        if self._shop_file is not None:
            self.files.keep_shop(shop, self._shop_file)

    def lets_close(self) -> bool:
        """Say whether the window may close now; else ask about what is unsaved, and close then."""
        self._take_typed()
        if self._document.saved_state.modified and not self._may_close:
            self.when_kept(self._close_now)
            return False
        return True

    def _close_now(self) -> None:
        self._may_close = True
        self._window.close()

    def close(self) -> None:
        """Write what is still to be written, and end the thread of files."""
        self._leave_ticks()
        self._keeping.keep_shape()
        self.files.close()


class TwoVersions(QObject):
    """Asks which version is wanted where another program has changed the file.

    Until that is answered nothing is written to it. Where it cannot be written at all, another
    place is offered.
    """

    def __init__(
        self, document: Document, files: Files, bar: AskingBar, projects: Projects
    ) -> None:
        super().__init__(projects)
        self._document, self._files, self._bar = document, files, bar
        self._projects = projects
        self._asked: tuple[str, ...] = ()

    def ask_for_another_place(self, sentence: str) -> None:
        """Say why the project could not be saved, and offer another name."""
        elsewhere = ("Save under another name…", self._projects.save_put_off)
        self._bar.ask(sentence, (elsewhere, ("Put away", self._bar.hide)))

    def ask(self, path: Path, sign: str, besides: str = "", *, keys: bool = True) -> None:
        """Ask about a file whose contents, which ``sign`` names, are another program's."""
        bar, shown = self._bar, self._document.saved_state.path
        sentence = (
            f"Another program has changed {path.name} since it was opened here. “Keep mine” writes"
            f" over theirs; “Open theirs” drops what you did here. {besides}"
        ).rstrip()
        if bar.isVisible() and (bar.sentence, sign) == self._asked:
            return  # further ticks ask nothing new
        self._asked = (sentence, sign)
        answers = (
            ("Save mine under another name…", self._projects.save_as),
            ("Keep mine", partial(self._keep_mine, shown, path, sign)),
            ("Open theirs", partial(self._open_theirs, shown, path)),
        )
        bar.ask(sentence, answers, keys=keys)

    def _keep_mine(self, shown: Path | None, path: Path, sign: str) -> None:
        if self._document.saved_state.path == shown:
            self._files.save(self._document.project, path, over=sign)

    def _open_theirs(self, shown: Path | None, path: Path) -> None:
        if self._document.saved_state.path == shown:
            self._projects.open(path)


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
