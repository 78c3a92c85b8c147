"""The compact guillotine model: the problem's definition in code, for small jobs.

Strips, blocks, items and their cuts are variables of CP-SAT, and every rule is a
constraint. It solves jobs of about a dozen parts to proof and is what the faster methods
are tested against.
"""

from enum import Enum, auto
from typing import NamedTuple

from solver.budget.stop import Stop
from solver.material.instance import Block, Instance, Laid, Lying, Solution, Strip
from solver.proof.compact.hints import Hint
from solver.proof.compact.limits import keep_limits
from solver.proof.compact.pieces import Pieces
from solver.proof.compact.remainder import Remainder
from solver.proof.compact.sawing import Sawing
from solver.proof.stoppable import Answer, Reach, Variable, solve

LEAST = -(2**53)
"""What a bound is when nothing is known."""
ANY_REACH = Reach()
"""One worker, and no limit."""


class CompactGoal(Enum):
    """What the model makes least."""

    PRICE = auto()
    SAWING = auto()
    REMAINDER = auto()


class Status(Enum):
    """How a solve ended."""

    PROVEN = auto()
    FOUND = auto()
    IMPOSSIBLE = auto()
    UNKNOWN = auto()


class CompactResult(NamedTuple):
    """What the model found, and proved.

    ``value`` (of the solution) and ``bound`` are price, seconds of sawing, or
    minus the area of the largest fall worth keeping; without a solution ``value`` is
    ``None``. No solution within the limits given is less than ``bound``.
    """

    status: Status
    solution: Solution | None
    value: int | None
    bound: int

    @property
    def is_proven(self) -> bool:
        """Whether the solution is best, or proven not to exist."""
        return self.status in {Status.PROVEN, Status.IMPOSSIBLE}


def cut(
    instance: Instance,
    *,
    max_sheets: int,
    goal: CompactGoal = CompactGoal.PRICE,
    most_price: int | None = None,
    most_rack: int | None = None,
    most_seconds: int | None = None,
    hint: Solution | None = None,
    costs: tuple[int, ...] | None = None,
    reach: Reach = ANY_REACH,
    stop: Stop | None = None,
) -> CompactResult:
    """Lay all items on at most so many sheets.

    Parameters
    ----------
    goal
        Least price, least sawing time, or largest fall worth keeping.
    most_price, most_rack, most_seconds
        Price, what is taken from the rack, and sawing time, not to be exceeded.
    hint
        A solution to begin with; one that leaves items out is not used.
    costs
        Price of a sheet of each row instead of the instance's own.
    reach, stop
        Limits of the solve.
    """
    pieces = Pieces(instance, max_sheets)
    keep_limits(pieces)
    price = _price(pieces, costs or tuple(row.price for row in instance.rows))
    objective = price
    if goal is not CompactGoal.PRICE:
        sawing = Sawing(pieces)
        objective = sawing.seconds
        if most_seconds is not None:
            pieces.model.add(sawing.seconds <= most_seconds)
        if goal is CompactGoal.REMAINDER:
            objective = -Remainder(pieces).area
    if most_price is not None:
        pieces.model.add(price <= most_price)
    if most_rack is not None:
        rack = _price(pieces, tuple(row.rack for row in instance.rows))
        pieces.model.add(rack <= most_rack)
    pieces.model.minimize(objective)
    if hint is not None and not any(hint.left):
        Hint(pieces, hint).give()
    return _result(pieces, objective, solve(pieces.model, reach, Stop() if stop is None else stop))


def _price(pieces: Pieces, costs: tuple[int, ...]) -> Variable:
    kinds = pieces.instance.kinds
    return sum(costs[kinds[k].row] * bought for (_, k), bought in pieces.bought.items())


def _result(pieces: Pieces, objective: Variable, answer: Answer) -> CompactResult:
    if not answer.is_found:
        status = Status.IMPOSSIBLE if answer.is_impossible else Status.UNKNOWN
        return CompactResult(status, None, None, _up(answer.bound))
    status = Status.PROVEN if answer.is_optimal else Status.FOUND
    value = answer(objective)
    return CompactResult(status, _read(pieces, answer), value, min(value, _up(answer.bound)))


def _up(bound: float) -> int:
    """Round a bound on whole numbers up; floats that should be whole are off a little."""
    return LEAST if bound < LEAST else int(-(-(bound - 1e-6) // 1))


def _read(pieces: Pieces, answer: Answer) -> Solution:
    """Return the solution found."""
    numbers = range(pieces.count)
    sheets = tuple(
        Laid(
            k,
            tuple(
                _strip(pieces, answer, t) for t in numbers[r:] if _is(answer, pieces.in_sheet, t, r)
            ),
        )
        for (r, k), bought in pieces.bought.items()
        if answer(bought)
    )
    return Solution(sheets, (0,) * len(pieces.instance.items))


def _is(answer: Answer, pairs: dict[tuple[int, int], Variable], member: int, leader: int) -> bool:
    return bool(answer(pairs[member, leader]))


def _strip(pieces: Pieces, answer: Answer, leader: int) -> Strip:
    numbers = range(leader, pieces.count)
    blocks = (_block(pieces, answer, b) for b in numbers if _is(answer, pieces.in_strip, b, leader))
    return Strip(answer(pieces.width[leader]), tuple(blocks))


def _block(pieces: Pieces, answer: Answer, leader: int) -> Block:
    numbers = range(leader, pieces.count)
    stack = (_lying(pieces, answer, c) for c in numbers if _is(answer, pieces.in_block, c, leader))
    return Block(answer(pieces.length[leader]), tuple(stack))


def _lying(pieces: Pieces, answer: Answer, copy: int) -> Lying:
    turned = any(answer(pieces.lies[copy, way]) for way in pieces.copies[copy].ways if way)
    return Lying(pieces.copies[copy].item, turned)
