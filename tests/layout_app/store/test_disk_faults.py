"""Whatever the system refuses is one sentence with the path: every operation, every reason."""

import builtins
import errno
import io
import os
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from layout_app.cli import demo
from layout_app.look.window_settings import WindowSettings
from layout_app.model.project import Project
from layout_app.paper.exporting import left_over_drawings, write
from layout_app.paper.matter import Matter
from layout_app.store import atomic
from layout_app.store.errors import FileProblem
from layout_app.store.guards import Claim, Seen
from layout_app.store.own_files import read_settings, read_shop, save_settings, save_shop
from layout_app.store.plan_file import read_plan, save_plan
from layout_app.store.project_file import read_project, save_project
from layout_app.store.recovery import Recovery
from shared.shop import Shop
from tests.layout_app.paper.matters import matter_of_plan
from tests.layout_app.small_job import planned, small_job
from tests.shared.small_plan import PLAN

REASONS = (
    *(errno.EACCES, errno.EIO, errno.ESTALE, errno.ENOTCONN, errno.ENOSPC),
    *(errno.ELOOP, errno.ENAMETOOLONG),
)
CALLS = (
    *("stat", "lstat", "open", "replace", "link", "unlink", "mkdir", "listdir", "scandir"),
    *("fsync", "chmod", "readlink"),
)
"""Functions of `os` that go to the disk with a path or a descriptor; `open` is another's."""


@pytest.fixture(scope="module")
def matter() -> Matter:
    """The small job with its first plan."""
    made = small_job()
    return matter_of_plan(made, planned(made))


def noted(path: Path) -> Seen:
    """Return what knows a file as it is."""
    seen = Seen()
    seen.note(path, path.read_bytes())
    return seen


def operations(folder: Path, matter: Matter) -> dict[str, Callable[[], object]]:
    """Return all that goes to the disk, on files that are there and on some that are not."""
    there = folder / "there.ripfirst.json"
    save_project(there, Project())
    save_plan(folder / "plan.json", PLAN)
    save_shop(folder / "shop.json", Shop())
    save_settings(folder / "window.json", WindowSettings())
    recovery = Recovery(folder / "recovery")
    recovery.save(Project())
    seen = noted(there)
    return {
        "read project": lambda: read_project(there),
        "read plan": lambda: read_plan(folder / "plan.json"),
        "read shop": lambda: read_shop(folder / "shop.json"),
        "read settings": lambda: read_settings(folder / "window.json"),
        "save over": lambda: save_project(there, Project()),
        "save anew": lambda: save_project(folder / "new.json", Project()),
        "save shop": lambda: save_shop(folder / "shop.json", Shop()),
        "save settings": lambda: save_settings(folder / "w" / "window.json", WindowSettings()),
        "keep ticks": lambda: recovery.save(Project()),
        "begin to keep ticks": lambda: Recovery(folder / "other").save(Project()),
        "find ticks": lambda: Recovery(folder / "recovery").found(),
        "drop ticks": Recovery(folder / "recovery").drop,
        "claim": lambda: Claim().take(there),
        "look at another's": lambda: seen.check(there),
        "export over": lambda: write(matter, folder, ("json", "svg"), replace=True),
        "export anew": lambda: write(matter, folder / "out" / "x", ("json", "publish")),
        "left-over drawings": lambda: left_over_drawings(write(matter, folder, ()), folder),
        "check a folder": lambda: atomic.check_folder(folder / "none"),
        "make a folder": lambda: atomic.make_folder(folder / "more" / "yet"),
        "copy the demo": lambda: demo.copy_to(folder / "demo"),
    }


def refusing(monkeypatch: pytest.MonkeyPatch, folder: Path, call: str, reason: int) -> None:
    """Let a function of the system fail below a folder, as a disk does that went away."""
    true: dict[Any, Any] = {}

    def failing(place: Any, name: str) -> None:
        true[place, name] = getattr(place, name)

        def fail(path: Any = ".", *more: Any, **named: Any) -> Any:
            if isinstance(path, int) or str(folder) in str(path):
                raise OSError(reason, os.strerror(reason), str(path))
            return true[place, name](path, *more, **named)

        monkeypatch.setattr(place, name, fail)

    failing(os, call)
    if call == "open":
        failing(io, "open")
        failing(builtins, "open")


@pytest.mark.parametrize("call", CALLS)
@pytest.mark.parametrize("reason", REASONS, ids=lambda reason: errno.errorcode[reason])
def test_every_refusal_is_a_sentence(
    matter: Matter, tmp_path: Path, call: str, reason: int
) -> None:
    """An operation does its work without what is refused, or says path and reason; no more."""
    for name, operate in operations(tmp_path, matter).items():
        with pytest.MonkeyPatch.context() as patch:
            refusing(patch, tmp_path, call, reason)
            try:
                operate()
            except FileProblem as problem:
                said = problem
            else:
                continue
        assert str(tmp_path) in str(said), name
        assert said.reason, name
        assert "\n" not in str(said), name


@pytest.mark.parametrize("name", ["a\0b", "half \ud800 letter", "x" * 300], ids=ascii)
def test_names_no_file_can_have(matter: Matter, tmp_path: Path, name: str) -> None:
    """Reading, saving and exporting say so; nothing else is raised and nothing made."""
    path = tmp_path / name
    for operate in (
        lambda: read_project(path),
        lambda: save_project(path, Project()),
        lambda: write(matter, path, ("json",)),
        lambda: atomic.check_folder(path),
        lambda: save_settings(path / "window.json", WindowSettings()),
        lambda: read_shop(path),
    ):
        with pytest.raises(FileProblem):
            operate()
    assert Claim().take(path)
    assert list(tmp_path.iterdir()) == []
