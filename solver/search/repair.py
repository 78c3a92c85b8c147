"""Make laid sheets keep to the shop's limits: take off what breaks one, and lay it elsewhere.

What is laid by least waste keeps to the limits of blocks as it grows, but a strip that
shrinks, or a sheet that fills up, may end in a cut that the shop cannot make.
"""

from collections.abc import Callable, Iterator, Sequence

from solver.limits.cut_run import CutRun, broken
from solver.limits.measure import sawn_sheet, sawn_strip
from solver.limits.single_item import alone
from solver.material.instance import Laid
from solver.search.state import (
    Cell,
    Piece,
    Rip,
    SearchTable,
    Sheet,
    freeze_rip,
    freeze_sheet,
    put_cell,
)

Opener = Callable[[int], Sheet | None]


def mend(table: SearchTable, sheets: list[Sheet], left: list[int], opener: Opener) -> list[int]:
    """Change sheets until they keep to the limits; return the items that then are on none.

    ``left`` found no place before; ``opener`` is asked for new sheets.
    """
    loose = [*left, *(item for sheet in sheets for item in _loosen(table, sheet))]
    sheets[:] = [sheet for sheet in sheets if sheet.rips]
    loose.sort(key=lambda item: -table.area[item])
    return [item for item in loose if not _put(table, sheets, item, opener)]


def _loosen(table: SearchTable, sheet: Sheet) -> Iterator[int]:
    """Take off a sheet what breaks a limit, and yield it."""
    for rip in sheet.rips:
        bad = [cell for cell in _cells(rip) if not block_keeps(table, rip.width, cell)]
        yield from _take(table, sheet, rip, bad)
        if _cells(rip) and _breaks(table, sawn_strip(table.instance, sheet.kind, freeze_rip(rip))):
            yield from _take(table, sheet, rip, _cells(rip))
    sheet.rips = [rip for rip in sheet.rips if rip.blocks]
    while sheet.rips and _breaks(table, sawn_sheet(table.instance, freeze_sheet(sheet))):
        narrowest = min(sheet.rips, key=lambda rip: rip.width)
        yield from _take(table, sheet, narrowest, _cells(narrowest))
        sheet.rips.remove(narrowest)
    sheet.free = table.width[sheet.kind] - sum(rip.width for rip in sheet.rips)


def _cells(rip: Rip) -> list[Cell]:
    return [*rip.open, *rip.closed]


def _take(table: SearchTable, sheet: Sheet, rip: Rip, cells: Sequence[Cell]) -> Iterator[int]:
    """Take blocks off a strip, whose width stays, and yield their items."""
    for cell in cells:
        (rip.open if cell in rip.open else rip.closed).remove(cell)
        rip.free += cell[0]
        for _, _, item, _ in cell[2]:
            sheet.used -= table.area[item]
            yield item


def block_keeps(table: SearchTable, width: int, cell: Cell) -> bool:
    """Whether the cuts of a block in a strip of that width keep to the limits."""
    length, _, stack = cell
    limits = table.instance.limits
    widths = tuple(piece[1] for piece in stack)
    if broken(CutRun(3, widths, width, length), limits):
        return False
    return not any(broken(CutRun(4, (piece[0],), length, piece[1]), limits) for piece in stack)


def _breaks(table: SearchTable, runs: Iterator[CutRun]) -> bool:
    """Whether the first of some runs, the outermost, breaks a limit."""
    return bool(broken(next(runs), table.instance.limits))


def _put(table: SearchTable, sheets: list[Sheet], item: int, opener: Opener) -> bool:
    """Lay an item where all limits are kept, on a sheet of its own if need be."""
    for place, sheet in enumerate(sheets):
        for changed in _with(table, sheet, item):
            if _keeps(table, changed):
                sheets[place] = changed
                return True
    fresh = opener(item)
    if fresh is None:
        return False
    found = next(alone(table.instance, fresh.kind, item), None)
    if found is None:
        return False
    sheets.append(_sheet_of(table, found))
    return True


def _keeps(table: SearchTable, sheet: Sheet) -> bool:
    limits = table.instance.limits
    return not any(broken(run, limits) for run in sawn_sheet(table.instance, freeze_sheet(sheet)))


def _with(table: SearchTable, sheet: Sheet, item: int) -> Iterator[Sheet]:
    """Yield copies of a sheet with an item in a block of its own, in each strip or a new one."""
    for piece in table.lying[sheet.kind][item]:
        for number, rip in enumerate(sheet.rips):
            if rip.width >= piece[1] and rip.free >= piece[0]:
                changed = sheet.copy()
                _add(table, changed, changed.rips[number], piece)
                yield changed
        if sheet.free >= piece[1] and not table.fixed[sheet.kind]:
            changed = sheet.copy()
            changed.rips.append(Rip(piece[1], table.length[sheet.kind], [], []))
            changed.free -= piece[1]
            _add(table, changed, changed.rips[-1], piece)
            yield changed


def _add(table: SearchTable, sheet: Sheet, rip: Rip, piece: Piece) -> None:
    sheet.used += table.area[piece[2]]
    rip.free -= piece[0]
    put_cell(table, sheet.kind, rip, (piece[0], rip.width - piece[1], (piece,)))


def _sheet_of(table: SearchTable, laid: Laid) -> Sheet:
    """Return a sheet of the search with one item, that may be longer and wider than it."""
    (strip,) = laid.strips
    (block,) = strip.blocks
    (lying,) = block.stack
    length, width = table.instance.size(*lying)
    sheet = table.empty(laid.kind)
    rip = Rip(strip.width, table.length[laid.kind] - block.length, [], [])
    cell = (block.length, strip.width - width, ((length, width, *lying),))
    put_cell(table, laid.kind, rip, cell)
    sheet.rips.append(rip)
    sheet.free -= strip.width
    sheet.used += table.area[lying.item]
    return sheet
