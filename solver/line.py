"""One line of messages to another process of this program, from either end.

A message is a line of JSON. The process that asks has a `Line` to the other, which it starts;
the other hears on standard input and says on standard output. Native libraries print where
they like, and the line must hold nothing but messages: so the real output is set aside, and
what anybody prints goes to the log on standard error.
"""

import contextlib
import os
import queue
import signal
import subprocess
import sys
import threading
from collections.abc import Callable, Iterable, Sequence
from pathlib import Path
from typing import Any, BinaryIO, NoReturn, TypedDict

import msgspec

from solver.kept_code import choose, forget_run

GRACE_S = 1.0
"""Time to end in order once the other side is gone."""


class WireError(Exception):
    """A line that is no message of this version; the text says what is wrong with it."""


class Codec:
    """Messages of some types as lines, and back."""

    def __init__(self, messages: Any) -> None:
        """Take a type, or a union of tagged ones."""
        self._encoder = msgspec.json.Encoder()
        self._decoder = msgspec.json.Decoder(messages)

    def encode(self, message: msgspec.Struct) -> bytes:
        """Return a message as one line."""
        return self._encoder.encode(message) + b"\n"

    def decode(self, line: bytes) -> Any:
        """Read a message; `WireError` if the line is none of these."""
        try:
            return self._decoder.decode(line)
        except msgspec.DecodeError as error:
            raise WireError(str(error)) from error


class Apart(TypedDict, total=False):
    """Settings of `subprocess` by which Ctrl+C in a terminal does not reach a process."""

    process_group: int
    creationflags: int


def apart(flags: int = 0) -> Apart:
    """Return what keeps Ctrl+C from a process: the one in front hears it, and acts on it.

    ``flags`` are further ones for its creation, which only Windows knows.
    """
    if os.name == "posix":
        return {"process_group": 0}
    return {"creationflags": flags | getattr(subprocess, "CREATE_NEW_PROCESS_GROUP", 0)}


def surroundings() -> dict[str, str]:
    """Return the environment in which another process finds these very packages.

    It keeps compiled code where this one does.
    """
    choose()
    root = str(Path(__file__).resolve().parents[1])
    others = os.environ.get("PYTHONPATH")
    paths = os.pathsep.join((root, others) if others else (root,))
    return {**os.environ, "PYTHONPATH": paths}


class Line:
    """Another process of this program, and the threads that talk with it.

    It is started by a thread as well, so that nobody waits for that.

    Parameters
    ----------
    command
        What to start.
    hear
        Takes every line that the process says, from the thread that listens.
    gone
        Called once, when nothing more will be heard.
    name
        Of the threads.
    flags
        For its creation, on Windows.
    """

    def __init__(
        self,
        command: Sequence[str],
        hear: Callable[[bytes], None],
        gone: Callable[[], None],
        *,
        name: str,
        flags: int = 0,
    ) -> None:
        self._command, self._flags = command, flags
        self._hear, self._gone = hear, gone
        self._lines: queue.SimpleQueue[bytes | None] = queue.SimpleQueue()
        self._process: subprocess.Popen[bytes] | None = None
        self._patience_s = 0.0
        self._over = threading.Event()
        self._name = name
        self._talks = threading.Thread(target=self._talk, name=f"{name}: talk", daemon=True)
        self._talks.start()

    @property
    def pid(self) -> int | None:
        """The process's number, once it has one."""
        return None if self._process is None else self._process.pid

    @property
    def alive(self) -> bool:
        """Whether the process may still say something."""
        return not self._over.is_set()

    def send(self, line: bytes) -> None:
        """Send a line, sooner or later."""
        self._lines.put(line)

    def end(self, patience_s: float = 0.0) -> None:
        """Close the process's input, which ends it; kill it if that takes longer than so long."""
        self._patience_s = patience_s
        if self._process is not None and not patience_s:
            self._process.kill()
        self._lines.put(None)
        self._talks.join()

    def _talk(self) -> None:
        """Start the process and write every line to it."""
        try:
            process = subprocess.Popen(
                self._command,
                stdin=subprocess.PIPE,
                stdout=subprocess.PIPE,
                env=surroundings(),
                **apart(self._flags),
            )
        except OSError:
            self._over.set()
            self._gone()
            return
        self._process = process
        assert process.stdin is not None
        assert process.stdout is not None
        listens = threading.Thread(
            target=self._listen, args=(process.stdout,), name=f"{self._name}: listen", daemon=True
        )
        listens.start()
        try:
            while (line := self._lines.get()) is not None:
                with contextlib.suppress(OSError):
                    process.stdin.write(line)
                    process.stdin.flush()
        finally:  # whatever breaks here, the end is heard
            with contextlib.suppress(OSError):
                process.stdin.close()
            try:
                process.wait(timeout=self._patience_s)
            except subprocess.TimeoutExpired:
                process.kill()
                process.wait()
            listens.join()

    def _listen(self, output: BinaryIO) -> None:
        try:
            with output:
                for line in output:
                    if line.endswith(b"\n"):  # a process that is killed may leave half a line
                        self._hear(line)
        finally:
            self._over.set()
            self._gone()


def claim_output() -> BinaryIO:
    """Return standard output for messages only; all else printed goes to standard error.

    Ctrl-C in a terminal reaches all its processes; it is for the one in front to hear.
    """
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    sys.stdout.flush()
    line = os.fdopen(os.dup(1), "wb")
    os.dup2(2, 1)
    return line


class Sender:
    """Sends lines from several threads, each whole."""

    def __init__(self, output: BinaryIO) -> None:
        self._output = output
        self._lock = threading.Lock()

    def __call__(self, line: bytes) -> None:
        """Send a line; silent when nobody listens any more."""
        try:
            with self._lock:
                self._output.write(line)
                self._output.flush()
        except (BrokenPipeError, ValueError):
            pass


def leave() -> NoReturn:
    """End the process now: threads that are loading or solving are not waited for."""
    forget_run()
    sys.stderr.flush()
    os._exit(0)


def read_in_background(
    lines: Iterable[bytes], heard: Callable[[bytes], None], gone: Callable[[], None]
) -> threading.Thread:
    """Hand each line to ``heard``; when input ends call ``gone`` and make sure to end soon."""

    def read() -> None:
        for line in lines:
            heard(line)
        gone()
        watch = threading.Timer(GRACE_S, leave)
        watch.daemon = True
        watch.start()

    thread = threading.Thread(target=read, name="reader", daemon=True)
    thread.start()
    return thread
