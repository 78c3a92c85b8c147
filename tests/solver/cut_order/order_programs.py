"""Orders as general mixed-integer programs: second opinions that share no code with the planner.

SCIP solves them, by way of OR-Tools' linear interface.
"""

from collections.abc import Collection, Mapping, Sequence
from itertools import combinations, permutations
from typing import Any

from ortools.linear_solver import pywraplp

Arcs = Collection[tuple[int, int]]
"""Arcs of a digraph: from, to."""


def _solver() -> Any:
    return pywraplp.Solver.CreateSolver("SCIP")


def _value(solver: Any) -> int:
    """Solve, and return the value of the objective; RuntimeError unless it is proven."""
    if solver.Solve() != pywraplp.Solver.OPTIMAL:
        raise RuntimeError("the program was not solved")
    value: int = round(solver.Objective().Value())
    return value


def feedback_vertices(arcs: Arcs) -> int:
    """Return how few vertices have to go so that no circle is left in a digraph.

    What stays is put in a row as M. Grötschel, M. Jünger and G. Reinelt do, "A cutting plane
    algorithm for the linear ordering problem", Operations Research 32 (1984): for each pair
    which comes first, for each three no circle.
    """
    solver, vertices = _solver(), sorted({vertex for arc in arcs for vertex in arc})
    gone = {vertex: solver.BoolVar("") for vertex in vertices}
    first = {pair: solver.BoolVar("") for pair in permutations(vertices, 2)}
    for one, other in combinations(vertices, 2):
        solver.Add(first[one, other] + first[other, one] == 1)
    for one, other, third in permutations(vertices, 3):
        if one == min(one, other, third):
            solver.Add(first[one, other] + first[other, third] + first[third, one] <= 2)
    for one, other in arcs:
        solver.Add(first[one, other] + gone[one] + gone[other] >= 1)
    solver.Minimize(sum(gone.values()))
    return _value(solver)


def fewest_blocks(colours: Sequence[int], before: Mapping[int, Collection[int]], most: int) -> int:
    """Return the fewest blocks of one colour that hold all passes, each after what it needs.

    ``before`` names for each pass those it needs; ``most`` is a number of blocks that is
    enough. Each block has one colour, each pass a block of its colour, and what a pass needs
    is in no later block.
    """
    solver, blocks = _solver(), range(most)
    has = {(c, k): solver.BoolVar("") for c in set(colours) for k in blocks}
    lies = {(n, k): solver.BoolVar("") for n in range(len(colours)) for k in blocks}
    for k in blocks:
        solver.Add(sum(has[colour, k] for colour in set(colours)) <= 1)
    for number, colour in enumerate(colours):
        solver.Add(sum(lies[number, k] for k in blocks) == 1)
        for k in blocks:
            solver.Add(lies[number, k] <= has[colour, k])
            for need in before.get(number, ()):
                by_then = sum(lies[need, j] for j in range(k + 1))
                solver.Add(lies[number, k] <= by_then)
    solver.Minimize(sum(has.values()))
    return _value(solver)


def least_tour(
    first: Sequence[int],
    arcs: Mapping[tuple[int, int], int],
    before: Collection[tuple[int, int]],
) -> int:
    """Return what the cheapest row of all vertices costs, each after those it needs.

    ``first`` is what each costs when it comes first, ``arcs`` what one costs right after another;
    ``before`` are pairs of which one comes before the other at any remove. A tour by way of a
    depot, whose places in the row keep it in one piece, as C. E. Miller, A. W. Tucker and
    R. A. Zemlin do, "Integer programming formulation of traveling salesman problems", Journal of
    the ACM 7 (1960), as tight as M. Desrochers and G. Laporte make it (1991).
    """
    solver, count = _solver(), len(first)
    depot, everyone = count, range(count + 1)
    uses = {pair: solver.BoolVar("") for pair in permutations(everyone, 2)}
    place = [solver.NumVar(0, count - 1, "") for _ in range(count)]
    for one in everyone:
        solver.Add(sum(uses[one, other] for other in everyone if other != one) == 1)
        solver.Add(sum(uses[other, one] for other in everyone if other != one) == 1)
    for one, other in permutations(range(count), 2):
        beside = count * uses[one, other] + (count - 2) * uses[other, one]
        solver.Add(place[one] - place[other] + beside <= count - 1)
    for one, other in before:
        solver.Add(place[one] + 1 <= place[other])
        solver.Add(uses[other, one] == 0)
    costs = [first[one] * uses[depot, one] for one in range(count)]
    costs += [cost * uses[pair] for pair, cost in arcs.items()]
    solver.Minimize(sum(costs))
    return _value(solver)
