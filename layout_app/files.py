"""Reading and writing on a thread of its own, so that a slow disk never holds the window."""

from concurrent.futures import Future, ThreadPoolExecutor
from functools import partial
from pathlib import Path

from PySide6.QtCore import QObject, Qt, Signal, Slot

from layout_app.project import Project
from layout_app.store.errors import FileProblem
from layout_app.store.project_file import read_project, save_project


class Files(QObject):
    """Opens and saves projects one after the other; signals arrive in the window's thread."""

    opened = Signal(object, object)
    """Project and path."""
    saved = Signal(object, object)
    """Project and path."""
    failed = Signal(str)
    """One sentence with path, place and reason."""
    _did = Signal(bool, object, object)

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._worker = ThreadPoolExecutor(max_workers=1, thread_name_prefix="files")
        self._did.connect(self._tell, Qt.ConnectionType.QueuedConnection)

    def open(self, path: Path) -> None:
        """Read a project."""
        work = self._worker.submit(read_project, path)
        work.add_done_callback(partial(self._finish, False, path))

    def save(self, project: Project, path: Path) -> None:
        """Write a project in one piece."""
        work = self._worker.submit(_save, path, project)
        work.add_done_callback(partial(self._finish, True, path))

    def close(self) -> None:
        """Finish what is under way and end the thread."""
        self._worker.shutdown(wait=True)

    def _finish(self, was_save: bool, path: Path, work: Future[Project]) -> None:
        """Hand the result to the window's thread; called on the worker."""
        self._did.emit(was_save, path, work)

    @Slot(bool, object, object)
    def _tell(self, was_save: bool, path: Path, work: Future[Project]) -> None:
        error = work.exception()
        if isinstance(error, FileProblem):
            self.failed.emit(str(error))
        elif error is not None:
            raise error
        else:
            (self.saved if was_save else self.opened).emit(work.result(), path)


def _save(path: Path, project: Project) -> Project:
    save_project(path, project)
    return project
