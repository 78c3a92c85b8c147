"""Markdown (CommonMark, tables as on code hosts) from words that may hold anything."""

import re
from collections.abc import Iterable, Sequence
from typing import Final
from urllib.parse import quote

from layout_app.paper.plain import one_line

_SPECIAL: Final = re.compile(r"[\\`*_\[\]<>|&~#!$@]")
"""What means something inside a line; the dollar sign, formulas on some hosts."""
_LINKED: Final = re.compile(r"(?<=:)(?=//)|(?<=\bwww)(?=\.)", re.IGNORECASE)
"""Where an address that some hosts make a link of is broken."""
_BEGINS: Final = re.compile(r"\A(\d{1,9}(?=[.)](?:\s|\Z))|(?=[-+=:]))")
"""What makes a list, a rule or a heading of a line that begins so."""


def plain(words: str) -> str:
    """Return words on one line, of which no letter means anything in Markdown."""
    escaped = _SPECIAL.sub(r"\\\g<0>", one_line(words))
    return _BEGINS.sub(r"\1\\", _LINKED.sub(r"\\", escaped))


def heading(words: str, level: int = 2) -> str:
    """Return a heading; level 1 is the title."""
    return f"{'#' * level} {plain(words)}"


def strong(words: str) -> str:
    """Return a line in bold."""
    return f"**{plain(words)}**"


def points(lines: Iterable[str]) -> str:
    """Return a list of sentences."""
    return "\n".join(f"- {plain(line)}" for line in lines)


def numbered(lines: Iterable[tuple[str, str]]) -> str:
    """Return a list in order; of each line the first words are bold."""
    return "\n".join(
        f"{number}. {strong(first)} {plain(rest)}".rstrip()
        for number, (first, rest) in enumerate(lines, 1)
    )


def table(headings: Sequence[str], rows: Iterable[Sequence[str]]) -> str:
    """Return a table; each row has a cell for each heading."""
    lines = [headings, ["---"] * len(headings), *([plain(cell) for cell in row] for row in rows)]
    return "\n".join(f"| {' | '.join(line)} |" for line in lines)


def picture(words: str, file: str) -> str:
    """Return a picture that is a file of the same folder, and what it shows in words."""
    return f"![{plain(words)}]({quote(file)})"


def link(words: str, file: str) -> str:
    """Return a link to a file of the same folder."""
    return f"[{plain(words)}]({quote(file)})"
