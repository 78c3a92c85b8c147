"""Keys of passes: they say what is sawn off, whatever the order of the cuts is."""

from collections import Counter
from collections.abc import Iterator
from typing import Final

from shared.lengths import Length
from shared.parts import Copy
from shared.shop import Axis
from shared.tree import Piece, Run

REST: Final = "+"
"""Ends the name that stands for the rest of a piece in keys."""


def piece_key(piece: Piece, level: int, name: str, wastes: Counter[Length]) -> str:
    """Return the key of the pass that saws a piece off in a run of that level.

    ``name`` stands for the piece that the run saws up; ``wastes`` counts its pieces of
    waste so far, by size, and is counted on.
    """
    content = content_of(piece)
    if content:
        return f"{level}/{content}"
    wastes[piece.size] += 1
    return f"{level}w{piece.size}-{wastes[piece.size]}/{name}"


def level_of(run: Run, axis: Axis | None, level: int) -> int:
    """Return the level of a run in a piece that comes from a run of that axis and level.

    A level has cuts of one direction: one that repeats a direction lies two deeper.
    """
    return level + (2 if run.axis is axis else 1)


def sheet_name(sheet: str) -> str:
    """Return what stands for a sheet in keys, as long as no part lies on it."""
    return f"sheet {sheet}"


def rest_name(name: str) -> str:
    """Return what stands in keys for the rest of a piece, as long as no part lies in it."""
    return name + REST


def content_of(piece: Piece) -> str:
    """Name a piece by the first copy of a part in it; ``""`` for waste."""
    first = min(copies_in(piece), default=None)
    return "" if first is None else f"{first[0]}:{first[1]}"


def copies_in(piece: Piece) -> Iterator[Copy]:
    """Yield part id and copy of every part in a piece."""
    if piece.place is not None:
        yield piece.place.part, piece.place.copy
    if piece.run is not None:
        for inner in piece.run.pieces:
            yield from copies_in(inner)
