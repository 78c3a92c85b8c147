"""The passes inside the blocks: one piece after the other, the big ones first.

However the passes of a block are ordered, the set-up changes stay the same. So the piece
that lies there is finished as far as the setting goes before another is fetched; a sheet
that is begun comes before a new one; large pieces come before small ones.
"""

from collections.abc import Sequence
from functools import partial

from shared.cuts.order_problem import Problem
from solver.cut_order.beam import ColourBlock


def arranged(problem: Problem, blocks: Sequence[ColourBlock]) -> list[int]:
    """Return all passes of the blocks, one after the other."""
    done = problem.start
    order: list[int] = []
    for block in blocks:
        last = order[-1] if order else -1
        made = _one_by_one(problem, done, last, block) or block.passes
        done |= sum(1 << number for number in made)
        order += made
    return order


def _one_by_one(problem: Problem, done: int, last: int, block: ColourBlock) -> list[int] | None:
    """Return the passes of a block in a better order than its own, if there is room for it."""
    ahead, made, loose = set(block.passes), list[int](), problem.loose(done)
    while ahead:
        fitting = [
            number
            for number in ahead
            if not problem.before[number] & ~done
            and loose + problem.change(done, number) <= problem.limit
        ]
        if not fitting:
            return None
        last = min(fitting, key=partial(_merit, problem, done, last))
        ahead.remove(last)
        loose += problem.change(done, last)
        done |= 1 << last
        made.append(last)
    return made


def _merit(problem: Problem, done: int, last: int, number: int) -> tuple[int, int, int, int, int]:
    """Return what puts a pass before another; less is earlier."""
    piece = problem.pieces[problem.piece_of[number]]
    same = last >= 0 and problem.piece_of[last] == problem.piece_of[number]
    comes = last >= 0 and problem.opens[last] == problem.piece_of[number]
    near = 0 if same else 1 if comes else 2
    begun = 0 if piece.maker >= 0 or piece.passes & done else 1
    other_sheet = int(last >= 0 and _sheet(problem, last) != piece.sheet)
    return near, begun, other_sheet, -piece.area, number


def _sheet(problem: Problem, number: int) -> str:
    return problem.pieces[problem.piece_of[number]].sheet
