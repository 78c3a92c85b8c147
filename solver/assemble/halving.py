"""Boards too heavy to turn alone: the first cut comes as near to the middle as the layout allows.

The pieces of the first run may lie in any order, so some of them are put first and sawn off
together, as a half that is ripped further; and so on with halves that are still too heavy.
In the tree a half is a piece whose own cuts have the direction of the run it comes from.
"""

from collections.abc import Iterator, Sequence
from dataclasses import replace
from itertools import combinations
from typing import Final

from shared.geometry import Rect
from shared.job import Job
from shared.lengths import Length
from shared.shop import Axis
from shared.squaring import BEYOND_KERF
from shared.stock import Stock
from shared.tree import Piece, Run, extent, left_over, piece_rects, places, slice_of, span
from shared.weighing import grams
from solver.assemble.piece_order import places as in_order
from solver.limits.cut_run import CutRun, broken, limits_of

MOST_TRIED: Final = 10
"""Of so many pieces every set is tried as a half; of more, those that lie first."""


def halved(tree: Run, row: Stock, job: Job) -> Run:
    """Return the tree of a new sheet with its first cuts nearest to the middle, if it is heavy.

    Parameters
    ----------
    tree
        Its cuts, in order, within the shop's limits.
    row
        The stock row it is of; without a density its weight is not known, and nothing changes.
    job
        Whose shop says what can be turned alone, and whose parts have equals.
    """
    strip = _whole_strip(tree, row.whole, job.shop.kerf)
    if strip is None:
        return _Halving(tree, row, job).run(tree, row.whole)
    ((only, inside),) = piece_rects(tree, row.whole, job.shop.kerf)
    blocks = _Halving(strip, row, job).run(strip, inside)
    return replace(tree, pieces=(replace(only, run=blocks),))


def _whole_strip(tree: Run, whole: Rect, kerf: Length) -> Run | None:
    """Return what saws up a board of which nothing but a trim is ripped, ``None`` of any other."""
    if len(tree.pieces) > 1 or left_over(tree, whole, kerf) > 0:
        return None
    return tree.pieces[0].run


class _Halving:
    """Takes the first run of one sheet apart into halves."""

    def __init__(self, tree: Run, row: Stock, job: Job) -> None:
        self._row, self._shop = row, job.shop
        self._limits = replace(limits_of(job.shop), guide=None)
        self._axis = tree.axis
        self._alone = {part.id for part in job.parts if part.copies == 1 and not part.group}
        trims = row.trims
        self._lost = trims.far if tree.axis is Axis.RIP else trims.end
        left = left_over(tree, row.whole, self._shop.kerf) - self._lost
        self._has_stock = left >= max(1, self._shop.kerf)

    def _is_heavy(self, rect: Rect) -> bool:
        most, row = self._shop.turn_g, self._row
        weight = grams(rect.length, rect.width, row.thickness, row.density)
        return 0 < most < weight

    def run(self, run: Run, rect: Rect) -> Run:
        """Return the cuts of a piece, the one nearest to its middle first if it is heavy."""
        if not self._is_heavy(rect) or run.axis is not self._axis or len(run.pieces) < 2:
            return run
        for half in self._halves(run, rect):
            made = self._with_half(run, rect, half)
            if made is not None:
                return made
        return run

    def _halves(self, run: Run, rect: Rect) -> Iterator[tuple[int, ...]]:
        """Yield sets of pieces that might be sawn off together, by place, nearest to half first."""
        whole, kerf = extent(rect, run.axis) - run.trim, self._shop.kerf
        free = list(range(len(run.pieces) - (left_over(run, rect, kerf) <= 0)))
        sets = (
            [one for n in range(1, len(free) + 1) for one in combinations(free, n)]
            if len(free) <= MOST_TRIED
            else [tuple(free[:n]) for n in range(1, len(free) + 1)]
        )

        def off_middle(half: tuple[int, ...]) -> tuple[Length, int, tuple[int, ...]]:
            return abs(2 * self._size(run, half) + kerf - whole), len(half), half

        yield from sorted(sets, key=off_middle)

    def _size(self, run: Run, half: Sequence[int]) -> Length:
        return sum(run.pieces[place].size for place in half) + self._shop.kerf * (len(half) - 1)

    def _with_half(self, run: Run, rect: Rect, half: Sequence[int]) -> Run | None:
        """Return a run that begins with these pieces together.

        ``None`` beyond the limits, or where a part with equals would be what remains of them
        though the sheet has stock left.
        """
        kerf, axis = self._shop.kerf, run.axis
        others = [piece for place, piece in enumerate(run.pieces) if place not in half]
        near = self._ending_well([run.pieces[place] for place in half], rect)
        size = self._size(run, half)
        first = self._in_order(near, slice_of(rect, axis, run.trim, size), lost=0)
        if first is not None and len(first) > 1 and self._leaves_equal(first[-1], rect):
            more = self._more(left_over(run, rect, kerf), rect)
            if self._has_stock and not more:
                return None
            size += more
            first = self._in_order(near, slice_of(rect, axis, run.trim, size), lost=0)
        begin = run.trim + size + kerf
        behind = slice_of(rect, axis, begin, max(0, extent(rect, axis) - begin))
        half_rect = slice_of(rect, axis, run.trim, size)
        rest = self._in_order(others, behind, lost=self._lost)
        if first is None or rest is None:
            return None
        inner = self.run(Run(axis=axis, pieces=first), half_rect)
        after = self.run(Run(axis=axis, pieces=rest), behind)
        return replace(run, pieces=(Piece(size=size, run=inner), *after.pieces))

    def _in_order(
        self, pieces: Sequence[Piece], rect: Rect, lost: Length
    ) -> tuple[Piece, ...] | None:
        """Return the pieces of a run as the limits have them, ``None`` if they forbid it."""
        if not pieces:
            return ()
        kerf, axis = self._shop.kerf, self._axis
        run = CutRun(
            1,
            tuple(piece.size + kerf for piece in pieces),
            extent(rect, axis) - lost + kerf,
            span(rect, axis) + kerf,
            exact=not lost,
            beyond=lost,
            rip=axis is Axis.RIP,
        )
        if broken(run, self._limits):
            return None
        return tuple(pieces[place] for place in in_order(run, self._limits))

    def _ending_well(self, pieces: list[Piece], rect: Rect) -> list[Piece]:
        """Put a piece last that leaves no part with equals as what remains, if there is one."""
        alone = [place for place, one in enumerate(pieces) if not self._leaves_equal(one, rect)]
        return (
            pieces
            if not alone
            else [*pieces[: alone[-1]], *pieces[alone[-1] + 1 :], pieces[alone[-1]]]
        )

    def _leaves_equal(self, piece: Piece, rect: Rect) -> bool:
        """Whether a part that has equals is only what remains, if the piece is."""
        whole = slice_of(rect, self._axis, 0, piece.size)
        only = Run(axis=self._axis, pieces=(piece,))
        return any(
            place.part not in self._alone and self._end(lies) == self._end(whole)
            for place, lies in places(only, whole, self._shop.kerf)
        )

    def _end(self, rect: Rect) -> Length:
        return rect.bottom if self._axis is Axis.RIP else rect.right

    def _more(self, left: Length, rect: Rect) -> Length:
        """Return what a half gets of the stock that is left, so that its last piece is cut too.

        That is a kerf, and what the blade wants beside it.
        """
        shop, long = self._shop, span(rect, self._axis)
        more = shop.kerf + BEYOND_KERF
        fall = left - self._lost - shop.kerf
        if fall < more or (shop.keeps(fall, long) and not shop.keeps(fall - more, long)):
            return 0
        return more
