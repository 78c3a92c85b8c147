"""Ticks that have no project file yet: kept in a folder of the maker's own, found again later.

Each window writes one file there, claimed while it is open, so that only what a window left
behind is offered to the next.
"""

import contextlib
import os
import time
from collections.abc import Iterator
from pathlib import Path

from PySide6.QtCore import QStandardPaths

from layout_app.model.project import Project
from layout_app.store import atomic, beside
from layout_app.store.errors import FileProblem, told
from layout_app.store.guards import Claim
from layout_app.store.project_file import SUFFIX, read_project, save_project


def recovery_folder() -> Path:
    """Return where ticks without a file are kept for whoever is logged in."""
    place = QStandardPaths.StandardLocation.AppDataLocation
    return Path(QStandardPaths.writableLocation(place)) / "recovery"


class Recovery:
    """The recovery file of one window."""

    def __init__(self, folder: Path | None) -> None:
        self.folder = folder
        self.path: Path | None = None
        self._claim = Claim()

    def save(self, project: Project) -> Path:
        """Write a project; `FileProblem` if that cannot be done, or there is no folder."""
        if self.folder is None:
            raise FileProblem(Path(), "", "there is no folder to keep ticks in")
        atomic.make_folder(self.folder)  # each time: it may have gone since
        if self.path is None:
            self.adopt(self.folder / f"{time.time_ns()}-{os.getpid()}{SUFFIX}")
        assert self.path is not None
        save_project(self.path, project)
        return self.path

    def adopt(self, path: Path) -> None:
        """Go on with a file that another window left."""
        self._claim.take(path)
        self.path = path

    def drop(self) -> None:
        """Remove the file: what is in it is saved, or not wanted."""
        path, self.path = self.path, None
        if path is not None:
            with contextlib.suppress(OSError):
                path.unlink(missing_ok=True)
        self._claim.release()

    def leave(self) -> None:
        """Leave the file for the next window."""
        self.path = None
        self._claim.release()

    def found(self) -> tuple[tuple[Path, Project], ...]:
        """Return what windows that are closed have left, the latest first."""
        return tuple(self._found())

    def _found(self) -> Iterator[tuple[Path, Project]]:
        for path in self._left():
            claim = Claim()
            if path == self.path or not claim.take(path):
                continue
            with contextlib.suppress(FileProblem):
                yield path, read_project(path)
            claim.release()

    def _left(self) -> list[Path]:
        """Return all files of the folder, the latest first, and clear what was half written."""
        if self.folder is None:
            return []
        with told(self.folder, "cannot be read"):
            names = os.listdir(self.folder) if self.folder.is_dir() else []
        half = [name[1:].rsplit(".", 2)[0] for name in names if name.endswith(".tmp")]
        beside.sweep(self.folder / name for name in half)
        found = [name for name in names if name.endswith(SUFFIX) and not name.startswith(".")]
        return [self.folder / name for name in sorted(found, reverse=True)]
