"""Lower bounds on price that cost milliseconds: area, and dual feasible functions.

Each bound gives every item a value, so that no sheet can hold more than a known value,
and lets linear programming duality say what the stock for all items costs at least.
They hold for any way to lay rectangles into rectangles, so for every cutting rule.

Prices are what the caller says, one whole number for each stock row: hundredths, or 1
for each sheet when sheets are counted. No bound counts items that fit on no sheet.
"""

from collections.abc import Callable, Iterator, Sequence
from fractions import Fraction
from itertools import product
from math import gcd
from typing import NamedTuple

import numpy as np

from solver.budget.stop import Stop
from solver.material.instance import Instance

DualFeasible = Callable[[int], int]
"""Maps sizes up to a capacity C so that sizes that share C have images that share f(C)."""

MOST_PARAMETERS = 40
"""Parameters tried for one family of functions and one axis."""

MOST_SUMS = 1_000_000
"""Sums of prices looked at when a bound is rounded up to one that can be paid."""


class Frame(NamedTuple):
    """What any sheet of a stock row offers, in the sheet's own frame, a kerf included."""

    length: int
    width: int

    @property
    def area(self) -> int:
        """Length times width."""
        return self.length * self.width

    def takes(self, length: int, width: int) -> bool:
        """Whether a rectangle fits."""
        return length <= self.length and width <= self.width


Extents = tuple[tuple[int, int], ...]
"""Every (length, width) in which an item may lie on some sheet, in the sheet's frame."""


def lower_bound(instance: Instance, costs: Sequence[int], stop: Stop | None = None) -> int:
    """Return what the stock for all items that fit at all costs at least.

    Parameters
    ----------
    costs
        Price of a sheet of each row of `Instance.rows`.
    stop
        Once somebody has asked it to end, the best bound so far is returned.

    Returns
    -------
    int
        A sum of prices that stock at hand can make up, or 0 when the stock is proven
        too small (then nothing is known about the plans for a part of the items).
    """
    return round_up(instance, costs, fractional_bound(instance, costs, stop))


def fractional_bound(
    instance: Instance, costs: Sequence[int], stop: Stop | None = None
) -> Fraction | None:
    """Return the best bound before it is rounded up; ``None``: the stock is too small."""
    frames = row_frames(instance)
    extents, demands = item_extents(instance), demands_of(instance)
    best = Fraction(0)
    for values, most in _valuations(frames, extents, demands):
        total = sum(d * v for d, v in zip(demands, values, strict=True))
        bound = dual_bound(total, most, costs, _at_hand(instance))
        if bound is None:
            return None
        best = max(best, bound)
        if stop is not None and stop.asked:
            break
    return best


def dual_bound(
    total: int, most: Sequence[int], costs: Sequence[int], at_hand: Sequence[int | None]
) -> Fraction | None:
    """Return the least price of sheets that can hold items of a total value.

    Parameters
    ----------
    total
        Value of all items together.
    most
        For each row, a value that no sheet of it can exceed.
    costs, at_hand
        For each row, the price of a sheet, and how many there are (``None``: no limit).

    Notes
    -----
    Weak duality of linear programming: for every factor t >= 0 the price is at least
    ``t * total`` less ``at_hand * max(0, t * most - cost)`` of each limited row, as long
    as ``t * most <= cost`` for the others. That is concave and bends where
    ``t = cost / most``. With one unlimited row it is Farley's bound (A. A. Farley, "A note
    on bounding a class of linear programming problems", Operations Research 38, 1990).
    """
    factor = best_factor(total, most, costs, at_hand)
    return None if factor is None else dual_value(factor, total, most, costs, at_hand)


def best_factor(
    total: int, most: Sequence[int], costs: Sequence[int], at_hand: Sequence[int | None]
) -> Fraction | None:
    """Return the factor t of `dual_bound` that proves most; ``None``: no price suffices."""
    rows = [row for row in zip(most, costs, at_hand, strict=True) if row[0] > 0 and row[2] != 0]
    ceiling = min((Fraction(c, m) for m, c, n in rows if n is None), default=None)
    if ceiling is None and total > sum(n * m for m, _, n in rows if n is not None):
        return None
    bends = [Fraction(c, m) for m, c, n in rows if n is not None]
    allowed = bends if ceiling is None else [ceiling, *(t for t in bends if t < ceiling)]
    return max(
        allowed,
        key=lambda t: dual_value(t, total, most, costs, at_hand),
        default=Fraction(0),
    )


def dual_value(
    factor: Fraction,
    total: int,
    most: Sequence[int],
    costs: Sequence[int],
    at_hand: Sequence[int | None],
) -> Fraction:
    """Return what `dual_bound` proves with a factor that its unlimited rows allow."""
    rents = (
        n * max(Fraction(0), factor * m - c)
        for m, c, n in zip(most, costs, at_hand, strict=True)
        if n is not None
    )
    return factor * total - sum(rents)


