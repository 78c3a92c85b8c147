"""The tree of cuts of one sheet: what is sawn from what.

A run saws one piece in one direction into pieces, in order, from the reference end.
Nested runs alternate in direction, so a run's depth is the level of its cuts: level 1
cuts the sheet, level 2 its strips, level 3 the blocks of a strip, level 4 is the last
trim. Only a board too heavy to turn is sawn into halves first, which cuts of level 1 saw
further. Placements, falls and yield are derived from the tree, never stored beside it.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import takewhile

from shared.geometry import Rect
from shared.lengths import Length
from shared.parts import Copy
from shared.shop import Axis


@dataclass(frozen=True, slots=True, kw_only=True)
class Place:
    """A copy of a part that fills its piece exactly; turned means its length lies along y."""

    part: str
    copy: int
    turned: bool = False

    @property
    def key(self) -> Copy:
        """Which copy it is."""
        return self.part, self.copy


@dataclass(frozen=True, slots=True, kw_only=True)
class Piece:
    """What one cut of a run saws off: its size along the run, and what becomes of it.

    Attributes
    ----------
    size
        Extent in ticks at right angles to the cuts of the run (a strip's width, a
        block's length).
    run
        The cuts that divide it further, or ``None``.
    place
        The part it is, or ``None``; with neither it is waste or an offcut.
    """

    size: Length
    run: "Run | None" = None
    place: Place | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Run:
    """Cuts in one direction over one piece.

    Attributes
    ----------
    axis
        Direction of the cuts: rips stack pieces along y, crosscuts along x.
    trim
        Stock lost at the reference end before the first piece, kerf included; 0 for none.
    pieces
        In order from the reference end, one kerf between neighbours. What is left
        beyond the last is the fall.
    kerf
        That of the table saw, in ticks, where all its pieces are sawn off there; 0 where they
        are sawn off with the saw that cuts the sheet. A trim is always that saw's.
    """

    axis: Axis
    trim: Length = 0
    pieces: tuple[Piece, ...] = ()
    kerf: Length = 0

    def kerf_or(self, kerf: Length) -> Length:
        """Return the kerf between its pieces; ``kerf`` is that of the saw that cuts the sheet."""
        return self.kerf or kerf


def extent(rect: Rect, axis: Axis) -> Length:
    """Return a rectangle's extent at right angles to cuts of that axis, in ticks."""
    return rect.width if axis is Axis.RIP else rect.length


def span(rect: Rect, axis: Axis) -> Length:
    """Return the length of a cut of that axis through the rectangle, in ticks."""
    return rect.length if axis is Axis.RIP else rect.width


def slice_of(rect: Rect, axis: Axis, start: Length, size: Length) -> Rect:
    """Return the slice of a rectangle from ``start`` (relative to its reference end)."""
    if axis is Axis.RIP:
        return Rect(x=rect.x, y=rect.y + start, length=rect.length, width=size)
    return Rect(x=rect.x + start, y=rect.y, length=size, width=rect.width)


def piece_rects(run: Run, rect: Rect, kerf: Length) -> Iterator[tuple[Piece, Rect]]:
    """Yield each piece of a run over ``rect`` with its rectangle, in order."""
    start, between = run.trim, run.kerf_or(kerf)
    for piece in run.pieces:
        yield piece, slice_of(rect, run.axis, start, piece.size)
        start += piece.size + between


def left_over(run: Run, rect: Rect, kerf: Length) -> Length:
    """Return what is left beyond the last piece, in ticks.

    0 is an exact ending (no cut), up to one kerf a skim, more an offcut of
    ``left - kerf``; negative when the pieces do not fit. Without pieces it is all
    behind the trim.
    """
    gaps = run.kerf_or(kerf) * max(0, len(run.pieces) - 1)
    return extent(rect, run.axis) - run.trim - sum(p.size for p in run.pieces) - gaps


def places(run: Run | None, rect: Rect, kerf: Length) -> Iterator[tuple[Place, Rect]]:
    """Yield every part in the tree with its rectangle in the sheet's frame."""
    if run is None:
        return
    for piece, inside in piece_rects(run, rect, kerf):
        if piece.place is not None:
            yield piece.place, inside
        yield from places(piece.run, inside, kerf)


def runs(
    run: Run | None, rect: Rect, kerf: Length, level: int = 1
) -> Iterator[tuple[int, Run, Rect]]:
    """Yield every run of the tree with its level and the rectangle it saws, parents first."""
    if run is None:
        return
    yield level, run, rect
    for piece, inside in piece_rects(run, rect, kerf):
        yield from runs(piece.run, inside, kerf, level + 1)


def halves(run: Run) -> int:
    """Count the pieces of a run, before all others, that cuts of its direction saw further."""
    halves_only = takewhile(lambda one: one.run and one.run.axis is run.axis, run.pieces)
    return sum(1 for _ in halves_only)


def strips(run: Run, rect: Rect, kerf: Length) -> Iterator[tuple[Piece, Rect]]:
    """Yield what cuts of its direction make of a sheet, those in halves too, as `piece_rects`."""
    for piece, inside in piece_rects(run, rect, kerf):
        if piece.run is not None and piece.run.axis is run.axis:
            yield from strips(piece.run, inside, kerf)
        else:
            yield piece, inside


def passes(run: Run, left: Length) -> int:
    """Return how many cuts a run takes when ``left`` is left over beyond its last piece."""
    return (1 if run.trim else 0) + len(run.pieces) - (1 if left == 0 else 0)
