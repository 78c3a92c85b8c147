"""Reading and writing on a thread of its own, so that a slow disk never holds the window."""

import os
import sys
import traceback
from collections.abc import Callable, Sequence
from concurrent.futures import Future, ThreadPoolExecutor
from functools import partial
from pathlib import Path
from typing import Any, NamedTuple

from PySide6.QtCore import QObject, Qt, Signal, Slot

from layout_app.look.window_settings import WindowSettings
from layout_app.model.project import Project
from layout_app.model.sawing import Sawn
from layout_app.paper.dxf import MissingExtraError
from layout_app.paper.exporting import FilesThereError, left_over_drawings, write
from layout_app.paper.on_paper import matter_of_sawn
from layout_app.paper.wish import ExportWish
from layout_app.store import atomic, beside
from layout_app.store.errors import FileProblem, told
from layout_app.store.guards import ChangedElsewhereError, Claim, Seen
from layout_app.store.json_text import read_bytes
from layout_app.store.own_files import read_settings, read_shop, save_settings, save_shop
from layout_app.store.project_file import project_of, project_text
from layout_app.store.recovery import Recovery
from shared.shop import Shop

OPEN_ELSEWHERE = "another window has this project open; save it under another name"


class Written(NamedTuple):
    """What became of ticks: on disk in the project's file, or aside, or nowhere.

    ``problem`` says why they are not in the project's file if that was tried, and ``sign``
    what another program has put there.
    """

    project: Project
    path: Path | None
    aside: Path | None = None
    problem: str = ""
    sign: str = ""


class Looked(NamedTuple):
    """Of paths that were looked for: those without a file, and other names of one before them."""

    missing: frozenset[str]
    doubles: frozenset[str]


class OnDisk(NamedTuple):
    """Files that were written, and drawings of an earlier plan that stand beside them."""

    files: tuple[Path, ...]
    left_over: Sequence[str]


