"""A folder that turns inaccessible while a project in it is ticked and saved.

``python -m tests.soak.folder --n 30`` prints what was lost, and what happened without a word.
Ways that need an administrator are left out where nobody is one.
"""

import argparse
import builtins
import contextlib
import errno
import io
import os
import select
import shutil
import subprocess
import tempfile
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from functools import partial
from pathlib import Path
from typing import Any, Final

from PySide6.QtWidgets import QApplication

from layout_app.document.ticks import tick
from layout_app.model.project import Project
from layout_app.planner.process import PlannerProcess
from layout_app.store.errors import FileProblem
from layout_app.store.project_file import read_project, save_project
from layout_app.window.main_window import MainWindow
from tests.soak.children import Child, begin
from tests.soak.saving import planned_project

PATIENCE_S = 60.0
NOBODY: Final = 65534
ERRORS: Final = ("EACCES", "EIO", "ESTALE", "ENOTCONN")
"""Raised by each call of the system that goes there, as a pulled stick or a dead share does."""
BY_ROOT: Final = ("rights", "unmounted", "read-only", "full")
ALWAYS: Final = ("removed", "a file instead", *ERRORS)
CALLS: Final = ("stat", "lstat", "open", "replace", "link", "unlink", "mkdir", "listdir", "scandir")


@dataclass(slots=True)
class Count:
    """What was seen; all but the first ought to be 0."""

    folders: int = 0
    lost: int = 0
    silent: int = 0


def turn_inaccessible(project: Project, folder: Path, number: int) -> Count:
    """Let so many folders turn inaccessible, one way after the other."""
    ways = (*BY_ROOT, *ALWAYS) if os.name == "posix" and os.geteuid() == 0 else ALWAYS
    count = Count()
    for place in range(number):
        way = ways[place % len(ways)]
        at = folder / str(place)
        at.mkdir(mode=0o755)
        faults = list(_one(project, at, way))
        count.folders += 1
        count.lost += sum("lost" in fault for fault in faults)
        count.silent += any("silent" in fault for fault in faults)
        for fault in faults:
            print(f"{way}: {fault}", flush=True)
    return count


def _one(project: Project, at: Path, way: str) -> Iterator[str]:
    """Yield what was lost or not said."""
    path, recovery = at / "stick" / "shop" / "trial.ripfirst.json", at / "recovery"
    with _stick(at / "stick", way):
        path.parent.mkdir()
        save_project(path, project)
        recovery.mkdir()
        if way == "rights":
            for one in (recovery, path.parent, path):
                os.chown(one, NOBODY, NOBODY)
        child = begin(partial(_work, path, recovery, way))
        try:
            yield from _judged(child, path, recovery, way)
        finally:
            child.kill()


def _judged(child: Child, path: Path, recovery: Path, way: str) -> Iterator[str]:
    if child.line(PATIENCE_S) != "begun":
        yield "silent: it never began"
        return
    _take_away(path.parent, way)
    child.tell("go on")
    ticked, saved = child.line(PATIENCE_S), child.line(PATIENCE_S)
    if not ticked or "trial.ripfirst.json" not in ticked:
        yield f"silent: ticking said {ticked!r}"
    if not saved or "trial.ripfirst.json" not in saved:
        yield f"silent: saving said {saved!r}"
    if "this window only" not in (ticked or "") and not any(
        len(made) == 2 for made in _ticks_kept(recovery)
    ):
        yield "lost: the second tick is nowhere"


def _ticks_kept(recovery: Path) -> Iterator[tuple[int, ...]]:
    for left in recovery.glob("[!.]*.json"):
        with contextlib.suppress(FileProblem):
            yield read_project(left).progress.made


@contextlib.contextmanager
def _stick(mount: Path, way: str) -> Iterator[None]:
    """Make a folder; one that is mounted where the way needs that."""
    mount.mkdir(mode=0o755)
    mounts = way in {"unmounted", "read-only", "full"}
    if mounts:
        command = ["mount", "-t", "tmpfs", "-o", "size=512k,mode=755", "tmpfs", str(mount)]
        subprocess.run(command, check=True)
    try:
        yield
    finally:
        if mounts:
            subprocess.run(["umount", "-l", str(mount)], check=False, capture_output=True)


def _take_away(folder: Path, way: str) -> None:
    mount = folder.parent
    if way == "rights":
        folder.chmod(0)
    elif way == "unmounted":
        subprocess.run(["umount", "-l", str(mount)], check=True)
    elif way == "read-only":
        _put_in_protected(folder)
    elif way == "full":
        with contextlib.suppress(OSError), (folder / "film").open("wb", 0) as film:
            while True:
                film.write(bytes(4096))
    elif way in {"removed", "a file instead"}:
        shutil.rmtree(folder)
        if way == "a file instead":
            folder.write_text("x")


def _put_in_protected(folder: Path) -> None:
    """Pull a stick and put it in again, write-protected."""
    mount = folder.parent
    with tempfile.TemporaryDirectory() as name:
        shutil.copytree(folder, Path(name) / "shop")
        subprocess.run(["umount", "-l", str(mount)], check=True)
        subprocess.run(["mount", "-t", "tmpfs", "tmpfs", str(mount)], check=True)
        shutil.copytree(Path(name) / "shop", folder)
    subprocess.run(["mount", "-o", "remount,ro", str(mount)], check=True)


def _work(path: Path, recovery: Path, way: str, say: Callable[[str], None], hears: int) -> None:
    """Open a project in a window; tick and save before and after its folder goes."""
    app = QApplication([])
    if way == "rights":
        os.setgroups([])
        os.setresgid(NOBODY, NOBODY, NOBODY)
        os.setresuid(NOBODY, NOBODY, NOBODY)
    window = MainWindow(planner=PlannerProcess(), recovery=recovery)
    window.show()
    document = window.document

    def until(holds: Callable[[], bool]) -> bool:
        for _ in range(500):
            app.processEvents()
            if holds():
                return True
            select.select([], [], [], 0.01)
        return False

    window.projects.open(path)
    until(lambda: document.saved_state.path == path)
    tick(document, [1])
    until(lambda: document.saved_state.is_done(1))
    say("begun")
    os.read(hears, 100)
    if way in ERRORS:
        refuse(path.parent, getattr(errno, way))
    tick(document, [2])
    done = until(lambda: document.saved_state.is_done(2) and window.bar.isVisible())
    say(window.bar.sentence if done else "")
    window.bar.hide()
    window.projects.save()
    said = until(window.bar.isVisible)
    say(window.bar.sentence if said else "")
    os.read(hears, 100)


def refuse(folder: Path, reason: int) -> None:
    """Let all calls of the system that go to a folder fail from now on."""
    places: list[tuple[Any, str]] = [(os, call) for call in CALLS]
    for place, name in [*places, (io, "open"), (builtins, "open")]:
        setattr(place, name, _refusing(getattr(place, name), folder, reason))


def _refusing(call: Any, folder: Path, reason: int) -> Any:
    def act(path: Any = ".", *more: Any, **named: Any) -> Any:
        if str(folder) in str(path):
            raise OSError(reason, os.strerror(reason), str(path))
        return call(path, *more, **named)

    return act


def main() -> None:
    """Print the counts."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--n", type=int, default=30)
    wish = parser.parse_args()
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        folder.chmod(0o755)
        print(turn_inaccessible(planned_project(folder), folder, wish.n))


if __name__ == "__main__":
    main()
