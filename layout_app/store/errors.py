"""The one error that files raise."""

from pathlib import Path


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
        return f"{where}: {self.reason}."