class Files(QObject):
    """Opens and saves projects one after the other; signals arrive in the window's thread."""

    opened = Signal(object, object)
    """Project and path."""
    saved = Signal(object, object)
    """Project and path."""
    left_over = Signal(object, object)
    """Names of drawings in a folder that belong to an earlier plan, and the folder."""
    exported = Signal(object, object, object)
    """Paths of what was written, the folder, and the `Sawn` that was written."""
    in_the_way = Signal(object, object, object)
    """Paths of files that would be replaced, the folder, and the `Sawn` that was not written."""
    recalled = Signal(object)
    """The shop that is kept, or ``None`` while none is."""
    settings_recalled = Signal(object)
    """What the window kept of itself, or ``None`` while nothing is or it cannot be used."""
    looked = Signal(object)
    """A `Looked`: which of the paths that were looked for are missing or double."""
    changed_elsewhere = Signal(object, str)
    """Path of a file that another program has changed, and its sign; nothing was written."""
    failed = Signal(str)
    """One sentence with path, place and reason."""
    unsaved = Signal(str)
    """The same sentence once more, where it was a project that could not be saved."""
    parted = Signal(str)
    """A sentence: a saved file had other names, which keep what was in it before."""
    claimed = Signal(object, bool)
    """Path of a project file, and whether it is this window's to write."""
    written = Signal(object)
    """A `Written`: what became of ticks."""
    copied = Signal(str)
    """A sentence: where a copy of the project is kept, or why there is none."""
    left_behind = Signal(object)
    """Paths and projects that closed windows left in the recovery folder."""
    _did = Signal(object, object, object)

    def __init__(self, parent: QObject | None = None, recovery: Path | None = None) -> None:
        """Make the thread; ``recovery`` is the folder for ticks that have no file."""
        super().__init__(parent)
        self._closed = False
        self._claim, self._seen = Claim(), Seen()
        self._recovery = Recovery(recovery)
        self._worker = ThreadPoolExecutor(max_workers=1, thread_name_prefix="files")
        self._did.connect(self._tell, Qt.ConnectionType.QueuedConnection)

    def open(self, path: Path) -> None:
        """Read a project."""
        self._start(partial(self._open, path), lambda project: self.opened.emit(project, path))

    def save(self, project: Project, path: Path, over: str = "") -> None:
        """Write a project in one piece; ``over`` is the sign of what may be written over."""
        self._start(
            partial(self._save, path, project, over),
            lambda saved: self.saved.emit(saved, path),
            self.unsaved.emit,
        )

    def export(
        self,
        sawn: Sawn,
        folder: Path,
        formats: Sequence[str],
        wish: ExportWish,
        *,
        replace: bool = False,
    ) -> None:
        """Write what is shown in some formats."""

        def tell(done: OnDisk | FilesThereError) -> None:
            if isinstance(done, FilesThereError):
                self.in_the_way.emit(done.files, folder, sawn)
                return
            self.exported.emit(done.files, folder, sawn)
            if done.left_over:
                self.left_over.emit(done.left_over, folder)

        self._start(partial(_export, sawn, folder, tuple(formats), wish, replace=replace), tell)

    def recall_shop(self, path: Path) -> None:
        """Read the shop that is kept across projects."""
        self._start(partial(read_shop, path), self.recalled.emit)

    def keep_shop(self, shop: Shop, path: Path) -> None:
        """Write the shop that is kept across projects."""
        self._start(partial(save_shop, path, shop))

    def recall_settings(self, path: Path) -> None:
        """Read what the window kept of itself."""

        def tell(done: tuple[WindowSettings | None, FileProblem | None]) -> None:
            settings, problem = done
            if problem is not None:
                self.failed.emit(str(problem))
            self.settings_recalled.emit(settings)

        self._start(partial(read_settings, path), tell, lambda _: self.settings_recalled.emit(None))

    def keep_settings(self, settings: WindowSettings, path: Path) -> None:
        """Write what the window keeps of itself."""
        self._start(partial(save_settings, path, settings))

    def look_for(self, paths: Sequence[str]) -> None:
        """Ask which files are missing, or names of one file."""
        self._start(partial(_look_for, tuple(paths)), self.looked.emit)

    def claim(self, path: Path | None) -> None:
        """Ask for a project's file to be this window's; ``None`` lets the one before go."""
        if path is None:
            self._start(self._claim.release)
        else:
            self._start(partial(self._claim.take, path), partial(self.claimed.emit, path))

    def write_ticks(self, project: Project, path: Path | None) -> None:
        """Write a project whose ticks have changed to its file, or else aside."""
        self._start(partial(self._write, path, project), self.written.emit)

    def keep_copy(self, project: Project) -> None:
        """Keep a copy of a project in the recovery folder; its own file stays as it is."""
        self._start(partial(self._copy, project), self.copied.emit)

    def look_for_left_behind(self) -> None:
        """Look for ticks that closed windows have left."""
        self._start(self._recovery.found, self.left_behind.emit)

    def go_on_with(self, path: Path) -> None:
        """Keep further ticks in a file that another window left."""
        self._start(partial(self._recovery.adopt, path))

    def drop_recovery(self) -> None:
        """Remove what this window has in the recovery folder."""
        self._start(self._recovery.drop)

    def leave_recovery(self) -> None:
        """Leave what this window has in the recovery folder for the next start."""
        self._start(self._recovery.leave)

    def remove(self, path: Path) -> None:
        """Remove what another window left."""
        self._start(partial(_remove, path))

    def close(self) -> None:
        """Finish what is under way and end the thread; nothing is begun any more."""
        self._closed = True
        self._worker.shutdown(wait=True)
        self._claim.release()
        self._recovery.leave()

    def _open(self, path: Path) -> Project:
        data = read_bytes(path)
        project = project_of(path, data)
        self._seen.note(path, data)
        beside.sweep([path])
        return project

    def _save(self, path: Path, project: Project, over: str = "") -> Project:
        if not self._claim.take(path):
            raise FileProblem(path, "", OPEN_ELSEWHERE)
        data, names = project_text(project).encode(), atomic.other_names(path)
        atomic.save(path, data, partial(self._seen.check, path, over))
        if names:
            self.parted.emit(_parted(path, names))
        self._seen.note(path, data)
        self._claim.renew()
        self._recovery.drop()
        return project

    def _write(self, path: Path | None, project: Project) -> Written:
        """Write ticks to the project's file if it is ours and can be written, else aside."""
        problem = sign = ""
        try:
            if path is not None and self._claim.take(path):
                return Written(self._save(path, project), path)
        except Exception as error:  # whatever it is, the ticks are to be kept
            problem = _sentence(error)
            sign = error.sign if isinstance(error, ChangedElsewhereError) else ""
        try:
            return Written(project, None, self._recovery.save(project), problem, sign)
        except Exception as error:  # and be it only in words
            return Written(project, None, None, f"{problem} {_sentence(error)}".strip(), sign)

    def _copy(self, project: Project) -> str:
        try:
            return f"A copy is kept in {self._recovery.save(project)}."
        except Exception as error:  # one fault was met already: this one is part of the sentence
            return f"No copy could be kept: {error}"

    def _start(
        self,
        work: Callable[[], Any],
        tell: Callable[[Any], None] = lambda _: None,
        failed: Callable[[str], None] = lambda _: None,
    ) -> None:
        """Have something done after all that was asked before.

        The window's thread is told what came of it, or in one sentence what went wrong.
        """
        if not self._closed:
            done = self._worker.submit(work)
            done.add_done_callback(partial(self._did.emit, tell, failed))

    @Slot(object, object, object)
    def _tell(
        self, tell: Callable[[Any], None], failed: Callable[[str], None], work: "Future[Any]"
    ) -> None:
        """Tell what came of a piece of work; nothing that went wrong is left unsaid."""
        error = work.exception()
        if error is None:
            tell(work.result())
        elif isinstance(error, ChangedElsewhereError):
            self.changed_elsewhere.emit(error.path, error.sign)
        else:
            sentence = _sentence(error)
            self.failed.emit(sentence)
            failed(sentence)


