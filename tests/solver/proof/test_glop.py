"""What GLOP fails at is solved again from scratch, and columns may follow."""

from ortools.linear_solver import pywraplp

from solver.proof.restricted_master import solve_from_scratch


def test_a_program_is_solved_again_without_what_was_remembered() -> None:
    """Least x with x >= 2 is 2; with another column worth half as much, 1, from scratch too."""
    solver = pywraplp.Solver.CreateSolver("GLOP")
    row = solver.Constraint(2.0, solver.infinity())
    for cost in (1.0, 0.5):
        column = solver.NumVar(0.0, solver.infinity(), "")
        row.SetCoefficient(column, 1.0)
        solver.Objective().SetCoefficient(column, cost)
        assert solver.Solve() == solve_from_scratch(solver) == pywraplp.Solver.OPTIMAL
        assert solver.Objective().Value() == 2.0 * cost
        assert row.dual_value() == cost
