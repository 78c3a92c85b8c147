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
from solver.around import Around, Lane, lanes_of
from solver.instance import Block, Instance, Laid, Solution, Strip
from solver.rooms import Room

ORDERS = 60
"""Orders of strips that are tried on one sheet of a row."""
ROWS = 8
"""Rows of equal sheets that are tried for one sheet."""

Placed = tuple[tuple[str, int], tuple[Strip, ...]]
"""Place of a room, and the strips in it; of a band one strip."""


class Arranged(NamedTuple):
    """A sheet used around its bad places: what lies on it, and the area that had to go."""

    sheet: Around
    placed: tuple[Placed, ...]
    lost: int


class Spread(NamedTuple):
    """A solution spread around bad places: such sheets, and those that have none."""

    arranged: tuple[Arranged, ...]
    sound: tuple[Laid, ...]

    @property
    def lost(self) -> int:
        """Area of what found no place again."""
        return sum(one.lost for one in self.arranged)


def spread(
    instance: Instance, rooms: Sequence[Room], solution: Solution, rng: Random, name: str
) -> Spread:
    """Return the sheets of a solution around the bad places that their rows really have.

    Parameters
    ----------
    instance, rooms, solution
        A material without its bad places; the rooms have the rows with them.
    rng
        Chooses the orders that are tried.
    name
        What the names of the sheets begin with.
    """
    left = {number: row.at_hand for number, row in enumerate(instance.rows)}
    arranged: list[Arranged] = []
    sound: list[Laid] = []
    for laid in sorted(solution.sheets, key=lambda one: -_filled(instance, one)):
        if instance.is_room(laid.kind):
            sound.append(laid)
            continue
        tight = _tight(instance, laid)
        kind, best = _best(instance, rooms, tight, left, rng, f"{name} {len(arranged) + 1}")
        left[instance.kinds[kind].row] = _one_less(left[instance.kinds[kind].row])
        if best is None:
            sound.append(tight._replace(kind=kind))
        else:
            arranged.append(best)
    return Spread(tuple(arranged), tuple(sound))


def _one_less(count: int | None) -> int | None:
    return None if count is None else count - 1


def _filled(instance: Instance, laid: Laid) -> int:
    return sum(_area(instance, block) for strip in laid.strips for block in strip.blocks)


def _area(instance: Instance, block: Block) -> int:
    items = (instance.items[lying.item] for lying in block.stack)
    return sum(item.length * item.width for item in items)


def _tight(instance: Instance, laid: Laid) -> Laid:
    """Return a sheet whose strips and blocks are no larger than what lies in them."""
    if instance.limits.bind:
        return laid
    return laid._replace(strips=tuple(_tight_strip(instance, strip) for strip in laid.strips))


def _tight_strip(instance: Instance, strip: Strip) -> Strip:
    sizes = [[instance.size(*lying) for lying in block.stack] for block in strip.blocks]
    return Strip(
        max(sum(width for _, width in stack) for stack in sizes),
        tuple(
            Block(max(length for length, _ in stack), block.stack)
            for block, stack in zip(strip.blocks, sizes, strict=True)
        ),
    )


def _best(
    instance: Instance,
    rooms: Sequence[Room],
    laid: Laid,
    left: dict[int, int | None],
    rng: Random,
    key: str,
) -> tuple[int, Arranged | None]:
    """Return the kind, of a row with sheets left, on which least is lost, and how."""
    best: tuple[int, Arranged] | None = None
    for kind in _alike(instance, rooms, laid.kind, left):
        if not rooms[kind].stock.no_go:
            return kind, None
        found = _arranged(instance, rooms[kind], laid, rng, key)
        if best is None or found.lost < best[1].lost:
            best = kind, found
        if not best[1].lost:
            break
    assert best is not None
    return best


def _alike(
    instance: Instance, rooms: Sequence[Room], kind: int, left: dict[int, int | None]
) -> list[int]:
    """Return the kinds that a sheet may as well lie on, sound ones first, itself if it can."""
    wanted, row = instance.kinds[kind], instance.rows[instance.kinds[kind].row]
    same = [
        number
        for number, other in enumerate(instance.kinds)
        if left[other.row] != 0
        and replace(other, row=wanted.row) == wanted
        and replace(instance.rows[other.row], stock=row.stock, at_hand=row.at_hand) == row
    ]
    return sorted(same, key=lambda one: (bool(rooms[one].stock.no_go), one != kind))[:ROWS]


def _arranged(instance: Instance, room: Room, laid: Laid, rng: Random, key: str) -> Arranged:
    """Return the best of some orders of a sheet's strips."""
    orders = _orders(instance, room, laid, rng)
    found = (_in_order(instance, room, order, key) for order in orders)
    best = next(found)
    for one in found:
        if not best.lost:
            break
        if one.lost < best.lost:
            best = one
    return best


def _orders(
    instance: Instance, room: Room, laid: Laid, rng: Random
) -> Iterator[list[Strip | None]]:
    """Yield orders of strips, with ``None`` for what they leave: as they are first."""
    strips: list[Strip | None] = sorted(laid.strips, key=lambda strip: -strip.width)
    spare = room.width - sum(strip.width for strip in laid.strips) * instance.unit
    yield [*strips, None]
    for _ in range(ORDERS):
        rng.shuffle(strips)
        # A piece of waste is a kerf wide at least.
        at = rng.randrange(len(strips) + 1) if spare >= 2 * room.kerf else len(strips)
        yield [*strips[:at], None, *strips[at:]]


def _in_order(
    instance: Instance, room: Room, order: Sequence[Strip | None], key: str
) -> Arranged:
    """Lay strips in an order; blocks that bad places leave no room for are lost."""
    unit = instance.unit
    widths = [None if strip is None else strip.width * unit for strip in order]
    sheet = Around(whole=room, lanes=lanes_of(room, key, widths))
    placed: list[Placed] = []
    lost = 0
    full: dict[tuple[str, int], list[Strip]] = {}
    for begin, strip in _begins(room, order, unit):
        lane = _lane_at(sheet.lanes, begin)
        if lane.room is not None and lane.room.place is not None:
            full.setdefault(lane.room.place, []).append(strip)
            continue
        gone = list(strip.blocks)
        for place, blocks in _packed(lane, strip.blocks, unit):
            placed.append((place, (Strip(strip.width, tuple(blocks)),)))
            for block in blocks:
                gone.remove(block)
        lost += sum(_area(instance, block) for block in gone)
    placed += [(place, tuple(strips)) for place, strips in full.items()]
    return Arranged(sheet, tuple(placed), lost)


def _begins(
    room: Room, order: Sequence[Strip | None], unit: int
) -> Iterator[tuple[Length, Strip]]:
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
    lane: Lane, blocks: Sequence[Block], unit: int
) -> Iterator[tuple[tuple[str, int], list[Block]]]:
    """Yield what goes into each cell of a band: the longest blocks first, where they fit best."""
    free = [cell.room.length for cell in lane.cells]
    inside: list[list[Block]] = [[] for _ in lane.cells]
    for block in sorted(blocks, key=lambda block: -block.length):
        length = block.length * unit
        fitting = [number for number, room in enumerate(free) if room >= length]
        if fitting:
            number = min(fitting, key=free.__getitem__)
            free[number] -= length
            inside[number].append(block)
    for cell, some in zip(lane.cells, inside, strict=True):
        if some and cell.room.place is not None:
            yield cell.room.place, some
