"""Runs of narrow repeated rips, taken to the table saw where nothing is lost by it.

At the rail such strips carry nothing, or lie nearer than its guide reaches, and each is
measured at both ends; a fence is set once for all of them. The table saw takes its own kerf, so
a run goes there only if it ends in an offcut that makes up for the difference of the kerfs and
stays what it is: worth keeping, or waste.
"""

from collections import Counter
from dataclasses import replace

from shared.cuts.pass_keys import copies_in
from shared.cuts.table_runs import can_be_tabled, sizes
from shared.geometry import Rect
from shared.job import Job
from shared.lengths import Length
from shared.no_go import barred_by
from shared.shop import Shop
from shared.stock import Stock
from shared.tree import Run, left_over, piece_rects, places

REPEATED = 2
"""So many rips of one size are worth a way to the table saw."""


def with_table_runs(tree: Run, row: Stock, job: Job) -> Run:
    """Return the tree of a new sheet with its runs of narrow repeated rips at the table saw.

    Parameters
    ----------
    tree
        Its cuts, all with the saw on the rail, within the shop's limits.
    row
        The stock row it is of.
    job
        Whose parts lie on it, and whose shop it is.

    Notes
    -----
    The cuts of the first level stay as they are: what is held of a sheet is held by them. With a
    thinner kerf than the rail's nothing goes there: parts would lie nearer to each other than
    the rail's saw can part them, and no hand could move one of them again.
    """
    kerf = _kerf(job.shop)
    return _Tabling(row, job, kerf).inside(tree, row.whole) if kerf else tree


def may_have_table_runs(job: Job, material: str) -> bool:
    """Say whether sheets of a material could have such runs.

    Then what a model proves of the least sawing time is not proven of the plans: it knows of no
    run that is quicker, or wants another set-up, at the table saw.
    """
    if not _kerf(job.shop):
        return False
    counts: Counter[Length] = Counter()
    for part in job.parts:
        if part.material == material:
            for size in {part.cut_length, part.cut_width}:
                counts[size] += part.copies
    least = narrow(job.shop)
    return any(number >= REPEATED and size < least for size, number in counts.items())


def _kerf(shop: Shop) -> Length:
    """Return the kerf of a table saw that takes whole runs, 0 where there is none."""
    table = shop.table
    if table is None or not table.longest or table.tool == shop.tool:
        return 0
    return table.kerf if 0 < shop.kerf <= table.kerf else 0


def narrow(shop: Shop) -> Length:
    """Return below which size a rip is narrow at the rail, in ticks.

    Its guide cannot be set to it, or nothing of that width carries the rail.
    """
    return max(shop.carry, 0 if shop.guide is None else shop.guide.least)


class _Tabling:
    """Walks the tree of a sheet, parents first, so that pieces lie where they come to lie."""

    def __init__(self, row: Stock, job: Job, kerf: Length) -> None:
        self._row, self._shop, self._kerf = row, job.shop, kerf
        self._parts = {part.id: part for part in job.parts}

    def inside(self, run: Run, rect: Rect) -> Run:
        """Return a run with those in its pieces taken to the table saw."""
        pieces = tuple(
            piece if piece.run is None else replace(piece, run=self._run(piece.run, box))
            for piece, box in piece_rects(run, rect, self._shop.kerf)
        )
        return replace(run, pieces=pieces)

    def _run(self, run: Run, rect: Rect) -> Run:
        there = replace(run, kerf=self._kerf)
        goes = rect != self._row.whole and self._is_worth_it(run, rect)
        goes = goes and self._ends_alike(run, there, rect) and not self._is_matched(run)
        goes = goes and can_be_tabled(there, rect, self._row, self._shop)
        return self.inside(there if goes and self._is_clear(there, rect) else run, rect)

    def _is_worth_it(self, run: Run, rect: Rect) -> bool:
        counts = Counter(sizes(run, rect, self._shop))
        least = narrow(self._shop)
        return any(number >= REPEATED and size < least for size, number in counts.items())

    def _ends_alike(self, run: Run, there: Run, rect: Rect) -> bool:
        """Whether what a run leaves stays what it is with the kerf of the table saw."""
        shop, long = self._shop, rect.length
        if self._kerf == shop.kerf:
            return True
        fall = left_over(run, rect, shop.kerf) - shop.kerf
        less = left_over(there, rect, shop.kerf) - self._kerf
        return min(fall, less) > 0 and shop.keeps(fall, long) is shop.keeps(less, long)

    def _is_matched(self, run: Run) -> bool:
        """Whether the figure of a matched set runs on from one piece to another."""
        met: set[str] = set()
        for piece in run.pieces:
            found = (self._parts[part].group for part, _ in copies_in(piece) if part in self._parts)
            groups = set(filter(None, found))
            if groups & met:
                return True
            met |= groups
        return False

    def _is_clear(self, run: Run, rect: Rect) -> bool:
        """Whether every part lies on stock that can be used."""
        usable, bad = self._row.usable, self._row.no_go
        return all(
            usable.contains(box) and barred_by(bad, box, show=self._parts[one.part].show) is None
            for one, box in places(run, rect, self._shop.kerf)
        )
