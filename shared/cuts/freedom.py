"""How free the pieces of a run are to change places.

They are not where a figure flows across them, nor where they reach into stock that is lost
at a far edge: a part might come to lie there. And where the rail or the hands have nothing
else at the end, the largest piece has to be sawn off last.
"""

from collections.abc import Sequence

from shared.cuts.forest import PieceRun
from shared.cuts.pass_keys import copies_in
from shared.job import Job
from shared.layout import LayoutSheet
from shared.lengths import Length
from shared.plan import CutKind
from shared.recognise.allowed import Allowed, CutExtent
from shared.shop import Axis
from shared.tree import Piece, halves, left_over, span


class Freedom:
    """Says of each run of a job what its pieces may do."""

    def __init__(self, job: Job, sheets: Sequence[LayoutSheet]) -> None:
        """Take the job and the sheets the runs are on."""
        self._shop = job.shop
        # How long the cuts are is no matter of the order.
        self._allowed = Allowed.of(job.shop, job.rule)._replace(reach=None)
        self._groups = {part.id: part.group for part in job.parts if part.group}
        rows = {row.id: row for row in job.stock}
        self._rows = {sheet.id: rows[sheet.stock] for sheet in sheets}

    def is_fixed(self, run: PieceRun) -> bool:
        """Whether the pieces of a run stay where they lie."""
        return self.is_matched(run) or self._is_beyond(run)

    def is_matched(self, run: PieceRun) -> bool:
        """Whether two pieces of the run hold parts of one match group."""
        met: set[str] = set()
        for piece in run.run.pieces if self._groups else ():
            groups = {self._groups[part] for part, _ in copies_in(piece) if part in self._groups}
            if groups & met:
                return True
            met |= groups
        return False

    def _is_beyond(self, run: PieceRun) -> bool:
        """Whether the pieces reach into the stock that is lost at the far edge."""
        if not run.run.pieces:
            return False
        rip = run.run.axis is Axis.RIP
        end = (run.rect.bottom if rip else run.rect.right) - max(0, self._left(run))
        return end > self._usable(run)

    def _usable(self, run: PieceRun) -> Length:
        """Return where the stock begins that is lost at the far edge, in the sheet's frame."""
        row = self._rows[run.sheet]
        if run.run.axis is Axis.RIP:
            return row.width - row.trims.far
        return row.length - row.trims.end

    def lies_well(self, run: PieceRun, order: Sequence[int]) -> bool:
        """Whether no part comes to lie in lost stock with the pieces of a run in that order.

        ``order`` are the pieces that passes saw off, by place; what has none stays the last.
        """
        if run.finishes or not self._is_beyond(run):
            return True
        axis = run.run.axis
        at = (run.rect.y if axis is Axis.RIP else run.rect.x) + run.run.trim
        rest = range(len(order), len(run.run.pieces))
        for piece in (run.run.pieces[place] for place in (*order, *rest)):
            reach = _reach(piece, axis, piece.size, self._shop.kerf)
            if reach and at + reach > self._usable(run):
                return False
            at += piece.size + run.run.kerf_or(self._shop.kerf)
        return True

    def _left(self, run: PieceRun) -> Length:
        return left_over(run.run, run.rect, self._shop.kerf)

    def ends_with(self, run: PieceRun) -> int | None:
        """Return the piece to be sawn off last, by place, ``None`` where any may be."""
        first = halves(run.run)
        sizes = self._sizes(run)[first:]
        if len(sizes) < 2 or self.suits(run, sorted(sizes, reverse=True)):
            return None
        return first + self._allowed.best_order(sizes)[-1]

    def suits(self, run: PieceRun, sizes: Sequence[Length]) -> bool:
        """Whether the shop's limits allow pieces to be sawn off in the order of these sizes.

        Where no order is within the limits, any is as good. At the table saw any is.
        """
        if not sizes or run.finishes or run.run.kerf or not self._shop.limits_runs:
            return True
        best = [sizes[place] for place in self._allowed.best_order(sizes)]
        return self._keeps(run, sizes) or not self._keeps(run, best)

    def _keeps(self, run: PieceRun, sizes: Sequence[Length]) -> bool:
        """Whether every cut of that order is within the limits, its length aside."""
        left, kerf, axis = self._left(run), self._shop.kerf, run.run.axis
        rest = run.run.pieces[-1].size if left <= 0 else max(0, left - kerf)
        behind = rest + (kerf if rest else min(kerf, left))
        first = left > 0 and not run.run.trim and len(run.run.pieces) == 1
        carry, last_under = self._shop.carry, sizes[-1] + behind
        # The table saw makes a last cut which no order lets the rail make.
        tabled = left > 0 and max(sizes) < carry and (first or last_under >= carry)
        under = sum(sizes) + kerf * (len(sizes) - 1) + behind
        for number, size in enumerate(sizes, 1):
            last = tabled and number == len(sizes)
            stroke = CutExtent.of(axis, span(run.rect, axis), size, under, kerf, last=last)
            if self._allowed.beyond(stroke) is not None:
                return False
            under -= size + kerf
        return True

    def _sizes(self, run: PieceRun) -> list[Length]:
        """Return the sizes that passes saw off, in their order."""
        return [one.size for one in run.passes if one.kind is not CutKind.TRIM]


def _reach(piece: Piece, axis: Axis, extent: Length, kerf: Length) -> Length:
    """Return how far along an axis parts reach into a piece of that extent, 0 without parts."""
    if piece.place is not None or piece.run is None:
        return extent if piece.place is not None else 0
    if piece.run.axis is not axis:
        return max((_reach(one, axis, extent, kerf) for one in piece.run.pieces), default=0)
    at, far = piece.run.trim, 0
    for one in piece.run.pieces:
        inside = _reach(one, axis, one.size, kerf)
        far = at + inside if inside else far
        at += one.size + piece.run.kerf_or(kerf)
    return far
