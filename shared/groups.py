"""Match groups: parts cut from one block so that the figure flows across them.

All copies of the parts that name a group fill its grid row by row, in the order of the
take-off. Beside each other lie parts of one width, above each other parts of one length,
one kerf between neighbours. A grid too large for every sheet is split between rows, or
between columns where rows are too long, so that it falls into the fewest blocks.
"""

from bisect import bisect_left
from collections import Counter
from collections.abc import Callable, Collection, Iterator, Sequence
from dataclasses import dataclass, replace
from functools import partial
from itertools import groupby, pairwise
from operator import itemgetter
from typing import NamedTuple, TypeAlias, TypeVar

from shared.finding import called
from shared.fit import Fit, fit
from shared.job import Job
from shared.lengths import Length
from shared.parts import Bands, Copy, Part, numbered

Cell: TypeAlias = tuple[Part, int]
"""A part, and the number of the copy."""
Cells: TypeAlias = tuple[Cell, ...]
Thing = TypeVar("Thing")


@dataclass(frozen=True, slots=True, kw_only=True)
class PartGrid:
    """A grid of parts that is sawn from one piece; full, but for what has to be split yet.

    Attributes
    ----------
    rows
        From the first row on, each from its first part on. Cells of a row have one cut
        width, those of a column one cut length.
    kerf
        Between neighbours, in ticks.
    """

    rows: tuple[Cells, ...]
    kerf: Length

    @property
    def cells(self) -> Cells:
        """All cells, row by row."""
        return tuple(cell for row in self.rows for cell in row)

    @property
    def copies(self) -> tuple[Copy, ...]:
        """Part id and copy of all cells, row by row."""
        return tuple((part.id, copy) for part, copy in self.cells)

    @property
    def widths(self) -> tuple[Length, ...]:
        """Cut width of each row, in ticks."""
        return tuple(row[0][0].cut_width for row in self.rows)

    @property
    def lengths(self) -> tuple[Length, ...]:
        """Cut length of each column, in ticks."""
        return tuple(part.cut_length for part, _ in self.rows[0])

    def part(self, rows: range, columns: range) -> "PartGrid":
        """Return the block that neighbouring rows and columns of it make.

        A row that ends before these columns is no part of it.
        """
        runs = (self.rows[n][columns.start : columns.stop] for n in rows)
        return PartGrid(rows=tuple(run for run in runs if run), kerf=self.kerf)

    def as_part(self) -> Part:
        """Return the block as one part that lies by the rule of its members."""
        first, _ = self.rows[0][0]
        return replace(
            first,
            length=sum(self.lengths) + self.kerf * (len(self.lengths) - 1),
            width=sum(self.widths) + self.kerf * (len(self.widths) - 1),
            copies=1,
            bands=Bands(),
            fit_allowance=0,
            show=any(part.show for row in self.rows for part, _ in row),
        )


def members(job: Job, group: str) -> Cells:
    """Return all cells of a group in the order of the take-off."""
    return tuple(
        (part, copy)
        for part in job.parts
        if part.group == group
        for copy in range(1, part.copies + 1)
    )


def names(job: Job) -> tuple[str, ...]:
    """Return the groups that have more than one member, in order of first mention."""
    counts: Counter[str] = Counter()
    for part in job.parts:
        counts[part.group] += max(part.copies, 0)
    return tuple(name for name, count in counts.items() if name and count > 1)


def cell_called(cell: Cell) -> str:
    """Return what a member is called in a sentence, such as ``Drawer front 4``."""
    part, copy = cell
    return numbered(called(part), copy, part.copies)


def rows_of(cells: Cells, columns: int) -> tuple[Cells, ...]:
    """Return the cells in rows of so many; the last may be shorter."""
    return tuple(cells[at : at + columns] for at in range(0, len(cells), columns))


def neighbours(rows: Sequence[Cells]) -> Iterator[tuple[Copy, Copy, bool]]:
    """Yield neighbours in a grid: the second behind the first in its row (``True``), or below."""
    for row in rows:
        copies = [(part.id, copy) for part, copy in row]
        yield from ((one, other, True) for one, other in pairwise(copies))
    for upper, lower in pairwise(rows):
        for (part, copy), (below, other) in zip(upper, lower, strict=False):
            yield (part.id, copy), (below.id, other), False


def blocks_of(job: Job, group: str) -> tuple[PartGrid, ...]:
    """Return the blocks a sound group is cut from, in order; more than one where it must split.

    A member too large for every sheet is a block by itself.
    """
    rows = rows_of(members(job, group), job.columns_of(group))
    material = rows[0][0][0].material
    stock = [row for row in job.stock if row.material == material and row.at_hand != 0]
    kerf = max(job.shop.kerf, 0)

    def fits(block: PartGrid) -> bool:
        part = block.as_part()
        return any(fit(part, row, kerf) is Fit.FITS for row in stock)

    return split(PartGrid(rows=rows, kerf=kerf), fits)


