"""Where compiled code is kept when the user's cache cannot be written."""

import os
import subprocess
import sys
import time
from pathlib import Path

import pytest

from solver.line import surroundings

FOLDER = "from solver.planning.compiling import cache_folder; print(cache_folder(), flush=True);"
STARTS = (
    "import subprocess, sys; from solver.line import surroundings;"
    "child = subprocess.Popen([sys.executable, '-c', sys.argv[1]], env=surroundings(),"
    " stdin=subprocess.PIPE);"
)
WAITS = "import sys; from solver.line import leave; sys.stdin.read(); leave()"


@pytest.fixture
def bare(tmp_path: Path) -> dict[str, str]:
    """Return surroundings with a file where the caches would be, and a folder for what passes."""
    for name in ("home", "temporary"):
        (tmp_path / name).mkdir()
    no_folder = tmp_path / "home" / "file"
    no_folder.write_text("")
    names = ("XDG_CACHE_HOME", "LOCALAPPDATA", "HOME", "NUMBA_CACHE_DIR")
    own = {name: value for name, value in surroundings().items() if name != "RIPFIRST_CODE"}
    return own | dict.fromkeys(names, str(no_folder)) | {"TMPDIR": str(tmp_path / "temporary")}


def left(bare: dict[str, str]) -> list[str]:
    """Return what is in the folder for what passes."""
    return os.listdir(bare["TMPDIR"])


def test_all_processes_of_a_run_share_one_folder_that_goes_with_the_run(
    bare: dict[str, str],
) -> None:
    """The first makes it, the one it starts uses it, and nothing is left behind."""
    ended = subprocess.run(
        [sys.executable, "-c", FOLDER + STARTS + "child.communicate()", FOLDER + WAITS],
        env=bare,
        capture_output=True,
        text=True,
        check=True,
        stdin=subprocess.DEVNULL,
        timeout=60,
    )
    one, other = ended.stdout.split()
    assert one == other
    assert Path(one).is_relative_to(bare["TMPDIR"])
    assert left(bare) == []


def test_a_run_that_is_killed_leaves_nothing_once_its_processes_have_noticed(
    bare: dict[str, str],
) -> None:
    """The process it started finds its line closed, and the first process gone."""
    code = FOLDER + STARTS + "print('started', flush=True); child.wait()"
    words = [sys.executable, "-c", code, WAITS]
    with subprocess.Popen(words, env=bare, stdout=subprocess.PIPE, text=True) as run:
        assert run.stdout is not None
        assert Path(run.stdout.readline().strip()).is_dir()
        assert run.stdout.readline() == "started\n"
        run.kill()
    end = time.monotonic() + 30
    while left(bare) and time.monotonic() < end:
        time.sleep(0.05)
    assert left(bare) == []


def test_what_a_killed_run_left_is_removed_by_the_next(bare: dict[str, str]) -> None:
    """Its folder names a process that is gone; folders of others stay."""
    gone = subprocess.Popen([sys.executable, "-c", ""])
    gone.wait()
    for name in (f"ripfirst-code-{gone.pid}-x", f"ripfirst-code-{os.getpid()}-x", "other"):
        (Path(bare["TMPDIR"]) / name).mkdir()
    subprocess.run([sys.executable, "-c", FOLDER], env=bare, check=True, timeout=60)
    assert sorted(left(bare)) == ["other", f"ripfirst-code-{os.getpid()}-x"]
