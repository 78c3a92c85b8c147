"""The one error that files raise."""

import contextlib
from collections.abc import Iterator
from pathlib import Path

from shared.quoting import whole

NO_NAME = "no file can have this name"


class FileProblem(Exception):  # noqa: N818 - a sentence for the maker, not a fault of the program
    """A file cannot be used; the text is one sentence.

    Attributes
    ----------
    path
        The file, or the folder.
    place
        Where in it, as a path of names such as ``job.parts[3].length`` (counted from 0) or
        as ``line 4, column 7``; ``""`` for the whole file.
    reason
        What is wrong there.
    """

    def __init__(self, path: Path | str, place: str, reason: str) -> None:
        self.path = Path(path)
        self.place = place
        self.reason = reason
        super().__init__(str(self))

    def __str__(self) -> str:
        where = f"{self.path}, {self.place}" if self.place else str(self.path)
        return whole(f"{where}: {self.reason}.")


@contextlib.contextmanager
def told(path: Path | str, what: str) -> Iterator[None]:
    """Raise whatever the system refuses meanwhile as a `FileProblem`: ``what``, and its reason.

    Only calls of the system belong in here: a name that it cannot even be asked about, with a
    null or half a letter in it, comes from Python as a `ValueError`.
    """
    try:
        yield
    except OSError as error:
        raise FileProblem(path, "", f"{what}: {reason_of(error)}") from error
    except ValueError as error:
        raise FileProblem(path, "", f"{what}: {NO_NAME}") from error


def is_there(path: Path) -> bool:
    """Say whether there is a file or folder; `FileProblem` if that cannot be found out."""
    with told(path, "cannot be read"):
        return exists(path)


def exists(path: Path) -> bool:
    """Say whether there is a file or folder; raises whatever the system refuses but its absence.

    `Path.exists` also takes a name that no file can have, and links in a ring, for absence.
    """
    try:
        path.stat()
    except (FileNotFoundError, NotADirectoryError):
        return False
    return True


def reason_of(error: OSError) -> str:
    """Return what the system says, in small letters and without its number."""
    return (error.strerror or type(error).__name__).lower()
