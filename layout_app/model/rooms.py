"""What the cuts of a sheet leave free: rooms that a part could be laid into."""

from collections.abc import Collection, Iterator
from itertools import groupby

from shared.geometry import Rect
from shared.lengths import Length
from shared.parts import Copy
from shared.tree import Piece, Run, extent, left_over, piece_rects, slice_of


def rooms(run: Run | None, rect: Rect, kerf: Length, held: Collection[Copy] = ()) -> list[Rect]:
    """Return what is free in a piece that is sawn by a run, in its frame.

    Copies that are ``held`` lie there no more: their room is free, with what is free beside it.
    Without cuts nothing is a room.
    """
    return [] if run is None else list(_rooms(run, rect, kerf, held))


def _rooms(run: Run, rect: Rect, kerf: Length, held: Collection[Copy]) -> Iterator[Rect]:
    slices = [
        (_is_free(piece, held), piece, there) for piece, there in piece_rects(run, rect, kerf)
    ]
    left, own = left_over(run, rect, kerf), run.kerf_or(kerf)
    if left > own:
        start = extent(rect, run.axis) - left + own
        fall = Piece(size=left - own)
        slices.append((True, fall, slice_of(rect, run.axis, start, left - own)))
    for free, group in groupby(slices, key=lambda one: one[0]):
        some = list(group)
        if free:
            yield _joined(some[0][2], some[-1][2])
            continue
        for _, piece, there in some:
            if piece.run is not None:
                yield from _rooms(piece.run, there, kerf, held)


def _is_free(piece: Piece, held: Collection[Copy]) -> bool:
    """Say whether nothing lies in a piece but what is held."""
    if piece.run is not None:
        return all(_is_free(one, held) for one in piece.run.pieces)
    return piece.place is None or piece.place.key in held


def _joined(first: Rect, last: Rect) -> Rect:
    """Return the rectangle from one slice of a piece to another."""
    return Rect(x=first.x, y=first.y, length=last.right - first.x, width=last.bottom - first.y)
