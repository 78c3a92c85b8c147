"""From a job to one instance per material: kerf folded in, equal parts merged, all scaled.

With kerf k every size becomes size + k and every room room + k: in these numbers pieces
lie side by side without gaps. All are divided by their common divisor.
"""

from collections import Counter
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import count
from math import gcd
from typing import NamedTuple

from shared.asked import NOTHING_SETTLED, Settled
from shared.check import sawable
from shared.costs import Costs, costs_of
from shared.holding import standing
from shared.job import Job
from shared.layout import Layout, LayoutSheet
from shared.lengths import Length
from shared.no_go import barred_by
from shared.pace import LayoutPace
from shared.parts import Copy
from shared.plan import ASIDE, Unplaced
from shared.progress import Made
from shared.shop import Shop
from shared.stock import Stock
from solver.limits.block_parting import can_be_parted
from solver.limits.cut_run import limits_of
from solver.limits.single_item import can_be_sawn, without
from solver.material.around import SheetAroundDefects
from solver.material.instance import BlockGrid, Instance, ItemType, SheetKind, StockRow, Weights
from solver.material.rooms import Room
from solver.material.started_sheets import StartedSheet, begin
from solver.prepare import missing_stock
from solver.prepare.demand import Wanted, wanted

Lies = tuple[tuple[bool, ...], ...]
"""For each room, how a part may lie in it."""


class _Type(NamedTuple):
    """What equal parts, or equal blocks of match groups, have in common; sizes in ticks."""

    length: Length
    width: Length
    lies: Lies
    grid: BlockGrid | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Prepared:
    """What there is to solve.

    Attributes
    ----------
    job
        The job without the rows that make no sense.
    instances
        One for each material that has parts to place and stock to place them on.
    begun
        Sheets that stay in part.
    rooms
        For each instance, the room that each of its kinds is.
    unplaced
        Copies that no instance holds, and what they would need.
    kept
        Sheets that stay as they are; without cuts where a refused row is part of them: those
        lie where they lay, what is on them is not planned, nor are they part of the plan.
    made
        What was sawn before.
    ground
        What the materials were prepared on, what their sheets cost included.
    around
        New sheets that are used on all sides of their bad places.
    """

    job: Job
    instances: tuple[Instance, ...]
    begun: tuple[StartedSheet, ...]
    rooms: tuple[tuple[Room, ...], ...]
    unplaced: tuple[Unplaced, ...]
    kept: tuple[LayoutSheet, ...]
    made: Made
    ground: "Ground"
    around: tuple[SheetAroundDefects, ...] = ()


def prepare(job: Job, settled: Settled = NOTHING_SETTLED) -> Prepared:
    """Return the instances of a job, less what is settled already.

    Parameters
    ----------
    job
        As the maker has it; rows with errors are left out.
    settled
        What is not planned again.
    """
    rows, job = job.stock, sawable(job)
    costs = {name: costs_of(job, name) for name in job.materials}
    begun = _begun(job, settled)
    lying = {p.key for sheet in settled.kept for p in sheet.placements}
    lying = lying.union(*(sheet.lying for sheet in begun))
    lying |= {one.key for one in settled.made.finished}
    waiting = {w.key for w in settled.waiting if w.sent} - lying
    used = Counter([*(sheet.stock for sheet in settled.kept), *(sheet.stock.id for sheet in begun)])
    free = [room for sheet in begun for room in sheet.rooms]
    ground = Ground(lying | waiting, used, free, rows, costs)
    each = [material_of(job, name, ground) for name in job.materials]
    return Prepared(
        job=job,
        instances=tuple(one.instance for one in each if one.instance is not None),
        begun=begun,
        rooms=tuple(one.rooms for one in each if one.instance is not None),
        unplaced=merged([*(u for one in each for u in one.left), *_sent(job, waiting)]),
        kept=_cuttable(job, settled.kept),
        made=settled.made,
        ground=ground,
    )


def _cuttable(job: Job, kept: Iterable[LayoutSheet]) -> tuple[LayoutSheet, ...]:
    """Return the sheets that stay, without the cuts of those that are not sawn as they lie.

    These have a refused row, or a part on a bad place of theirs.
    """
    rows, parts = {row.id: row for row in job.stock}, {part.id: part for part in job.parts}

    def can_be_cut(sheet: LayoutSheet) -> bool:
        if sheet.stock not in rows or any(one.part not in parts for one in sheet.placements):
            return False
        no_go = rows[sheet.stock].no_go
        return not any(
            barred_by(no_go, one.rect, show=parts[one.part].show) for one in sheet.placements
        )

    return tuple(one if can_be_cut(one) else replace(one, tree=None) for one in kept)


