"""Materials with bad places: as if there were none, and with sheets that go round them.

What is prepared has each sheet on one clear rectangle. Without its bad places a sheet can
only hold more, so a bound of that holds for every way to go round them.
"""

from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import replace

from solver.around import Around
from solver.arranging import Placed, Spread
from solver.instance import Block, Instance, Laid, Lying, Solution, Strip
from solver.measure import problems
from solver.prepare import Ground, Material, Prepared, material_of
from solver.rooms import Room
from solver.search.start import first
from solver.wanted import Copy, wanted

Chunk = tuple[Copy, ...]
"""The copies that one item stands for."""


def is_spoiled(prepared: Prepared, instance: Instance) -> bool:
    """Whether a new sheet of a material that may be taken has bad places."""
    rows = {row.stock for row in instance.rows}
    return any(row.id in rows and row.no_go for row in prepared.job.stock)


def as_if_sound(prepared: Prepared, instance: Instance) -> Material:
    """Return a material as it would be without bad places on new sheets, the same parts wanted.

    The rooms have the rows as they really are.
    """
    job = prepared.job
    sound = replace(job, stock=tuple(replace(row, no_go=()) for row in job.stock))
    made = material_of(sound, instance.material, _ground(prepared, instance))
    rooms = (replace(room, stock=job.stock_row(room.stock.id)) for room in made.rooms)
    return made._replace(rooms=tuple(rooms))


def going_round(prepared: Prepared, instance: Instance, around: Sequence[Around]) -> Material:
    """Return a material with some of its sheets used around their bad places, and paid for."""
    ground = _ground(prepared, instance)
    used = Counter(ground.used) + Counter(sheet.stock.id for sheet in around)
    free = [*ground.free, *(room for sheet in around for room in sheet.rooms)]
    return material_of(prepared.job, instance.material, ground._replace(used=used, free=free))


def _ground(prepared: Prepared, instance: Instance) -> Ground:
    """Return the ground on which an instance wants the very copies that it does."""
    members = members_of(instance)
    job, ground = prepared.job, prepared.ground
    every = {copy for one in wanted(job, instance.material, ()) for copy in one.copies}
    return ground._replace(settled=ground.settled | (every - members))


def members_of(instance: Instance) -> set[Copy]:
    """Return all copies that an instance places."""
    return {member for item in instance.items for member in item.members}


def carried_over(sound: Material, spread: Spread, material: Material) -> Solution | None:
    """Return what a spread lays, as a solution of the material that goes round so.

    ``None`` if the two do not suit each other, as where the shop's limits forbid it.
    """
    assert sound.instance is not None
    if material.instance is None or members_of(material.instance) != members_of(sound.instance):
        return None
    carrier = _Carrier(sound, material)
    sheets = tuple(sheet for sheet in carrier.sheets(spread) if sheet is not None)
    laid = Counter(lying.item for lying in Solution(sheets, ()).lying())
    left = tuple(item.demand - laid[n] for n, item in enumerate(material.instance.items))
    found = Solution(sheets, left)
    return None if problems(material.instance, found) else found


class _Carrier:
    """Rewrites sheets from one instance of a material to another with the same copies."""

    def __init__(self, sound: Material, material: Material) -> None:
        assert sound.instance is not None and material.instance is not None
        self._from, self._to = sound.instance, material.instance
        self._rooms = sound.rooms
        self._places = {room.place: n for n, room in enumerate(material.rooms) if room.begun}
        self._kinds = {_way(room): n for n, room in enumerate(material.rooms) if not room.begun}
        self._chunks = [iter(_chunks(self._from, item)) for item in range(len(self._from.items))]
        self._owner = {
            chunk: item
            for item in range(len(self._to.items))
            for chunk in _chunks(self._to, item)
        }

    def sheets(self, spread: Spread) -> Iterator[Laid | None]:
        """Yield the sheets; ``None`` for one that the other instance does not have."""
        for laid in spread.sound:
            room = self._rooms[laid.kind]
            kind = self._places.get(room.place) if room.begun else self._kinds.get(_way(room))
            yield None if kind is None else self._laid(kind, laid.strips)
        for arranged in spread.arranged:
            yield from (self._placed(one) for one in arranged.placed)

    def _placed(self, placed: Placed) -> Laid | None:
        place, strips = placed
        kind = self._places.get(place)
        return None if kind is None else self._laid(kind, strips)

    def _laid(self, kind: int, strips: Sequence[Strip]) -> Laid:
        return Laid(kind, tuple(self._strip(strip) for strip in strips))

    def _strip(self, strip: Strip) -> Strip:
        blocks = tuple(
            Block(self._size(block.length), tuple(self._lying(one) for one in block.stack))
            for block in strip.blocks
        )
        return Strip(self._size(strip.width), blocks)

    def _lying(self, lying: Lying) -> Lying:
        return Lying(self._owner[next(self._chunks[lying.item])], lying.turned)

    def _size(self, size: int) -> int:
        """Return a size in the other unit; one that has none there is rounded up."""
        return -(-size * self._from.unit // self._to.unit)


def _way(room: Room) -> tuple[str, bool, int, int]:
    return room.stock.id, room.transposed, room.length, room.width


def _chunks(instance: Instance, item: int) -> list[Chunk]:
    one = instance.items[item]
    return [one.members[n : n + one.cells] for n in range(0, len(one.members), one.cells)]


def completed(instance: Instance, solution: Solution) -> Solution:
    """Return a solution with what it leaves off laid on sheets that it does not use."""
    if not any(solution.left):
        return solution
    rest = first(_of_what_is_left(instance, solution))
    return Solution((*solution.sheets, *rest.sheets), rest.left)


def _of_what_is_left(instance: Instance, solution: Solution) -> Instance:
    used = Counter(instance.kinds[sheet.kind].row for sheet in solution.sheets)
    rows = tuple(
        replace(row, at_hand=0 if row.begun else _less(row.at_hand, used[number]))
        for number, row in enumerate(instance.rows)
    )
    items = tuple(
        replace(item, members=item.members[: left * item.cells])
        for item, left in zip(instance.items, solution.left, strict=True)
    )
    return replace(instance, rows=rows, items=items)


def _less(count: int | None, used: int) -> int | None:
    return None if count is None else count - used
