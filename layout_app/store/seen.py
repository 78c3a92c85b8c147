"""What a file held when it was last read or written here, so that another program is noticed."""

import hashlib
import os
from pathlib import Path

from layout_app.store.errors import FileProblem
from layout_app.store.json_text import read_bytes


class ChangedElsewhereError(FileProblem):
    """A file holds what was neither read nor written here.

    Attributes
    ----------
    sign
        Names what it holds, for whoever decides to write over just that.
    """

    def __init__(self, path: Path, sign: str) -> None:
        super().__init__(path, "", "another program has changed this file since it was opened")
        self.sign = sign


class Seen:
    """Knows the contents of one file.

    They are compared, not their time or length: those of a synced folder may say nothing, and
    a project is read within milliseconds.
    """

    def __init__(self) -> None:
        self._path = ""
        self._sign = ""

    def note(self, path: Path, data: bytes) -> None:
        """Hear what was read from a file or written to it."""
        self._path, self._sign = os.path.realpath(path), _sign_of(data)

    def check(self, path: Path, known: str = "") -> None:
        """Raise `ChangedElsewhereError` if a file of ours is another now.

        ``known`` is the sign of other contents that may be written over. A file that is gone
        holds nothing that could be lost; `FileProblem` if it cannot be read.
        """
        if os.path.realpath(path) != self._path or not os.path.lexists(path):
            return
        sign = _sign_of(read_bytes(path))
        if sign not in {self._sign, known}:
            raise ChangedElsewhereError(path, sign)


def _sign_of(data: bytes) -> str:
    return hashlib.sha256(data).hexdigest()