def split(block: PartGrid, fits: Callable[[PartGrid], bool]) -> tuple[PartGrid, ...]:
    """Return the fewest blocks that fit, row by row, when the figure breaks in straight lines.

    Every row breaks at the same places. The blocks are as even as they can be, and of ways
    with equally many the one that leaves more rows whole is taken. A member that fits
    nothing is a block by itself.

    Notes
    -----
    Part of a block that fits, fits too, so only the largest block has to be tried. With one
    size of sheet no way to cut the grid up takes fewer blocks, straight or not: where rows
    are taken as long as they fit, and columns likewise, those that begin anew meet in cells
    of which no two can lie in one block.
    """
    kerf, most = block.kerf, len(block.rows)
    widest = max(range(len(block.lengths)), key=block.lengths.__getitem__)
    found = _Ways(*(_evenly(sizes, kerf, len(sizes)) for sizes in (block.widths, block.lengths)))
    least = _fewest(most, lambda rows: _fit(fits, block, rows, range(widest, widest + 1)))
    for count in range(least, most + 1):
        if count > found.blocks:
            break
        bands = _evenly(block.widths, kerf, count)
        tallest = max(bands, key=lambda rows: _extent(block.widths, rows, kerf))
        beside = _fewest(len(block.lengths), partial(_fit, fits, block, tallest))
        way = _Ways(bands, _evenly(block.lengths, kerf, beside))
        found = min(found, way, key=lambda one: (one.blocks, len(one.columns)))
    parted = (block.part(rows, run) for rows in found.rows for run in found.columns)
    return tuple(one for one in parted if one.rows)


def _fit(fits: Callable[[PartGrid], bool], block: PartGrid, rows: range, columns: range) -> bool:
    return fits(block.part(rows, columns))


class _Ways(NamedTuple):
    """Where the rows of a grid are parted, and where the columns are."""

    rows: tuple[range, ...]
    columns: tuple[range, ...]

    @property
    def blocks(self) -> int:
        return len(self.rows) * len(self.columns)


def _extent(sizes: Sequence[Length], run: range, kerf: Length) -> Length:
    """Return what neighbours take together, in ticks."""
    return sum(sizes[run.start : run.stop]) + kerf * (len(run) - 1)


def _fewest(number: int, fit: Callable[[range], bool]) -> int:
    """Count the runs of neighbours when each time as many are taken as fit, but at least one."""
    runs, start = 1, 0
    for end in range(1, number):
        if not fit(range(start, end + 1)):
            runs, start = runs + 1, end
    return runs


def _evenly(sizes: Sequence[Length], kerf: Length, most: int) -> tuple[range, ...]:
    """Return at most so many runs of neighbours of which the longest is as short as can be."""
    longest = range(max(sizes), _extent(sizes, range(len(sizes)), kerf) + 1)
    least = bisect_left(longest, True, key=lambda room: len(_within(sizes, kerf, room)) <= most)
    return _within(sizes, kerf, longest[least])


def _within(sizes: Sequence[Length], kerf: Length, room: Length) -> tuple[range, ...]:
    """Return the runs of neighbours when each time as many are taken as go into a room."""
    found, start = list[range](), 0
    for end in range(1, len(sizes) + 1):
        if end == len(sizes) or _extent(sizes, range(start, end + 1), kerf) > room:
            found.append(range(start, end))
            start = end
    return tuple(found)


def without(block: PartGrid, settled: Collection[Copy]) -> tuple[PartGrid, ...]:
    """Return what is left of a block, in order, when some of its members lie elsewhere.

    Rows that are whole stay together with whole neighbours; of a broken row the members
    that are still neighbours do.
    """
    found: list[PartGrid] = []
    flags = [(row, not any((part.id, copy) in settled for part, copy in row)) for row in block.rows]
    for rows, whole in _runs(flags):
        if whole:
            found.append(PartGrid(rows=rows, kerf=block.kerf))
        else:
            found += [b for row in rows for b in _rest_of_row(row, settled, block.kerf)]
    return tuple(found)


def _rest_of_row(row: Cells, settled: Collection[Copy], kerf: Length) -> Iterator[PartGrid]:
    flags = [((part, copy), (part.id, copy) not in settled) for part, copy in row]
    for cells, left in _runs(flags):
        if left:
            yield PartGrid(rows=(cells,), kerf=kerf)


def _runs(flagged: Sequence[tuple[Thing, bool]]) -> Iterator[tuple[tuple[Thing, ...], bool]]:
    """Yield neighbours of one flag together."""
    for flag, group in groupby(flagged, key=itemgetter(1)):
        yield tuple(thing for thing, _ in group), flag
