"""A desk of its own for the real program: virtual screen, window manager, mouse and keys.

Needs Xvfb, openbox and xdotool. Everything waits on states: of processes, of windows, of the
saved file; nothing waits for a time to pass.
"""

import ctypes
import os
import select
import shutil
import signal
import subprocess
import sys
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import TypeVar

NEEDED = ("Xvfb", "openbox", "xdotool")
LIBRARIES = (
    "libEGL.so.1",
    "libxkbcommon-x11.so.0",
    "libxcb-cursor.so.0",
    "libxcb-icccm.so.4",
    "libxcb-image.so.0",
    "libxcb-keysyms.so.1",
    "libxcb-render-util.so.0",
    "libxcb-shape.so.0",
)
"""What Qt's plug-in for X11 is linked with."""
SCREEN = "1600x1000x24"
PATIENCE_S, PAUSE_S = 60.0, 0.05
SHOOTER = """
import sys
from PySide6.QtGui import QGuiApplication
app = QGuiApplication([])
sys.exit(not app.primaryScreen().grabWindow(0).save(sys.argv[1]))
"""
Found = TypeVar("Found")


def missing() -> list[str]:
    """Return which programs that make a desk, and libraries of Qt for it, are not installed."""
    return [name for name in NEEDED if shutil.which(name) is None] + [*_missing_libraries()]


def _missing_libraries() -> Iterator[str]:
    for name in LIBRARIES if sys.platform == "linux" else ():
        try:
            ctypes.CDLL(name)
        except OSError:
            yield name


def wait_for(what: str, look: Callable[[], Found | None]) -> Found:
    """Look until something is found; TimeoutError names what was not."""
    end = time.monotonic() + PATIENCE_S
    while time.monotonic() < end:
        found = look()
        if found:
            return found
        time.sleep(PAUSE_S)
    raise TimeoutError(f"waited {PATIENCE_S:.0f} s in vain for {what}")


class Desk:
    """A screen with a mouse and keys."""

    def __init__(self, display: str, home: Path) -> None:
        self.home = home
        self._shots = 0
        self.environment = {
            **{k: v for k, v in os.environ.items() if k not in {"QT_QPA_PLATFORM", "XAUTHORITY"}},
            "DISPLAY": display,
            "QT_QPA_PLATFORM": "xcb",
            "XDG_CONFIG_HOME": str(home / "config"),
            "XDG_DATA_HOME": str(home / "data"),
        }
        self.environment.pop("WAYLAND_DISPLAY", None)

    def do(self, *words: object) -> str:
        """Give xdotool a command and return what it says."""
        command = ["xdotool", *map(str, words)]
        # Looking for a window that is not there yet fails; who looks asks again.
        done = subprocess.run(
            command, env=self.environment, capture_output=True, text=True, check=False
        )
        return done.stdout

    def start(self, *command: str) -> subprocess.Popen[bytes]:
        """Start a program on this desk."""
        return subprocess.Popen(command, env=self.environment)

    def shoot(self, name: str) -> None:
        """Keep a picture of the whole screen."""
        self._shots += 1
        picture = self.home / "pictures" / f"{self._shots:02}-{name}.png"
        picture.parent.mkdir(exist_ok=True)
        command = [sys.executable, "-c", SHOOTER, str(picture)]
        subprocess.run(command, env=self.environment, check=True)


