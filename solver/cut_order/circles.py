"""Settings that need each other in a circle: how many have to be set twice, by CP-SAT.

A setting that gets along with one block has all its passes there. Then what any of them
needs comes before the block, and what needs any of them comes after it: so the settings of
one block each can be put in a row such that no pass comes before what it needs. The model
chooses the row, and the fewest settings that have to stay out of it: each of those takes a
second block. How many pieces may lie about is left out, so the bound is true, if weaker.
"""

from math import ceil

from ortools.sat.python import cp_model

from shared.cuts.order_problem import Problem, ancestors, bits
from solver.budget.stop import Stop
from solver.proof.stoppable import Reach, solve


def fewest_blocks(problem: Problem, stop: Stop, seconds: float = 5.0) -> int:
    """Return a number of blocks that no order of the passes ahead undercuts."""
    colours = sorted({problem.colours[number] for number in bits(problem.ahead)})
    pairs = _comes_before(problem)
    if not pairs:
        return len(colours)
    model = cp_model.CpModel()
    place = {colour: model.new_int_var(0, len(colours), "") for colour in colours}
    twice = {colour: model.new_bool_var("") for colour in colours}
    for one, other in pairs:
        row = model.add(place[one] < place[other])
        row.only_enforce_if([~twice[one], ~twice[other]])
    model.minimize(sum(twice.values()))
    answer = solve(model, Reach(seconds=seconds), stop)
    return len(colours) + (max(0, ceil(answer.bound - 1e-6)) if answer.is_found else 0)


def _comes_before(problem: Problem) -> set[tuple[int, int]]:
    """Return which setting some pass needs before a pass of which other setting."""
    return {
        (problem.colours[one], problem.colours[number])
        for number in bits(problem.ahead)
        for one in bits(ancestors(problem.before, number) & problem.ahead)
        if problem.colours[one] != problem.colours[number]
    }
