"""Rules of the compact model: which copy lies in which block, strip and sheet.

A block, strip or sheet has no number of its own: it is named after its *leader*, the first
copy in it, so that no two assignments describe the same pieces. The idea of naming pieces
by the items that open them: A. Lodi, S. Martello, D. Vigo, "Models and bounds for
two-dimensional level packing problems", Journal of Combinatorial Optimization 8 (2004), and
J. Puchinger, G. R. Raidl, "Models and algorithms for three-stage two-dimensional bin
packing", European Journal of Operational Research 183 (2007).
"""

from dataclasses import dataclass
from itertools import pairwise, product
from typing import Any

from ortools.sat.python import cp_model

from solver.material.instance import Instance
from solver.proof.stoppable import Variable

Pairs = dict[tuple[int, int], Variable]
"""For (member, leader), whether the one lies in the piece of the other."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Copy:
    """One copy: its item type, and its extents (along, across) for each way it may lie."""

    item: int
    ways: dict[bool, tuple[int, int]]


def copies_of(instance: Instance) -> tuple[Copy, ...]:
    """Return all copies, largest first, equal ones side by side."""
    order = sorted(
        range(len(instance.items)),
        key=lambda i: (-instance.items[i].length * instance.items[i].width, i),
    )
    copies: list[Copy] = []
    for item in order:
        turns = sorted({turned for kind in instance.kinds for turned in kind.orientations[item]})
        ways = {turned: instance.size(item, turned) for turned in turns}
        copies += [Copy(item=item, ways=ways)] * instance.items[item].demand
    return tuple(copies)


class Pieces:
    """Variables and rules; all sizes include a kerf.

    Attributes
    ----------
    in_block, in_strip, in_sheet
        Copy in block, block in strip, strip in sheet; each piece by its leader. A piece
        exists if its leader is in it.
    lies
        For (copy, turned), whether it lies that way.
    on_kind
        For (copy, kind), whether it lies on a sheet of that kind.
    bought
        For (leader, kind), whether a sheet is opened, and of which kind.
    length, width
        Of a block, and of a strip; at least what they hold.
    stack
        Extent of a block's items across the strip.
    left_along, left_across
        What is left of a strip's length, and of a sheet's width.
    """

    def __init__(self, instance: Instance, max_sheets: int) -> None:
        self.instance = instance
        self.model: Any = cp_model.CpModel()
        self.copies: tuple[Copy, ...] = copies_of(instance)
        self.count = len(self.copies)
        self._longest = max(kind.length for kind in instance.kinds)
        self._widest = max(kind.width for kind in instance.kinds)
        self._lay()
        self._choose_kinds(max_sheets)
        self._form_blocks()
        self._form_strips()
        self._form_sheets()
        self._break_symmetry()

    def flag(self) -> Variable:
        """Return a new yes or no."""
        return self.model.new_bool_var("")

    def size(self, most: int) -> Variable:
        """Return a new whole number from 0 to ``most``."""
        return self.model.new_int_var(0, most, "")

    def _members(self) -> Pairs:
        """Return a flag for every copy and possible leader, itself among them."""
        numbers = range(self.count)
        return {(m, leader): self.flag() for m in numbers for leader in numbers[: m + 1]}

    def _lay(self) -> None:
        """Every copy lies one way, in one block, that in one strip, that on one sheet."""
        self.lies = {(c, t): self.flag() for c, copy in enumerate(self.copies) for t in copy.ways}
        self.in_block, self.in_strip, self.in_sheet = (self._members() for _ in range(3))
        for c, copy in enumerate(self.copies):
            self.model.add_exactly_one(self.lies[c, turned] for turned in copy.ways)
            self.model.add_exactly_one(self.in_block[c, b] for b in range(c + 1))
            self._nest(c, self.in_block, self.in_strip)
            self._nest(c, self.in_strip, self.in_sheet)
        for pairs in (self.in_block, self.in_strip, self.in_sheet):
            self._led(pairs)

    def _nest(self, leader: int, inner: Pairs, outer: Pairs) -> None:
        """Put a piece into one larger piece if it exists."""
        homes = sum(outer[leader, other] for other in range(leader + 1))
        self.model.add(homes == inner[leader, leader])

    def _led(self, pairs: Pairs) -> None:
        """A piece that has any member has its leader."""
        for (member, leader), together in pairs.items():
            if member != leader:
                self.model.add_implication(together, pairs[leader, leader])

    def _choose_kinds(self, max_sheets: int) -> None:
        """Buy sheets; whatever lies together lies on one kind, as that kind allows."""
        kinds = range(len(self.instance.kinds))
        self.on_kind = {(c, k): self.flag() for c in range(self.count) for k in kinds}
        self.bought = {(r, k): self.flag() for r in range(self.count) for k in kinds}
        for c in range(self.count):
            self.model.add_exactly_one(self.on_kind[c, k] for k in kinds)
            self.model.add(sum(self.bought[c, k] for k in kinds) == self.in_sheet[c, c])
            for k in kinds:
                self.model.add_implication(self.bought[c, k], self.on_kind[c, k])
                self._forbid_ways(c, k)
        for pairs in (self.in_block, self.in_strip, self.in_sheet):
            self._keep_together(pairs)
        self.model.add(sum(self.bought.values()) <= max_sheets)
        self._limit_stock()
        self._fill_area()

    def _forbid_ways(self, copy: int, kind: int) -> None:
        allowed = self.instance.kinds[kind].orientations[self.copies[copy].item]
        for turned in self.copies[copy].ways:
            if turned not in allowed:
                self.model.add_implication(self.lies[copy, turned], ~self.on_kind[copy, kind])

    def _keep_together(self, pairs: Pairs) -> None:
        if len(self.instance.kinds) == 1:
            return
        for (member, leader), together in pairs.items():
            if member != leader:
                for k in range(len(self.instance.kinds)):
                    self.model.add(
                        self.on_kind[member, k] == self.on_kind[leader, k]
                    ).only_enforce_if(together)

    def _limit_stock(self) -> None:
        kinds = self.instance.kinds
        for index, row in enumerate(self.instance.rows):
            if row.at_hand is not None:
                taken = [v for (_, k), v in self.bought.items() if kinds[k].row == index]
                self.model.add(sum(taken) <= row.at_hand)

    def _fill_area(self) -> None:
        """Say what follows from the rest but is hard to see: items need area."""
        need = sum(it.length * it.width * it.demand for it in self.instance.items)
        area = [kind.length * kind.width for kind in self.instance.kinds]
        self.model.add(sum(area[k] * v for (_, k), v in self.bought.items()) >= need)

    def _form_blocks(self) -> None:
        """A block is as long as its longest item; its items lie side by side across."""
        self.length = [self.size(self._longest) for _ in range(self.count)]
        self.stack = [self.size(self._widest) for _ in range(self.count)]
        across: list[list[Variable]] = [[] for _ in range(self.count)]
        for (c, b), together in self.in_block.items():
            for turned, (x, y) in self.copies[c].ways.items():
                here = self.both(together, self.lies[c, turned])
                across[b].append(y * here)
                self._fit_length(b, x, here)
            if self.instance.levels < 3 and c != b:
                self.model.add(together == 0)
        for b in range(self.count):
            self.model.add(self.stack[b] == sum(across[b]))
            self.model.add(self.length[b] == 0).only_enforce_if(~self.in_block[b, b])

    def _fit_length(self, block: int, length: int, here: Variable) -> None:
        """With two levels there is no last trim: the block is as long as its item."""
        if self.instance.levels < 3:
            self.model.add(self.length[block] == length).only_enforce_if(here)
        else:
            self.model.add(self.length[block] >= length).only_enforce_if(here)

    def both(self, one: Variable, other: Variable) -> Variable:
        """Return whether both hold."""
        both = self.flag()
        self.model.add_implication(both, one)
        self.model.add_implication(both, other)
        self.model.add_bool_or(both, ~one, ~other)
        return both

    def _form_strips(self) -> None:
        """A strip takes blocks end to end, and is as wide as the widest stack."""
        self.width = [self.size(self._widest) for _ in range(self.count)]
        for t in range(self.count):
            self.model.add(self.width[t] == 0).only_enforce_if(~self.in_strip[t, t])
        for (b, t), together in self.in_strip.items():
            self.model.add(self.width[t] >= self.stack[b]).only_enforce_if(together)
        for t, (k, kind) in product(range(self.count), enumerate(self.instance.kinds)):
            if kind.fixed:
                ripped = (self.in_strip[t, t], self.on_kind[t, k])
                self.model.add(self.width[t] == kind.width).only_enforce_if(ripped)
        room = [kind.length for kind in self.instance.kinds]
        self.left_along = self._fill(self.in_strip, self.length, room)

    def _form_sheets(self) -> None:
        """A sheet takes strips side by side."""
        room = [kind.width for kind in self.instance.kinds]
        self.left_across = self._fill(self.in_sheet, self.width, room)

    def _fill(self, pairs: Pairs, sizes: list[Variable], room: list[int]) -> list[Variable]:
        """Let the members of each piece share its room; return what is left of each."""
        shares: list[list[Variable]] = [[] for _ in range(self.count)]
        for (member, leader), together in pairs.items():
            share = self.size(max(room))
            self.model.add(share == sizes[member]).only_enforce_if(together)
            self.model.add(share == 0).only_enforce_if(~together)
            shares[leader].append(share)
        left = [self.size(max(room)) for _ in range(self.count)]
        for leader in range(self.count):
            has = sum(r * self.on_kind[leader, k] for k, r in enumerate(room))
            self.model.add(sum(shares[leader]) + left[leader] == has)
        return left

    def left_across_block(self, block: int) -> Variable:
        """Return what the items of a block leave of the width of its strip."""
        left = self.size(self._widest)
        for t in range(block + 1):
            self.model.add(left == self.width[t] - self.stack[block]).only_enforce_if(
                self.in_strip[block, t]
            )
        return left

    def extent(self, copy: int, *, across: bool) -> Variable:
        """Return the extent of a copy as it lies, along the strip or across it."""
        ways = self.copies[copy].ways.items()
        return sum(sizes[across] * self.lies[copy, turned] for turned, sizes in ways)

    def left_along_block(self, copy: int) -> Variable:
        """Return what a copy leaves of the length of its block."""
        left, length = self.size(self._longest), self.extent(copy, across=False)
        for b in range(copy + 1):
            self.model.add(left == self.length[b] - length).only_enforce_if(self.in_block[copy, b])
        return left

    def _break_symmetry(self) -> None:
        """Equal copies: the earlier one lies in the earlier block, alone in the earlier strip.

        Exchanging two equal copies that lie otherwise gives the same pieces, and an
        assignment that comes earlier in lexical order; so the first of all remains.
        """
        alone = [self._alone(b) for b in range(self.count)]
        for c, d in pairwise(range(self.count)):
            if self.copies[c].item == self.copies[d].item:
                self.model.add(self._leader(c, self.in_block) <= self._leader(d, self.in_block))
                self.model.add(
                    self._leader(c, self.in_strip) <= self._leader(d, self.in_strip)
                ).only_enforce_if(alone[c], alone[d])

    def _leader(self, member: int, pairs: Pairs) -> Variable:
        return sum(leader * pairs[member, leader] for leader in range(member + 1))

    def _alone(self, block: int) -> Variable:
        """Return whether a copy has a block for itself."""
        alone = self.flag()
        others = [self.in_block[c, block] for c in range(block + 1, self.count)]
        self.model.add_bool_or(alone, ~self.in_block[block, block], *others)
        self.model.add_implication(alone, self.in_block[block, block])
        for other in others:
            self.model.add_implication(alone, ~other)
        return alone
