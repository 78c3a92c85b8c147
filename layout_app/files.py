"""Reading and writing on a thread of its own, so that a slow disk never holds the window."""

from collections.abc import Callable, Sequence
from concurrent.futures import Future, ThreadPoolExecutor
from enum import Enum, auto
from functools import partial
from pathlib import Path
from typing import NamedTuple

from PySide6.QtCore import QObject, Qt, Signal, Slot

from layout_app.exporting import FilesThereError, write
from layout_app.on_paper import matter_of_sawn
from layout_app.paper.extras import MissingExtraError
from layout_app.paper.wish import Wish
from layout_app.project import Project
from layout_app.sawing import Sawn
from layout_app.store.claims import Claim
from layout_app.store.errors import FileProblem
from layout_app.store.project_file import read_project, save_project
from layout_app.store.recovery import Recovery
from layout_app.store.settings_file import read_settings, save_settings
from layout_app.store.shop_file import read_shop, save_shop
from layout_app.window_settings import WindowSettings
from shared.shop import Shop

OPEN_ELSEWHERE = "another window has this project open; save it under another name"


class Written(NamedTuple):
    """Ticks that are on disk: in the project's file, or aside, and then why, if it was tried."""

    project: Project
    path: Path | None
    aside: Path | None = None
    problem: str = ""