class Program:
    """Ripfirst as it runs on a desk, with a project file; Python may be told another start."""

    def __init__(self, desk: Desk, path: Path, *starter: str) -> None:
        self._desk = desk
        words = starter or ("-m", "layout_app")
        self.process = desk.start(sys.executable, *words, str(path))
        search = ("search", "--onlyvisible", "--pid", str(self.process.pid), "--name", "Ripfirst")
        self._window = wait_for("the window", lambda: self._seen(search))
        desk.do("windowactivate", "--sync", self._window)

    def _seen(self, search: tuple[str, ...]) -> str:
        """Return the window's number once it is there; OSError if the program has ended."""
        if self.process.poll() is not None:
            raise OSError(f"the program ended at once, with {self.process.returncode}")
        return next(iter(self._desk.do(*search).split()), "")

    @property
    def title(self) -> str:
        """What stands above the window; a star says that something is not saved."""
        return self._desk.do("getwindowname", self._window).strip()

    @property
    def size(self) -> tuple[int, int]:
        """Width and height of the window without its frame, in pixels."""
        lines = self._desk.do("getwindowgeometry", "--shell", self._window).split()
        found = dict(line.split("=") for line in lines)
        return int(found["WIDTH"]), int(found["HEIGHT"])

    def key(self, *keys: str) -> None:
        """Press keys one after the other, each such as ``ctrl+s``."""
        self._desk.do("key", "--clearmodifiers", *keys)

    def write(self, text: str) -> None:
        """Type a text and press Enter."""
        self._desk.do("type", "--delay", 5, text)
        self.key("Return")

    def click(self, place: tuple[int, int], *, button: int = 1, times: int = 1) -> None:
        """Click on a place of the window, once with the left button unless told otherwise."""
        self._point(place)
        self._desk.do("click", "--repeat", times, "--delay", 60, button)

    def take(self, start: tuple[int, int], end: tuple[int, int], steps: int = 8) -> None:
        """Press at a place and move to another, without letting go."""
        self._point(start)
        self._desk.do("mousedown", 1)
        for step in range(1, steps + 1):
            x, y = (round(a + (b - a) * step / steps) for a, b in zip(start, end, strict=True))
            self._point((x, y))

    def let_go(self) -> None:
        """Let the mouse's button go."""
        self._desk.do("mouseup", 1)

    def quit(self) -> int:
        """Close the window with its key; return how the program ended."""
        self.key("ctrl+q")
        return self.process.wait(PATIENCE_S)

    def kill(self) -> None:
        """End the program if it still runs."""
        if self.process.poll() is None:
            self.process.kill()
            self.process.wait()

    def _point(self, place: tuple[int, int]) -> None:
        self._desk.do("mousemove", "--sync", "--window", self._window, *place)


@contextmanager
def desk(home: Path) -> Iterator[Desk]:
    """Set up a desk whose files are in a folder, and clear it away."""
    ours, theirs = os.pipe()
    screen = subprocess.Popen(
        ("Xvfb", "-displayfd", str(theirs), "-screen", "0", SCREEN, "-nolisten", "tcp"),
        pass_fds=(theirs,),
        stderr=subprocess.DEVNULL,
    )
    os.close(theirs)
    started = [screen]
    try:
        made = Desk(f":{_number(ours)}", home)
        wait_for("the window manager", lambda: _managed(made, started))
        try:
            yield made
        except BaseException:
            made.shoot("when it failed")
            raise
    finally:
        os.close(ours)
        for process in reversed(started):
            process.send_signal(signal.SIGTERM)
            process.wait(PATIENCE_S)


def _number(pipe: int) -> str:
    """Read which display the screen has become."""
    read = ""
    while not read.endswith("\n"):
        ready, _, _ = select.select([pipe], [], [], PATIENCE_S)
        more = os.read(pipe, 16).decode() if ready else ""
        if not more:
            raise TimeoutError("the virtual screen did not start")
        read += more
    return read.strip()


def _managed(desk: Desk, started: list[subprocess.Popen[bytes]]) -> bool:
    """Say whether a window manager answers; start one if there is none, or it has ended.

    One that comes before the screen takes connections ends at once.
    """
    if len(started) == 1 or started[-1].poll() is not None:
        started[1:] = [desk.start("openbox", "--sm-disable")]
        time.sleep(PAUSE_S)
    answers = desk.do("get_num_desktops").strip() not in {"", "0"}
    return answers and started[-1].poll() is None
