"""Solving again from scratch what GLOP failed at with what it remembered."""

from ortools.linear_solver import pywraplp


def solve_from_scratch(solver: pywraplp.Solver) -> int:
    """Solve as if for the first time, without the basis of the last time; return the status."""
    options = pywraplp.MPSolverParameters()
    options.SetIntegerParam(options.INCREMENTALITY, options.INCREMENTALITY_OFF)
    return int(solver.Solve(options))
