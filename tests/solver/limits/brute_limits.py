"""Which sets of copies a shop with limits can saw from one sheet, by trying every order.

It knows a saw, a rail, hands, a fence for what is sawn off a fall, and nothing of the solver's
rule about the largest piece: pieces of all sizes are sawn off in all orders, one kerf each, in
lengths without kerf.
"""

from collections.abc import Iterator
from functools import cache
from itertools import permutations, product

from solver.limits.cut_run import CutRun
from solver.material.instance import Instance, SheetKind


class BruteShop:
    """The limits of an instance, and runs that were tried."""

    def __init__(self, instance: Instance) -> None:
        self._kerf, limits = instance.kerf, instance.limits
        self._reach = None if limits.reach is None else limits.reach - self._kerf
        self._carry = max(0, limits.carry - self._kerf)
        self._hold = max(0, limits.hold - self._kerf)
        self._fence = limits.fence - self._kerf if limits.fence else None
        self.can = cache(self._can)

    def _can(self, run: CutRun) -> bool:
        """Whether pieces can be sawn off in some order; all sizes with a kerf."""
        whole, long = run.room - self._kerf + run.beyond, run.across - self._kerf
        if run.trimmed and not self._cut(0, whole, whole, long, run.level):
            return False
        return any(self.in_order(order, run) for order in permutations(run.sizes))

    def in_order(self, order: tuple[int, ...], run: CutRun) -> bool:
        """Whether the pieces of a run can be sawn off in that order, its trim left out."""
        rest, long = run.room - self._kerf + run.beyond, run.across - self._kerf
        for number, size in enumerate(order, 1):
            piece = size - self._kerf
            if run.exact and number == len(order) and rest == piece:
                return True
            behind = max(0, rest - piece - self._kerf)
            falls = run.ends and number == len(order) and rest > piece
            if not self._cut(piece, behind, rest, long, run.level):
                return falls and self._at_table(piece, rest, long, run.level)
            rest = behind
        return True

    def _cut(self, near: int, far: int, whole: int, long: int, level: int) -> bool:
        """Whether one cut can be made: its length, its two pieces, the piece under the saw."""
        carried = max(near, far) >= self._carry
        return carried and self._reached(long, level) and self._held(long, whole)

    def _at_table(self, piece: int, whole: int, long: int, level: int) -> bool:
        """Whether the fence takes a piece off what falls, as far as it can be held."""
        fenced = self._fence is not None and piece >= self._fence
        return fenced and self._reached(long, level) and self._held(long, whole)

    def _reached(self, long: int, level: int) -> bool:
        return self._reach is None or level == 1 or long <= self._reach

    def _held(self, long: int, whole: int) -> bool:
        return max(long, whole) >= self._hold


def fitting(instance: Instance, kind: SheetKind, copies: list[int]) -> Iterator[int]:
    """Yield the sets of copies (as bits) that one sheet of a kind can hold."""
    shop = BruteShop(instance)

    @cache
    def block(bits: int, width: int, length: int) -> bool:
        members = [copies[i] for i in range(len(copies)) if bits >> i & 1]
        if instance.levels < 3 and len(members) > 1:
            return False
        for turns in product(*(kind.orientations[item] for item in members)):
            sizes = [instance.size(i, turned) for i, turned in zip(members, turns, strict=True)]
            if sum(y for _, y in sizes) > width or any(x > length for x, _ in sizes):
                continue
            if instance.levels < 3 and any(x != length for x, _ in sizes):
                continue
            if not shop.can(CutRun(3, tuple(y for _, y in sizes), width, length)):
                continue
            if all(x == length or shop.can(CutRun(4, (x,), length, y)) for x, y in sizes):
                return True
        return False

    @cache
    def strip(bits: int, width: int) -> bool:
        return any(
            shop.can(
                CutRun(
                    2,
                    lengths,
                    kind.length,
                    width,
                    kind.exact_length,
                    kind.beyond_length,
                    kind.strip_trim,
                )
            )
            for lengths in blocks(bits, width, kind.length)
        )

    def blocks(bits: int, width: int, room: int) -> Iterator[tuple[int, ...]]:
        if bits == 0:
            yield ()
            return
        for part in _with_lowest(bits):
            for length in range(1, room + 1):
                if block(part, width, length):
                    for rest in blocks(bits ^ part, width, room - length):
                        yield (length, *rest)

    def strips(bits: int, room: int) -> Iterator[tuple[int, ...]]:
        if bits == 0:
            yield ()
            return
        for part in _with_lowest(bits):
            for width in range(1, room + 1):
                if (not kind.fixed or width == kind.width) and strip(part, width):
                    for rest in strips(bits ^ part, room - width):
                        yield (width, *rest)

    for bits in range(1, 1 << len(copies)):
        if any(
            shop.can(
                CutRun(
                    1,
                    widths,
                    kind.width,
                    kind.whole or kind.length,
                    kind.exact_width,
                    kind.beyond_width,
                    kind.sheet_trim,
                )
            )
            for widths in strips(bits, kind.width)
        ):
            yield bits


def _with_lowest(bits: int) -> Iterator[int]:
    """Yield the subsets that hold the lowest member."""
    lowest = bits & -bits
    rest = bits ^ lowest
    subset = rest
    while True:
        yield subset | lowest
        if not subset:
            return
        subset = (subset - 1) & rest
