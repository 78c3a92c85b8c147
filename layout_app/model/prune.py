"""Taking parts out of a tree of cuts: what was sawn off there becomes waste."""

from collections.abc import Collection
from dataclasses import replace

from shared.geometry import Rect
from shared.lengths import Length
from shared.parts import Copy
from shared.tree import Piece, Run, piece_rects


def pruned(
    run: Run, rect: Rect, kerf: Length, stay: Collection[Copy], made: Collection[Rect] = ()
) -> Run | None:
    """Return a run in which only some copies are parts; ``None`` if nothing of it is left.

    A piece without any of them is not sawn further, unless a cut of it is made already.

    Parameters
    ----------
    run, rect
        The cuts, and the piece they are made in, in the frame of its sheet.
    kerf
        In ticks.
    stay
        The copies that stay.
    made
        The dust of cuts that are made; these stay as well.
    """
    pieces = tuple(
        _pruned_piece(piece, box, kerf, stay, made) for piece, box in piece_rects(run, rect, kerf)
    )
    if any(piece.run is not None or piece.place is not None for piece in pieces):
        return replace(run, pieces=pieces)
    return replace(run, pieces=pieces) if any(rect.contains(dust) for dust in made) else None


def _pruned_piece(
    piece: Piece, box: Rect, kerf: Length, stay: Collection[Copy], made: Collection[Rect]
) -> Piece:
    if piece.place is not None:
        stays = piece.place.key in stay
        return piece if stays else replace(piece, place=None)
    if piece.run is None:
        return piece
    return replace(piece, run=pruned(piece.run, box, kerf, stay, made))