def _begun(job: Job, settled: Settled) -> tuple[StartedSheet, ...]:
    in_force, _ = standing(job, Layout(sheets=settled.held, holds=settled.holds))
    rows = {row.id: row for row in job.stock}
    made = [
        begin(sheet, rows[sheet.stock], job.shop.kerf, in_force, job.shop.reach)
        for sheet in settled.held
        if sheet.stock in rows
    ]
    return tuple(sheet for sheet in made if sheet is not None)


def merged(unplaced: Iterable[Unplaced]) -> tuple[Unplaced, ...]:
    """Return one entry for each part and need, in order of first mention."""
    counts: Counter[tuple[str, str]] = Counter()
    for entry in unplaced:
        counts[entry.part, entry.need] += entry.copies
    return tuple(Unplaced(part=p, need=n, copies=c) for (p, n), c in counts.items())


def _sent(job: Job, waiting: Iterable[Copy]) -> list[Unplaced]:
    counts = Counter(part for part, _ in waiting)
    return [
        Unplaced(part=part.id, copies=counts[part.id], need=ASIDE)
        for part in job.parts
        if counts[part.id]
    ]


class Ground(NamedTuple):
    """What a material is prepared on.

    Copies that are settled, sheets used of each row, rooms on sheets that are begun, the rows
    as the maker has them, and what sheets of each material cost by those that make sense.
    """

    settled: set[Copy]
    used: Mapping[str, int]
    free: Sequence[Room]
    rows: Sequence[Stock]
    costs: Mapping[str, Costs]


class Material(NamedTuple):
    """The instance of one material, its rooms, and what lies on none of its sheets."""

    instance: Instance | None
    rooms: tuple[Room, ...]
    left: list[Unplaced]


def material_of(job: Job, material: str, ground: Ground) -> Material:
    """Prepare one material of a job whose rows all make sense."""
    hands = _at_hand(job, material, ground.used)
    things = wanted(job, material, ground.settled)
    rooms = [
        room
        for room in (*_whole(job, hands), *_begun_rooms(job, material, ground.free))
        if any(room.lying(one.part) for one in things)
    ]
    lies = [tuple(_lies(job, room, one) for room in rooms) for one in things]
    left = [
        Unplaced(part=part, copies=1, need=_why(one, job, ground.rows, rooms))
        for one, ways in zip(things, lies, strict=True)
        if not any(ways)
        for part, _ in one.copies
    ]
    types = _types(things, lies)
    if not types:
        return Material(None, tuple(rooms), left)
    costs = ground.costs[material]
    instance, beyond = _within_limits(_instance(job, types, rooms, hands, costs), job)
    return Material(instance, tuple(rooms), [*left, *beyond])


def _whole(job: Job, hands: Mapping[str, int | None]) -> Iterator[Room]:
    """Yield the ways to use the sheets that are left of each row."""
    for stock in job.stock:
        if hands.get(stock.id, 0) != 0:
            yield from missing_stock.rooms_for(job.rule, job.shop, stock)


def _begun_rooms(job: Job, material: str, free: Sequence[Room]) -> Iterator[Room]:
    """Yield the rooms on begun sheets whose first cuts a rail takes."""
    reach, kerf = job.shop.reach, job.shop.kerf
    for room in free:
        if room.stock.material == material and (reach is None or room.whole <= reach + kerf):
            yield room


def _lies(job: Job, room: Room, one: Wanted) -> tuple[bool, ...]:
    """Say how a part may lie in a room; the block of a match group also has to be parted."""
    ways = room.lying(one.part)
    if one.grid is None:
        return ways
    limits, kerf = limits_of(job.shop), job.shop.kerf
    turned = room.transposed
    return tuple(way for way in ways if can_be_parted(one.grid, way is not turned, kerf, limits))


def _why(one: Wanted, job: Job, rows: Sequence[Stock], rooms: Sequence[Room]) -> str:
    """Say what a part needs that fits none of the sheets that are left."""
    if any(room.lying(one.part) for room in rooms):
        return missing_stock.of_group(job)
    return missing_stock.why(one.part, job, rows)


def _within_limits(instance: Instance, job: Job) -> tuple[Instance | None, list[Unplaced]]:
    """Take out of an instance what the shop's limits do not let be sawn at all."""
    if not instance.limits.bind:
        return instance, []
    items = range(len(instance.items))
    beyond = {item for item in items if not can_be_sawn(instance, item)}
    left = [
        Unplaced(part=part, copies=1, need=need)
        for item in sorted(beyond)
        for need in [missing_stock.limit_of(instance, item, job)]
        for part, _ in instance.items[item].members
    ]
    return None if len(beyond) == len(items) else without(instance, beyond), left