def round_up(instance: Instance, costs: Sequence[int], bound: Fraction | None) -> int:
    """Return the least price not below ``bound`` that sheets at hand can add up to.

    Returns 0 for ``None``, and when no sum of sheets at hand is that high.
    """
    if bound is None or bound <= 0:
        return 0
    least = -(-bound.numerator // bound.denominator)
    offers = [
        (cost, n) for cost, n in zip(costs, _at_hand(instance), strict=True) if cost > 0 and n != 0
    ]
    step = gcd(*(cost for cost, _ in offers))
    if not offers:
        return 0
    least = -(-least // step)
    top = least + max(cost for cost, _ in offers) // step
    scaled = [(cost // step, n) for cost, n in offers]
    payable = _next_sum(scaled, least, top) if top <= MOST_SUMS else _next_sparse(scaled, least)
    return 0 if payable is None else payable * step


def _next_sum(offers: list[tuple[int, int | None]], least: int, top: int) -> int | None:
    """Return the first sum from ``least`` to ``top`` of prices taken as often as at hand."""
    sums = np.zeros(top + 1, dtype=bool)
    sums[0] = True
    for price, at_hand in offers:
        for times in doublings(min(top // price, top if at_hand is None else at_hand)):
            sums[times * price :] |= sums[: top + 1 - times * price].copy()
    payable = np.flatnonzero(sums[least:])
    return least + int(payable[0]) if payable.size else None


def _next_sparse(offers: list[tuple[int, int | None]], least: int) -> int | None:
    """Return the same of large prices, of which few sums are in reach; ``least`` if many are.

    Sums are kept that are below ``least``, and the lowest one that is not.
    """
    sums: set[int] = {0}
    above: int | None = None
    for price, at_hand in offers:
        new: set[int] = set()
        for base in sums:
            most = -(-(least - base) // price)
            most = most if at_hand is None else min(most, at_hand)
            if len(new) + most > MOST_SUMS:
                return least
            new.update(base + times * price for times in range(most + 1))
        reached = [total for total in new if total >= least]
        above = min([*reached, *([] if above is None else [above])], default=None)
        sums = {total for total in new if total < least}
    return above


def doublings(count: int) -> Iterator[int]:
    """Yield numbers whose subsets add up to every whole number from 0 to ``count``."""
    power = 1
    while count > 0:
        yield min(power, count)
        count -= power
        power *= 2


def row_frames(instance: Instance) -> list[Frame | None]:
    """Return for each row the smallest frame that contains all its kinds, if it has any."""
    frames: list[Frame | None] = [None] * len(instance.rows)
    for kind in instance.kinds:
        sides = (kind.length, kind.width)
        mine = Frame(*(reversed(sides) if kind.transposed else sides))
        old = frames[kind.row] or mine
        frames[kind.row] = Frame(max(old.length, mine.length), max(old.width, mine.width))
    return frames


def item_extents(instance: Instance) -> list[Extents]:
    """Return for each item type how it may lie on sheets of which it can be cut at all."""
    found: list[set[tuple[int, int]]] = [set() for _ in instance.items]
    for kind in instance.kinds:
        if instance.rows[kind.row].at_hand == 0:
            continue
        for item, turns in enumerate(kind.orientations):
            for turned in turns:
                length, width = instance.size(item, turned)
                if length <= kind.length and width <= kind.width:
                    found[item].add((width, length) if kind.transposed else (length, width))
    return [tuple(sorted(extents)) for extents in found]


def _at_hand(instance: Instance) -> list[int | None]:
    """Sheets left of each row; none of a row that no kind uses."""
    used = {kind.row for kind in instance.kinds}
    return [row.at_hand if index in used else 0 for index, row in enumerate(instance.rows)]


def demands_of(instance: Instance) -> list[int]:
    """Copies of each item type that count: none of one that fits nowhere."""
    extents = item_extents(instance)
    return [it.demand if lies else 0 for it, lies in zip(instance.items, extents, strict=True)]


Valuation = tuple[list[int], list[int]]
"""A value for each item type, and for each row the most that one sheet can hold."""


def _valuations(
    frames: list[Frame | None], extents: list[Extents], demands: list[int]
) -> Iterator[Valuation]:
    """Yield the values by area, and the most telling pair of functions for each row."""
    yield (
        [min((x * y for x, y in lies), default=0) for lies in extents],
        [frame.area if frame else 0 for frame in frames],
    )
    for frame in {frame for frame in frames if frame}:
        along, across = _most_telling(frame, extents, demands)
        values = [_value(lies, frame, along, across) for lies in extents]
        capacity = along(frame.length) * across(frame.width)
        yield values, [_most(other, frame, capacity, values, extents) for other in frames]


def _value(lies: Extents, frame: Frame, along: DualFeasible, across: DualFeasible) -> int:
    """Least image of an item on the frame; its share of the area when it fits only elsewhere."""
    images = [along(x) * across(y) for x, y in lies if frame.takes(x, y)]
    if images:
        return min(images)
    capacity = along(frame.length) * across(frame.width)
    return min((capacity * x * y // frame.area for x, y in lies), default=0)


def _most(
    other: Frame | None, frame: Frame, capacity: int, values: list[int], extents: list[Extents]
) -> int:
    """Most value on a sheet of another row: by containment, or by the densest item."""
    if other is None:
        return 0
    lying = [
        Fraction(value, x * y)
        for value, lies in zip(values, extents, strict=True)
        for x, y in lies
        if other.takes(x, y)
    ]
    by_area = int(max(lying, default=Fraction(0)) * other.area)
    return min(capacity, by_area) if frame.takes(*other) else by_area


def _most_telling(
    frame: Frame, extents: list[Extents], demands: list[int]
) -> tuple[DualFeasible, DualFeasible]:
    """Return the pair of functions under which the items fill most sheets.

    Floats decide here: any pair is valid, and the one chosen is evaluated exactly later.
    """
    inside = [
        (d, [e for e in lies if frame.takes(*e)])
        for d, lies in zip(demands, extents, strict=True)
        if any(frame.takes(*e) for e in lies)
    ]
    alongs = _functions(frame.length, {x for _, lies in inside for x, _ in lies})
    acrosses = _functions(frame.width, {y for _, lies in inside for _, y in lies})
    # An item that lies one way only is given that way twice.
    x = _images(alongs, frame.length, [[lies[0][0], lies[-1][0]] for _, lies in inside])
    y = _images(acrosses, frame.width, [[lies[0][1], lies[-1][1]] for _, lies in inside])
    counts = np.array([d for d, _ in inside], dtype=float)
    loads = [(row[None] * y).min(axis=2) @ counts for row in x]
    best = divmod(int(np.argmax(loads)), len(acrosses)) if inside else (0, 0)
    return alongs[best[0]], acrosses[best[1]]


def _images(functions: list[DualFeasible], capacity: int, sizes: list[list[int]]) -> np.ndarray:
    """Return images as shares of the capacity's; axes: function, item, way of lying."""
    shape = (len(functions), len(sizes), 2)
    shares = [f(size) / f(capacity) for f, pair in product(functions, sizes) for size in pair]
    return np.array(shares, dtype=float).reshape(shape)


def _functions(capacity: int, sizes: set[int]) -> list[DualFeasible]:
    """Return the identity and three families of functions, with parameters that can matter."""
    folded = sorted({min(size, capacity - size) for size in sizes} - {0})
    thresholds = [*folded, *(f + 1 for f in folded)]
    half = [k for k in dict.fromkeys(thresholds) if 1 <= k <= capacity // 2]
    return [
        int,
        *(threshold(capacity, k) for k in _spread(half)),
        *(steps(capacity, k) for k in _spread(half)),
        *(rounding(capacity, k) for k in range(1, min(MOST_PARAMETERS, capacity))),
    ]


def _spread(values: list[int]) -> list[int]:
    """Return at most `MOST_PARAMETERS` of the values, evenly chosen."""
    return values[:: -(-len(values) // MOST_PARAMETERS) or 1]


def threshold(capacity: int, k: int) -> DualFeasible:
    """Sizes above C - k count full, below k not at all; 1 <= k <= C / 2.

    S. Martello, P. Toth, "Lower bounds and reduction procedures for the bin packing
    problem", Discrete Applied Mathematics 28 (1990), as a dual feasible function (a notion
    of G. S. Lueker, 1983) by S. P. Fekete, J. Schepers, "New classes of fast lower bounds
    for bin packing problems", Mathematical Programming 91 (2001): U. From memory.
    """
    return lambda x: capacity if x > capacity - k else 0 if x < k else x


def rounding(capacity: int, k: int) -> DualFeasible:
    """Round to k-ths, so that more than one (k+1)-th counts a whole k-th; k >= 1.

    S. P. Fekete, J. Schepers (2001, see `threshold`): u. From memory, times k * C.
    """

    def image(x: int) -> int:
        whole, rest = divmod((k + 1) * x, capacity)
        return capacity * whole if rest else k * x

    return image


def steps(capacity: int, k: int) -> DualFeasible:
    """Count how often k goes into a size, from above for sizes over half; 1 <= k <= C / 2.

    J. Carlier, F. Clautiaux, A. Moukrim, "New reduction procedures and lower bounds for the
    two-dimensional bin packing problem with fixed orientation", Computers & Operations
    Research 34 (2007): f2. From memory.
    """

    def image(x: int) -> int:
        if 2 * x > capacity:
            return 2 * (capacity // k - (capacity - x) // k)
        return capacity // k if 2 * x == capacity else 2 * (x // k)

    return image
