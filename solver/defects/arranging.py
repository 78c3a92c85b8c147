"""From sheets planned as if they had no bad places to sheets that are used around them.

The strips of a sheet may lie in any order, and so may the blocks of a strip and what the
strips leave. The order is looked for in which least has to give way to the bad places;
that decides which strips become bands and how wide they are.
"""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace
from random import Random
from typing import NamedTuple

from shared.lengths import Length
from solver.budget.stop import Stop
from solver.material.around import (
    DefectBox,
    Lane,
    SheetAroundDefects,
    crossing,
    gaps,
    lanes_of,
    spots_of,
)
from solver.material.instance import Block, Instance, Laid, Solution, Strip
from solver.material.rooms import Room

ORDERS = 300
"""Orders of strips that are tried on one sheet of a row."""
ROWS = 8
"""Rows of equal sheets that are tried for one sheet."""

Placed = tuple[tuple[str, int], tuple[Strip, ...]]
"""Place of a room, and the strips in it; of a band one strip."""


class Chance(NamedTuple):
    """What orders are tried, and for how long."""

    rng: Random
    stop: Stop


class Arranged(NamedTuple):
    """A sheet used around its bad places: what lies on it, and the area that had to go."""

    sheet: SheetAroundDefects
    placed: tuple[Placed, ...]
    lost: int


class Arrangement(NamedTuple):
    """A solution spread around bad places: such sheets, and those that have none."""

    arranged: tuple[Arranged, ...]
    sound: tuple[Laid, ...]

    @property
    def lost(self) -> int:
        """Area of what found no place again."""
        return sum(one.lost for one in self.arranged)


def spread(
    instance: Instance,
    rooms: Sequence[Room],
    solution: Solution,
    chance: Chance,
    name: str,
) -> Arrangement:
    """Return the sheets of a solution around the bad places that their rows really have.

    Parameters
    ----------
    instance, rooms, solution
        A material without its bad places; the rooms have the rows with them.
    chance
        Chooses the orders that are tried; once it is stopped, one a sheet.
    name
        What the names of the sheets begin with.
    """
    spreader = _Spreader(instance, rooms, chance)
    arranged: list[Arranged] = []
    sound: list[Laid] = []
    for laid in sorted(solution.sheets, key=lambda one: -_filled(instance, one)):
        if instance.is_room(laid.kind):
            sound.append(laid)
            continue
        tight = _tight(instance, laid)
        kind, found = spreader.best(tight, f"{name} {len(arranged) + 1}")
        if found is None:
            sound.append(tight._replace(kind=kind))
        else:
            arranged.append(found)
    return Arrangement(tuple(arranged), tuple(sound))


def _filled(instance: Instance, laid: Laid) -> int:
    return sum(_area(instance, block) for strip in laid.strips for block in strip.blocks)


def _area(instance: Instance, block: Block) -> int:
    items = (instance.items[lying.item] for lying in block.stack)
    return sum(item.length * item.width for item in items)


def _tight(instance: Instance, laid: Laid) -> Laid:
    """Return a sheet whose strips and blocks are no larger than what lies in them."""
    if instance.limits.bind:
        return laid
    tight = (
        instance.strip(instance.block(block.stack) for block in strip.blocks)
        for strip in laid.strips
    )
    return laid._replace(strips=tuple(tight))


class _Spreader:
    """Chooses for one sheet after the other the row that suits it best."""

    def __init__(self, instance: Instance, rooms: Sequence[Room], chance: Chance) -> None:
        self._instance, self._rooms, self._chance = instance, rooms, chance
        self._left = [row.at_hand for row in instance.rows]

    def best(self, laid: Laid, key: str) -> tuple[int, Arranged | None]:
        """Return the kind, of a row with sheets left, on which least is lost, and how."""
        kind, found = self._best(laid, key)
        row = self._instance.kinds[kind].row
        left = self._left[row]
        self._left[row] = None if left is None else left - 1
        return kind, found

    def _best(self, laid: Laid, key: str) -> tuple[int, Arranged | None]:
        best: tuple[int, Arranged | None] = laid.kind, None
        for kind in self._alike(laid.kind):
            if not self._rooms[kind].stock.no_go:
                return kind, None
            found = _arranged(self._instance, self._rooms[kind], laid, self._chance, key)
            if best[1] is None or found.lost < best[1].lost:
                best = kind, found
            if not found.lost or self._chance.stop:
                break
        return best

    def _alike(self, kind: int) -> list[int]:
        """Return the kinds a sheet may as well lie on, sound ones first, then its own."""
        kinds, rows = self._instance.kinds, self._instance.rows
        wanted, row = kinds[kind], rows[kinds[kind].row]
        same = [
            number
            for number, other in enumerate(kinds)
            if self._left[other.row] != 0
            and replace(other, row=wanted.row) == wanted
            and replace(rows[other.row], stock=row.stock, at_hand=row.at_hand) == row
        ]
        return sorted(same, key=lambda n: (bool(self._rooms[n].stock.no_go), n != kind))[:ROWS]