def _at_hand(job: Job, material: str, used: Mapping[str, int]) -> dict[str, int | None]:
    """Return how many of each stock row are left; ``None`` where more can be bought."""
    return {
        row.id: None if row.at_hand is None else max(0, row.at_hand - used.get(row.id, 0))
        for row in job.stock
        if row.material == material
    }


def _types(things: Sequence[Wanted], lies: Sequence[Lies]) -> dict[_Type, tuple[Copy, ...]]:
    """Merge what has the same cut size, is parted alike, and may lie the same ways."""
    types: dict[_Type, tuple[Copy, ...]] = {}
    for one, ways in zip(things, lies, strict=True):
        if any(ways):
            key = _Type(one.part.cut_length, one.part.cut_width, ways, one.grid)
            types[key] = types.get(key, ()) + one.copies
    return types


def _instance(
    job: Job,
    types: Mapping[_Type, tuple[Copy, ...]],
    rooms: Sequence[Room],
    hands: Mapping[str, int | None],
    costs: Costs,
) -> Instance:
    kerf = job.shop.kerf
    lengths = [side + kerf for one in types for side in (one.length, one.width)]
    limits = limits_of(job.shop)
    sizes = (size for room in rooms for size in _sizes(room, limits.bind))
    unit = gcd(kerf, *lengths, *sizes)
    stocks = tuple(dict.fromkeys(room.stock for room in rooms if not room.begun))
    rows = _rows(stocks, hands, costs)
    begun = [room for room in rooms if room.begun]
    numbers = _row_numbers(rooms, stocks)
    return Instance(
        material=costs.material,
        unit=unit,
        kerf=kerf // unit,
        items=tuple(
            ItemType(
                length=(one.length + kerf) // unit,
                width=(one.width + kerf) // unit,
                members=members,
                grid=one.grid,
            )
            for one, members in types.items()
        ),
        kinds=tuple(
            _kind(room, unit, numbers[i], tuple(one.lies[i] for one in types), limits.bind)
            for i, room in enumerate(rooms)
        ),
        rows=(
            *rows,
            *(StockRow(stock=room.stock.id, price=0, at_hand=1, begun=True) for room in begun),
        ),
        levels=job.rule.levels,
        weights=_weights(job.shop),
        keep=(-(-job.shop.keep_length // unit), -(-job.shop.keep_width // unit)),
        limits=limits_of(job.shop, unit),
        goal=costs.goal,
    )


def _sizes(room: Room, limited: bool) -> tuple[Length, ...]:
    """Return the lengths of a room that count; limits look at what lies beyond it, too."""
    sizes = (room.length, room.width, *room.before)
    return (*sizes, *room.beyond, room.whole) if limited else sizes


def _weights(shop: Shop) -> Weights:
    return Weights(**LayoutPace.of(shop)._asdict())


def _row_numbers(rooms: Sequence[Room], stocks: Sequence[Stock]) -> list[int]:
    """Return the row of each room: that of its sheet, or one of its own behind those."""
    own = count(len(stocks))
    return [next(own) if room.begun else stocks.index(room.stock) for room in rooms]


def _kind(room: Room, unit: int, row: int, orientations: Lies, limited: bool) -> SheetKind:
    exact_length, exact_width = room.exact
    strip_trim, sheet_trim = room.trimmed
    beyond_length, beyond_width = room.beyond if limited else (0, 0)
    return SheetKind(
        row=row,
        transposed=room.transposed,
        length=room.length // unit,
        width=room.width // unit,
        exact_length=exact_length,
        exact_width=exact_width,
        strip_trim=strip_trim,
        sheet_trim=sheet_trim,
        fixed=room.fixed,
        beyond_length=beyond_length // unit,
        beyond_width=beyond_width // unit,
        before_length=room.before[0] // unit,
        before_width=room.before[1] // unit,
        whole=room.whole // unit if limited else 0,
        orientations=orientations,
    )


def _rows(
    stocks: Sequence[Stock], hands: Mapping[str, int | None], costs: Costs
) -> tuple[StockRow, ...]:
    """Return the rows; where all sheets cost the same one costs 1, so that sheets are counted.

    Costs that are no money are divided by their common divisor. A piece on the sawhorses costs
    nothing and counts as no sheet.
    """
    each = {costs.each[stock.id] for stock in stocks if not stock.is_piece}
    divisor = 1 if costs.is_money else gcd(*each) or 1
    return tuple(
        StockRow(stock=stock.id, price=0, at_hand=hands[stock.id], begun=True, whole=True)
        if stock.is_piece
        else StockRow(
            stock=stock.id,
            price=costs.each[stock.id] // divisor if len(each) > 1 else 1,
            at_hand=hands[stock.id],
            rack=costs.rack[stock.id],
        )
        for stock in stocks
    )
