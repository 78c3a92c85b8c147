"""A word to stop reaches CP-SAT at any moment."""

import signal
import sys
import threading
from pathlib import Path
from typing import Any

import pytest
from ortools.sat.python import cp_model

from solver.budget.stop import Stop
from solver.proof.stoppable import Reach, solve


def pigeons(holes: int) -> Any:
    """Return a model that is impossible, but takes ages to see through."""
    model = cp_model.CpModel()
    places = [[model.new_bool_var("") for _ in range(holes)] for _ in range(holes + 1)]
    for pigeon in places:
        model.add_bool_or(pigeon)
    for hole in zip(*places, strict=True):
        for one, pigeon in enumerate(hole):
            for other in hole[:one]:
                model.add_bool_or(~pigeon, ~other)
    return model


def test_asked_before_it_begins_nothing_is_solved() -> None:
    """No bound, no solution, no proof."""
    stop = Stop()
    stop.ask()
    answer = solve(pigeons(3), Reach(), stop)
    assert not any((answer.is_found, answer.is_optimal, answer.is_impossible))
    assert answer.bound == float("-inf")


def test_asked_in_the_middle_it_ends() -> None:
    """A solve without any limit ends because of the stop alone."""
    stop = Stop()
    timer = threading.Timer(0.3, stop.ask)
    timer.start()
    answer = solve(_hard(), Reach(), stop)
    timer.join()
    assert stop.asked
    assert not answer.is_optimal


def _hard() -> Any:
    """Return a model with many solutions whose best takes ages to prove."""
    model = cp_model.CpModel()
    numbers = [model.new_int_var(1, 5000, "") for _ in range(24)]
    model.add_all_different(numbers)
    squares = [model.new_int_var(1, 25_000_000, "") for _ in numbers]
    for number, square in zip(numbers, squares, strict=True):
        model.add_multiplication_equality(square, [number, number])
    model.add(sum(squares[:12]) == sum(squares[12:]) + 1)
    model.minimize(sum(n * (7 * i % 13 - 6) for i, n in enumerate(numbers)))
    return model


def test_a_condition_is_a_stop_too() -> None:
    """The stop may be a question asked again and again."""
    answers = iter([False] * 5)
    stop = Stop().when(lambda: next(answers, True))
    answer = solve(_hard(), Reach(), stop)
    assert not answer.is_optimal


def test_a_small_model_is_solved() -> None:
    """Optimum, bound and values of a sum."""
    model = cp_model.CpModel()
    x = model.new_int_var(0, 9, "")
    model.add(3 * x >= 10)
    model.minimize(x)
    answer = solve(model, Reach(), Stop())
    assert answer.is_optimal
    assert (answer(x), answer(2 * x), answer.bound) == (4, 8, 4.0)


def test_an_impossible_model_is_said_to_be() -> None:
    """Four pigeons do not fit three holes."""
    assert solve(pigeons(3), Reach(), Stop()).is_impossible


def test_an_unsound_model_is_an_error() -> None:
    """A sum beyond what the solver can add up is no answer."""
    model = cp_model.CpModel()
    x = model.new_int_var(0, 2**61, "")
    model.add(8 * x + 3 >= 5)
    with pytest.raises(ValueError, match=r".+"):
        solve(model, Reach(), Stop())


@pytest.mark.skipif(sys.platform != "linux", reason="only /proc tells who hears a signal")
def test_ctrl_c_is_heard_by_who_heard_it_before() -> None:
    """CP-SAT hears it for itself if it may, and leaves it deadly when it has solved."""
    before = signal.signal(signal.SIGINT, lambda *_: None)
    try:
        solve(pigeons(2), Reach(seconds=1), Stop())
        status = Path("/proc/self/status").read_text("utf-8")
    finally:
        signal.signal(signal.SIGINT, before)
    caught = next(line.split()[1] for line in status.splitlines() if line.startswith("SigCgt:"))
    assert int(caught, 16) >> (signal.SIGINT - 1) & 1
