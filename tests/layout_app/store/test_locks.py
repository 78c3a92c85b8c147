"""Whose lock one is that cannot be removed: told by process, program, boot and machine."""

import os
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest
from PySide6.QtCore import QLockFile, QSysInfo

from layout_app.store import guards

HOST = QSysInfo.machineHostName()
BOOT = bytes(QSysInfo.bootUniqueId().data()).decode()
PROGRAM = os.path.basename(os.path.realpath(sys.executable))


@pytest.fixture
def alive() -> Iterator[int]:
    """Return the number of another process that runs this program."""
    command = [sys.executable, "-c", "import sys; print(); sys.stdin.read()"]
    pipe = subprocess.PIPE
    with subprocess.Popen(command, stdin=pipe, stdout=pipe, text=True) as other:
        assert other.stdout is not None
        other.stdout.readline()
        yield other.pid
        other.communicate()


def is_held(folder: Path, *lines: object) -> bool:
    """Say whether a lock with these lines bars others."""
    place = folder / ".trial.lock"
    place.write_text("".join(f"{line}\n" for line in lines))
    return guards._is_held(place, QLockFile(str(place)))


def test_a_lock_of_a_window_that_is_open_bars_others(tmp_path: Path, alive: int) -> None:
    """On this machine as long as it runs, on another one always: nobody can tell from here."""
    assert is_held(tmp_path, alive, PROGRAM, HOST, "machine", BOOT)
    assert is_held(tmp_path, 1, PROGRAM, f"not-{HOST}", "machine", BOOT)
    assert is_held(tmp_path)  # just being written


@pytest.mark.skipif(not BOOT, reason="nothing tells one start of the machine from the next")
def test_a_lock_from_before_the_machine_was_started_bars_nobody(tmp_path: Path, alive: int) -> None:
    """Its number is another process's now."""
    assert not is_held(tmp_path, alive, PROGRAM, HOST, "machine", f"not-{BOOT}")


@pytest.mark.skipif(not sys.platform.startswith("linux"), reason="asks the system's /proc")
def test_a_number_that_another_program_has_now_bars_nobody(tmp_path: Path, alive: int) -> None:
    """The lock names the program that made it."""
    assert not is_held(tmp_path, alive, f"not-{PROGRAM}", HOST, "machine", BOOT)


@pytest.mark.skipif(os.name != "posix", reason="elsewhere asking would end the process")
def test_a_lock_of_a_process_that_has_ended_bars_nobody(tmp_path: Path) -> None:
    """Nor does one with this process's number that no window of it holds."""
    ended = subprocess.Popen([sys.executable, "-c", ""])
    ended.wait()
    assert not is_held(tmp_path, ended.pid, PROGRAM, HOST, "machine", BOOT)
    assert not is_held(tmp_path, os.getpid(), PROGRAM, HOST, "machine", BOOT)
