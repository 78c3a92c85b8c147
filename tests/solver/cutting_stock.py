"""The textbook one-dimensional cutting-stock problem, solved exactly for short lists.

P. C. Gilmore, R. E. Gomory, "A linear programming approach to the cutting-stock problem",
Operations Research 9 (1961): one whole number for each cutting pattern of a roll. The
patterns are simply all listed here, so nothing is priced; SCIP finds the whole numbers.
"""

from collections.abc import Iterator, Sequence
from typing import NamedTuple

from ortools.linear_solver import pywraplp


class Order(NamedTuple):
    """So many pieces of one size."""

    size: int
    count: int


def fewest_rolls(room: int, orders: Sequence[Order]) -> int:
    """Return the least number of rolls of a size that give all pieces, without kerf."""
    program = pywraplp.Solver.CreateSolver("SCIP")
    patterns = list(patterns_of(room, orders))
    rolls = [program.IntVar(0, sum(order.count for order in orders), "") for _ in patterns]
    for number, order in enumerate(orders):
        made = sum(p[number] * n for p, n in zip(patterns, rolls, strict=True))
        program.Add(made >= order.count)
    program.Minimize(sum(rolls))
    assert program.Solve() == pywraplp.Solver.OPTIMAL
    return round(program.Objective().Value())


def patterns_of(room: int, orders: Sequence[Order]) -> Iterator[tuple[int, ...]]:
    """Yield the patterns of a roll to which no piece of the orders can be added."""
    if not orders:
        yield ()
        return
    (size, count), *rest = orders
    most = min(count, room // size)
    for number in range(most, -1, -1):
        left = room - number * size
        for pattern in patterns_of(left, rest):
            waste = left - sum(o.size * n for o, n in zip(rest, pattern, strict=True))
            if number == most or waste < size:
                yield (number, *pattern)
