"""Matrix codes of labels (QR Code, ISO/IEC 18004): what they hold, and their modules.

Read by a telephone, a code says what the label says in short: part and copy, cut, piece, plan.
"""

from collections.abc import Iterator, Sequence
from functools import lru_cache
from itertools import groupby
from typing import Final

import segno

from layout_app.paper import ink
from layout_app.paper.letters import clusters
from layout_app.paper.plain import one_line

MODULE: Final = 0.4
"""The least side of a module in mm: a plain printer and a telephone manage it well."""
QUIET: Final = 4
"""White modules around a code, as ISO/IEC 18004 asks."""
BYTES: Final = {2: 26, 3: 42, 4: 62}
"""What codes of these versions hold at level M, 8 bits a byte (ISO/IEC 18004, table 7)."""
LEAST_SIDE: Final = MODULE * (4 * min(BYTES) + 17 + 2 * QUIET)
"""The least side of a code in mm, with the white around it."""


def version_in(side: float) -> int:
    """Return the largest version whose modules are large enough in a corner of so many mm."""
    modules = (side + 1e-6) / MODULE - 2 * QUIET
    return max(version for version in BYTES if version == min(BYTES) or 4 * version + 17 <= modules)


def code_text(name: str, tails: Sequence[str], version: int) -> str:
    """Return what a code holds: a name, and behind it the fullest of some tails that has room.

    A tail may take of a long name all but its beginning, whose end is dots then.
    """
    room, said = BYTES[version], _plain(name)
    for tail in map(_plain, tails):
        free = room - _bytes(tail)
        if _bytes(said) <= free:
            return said + tail
        if free >= LEAST_NAME + len(DOTS):
            return _beginning(said, free - len(DOTS)) + DOTS + tail
    return _beginning(_plain(tails[-1]).lstrip(", "), room)


LEAST_NAME: Final = 6
"""So many bytes of a name are kept at least."""
DOTS: Final = "..."


def _plain(text: str) -> str:
    """Return text in one line; a blank before it stays."""
    return " " * text.startswith(" ") + one_line(text)


def _bytes(text: str) -> int:
    return len(text.encode())


def _beginning(text: str, room: int) -> str:
    """Return as many letters, with their accents, as take so many bytes at most."""
    kept = ""
    for letter in clusters(text):
        if _bytes(kept + letter) > room:
            break
        kept += letter
    return kept.rstrip()


MASK: Final = 1
"""The same for all codes: to weigh all eight takes five times as long, and dim pictures of codes
so chosen were read no better (150 texts, by two readers)."""


@lru_cache(maxsize=512)
def modules(text: str, version: int) -> tuple[bytes, ...]:
    """Return the rows of a code, each dark module as 1: a preview and its print have the same."""
    made = segno.make_qr(
        text, error="m", version=version, mask=MASK, encoding="utf-8", boost_error=False
    )
    return tuple(map(bytes, made.matrix))


def draw_code(matrix: Sequence[bytes], corner: ink.Spread) -> ink.Patch:
    """Draw the modules, neighbours of a row together; the quiet zone lies inside the corner."""
    module = corner.length / (len(matrix) + 2 * QUIET)
    return ink.Patch(
        outlines=tuple(
            _bar(corner, (start + QUIET) * module, (row + QUIET) * module, run * module, module)
            for row, line in enumerate(matrix)
            for start, run in _runs(line)
        ),
        fill="#000000",
    )


def _runs(line: bytes) -> Iterator[tuple[int, int]]:
    """Yield where dark modules begin and how many there are."""
    at = 0
    for dark, group in groupby(line):
        long = len(list(group))
        if dark:
            yield at, long
        at += long


def _bar(
    corner: ink.Spread, x: float, y: float, length: float, module: float
) -> tuple[ink.Spot, ...]:
    left, top = corner.x + x, corner.y + y
    right, bottom = left + length, top + module * 1.002  # no white hairline between rows
    return (left, top), (right, top), (right, bottom), (left, bottom)