class Files(QObject):
    """Opens and saves projects one after the other; signals arrive in the window's thread."""

    opened = Signal(object, object)
    """Project and path."""
    saved = Signal(object, object)
    """Project and path."""
    exported = Signal(object, object, object)
    """Paths of what was written, the folder, and the `Sawn` that was written."""
    in_the_way = Signal(object, object, object)
    """Paths of files that would be replaced, the folder, and the `Sawn` that was not written."""
    recalled = Signal(object)
    """The shop that is kept, or ``None`` while none is."""
    settings_recalled = Signal(object)
    """What the window kept of itself, or ``None`` while nothing is or it cannot be used."""
    looked = Signal(object)
    """Which of the paths that were looked for are missing."""
    failed = Signal(str)
    """One sentence with path, place and reason."""
    claimed = Signal(object, bool)
    """Path of a project file, and whether it is this window's to write."""
    written = Signal(object)
    """A `Written`: ticks are on disk."""
    not_written = Signal(str, object)
    """One sentence why ticks are nowhere on disk, and the project they are of."""
    copied = Signal(str)
    """A sentence: where a copy of the project is kept, or why there is none."""
    left_behind = Signal(object)
    """Paths and projects that closed windows left in the recovery folder."""
    _did = Signal(object, object, object, object)

    def __init__(self, parent: QObject | None = None, recovery: Path | None = None) -> None:
        """Make the thread; ``recovery`` is the folder for ticks that have no file."""
        super().__init__(parent)
        self._closed = False
        self._claim = Claim()
        self._recovery = Recovery(recovery)
        self._worker = ThreadPoolExecutor(max_workers=1, thread_name_prefix="files")
        self._with_path = {
            _Kind.OPENED: self.opened,
            _Kind.SAVED: self.saved,
        }
        self._alone = {
            _Kind.RECALLED: self.recalled,
            _Kind.SETTINGS: self.settings_recalled,
            _Kind.LOOKED: self.looked,
            _Kind.WRITTEN: self.written,
            _Kind.COPIED: self.copied,
            _Kind.FOUND: self.left_behind,
        }
        self._did.connect(self._tell, Qt.ConnectionType.QueuedConnection)

    def open(self, path: Path) -> None:
        """Read a project."""
        self._start(_Kind.OPENED, path, partial(read_project, path))

    def save(self, project: Project, path: Path) -> None:
        """Write a project in one piece."""
        self._start(_Kind.SAVED, path, partial(self._save, path, project))

    def export(
        self,
        sawn: Sawn,
        folder: Path,
        formats: Sequence[str],
        wish: Wish,
        *,
        replace: bool = False,
    ) -> None:
        """Write what is shown in some formats."""
        work = partial(_export, sawn, folder, tuple(formats), wish, replace=replace)
        self._start(_Kind.EXPORTED, folder, work, of=sawn)

    def recall_shop(self, path: Path) -> None:
        """Read the shop that is kept across projects."""
        self._start(_Kind.RECALLED, path, partial(read_shop, path))

    def keep_shop(self, shop: Shop, path: Path) -> None:
        """Write the shop that is kept across projects."""
        self._start(_Kind.KEPT, path, partial(save_shop, path, shop))

    def recall_settings(self, path: Path) -> None:
        """Read what the window kept of itself."""
        self._start(_Kind.SETTINGS, path, partial(read_settings, path))

    def keep_settings(self, settings: WindowSettings, path: Path) -> None:
        """Write what the window keeps of itself."""
        self._start(_Kind.KEPT, path, partial(save_settings, path, settings))

    def look_for(self, paths: Sequence[str]) -> None:
        """Ask which files are missing."""
        self._start(_Kind.LOOKED, Path(), partial(_missing, tuple(paths)))

    def claim(self, path: Path | None) -> None:
        """Ask for a project's file to be this window's; ``None`` lets the one before go."""
        if path is None:
            self._start(_Kind.LET_GO, Path(), self._claim.release)
        else:
            self._start(_Kind.CLAIMED, path, partial(self._claim.take, path))

    def write_ticks(self, project: Project, path: Path | None) -> None:
        """Write a project whose ticks have changed to its file, or else aside."""
        work = partial(self._write, path, project)
        self._start(_Kind.WRITTEN, path or Path(), work, of=project)

    def keep_copy(self, project: Project) -> None:
        """Keep a copy of a project in the recovery folder; its own file stays as it is."""
        self._start(_Kind.COPIED, Path(), partial(self._copy, project))

    def look_for_left_behind(self) -> None:
        """Look for ticks that closed windows have left."""
        self._start(_Kind.FOUND, Path(), self._recovery.found)

    def go_on_with(self, path: Path) -> None:
        """Keep further ticks in a file that another window left."""
        self._start(_Kind.LET_GO, path, partial(self._recovery.adopt, path))

    def drop_recovery(self) -> None:
        """Remove what this window has in the recovery folder."""
        self._start(_Kind.LET_GO, Path(), self._recovery.drop)

    def remove(self, path: Path) -> None:
        """Remove what another window left."""
        self._start(_Kind.LET_GO, path, partial(path.unlink, missing_ok=True))

    def close(self) -> None:
        """Finish what is under way and end the thread; nothing is begun any more."""
        self._closed = True
        self._worker.shutdown(wait=True)
        self._claim.release()
        self._recovery.close()

    def _save(self, path: Path, project: Project) -> Project:
        if not self._claim.take(path):
            raise FileProblem(path, "", OPEN_ELSEWHERE)
        save_project(path, project)
        self._recovery.drop()
        return project

    def _write(self, path: Path | None, project: Project) -> "Written":
        """Write ticks to the project's file if it is ours and can be written, else aside."""
        problem = ""
        if path is not None and self._claim.take(path):
            try:
                self._save(path, project)
            except FileProblem as error:
                problem = str(error)
            else:
                return Written(project, path)
        return Written(project, None, self._recovery.save(project), problem)

    def _copy(self, project: Project) -> str:
        try:
            return f"A copy is kept in {self._recovery.save(project)}."
        except Exception as error:  # one fault was met already: this one is part of the sentence
            return f"No copy could be kept: {error}"

    def _start(
        self, kind: "_Kind", path: Path, work: Callable[[], object], of: object = None
    ) -> None:
        """Have something done after all that was asked before; ``of`` is what it is done with."""
        if self._closed:
            return
        done = self._worker.submit(work)
        done.add_done_callback(partial(self._finish, kind, path, of))

    def _finish(self, kind: "_Kind", path: Path, of: object, work: "Future[object]") -> None:
        """Hand the result to the window's thread; called on the worker."""
        self._did.emit(kind, path, of, work)

    @Slot(object, object, object, object)
    def _tell(self, kind: "_Kind", path: Path, of: object, work: "Future[object]") -> None:
        error = work.exception()
        if isinstance(error, FileProblem) and kind is _Kind.WRITTEN:
            self.not_written.emit(str(error), of)
        elif isinstance(error, FilesThereError):
            self.in_the_way.emit(error.files, path, of)
        elif isinstance(error, FileProblem | MissingExtraError):
            self.failed.emit(str(error))
            if kind is _Kind.SETTINGS:
                self.settings_recalled.emit(None)
        elif error is not None:
            raise error
        elif kind is _Kind.CLAIMED:
            self.claimed.emit(path, work.result())
        elif kind is _Kind.EXPORTED:
            self.exported.emit(work.result(), path, of)
        elif kind in self._with_path:
            self._with_path[kind].emit(work.result(), path)
        elif kind in self._alone:
            self._alone[kind].emit(work.result())


class _Kind(Enum):
    """What was done."""

    OPENED = auto()
    SAVED = auto()
    EXPORTED = auto()
    RECALLED = auto()
    KEPT = auto()
    SETTINGS = auto()
    LOOKED = auto()
    CLAIMED = auto()
    WRITTEN = auto()
    COPIED = auto()
    FOUND = auto()
    LET_GO = auto()


def _missing(paths: tuple[str, ...]) -> frozenset[str]:
    return frozenset(path for path in paths if not Path(path).exists())


def _export(
    sawn: Sawn, folder: Path, formats: tuple[str, ...], wish: Wish, *, replace: bool
) -> tuple[Path, ...]:
    return write(matter_of_sawn(sawn, wish.unit), folder, formats, wish, replace=replace).files