def _sentence(error: BaseException) -> str:
    """Say what went wrong; a fault of the program itself is also told where it was started."""
    if isinstance(error, FileProblem | MissingExtraError):
        return str(error)
    traceback.print_exception(error, file=sys.stderr)
    return f"A fault of Ripfirst ({type(error).__name__}: {error})."


def _parted(path: Path, names: int) -> str:
    """Say that a file's other names, hard links, do not follow what was saved."""
    if names == 1:
        return f"{path.name} had a second name (a hard link), which keeps what was there before."
    return f"{path.name} had {names} more names (hard links), which keep what was there before."


def _look_for(paths: tuple[str, ...]) -> Looked:
    missing, doubles, met = set(), set(), set()
    for path in paths:
        try:
            found = os.stat(path)
        except (OSError, ValueError):
            missing.add(path)
            continue
        if (found.st_dev, found.st_ino) in met:
            doubles.add(path)
        met.add((found.st_dev, found.st_ino))
    return Looked(frozenset(missing), frozenset(doubles))


def _remove(path: Path) -> None:
    with told(path, "cannot be removed"):
        path.unlink(missing_ok=True)


def _export(
    sawn: Sawn, folder: Path, formats: tuple[str, ...], wish: ExportWish, *, replace: bool
) -> OnDisk | FilesThereError:
    """Write files; or return which are in the way, which is no fault."""
    try:
        matter = matter_of_sawn(sawn, wish.unit)
        written = write(matter, folder, formats, wish, replace=replace)
        return OnDisk(written.files, left_over_drawings(written, folder))
    except FilesThereError as error:
        return error
