"""Materials with bad places: as if there were none, and with sheets that go round them.

What is prepared has each sheet on one clear rectangle. Without its bad places a sheet can
only hold more, so a bound of that holds for every way to go round them.
"""

from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import replace

from shared.parts import Copy
from shared.stock import Stock
from solver.defects.arranging import Arrangement
from solver.limits.measure import problems
from solver.material.around import SheetAroundDefects
from solver.material.instance import Block, Instance, Laid, Lying, Solution, Strip
from solver.material.rooms import Room
from solver.prepare.demand import wanted
from solver.prepare.instances import Ground, Material, Prepared, material_of
from solver.search.constructive import first

Chunk = tuple[Copy, ...]
"""The copies that one item stands for."""
Place = tuple[str, int]
"""Sheet and number of a room on it."""


def is_spoiled(stock: Sequence[Stock], instance: Instance) -> bool:
    """Whether a new sheet of a material that may be taken has bad places."""
    rows = {row.stock for row in instance.rows}
    return any(row.id in rows and row.no_go for row in stock)


def as_if_sound(prepared: Prepared, instance: Instance) -> Material:
    """Return a material as it would be without bad places on new sheets, the same parts wanted.

    The rooms have the rows as they really are.
    """
    job = prepared.job
    sound = replace(job, stock=tuple(replace(row, no_go=()) for row in job.stock))
    made = material_of(sound, instance.material, _ground(prepared, instance))
    rooms = (replace(room, stock=job.stock_row(room.stock.id)) for room in made.rooms)
    return made._replace(rooms=tuple(rooms))


def going_round(
    prepared: Prepared, instance: Instance, around: Sequence[SheetAroundDefects]
) -> Material:
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


def missing_from(instance: Instance, sound: Instance) -> list[Copy]:
    """Return the copies that an instance has no room for at all, though sound sheets have."""
    members = members_of(instance)
    return [one for item in sound.items for one in item.members if one not in members]


def area_of(sound: Instance, copies: Iterable[Copy]) -> int:
    """Return the area of some copies with their kerf, in square ticks."""
    area = {
        member: item.length * item.width // item.cells
        for item in sound.items
        for member in item.members
    }
    return sum(area[copy] for copy in copies) * sound.unit**2


def carried_over(sound: Material, spread: Arrangement, material: Material) -> Solution | None:
    """Return what a spread lays, as a solution of the material that goes round so.

    ``None`` if the two do not suit each other, as where the shop's limits forbid it.
    """
    carrier = _Carrier.between(sound, material)
    if carrier is None:
        return None
    places = {room.place: n for n, room in enumerate(material.rooms) if room.begun}
    kinds = {_way(room): n for n, room in enumerate(material.rooms) if not room.begun}
    found: list[tuple[int | None, Sequence[Strip]]] = []
    for laid in spread.sound:
        room = sound.rooms[laid.kind]
        kind = places.get(room.place) if room.begun else kinds.get(_way(room))
        found.append((kind, laid.strips))
    for arranged in spread.arranged:
        found += [(places.get(place), strips) for place, strips in arranged.placed]
    return carrier.solution(found)


def carried_back(
    material: Material, around: Sequence[SheetAroundDefects], solution: Solution, sound: Material
) -> Solution | None:
    """Return a solution that goes round bad places as one of sheets that have none.

    What lies in the cells of a band becomes one strip again. The least filled new sheet is
    left out, so that there is something to gain; ``None`` if there is none.
    """
    carrier = _Carrier.between(material, sound)
    if carrier is None:
        return None
    kinds = {(room.stock.id, room.transposed): n for n, room in enumerate(sound.rooms)}
    places = {room.place: n for n, room in enumerate(sound.rooms) if room.begun}
    held, new = _joined(material, around, solution)
    if not new:
        return None
    new.remove(min(new, key=lambda one: carrier.filled(one[1])))
    kept = ((places.get(place), strips) for place, strips in held)
    return carrier.solution([*kept, *((kinds.get(way), strips) for way, strips in new)])


_Way = tuple[str, bool]
"""Row of a sheet, and whether it is crosscut first."""


def _joined(
    material: Material, around: Sequence[SheetAroundDefects], solution: Solution
) -> tuple[list[tuple[Place, Sequence[Strip]]], list[tuple[_Way, Sequence[Strip]]]]:
    """Return what lies in rooms between holds, and on each new sheet, bands as one strip."""
    lanes = {
        room.place: (number, at, lane.room is None)
        for number, sheet in enumerate(around)
        for at, lane in enumerate(sheet.lanes)
        for room in (*([lane.room] if lane.room else []), *(cell.room for cell in lane.cells))
    }
    held: list[tuple[Place, Sequence[Strip]]] = []
    new: list[tuple[_Way, Sequence[Strip]]] = []
    full: dict[int, list[Strip]] = {}
    bands: dict[tuple[int, int], list[Strip]] = {}
    for laid in solution.sheets:
        room = material.rooms[laid.kind]
        if room.place in lanes:
            number, at, is_band = lanes[room.place]
            into = bands.setdefault((number, at), []) if is_band else full.setdefault(number, [])
            into += laid.strips
        elif room.place is not None:
            held.append((room.place, laid.strips))
        else:
            new.append(((room.stock.id, room.transposed), laid.strips))
    for (number, _), strips in bands.items():
        blocks = tuple(block for strip in strips for block in strip.blocks)
        full.setdefault(number, []).append(Strip(strips[0].width, blocks))
    new += [(_way_of(around[number]), strips) for number, strips in full.items()]
    return held, new


def _way_of(sheet: SheetAroundDefects) -> _Way:
    return sheet.stock.id, sheet.whole.transposed


class _Carrier:
    """Rewrites strips from one instance of a material for another with the same copies."""

    def __init__(self, here: Instance, there: Instance) -> None:
        self._from, self._to = here, there
        self._chunks = [iter(_chunks(here, item)) for item in range(len(here.items))]
        items = range(len(there.items))
        self._owner = {chunk: item for item in items for chunk in _chunks(there, item)}

    @classmethod
    def between(cls, here: Material, there: Material) -> "_Carrier | None":
        """Return the way from one to the other, if there is anything to place in both."""
        if here.instance is None or there.instance is None:
            return None
        return cls(here.instance, there.instance)

    def filled(self, strips: Iterable[Strip]) -> int:
        """Return the area of what lies in strips of the first instance."""
        lying = Solution((Laid(0, tuple(strips)),), ()).lying()
        items = (self._from.items[one.item] for one in lying)
        return sum(item.length * item.width for item in items)

    def solution(self, found: Iterable[tuple[int | None, Sequence[Strip]]]) -> Solution | None:
        """Return a solution of the second instance with strips on kinds of it.

        What lies on a kind that it does not have is left off.
        """
        sheets = tuple(self._laid(kind, strips) for kind, strips in found if kind is not None)
        laid = Counter(lying.item for lying in Solution(sheets, ()).lying())
        left = tuple(item.demand - laid[n] for n, item in enumerate(self._to.items))
        made = Solution(sheets, left)
        return None if problems(self._to, made) else made

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
