"""Reading and writing on a thread of its own, so that a slow disk never holds the window."""

from collections.abc import Callable
from concurrent.futures import Future, ThreadPoolExecutor
from enum import Enum, auto
from functools import partial
from pathlib import Path

from PySide6.QtCore import QObject, Qt, Signal, Slot

from layout_app.project import Project
from layout_app.store.errors import FileProblem
from layout_app.store.project_file import read_project, save_project
from layout_app.store.shop_file import read_shop, save_shop
from shared.job import Job
from shared.plan import Plan
from shared.shop import Shop


class Files(QObject):
    """Opens and saves projects one after the other; signals arrive in the window's thread."""

    opened = Signal(object, object)
    """Project and path."""
    saved = Signal(object, object)
    """Project and path."""
    exported = Signal(object, object)
    """Paths of what was written, and the folder."""
    recalled = Signal(object)
    """The shop that is kept, or ``None`` while none is."""
    failed = Signal(str)
    """One sentence with path, place and reason."""
    _did = Signal(object, object, object)

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._worker = ThreadPoolExecutor(max_workers=1, thread_name_prefix="files")
        self._did.connect(self._tell, Qt.ConnectionType.QueuedConnection)

    def open(self, path: Path) -> None:
        """Read a project."""
        self._start(_Kind.OPENED, path, partial(read_project, path))

    def save(self, project: Project, path: Path) -> None:
        """Write a project in one piece."""
        self._start(_Kind.SAVED, path, partial(_save, path, project))

    def export(self, plan: Plan, job: Job, folder: Path) -> None:
        """Write a plan and its drawings."""
        self._start(_Kind.EXPORTED, folder, partial(_export, plan, job, folder))

    def recall_shop(self, path: Path) -> None:
        """Read the shop that is kept across projects."""
        self._start(_Kind.RECALLED, path, partial(read_shop, path))

    def keep_shop(self, shop: Shop, path: Path) -> None:
        """Write the shop that is kept across projects."""
        self._start(_Kind.KEPT, path, partial(save_shop, path, shop))

    def close(self) -> None:
        """Finish what is under way and end the thread."""
        self._worker.shutdown(wait=True)

    def _start(self, kind: "_Kind", path: Path, work: Callable[[], object]) -> None:
        done = self._worker.submit(work)
        done.add_done_callback(partial(self._finish, kind, path))

    def _finish(self, kind: "_Kind", path: Path, work: "Future[object]") -> None:
        """Hand the result to the window's thread; called on the worker."""
        self._did.emit(kind, path, work)

    @Slot(object, object, object)
    def _tell(self, kind: "_Kind", path: Path, work: "Future[object]") -> None:
        error = work.exception()
        if isinstance(error, FileProblem):
            self.failed.emit(str(error))
        elif error is not None:
            raise error
        elif kind is _Kind.OPENED:
            self.opened.emit(work.result(), path)
        elif kind is _Kind.SAVED:
            self.saved.emit(work.result(), path)
        elif kind is _Kind.RECALLED:
            self.recalled.emit(work.result())
        elif kind is _Kind.EXPORTED:
            self.exported.emit(work.result(), path)


class _Kind(Enum):
    """What was done."""

    OPENED = auto()
    SAVED = auto()
    EXPORTED = auto()
    RECALLED = auto()
    KEPT = auto()


def _save(path: Path, project: Project) -> Project:
    save_project(path, project)
    return project


def _export(plan: Plan, job: Job, folder: Path) -> tuple[Path, ...]:
    from layout_app.planning import FORMATS, write  # noqa: PLC0415 - only here, off the window

    return write(plan, job, folder, FORMATS).files