def _arranged(instance: Instance, room: Room, laid: Laid, chance: Chance, key: str) -> Arranged:
    """Return the best of some orders of a sheet's strips."""
    loss = _Loss(instance, room)
    best, least = [*laid.strips, None], -1
    for order in _orders(instance, room, laid, chance.rng):
        lost = loss(order)
        if least < 0 or lost < least:
            best, least = order, lost
        if not least or chance.stop:
            break
    return _in_order(instance, room, best, key)


class _Loss:
    """Area that gives way to the bad places of a sheet when strips lie in an order."""

    def __init__(self, instance: Instance, room: Room) -> None:
        self._instance, self._room = instance, room
        self._spots = spots_of(room)
        self._known: dict[tuple[Strip, tuple[DefectBox, ...]], int] = {}

    def __call__(self, order: Sequence[Strip | None]) -> int:
        kerf, unit = self._room.kerf, self._instance.unit
        begins = _begins(self._room, order, unit)
        return sum(
            self._of(strip, tuple(crossing(self._spots, begin, strip.width * unit, kerf)))
            for begin, strip in begins
        )

    def _of(self, strip: Strip, across: tuple[DefectBox, ...]) -> int:
        if not across:
            return 0
        key = strip, across
        if key not in self._known:
            self._known[key] = self._lost(strip, across)
        return self._known[key]

    def _lost(self, strip: Strip, across: tuple[DefectBox, ...]) -> int:
        instance, room = self._instance, self._room
        taken = [(one.left, one.right) for one in across]
        free = [span.size for span in gaps(taken, room.length, room.kerf)]
        inside = _packed(instance, free, strip.blocks)
        kept = sum(_area(instance, block) for some in inside for block in some)
        return sum(_area(instance, block) for block in strip.blocks) - kept


def _orders(
    instance: Instance, room: Room, laid: Laid, rng: Random
) -> Iterator[list[Strip | None]]:
    """Yield orders of strips, with ``None`` for what they leave: as they are first."""
    strips = sorted(laid.strips, key=lambda strip: -strip.width)
    spare = room.width - sum(strip.width for strip in laid.strips) * instance.unit
    yield [*strips, None]
    for _ in range(ORDERS):
        rng.shuffle(strips)
        # A piece of waste is a kerf wide at least.
        at = rng.randrange(len(strips) + 1) if spare >= 2 * room.kerf else len(strips)
        yield [*strips[:at], None, *strips[at:]]


def _in_order(instance: Instance, room: Room, order: Sequence[Strip | None], key: str) -> Arranged:
    """Lay strips in an order; blocks that bad places leave no room for are lost."""
    unit = instance.unit
    widths = [None if strip is None else strip.width * unit for strip in order]
    sheet = SheetAroundDefects(whole=room, lanes=lanes_of(room, key, widths))
    placed: list[Placed] = []
    full: dict[tuple[str, int], list[Strip]] = {}
    for begin, strip in _begins(room, order, unit):
        lane = _lane_at(sheet.lanes, begin)
        if lane.room is not None and lane.room.place is not None:
            full.setdefault(lane.room.place, []).append(strip)
            continue
        cells = [cell.room for cell in lane.cells]
        inside = _packed(instance, [cell.length for cell in cells], strip.blocks)
        for cell, blocks in zip(cells, inside, strict=True):
            if blocks and cell.place is not None:
                placed.append((cell.place, (Strip(strip.width, tuple(blocks)),)))
    placed += [(place, tuple(strips)) for place, strips in full.items()]
    laid = (strip for _, strips in placed for strip in strips)
    kept = sum(_area(instance, block) for strip in laid for block in strip.blocks)
    every = (block for strip in order if strip is not None for block in strip.blocks)
    return Arranged(sheet, tuple(placed), sum(_area(instance, block) for block in every) - kept)


def _begins(room: Room, order: Sequence[Strip | None], unit: int) -> Iterator[tuple[Length, Strip]]:
    """Yield where each strip begins."""
    spare = room.width - sum(strip.width for strip in order if strip is not None) * unit
    at: Length = 0
    for strip in order:
        if strip is not None:
            yield at, strip
        at += spare if strip is None else strip.width * unit


def _lane_at(lanes: Iterable[Lane], begin: Length) -> Lane:
    return next(lane for lane in lanes if lane.begin <= begin < lane.begin + lane.width)


def _packed(
    instance: Instance, free: Sequence[Length], blocks: Sequence[Block]
) -> list[list[Block]]:
    """Lay blocks into the cells of a band, so that as much area as may be finds room.

    Longest first, largest first and widest first, each where it fits best.
    """
    found = (
        _in_turn(instance, free, sorted(blocks, key=key, reverse=True))
        for key in (
            lambda block: block.length,
            lambda block: _area(instance, block),
            lambda block: _area(instance, block) / block.length,
        )
    )
    return max(found, key=lambda inside: sum(_area(instance, b) for some in inside for b in some))


def _in_turn(
    instance: Instance, free: Sequence[Length], blocks: Sequence[Block]
) -> list[list[Block]]:
    left = list(free)
    inside: list[list[Block]] = [[] for _ in free]
    for block in blocks:
        length = block.length * instance.unit
        fitting = [number for number, room in enumerate(left) if room >= length]
        if fitting:
            number = min(fitting, key=left.__getitem__)
            left[number] -= length
            inside[number].append(block)
    return inside
