"""Ticks are safe: written as soon as they are set, in a file that no other window writes."""

from functools import partial
from pathlib import Path

from PySide6.QtCore import QObject, Signal

from layout_app.document.document import Document
from layout_app.look.asking_bar import AskingBar
from layout_app.model.project import Project
from layout_app.model.words.wording import counted
from layout_app.window.files import Files, Written
from shared.progress import Progress

Left = tuple[tuple[Path, Project], ...]
"""What closed windows have left: files and what is in them."""


class Safekeeping(QObject):
    """Writes ticks, claims the project's file, and offers what was left behind."""

    elsewhere_changed = Signal()
    """Another window has the file, or has it no more."""
    changed_elsewhere = Signal(object, str, str)
    """Another program has changed the file: path, its sign, and where the ticks are."""
    recovered = Signal(object, object)
    """The maker wants to go on with what was left: project, and the file it is in."""

    def __init__(
        self, document: Document, files: Files, bar: AskingBar, *, aside: bool, parent: QObject
    ) -> None:
        """Watch a document; ``aside`` says that ticks without a file can be kept somewhere.

        ``elsewhere`` tells that another window has the file, ``refused`` that it could not be
        written when that was tried last.
        """
        super().__init__(parent)
        self._document, self._files, self._bar, self._aside = document, files, bar, aside
        self._path: Path | None = None
        self._sent = document.progress
        self.elsewhere = self.refused = False
        self._trouble = ""
        document.progress_changed.connect(self._write)
        document.saved_state.changed.connect(self._follow_file)
        files.claimed.connect(self._take_claim)
        files.written.connect(self._take_written)
        files.saved.connect(self._take_saved)
        files.unsaved.connect(self._take_refusal)
        files.left_behind.connect(self._offer)
        self._follow_file()

    def begin(self, progress: Progress) -> None:
        """Hear that another project is shown, whose ticks are on disk already."""
        self._sent = progress
        self._path = Path()  # of no file, so that this project's is claimed anew

    def _follow_file(self) -> None:
        """Claim the file of the project that is shown."""
        path = self._document.saved_state.path
        self._document.saved_state.waits_for_disk = self._aside or path is not None
        if path != self._path:
            self._path, self.refused = path, False
            self._files.claim(path)
            if path is None:
                self._take_claim(None, True)

    def _take_claim(self, path: Path | None, ours: bool) -> None:
        if path == self._path and self.elsewhere is ours:
            self.elsewhere = not ours
            self.elsewhere_changed.emit()

    def _write(self) -> None:
        """Write the ticks if they are others than those that were written last."""
        progress = self._document.progress
        if _kept(progress) == _kept(self._sent) or not self._document.saved_state.waits_for_disk:
            return
        self._sent = progress
        path = None if self.elsewhere else self._document.saved_state.path
        self._files.write_ticks(self._document.project, path)

    def _take_written(self, written: Written) -> None:
        document, path, aside = self._document, written.path, written.aside
        if path is not None and path == document.saved_state.path:
            self.refused = False
            document.saved_state.note_saved(written.project, path)
            self._bar.take_back(self._trouble)
        if written.problem:
            self._say_trouble(written)
        document.saved_state.note_written(written.project, on_disk=bool(path or aside))

    def _take_refusal(self) -> None:
        self.refused = True

    def _take_saved(self) -> None:
        self.refused = False
        self._bar.take_back(self._trouble)

    def _say_trouble(self, written: Written) -> None:
        """Say why ticks are not in the file and where they are; the keys stay where they are."""
        kept = "The ticks are in this window only."
        if written.aside is not None:
            kept = f"The ticks are kept in {written.aside}."
        if not self._document.shows(written.project):
            where = kept if written.aside is not None else "Its last ticks are lost."
            self._bar.say(f"{_name(written.project)}: {written.problem} {where}", keys=False)
            return
        self.refused = self.refused or not written.sign
        self._trouble = f"{written.problem} {kept} Save the project somewhere else."
        self._document.not_in_file.emit(self._trouble)
        if written.sign and self._document.saved_state.path is not None:
            self.changed_elsewhere.emit(self._document.saved_state.path, written.sign, kept)
        else:
            self._bar.say(self._trouble, keys=False)

    def _offer(self, left: Left) -> None:
        """Ask what to do with the latest that was left behind, and then with the others."""
        if not left:
            return
        (path, project), *others = left
        then = partial(self._offer, tuple(others))

        def show() -> None:
            self.recovered.emit(project, path)

        def throw_away() -> None:
            self._files.remove(path)
            then()

        ticks = len(project.progress.made) + sum(len(p.cuts) for p in project.progress.past)
        told = f"{counted(ticks, 'cut')} ticked"
        sentence = f"{_name(project)} was not saved when Ripfirst ended: {told}."
        answers = (("Go on with it", show), ("Throw it away", throw_away), ("Later", then))
        self._bar.ask(sentence, answers, stays=True)


def _kept(progress: Progress) -> tuple[object, ...]:
    """Return what of ticks is written at once."""
    return progress.made, progress.past, progress.times, progress.declined, progress.taken


def _name(project: Project) -> str:
    return project.job.name or "A project without a name"
