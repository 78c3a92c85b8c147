"""Match groups: parts cut from one block so that the figure flows across them.

All copies of the parts that name a group fill its grid row by row, in the order of the
take-off. Beside each other lie parts of one width, above each other parts of one length,
one kerf between neighbours. A grid too large for every sheet is split at whole rows, a
row too long at whole parts, so that it falls into the fewest consecutive blocks.
"""

from collections import Counter
from collections.abc import Callable, Collection, Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import groupby
from operator import itemgetter
from typing import TypeAlias, TypeVar

from shared.finding import called
from shared.fit import Fit, fit
from shared.job import Job
from shared.lengths import Length
from shared.parts import Bands, Part

Copy: TypeAlias = tuple[str, int]
"""Part id and number of the copy, from 1."""
Cell: TypeAlias = tuple[Part, int]
"""A part, and the number of the copy."""
Cells: TypeAlias = tuple[Cell, ...]
Thing = TypeVar("Thing")


@dataclass(frozen=True, slots=True, kw_only=True)
class Block:
    """A full grid of parts that is sawn from one piece.

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
    return f"{called(part)} {copy}" if part.copies > 1 else called(part)


def rows_of(cells: Cells, columns: int) -> tuple[Cells, ...]:
    """Return the cells in rows of so many; the last may be shorter."""
    return tuple(cells[at : at + columns] for at in range(0, len(cells), columns))


def blocks_of(job: Job, group: str) -> tuple[Block, ...]:
    """Return the blocks a sound group is cut from, in order; more than one where it must split.

    A member too large for every sheet is a block by itself.
    """
    rows = rows_of(members(job, group), job.columns_of(group))
    material = rows[0][0][0].material
    stock = [row for row in job.stock if row.material == material and row.at_hand != 0]
    kerf = max(job.shop.kerf, 0)

    def fits(block: Block) -> bool:
        part = block.as_part()
        return any(fit(part, row, kerf) is Fit.FITS for row in stock)

    return split(Block(rows=rows, kerf=kerf), fits)


def split(block: Block, fits: Callable[[Block], bool]) -> tuple[Block, ...]:
    """Return the fewest consecutive blocks that fit: whole rows, or parts of one row.

    Notes
    -----
    Taking as many rows as fit, again and again, gives the fewest: part of a block that
    fits, fits too. A row that does not fit by itself is split in the same way.
    """

    def row_fits(*rows: Cells) -> bool:
        return fits(Block(rows=rows, kerf=block.kerf))

    def cells_fit(*cells: Cell) -> bool:
        return fits(Block(rows=(cells,), kerf=block.kerf))

    found: list[Block] = []
    for rows in _as_many_as_fit(block.rows, row_fits):
        if len(rows) > 1 or row_fits(*rows):
            found.append(Block(rows=rows, kerf=block.kerf))
        else:
            shorter = _as_many_as_fit(rows[0], cells_fit)
            found += [Block(rows=(cells,), kerf=block.kerf) for cells in shorter]
    return tuple(found)


def _as_many_as_fit(
    things: Sequence[Thing], fit: Callable[..., bool]
) -> Iterator[tuple[Thing, ...]]:
    """Yield consecutive things, each time as many as fit, but at least one."""
    taken: tuple[Thing, ...] = ()
    for thing in things:
        if taken and not fit(*taken, thing):
            yield taken
            taken = ()
        taken = (*taken, thing)
    if taken:
        yield taken


def without(block: Block, settled: Collection[Copy]) -> tuple[Block, ...]:
    """Return what is left of a block, in order, when some of its members lie elsewhere.

    Rows that are whole stay together with whole neighbours; of a broken row the members
    that are still neighbours do.
    """
    found: list[Block] = []
    for rows, whole in _runs([(row, _is_whole(row, settled)) for row in block.rows]):
        if whole:
            found.append(Block(rows=rows, kerf=block.kerf))
        else:
            found += [b for row in rows for b in _rest_of_row(row, settled, block.kerf)]
    return tuple(found)


def _is_whole(row: Cells, settled: Collection[Copy]) -> bool:
    return not any((part.id, copy) in settled for part, copy in row)


def _rest_of_row(row: Cells, settled: Collection[Copy], kerf: Length) -> Iterator[Block]:
    flags = [((part, copy), (part.id, copy) not in settled) for part, copy in row]
    for cells, left in _runs(flags):
        if left:
            yield Block(rows=(cells,), kerf=kerf)


def _runs(flagged: Sequence[tuple[Thing, bool]]) -> Iterator[tuple[tuple[Thing, ...], bool]]:
    """Yield neighbours of one flag together."""
    for flag, group in groupby(flagged, key=itemgetter(1)):
        yield tuple(thing for thing, _ in group), flag
