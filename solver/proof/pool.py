"""One shot at the fewest sheets: CP-SAT over strips that are known already.

Strips are counted, not placed: each sheet gives room for so many strips of each width, and
a strip may take the room of a wider one. It complements the search by ruin and recreate,
solves loose lists at once and seldom tight ones.
"""

from collections import Counter
from collections.abc import Iterable, Sequence
from itertools import pairwise
from typing import Any, NamedTuple

from ortools.sat.python import cp_model

from solver.budget.stop import Stop
from solver.material.instance import Block, Instance, Laid, Lying, Solution, Strip
from solver.proof.pricing import Stopped
from solver.proof.shapes import SheetShape, shapes_of
from solver.proof.stoppable import Answer, Reach, Variable, solve
from solver.proof.strip_pool import StripPool


class SheetSlot(NamedTuple):
    """One sheet that may be bought: by kind whether it is, and rooms by (shape, width)."""

    kinds: dict[int, Variable]
    rooms: dict[tuple[int, int], Variable]


class StripProgram:
    """The integer program over a pool.

    Attributes
    ----------
    strips
        For each shape, the strips that may be taken.
    """

    def __init__(
        self,
        instance: Instance,
        pool: StripPool,
        costs: Sequence[int],
        max_sheets: int,
        stop: Stop | None = None,
    ) -> None:
        """Build the program; `Stopped` if it is time to stop before all of it stands."""
        self._stop = Stop() if stop is None else stop
        self._instance = instance
        self._costs = costs
        self._shapes = shapes_of(instance)
        self.strips = [pool.of(shape) for shape in self._shapes]
        self.model: Any = cp_model.CpModel()
        self._taken = [
            [self._count(shape, strip) for strip in strips] for shape, strips in self._numbered()
        ]
        self._slots = [self._slot() for _ in range(max_sheets)]
        self._cover()
        self._give_room()
        self._limit_stock()
        # Slots are alike: kinds come in their order, sheets not bought last.
        for slot, other in pairwise(self._slots):
            self.model.add(_rank(slot) <= _rank(other))

    def _numbered(self) -> Iterable[tuple[SheetShape, Sequence[Strip]]]:
        return zip(self._shapes, self.strips, strict=True)

    def _count(self, shape: SheetShape, strip: Strip) -> Variable:
        """Return how often a strip is taken: never so often that all its items are surplus."""
        items = _items(strip)
        most = max(-(-self._instance.items[i].demand // n) for i, n in items.items())
        return self.model.new_int_var(0, most, "")

    def _slot(self) -> SheetSlot:
        """Buy a sheet or none, and share its width between strips."""
        self._go_on()
        kinds = {
            k: self.model.new_bool_var("")
            for shape in self._shapes
            for k in shape.kinds
            if not self._instance.kinds[k].fixed
        }
        self.model.add_at_most_one(kinds.values())
        rooms: dict[tuple[int, int], Variable] = {}
        for number, (shape, strips) in enumerate(self._numbered()):
            for width in {strip.width for strip in strips}:
                rooms[number, width] = self.model.new_int_var(0, shape.width // width, "")
            self.model.add(
                sum(width * room for (s, width), room in rooms.items() if s == number)
                <= shape.width * sum(kinds[k] for k in shape.kinds if k in kinds)
            )
        return SheetSlot(kinds, rooms)

    def _cover(self) -> None:
        cover: list[list[Variable]] = [[] for _ in self._instance.items]
        for strips, taken in zip(self.strips, self._taken, strict=True):
            for strip, count in zip(strips, taken, strict=True):
                for item, copies in _items(strip).items():
                    cover[item].append(copies * count)
        for wanted, terms in zip(self._instance.items, cover, strict=True):
            self.model.add(sum(terms) >= wanted.demand)

    def _give_room(self) -> None:
        """No more strips at least so wide than there are rooms at least so wide."""
        for number, strips in enumerate(self.strips):
            for width in sorted({strip.width for strip in strips}):
                self._go_on()
                wider = (
                    c for s, c in zip(strips, self._taken[number], strict=True) if s.width >= width
                )
                rooms = (
                    room
                    for slot in self._slots
                    for (s, w), room in slot.rooms.items()
                    if s == number and w >= width
                )
                self.model.add(sum(wider) <= sum(rooms))

    def _go_on(self) -> None:
        if self._stop:
            raise Stopped

    def _limit_stock(self) -> None:
        for index, row in enumerate(self._instance.rows):
            if row.at_hand is not None:
                bought = [
                    v
                    for slot in self._slots
                    for k, v in slot.kinds.items()
                    if self._row(k) == index
                ]
                self.model.add(sum(bought) <= row.at_hand)

    def _row(self, kind: int) -> int:
        return self._instance.kinds[kind].row

    @property
    def price(self) -> Variable:
        """Price of all sheets bought."""
        return sum(
            self._costs[self._row(k)] * bought
            for slot in self._slots
            for k, bought in slot.kinds.items()
        )

    def hint(self, solution: Solution) -> None:
        """Begin with a solution; strips of it that are not in the pool are left out."""
        sheets = sorted(solution.sheets, key=lambda sheet: sheet.kind)
        counts = Counter(
            (self._shape_of(sheet.kind), strip) for sheet in sheets for strip in sheet.strips
        )
        for number, (strips, taken) in enumerate(zip(self.strips, self._taken, strict=True)):
            for strip, count in zip(strips, taken, strict=True):
                self.model.add_hint(count, counts[number, strip])
        for index, slot in enumerate(self._slots):
            self._hint_slot(slot, sheets[index] if index < len(sheets) else None)

    def _shape_of(self, kind: int) -> int:
        return next(i for i, shape in enumerate(self._shapes) if kind in shape.kinds)

    def _hint_slot(self, slot: SheetSlot, sheet: Laid | None) -> None:
        shape = -1 if sheet is None else self._shape_of(sheet.kind)
        widths = Counter(strip.width for strip in sheet.strips) if sheet else Counter[int]()
        for k, bought in slot.kinds.items():
            self.model.add_hint(bought, sheet is not None and k == sheet.kind)
        for (s, width), room in slot.rooms.items():
            self.model.add_hint(room, widths[width] if s == shape else 0)

    def read(self, answer: Answer) -> Solution:
        """Return the sheets chosen; wide strips get the wide rooms."""
        sheets = []
        waiting = [self._chosen(answer, number) for number in range(len(self._shapes))]
        rooms = self._rooms(answer)
        homes: dict[int, list[Strip]] = {index: [] for _, _, index in rooms}
        for shape, width, index in rooms:
            fits = [strip for strip in waiting[shape] if strip.width <= width]
            if fits:
                widest = max(fits)
                waiting[shape].remove(widest)
                homes[index].append(widest)
        for index, slot in enumerate(self._slots):
            for k, bought in slot.kinds.items():
                if answer(bought) and homes.get(index):
                    sheets.append(Laid(k, tuple(homes[index])))
        return without_surplus(self._instance, sheets)

    def _chosen(self, answer: Answer, shape: int) -> list[Strip]:
        counts = zip(self.strips[shape], self._taken[shape], strict=True)
        return [strip for strip, count in counts for _ in range(answer(count))]

    def _rooms(self, answer: Answer) -> list[tuple[int, int, int]]:
        """Return (shape, width, slot) of every room, widest first."""
        rooms = [
            (shape, width, index)
            for index, slot in enumerate(self._slots)
            for (shape, width), room in slot.rooms.items()
            for _ in range(answer(room))
        ]
        return sorted(rooms, key=lambda room: (-room[1], room[0], room[2]))


def choose(
    instance: Instance,
    pool: StripPool,
    *,
    max_sheets: int,
    most_price: int | None = None,
    costs: Sequence[int] | None = None,
    hint: Solution | None = None,
    reach: Reach,
    stop: Stop,
) -> Solution | None:
    """Return a solution with all items on at most so many sheets at most so dear, if found.

    Parameters
    ----------
    pool
        Strips to choose from; those of the hint are added to it.
    max_sheets
        Most sheets; the bound, if the aim is to meet it.
    most_price
        Most price under ``costs`` (by default the instance's); ``None`` for the least.
    """
    if hint is not None:
        add_strips(instance, pool, hint)
    prices = costs or [row.price for row in instance.rows]
    try:
        chooser = StripProgram(instance, pool, prices, max_sheets, stop)
    except Stopped:
        return None
    if most_price is None:
        chooser.model.minimize(chooser.price)
    else:
        chooser.model.add(chooser.price <= most_price)
    if hint is not None:
        chooser.hint(hint)
    answer = solve(chooser.model, reach, stop)
    return chooser.read(answer) if answer.is_found else None


def add_strips(instance: Instance, pool: StripPool, solution: Solution) -> None:
    """Put the strips of a solution into a pool."""
    shape_of = {kind: shape for shape in shapes_of(instance) for kind in shape.kinds}
    for sheet in solution.sheets:
        for strip in sheet.strips:
            pool.keep(shape_of[sheet.kind], strip)


def without_surplus(instance: Instance, sheets: Iterable[Laid]) -> Solution:
    """Return the sheets without the copies of items that are too many.

    Pieces shrink to what they still hold, and empty ones go.
    """
    left = [item.demand for item in instance.items]
    kept = []
    for sheet in sheets:
        strips = [_kept_strip(instance, strip, left) for strip in sheet.strips]
        kept.append(Laid(sheet.kind, tuple(strip for strip in strips if strip.blocks)))
    return Solution(tuple(laid for laid in kept if laid.strips), tuple(left))


def _kept_strip(instance: Instance, strip: Strip, left: list[int]) -> Strip:
    blocks = (_kept_block(instance, block, left) for block in strip.blocks)
    return instance.strip(block for block in blocks if block.stack)


def _kept_block(instance: Instance, block: Block, left: list[int]) -> Block:
    stack: list[Lying] = []
    for lying in block.stack:
        if left[lying.item] > 0:
            left[lying.item] -= 1
            stack.append(lying)
    return instance.block(stack)


def _items(strip: Strip) -> Counter[int]:
    return Counter(lying.item for block in strip.blocks for lying in block.stack)


def _rank(slot: SheetSlot) -> Variable:
    """Number of the kind bought, one more than the last if none is."""
    last = len(slot.kinds)
    return last - sum((last - n) * bought for n, bought in enumerate(slot.kinds.values()))
