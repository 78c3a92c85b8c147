"""A tree of cuts edited: a rip changes place, or parts leave it or get smaller.

The pieces of a run may lie in any order: their sizes and the kerfs between them take the same
room, so the run ends where it ended, and everything inside a piece moves with it. Where a part
leaves, or gets smaller, no other cut moves: what was sawn off there becomes waste.
"""

from collections.abc import Collection, Mapping
from dataclasses import replace

from shared.geometry import Rect
from shared.lengths import Length
from shared.parts import Copy
from shared.plan import CutKind, Plan
from shared.shop import Axis
from shared.tree import Piece, Place, Run, extent, piece_rects


def move_rip(tree: Run, index_from: int, index_to: int) -> Run:
    """Return the sheet's tree with one first-level piece at another place.

    Parameters
    ----------
    tree
        The tree of cuts of one sheet.
    index_from, index_to
        Place of the piece among all pieces of level 1, waste included, before and after.

    Raises
    ------
    IndexError
        If there is no such place; `why_not` says so beforehand.
    """
    if reason := why_not(tree, index_from, index_to):
        raise IndexError(reason)
    pieces = list(tree.pieces)
    pieces.insert(index_to, pieces.pop(index_from))
    return replace(tree, pieces=tuple(pieces))


def why_not(tree: Run, index_from: int, index_to: int) -> str:
    """Say in one sentence why a piece may not move there; ``""`` if it may."""
    last = len(tree.pieces) - 1
    if not 0 <= index_from <= last:
        return "No cut of the first level saws this piece off."
    if index_to < 0:
        return "Nothing is sawn off before the first piece; the trim stays the first cut."
    if index_to > last:
        return "What lies beyond the last piece is the fall; it stays at the far edge."
    return ""


def rip_index(plan: Plan, number: int) -> int | None:
    """Return which first-level piece of its sheet a cut saws off.

    ``None`` if the cut is a trim, lies deeper or in a half, or does not exist. The last piece of an
    exactly filled sheet has no cut of its own.
    """
    cut = next((cut for cut in plan.cuts if cut.number == number), None)
    if cut is None or cut.level > 1 or cut.kind is CutKind.TRIM or cut.piece != cut.sheet:
        return None
    return sum(
        other.piece == cut.sheet and other.level == 1 and other.kind is not CutKind.TRIM
        for other in plan.cuts
        if other.number < number
    )


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


def shrunk(run: Run, rect: Rect, kerf: Length, now: Mapping[Copy, Rect]) -> Run:
    """Return a run in which some parts are smaller; what is too much is sawn off each by itself.

    Parameters
    ----------
    run, rect
        The cuts, and the piece they are made in, in the frame of its sheet.
    kerf
        In ticks.
    now
        How copies lie now: each inside the piece that it filled, at its corner.
    """
    pieces = (
        _piece(piece, run.axis, box, kerf, now) for piece, box in piece_rects(run, rect, kerf)
    )
    return replace(run, pieces=tuple(pieces))


def _piece(piece: Piece, axis: Axis, box: Rect, kerf: Length, now: Mapping[Copy, Rect]) -> Piece:
    if piece.run is not None:
        return replace(piece, run=shrunk(piece.run, box, kerf, now))
    if piece.place is None:
        return piece
    lies = now.get(piece.place.key, box)
    if lies == box:
        return piece
    return replace(piece, place=None, run=_trimmed(axis.other, box, lies, piece.place))


def _trimmed(axis: Axis, box: Rect, lies: Rect, place: Place) -> Run:
    """Return the cuts that bring a piece to the size of its part: one each way that is too much."""
    inner = Piece(size=extent(lies, axis), place=place)
    if extent(lies, axis.other) < extent(box, axis.other):
        across = Piece(size=extent(lies, axis.other), place=place)
        inner = Piece(size=extent(lies, axis), run=Run(axis=axis.other, pieces=(across,)))
    return Run(axis=axis, pieces=(inner,))
