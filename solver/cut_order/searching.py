"""The search in its two modes, with what is proven of the number of set-up changes."""

from collections.abc import Iterator, Sequence
from dataclasses import replace
from functools import partial
from itertools import islice, pairwise, product
from typing import NamedTuple

from shared.cuts.forest import Pass, Setting
from shared.cuts.order_problem import Problem, bits, surely_set, with_left_out
from solver.budget.stop import Stop
from solver.cut_order.beam import Beam, ColourBlock, least_loose
from solver.cut_order.by_sheet import (
    Ends,
    Option,
    best_row,
    ending_with,
    ends_of,
    most_kept,
    shared_ends,
)
from solver.cut_order.exact import exactly, fewest_blocks

WIDTHS = (4, 24, 120, 600, 2400)
"""States that the beam keeps, search after search, as long as there is time."""
OPTION_WIDTH, OPTION_STATES = 60, 1000
"""States kept, or looked at, when a sheet has to begin or end with a certain setting."""
OPTIONS = 60
"""Ways to begin and end a sheet that are tried at most."""
FEW = 60
"""Passes whose states may all be looked at."""

Order = list[Pass]


class FoundOrder(NamedTuple):
    """An order, and how many set-up changes every order of its mode has at least."""

    order: Order
    bound: int


def changes_of(order: Sequence[Pass]) -> int:
    """Count how often something else is set: marks between leave what is set as it is."""
    return sum(one != other for one, other in pairwise(one.setting for one in order if one.is_set))


class Sought(NamedTuple):
    """Blocks found so far, and a number of blocks that no order undercuts.

    ``least`` is the same of the blocks for which something is surely set.
    """

    problem: Problem
    blocks: list[ColourBlock]
    fewest: int
    least: int


def better(problem: Problem, stop: Stop) -> Iterator[Sought]:
    """Yield ever better orders of a problem with passes ahead, then better bounds.

    Where no order gets along with the room there is, it gets more: pieces that may not
    change places can demand it.
    """
    problem, blocks = _with_room(problem)
    beam, sure = Beam(problem), surely_set(problem)
    fewest, least = beam.settings, len({sure.colours[number] for number in bits(sure.ahead)})
    all_sure = len(sure.made) == len(problem.made)
    yield Sought(problem, blocks, fewest, least)
    if len(blocks) > fewest and not stop:
        fewest = fewest_blocks(problem, stop)
        least = fewest if all_sure else fewest_blocks(sure, stop)
        yield Sought(problem, blocks, fewest, least)
    if len(blocks) > fewest and _is_small(problem) and not stop:
        exact = exactly(problem, stop)
        blocks, fewest = exact.blocks or blocks, max(fewest, exact.fewest)
        least = fewest if all_sure else least
        yield Sought(problem, blocks, fewest, least)
    for width in WIDTHS[1:]:
        if len(blocks) <= fewest or stop:
            return
        wider = beam.blocks(width, stop)
        if wider is not None and len(wider) < len(blocks):
            blocks = wider
            yield Sought(problem, blocks, fewest, least)


def _is_small(problem: Problem) -> bool:
    return problem.ahead.bit_count() <= FEW


def _with_room(problem: Problem) -> tuple[Problem, list[ColourBlock]]:
    """Return the problem with room enough for some order, and that order."""
    if not _is_small(problem):
        problem = replace(problem, limit=max(problem.limit, least_loose(problem)))
    blocks = _some_blocks(problem)
    while blocks is None:
        problem = replace(problem, limit=problem.limit + 1)
        blocks = _some_blocks(problem)
    return problem, blocks


def _some_blocks(problem: Problem) -> list[ColourBlock] | None:
    """Return the order of a short search."""
    blocks = Beam(problem).blocks(WIDTHS[0], Stop())
    if blocks is None and _is_small(problem):
        blocks = exactly(problem, Stop(), most=OPTION_STATES).blocks
    return blocks


def across(problem: Problem, stop: Stop) -> Iterator[FoundOrder]:
    """Yield orders set-up by set-up over all sheets; one that is empty if all is made."""
    if not problem.ahead:
        yield FoundOrder([], 0)
        return
    for sought in better(problem, stop):
        yield FoundOrder(passes_of(sought.problem, sought.blocks), max(0, sought.least - 1))


def sheet_by_sheet(problems: Sequence[Problem], stop: Stop) -> Iterator[FoundOrder]:
    """Yield orders that finish each sheet before the next is begun; begun ones come first.

    The first comes from a short search of each sheet; then each is searched on, and set-ups
    are kept from sheet to sheet where that can be.
    """
    problems = sorted(problems, key=lambda problem: not problem.start)
    if not problems:
        yield FoundOrder([], 0)
        return
    searches = [better(problem, stop) for problem in problems]
    sought = [next(search) for search in searches]
    ends = [ends_of(problem) for problem in problems]
    kept = most_kept([one for one in ends if one.firsts], stop)
    yield _joined(sought, kept)
    for place, search in enumerate(searches):
        for found in search:
            sought[place] = found
    yield _joined(sought, kept)
    if kept and not stop:
        yield _joined(_in_a_row(sought, ends, stop), kept)


def _joined(sought: Sequence[Sought], kept: int) -> FoundOrder:
    """Return the orders of the sheets, one after the other."""
    order = [made for one in sought for made in passes_of(one.problem, one.blocks)]
    return FoundOrder(order, max(0, sum(one.least for one in sought) - 1 - kept))


def _in_a_row(sought: Sequence[Sought], ends: Sequence[Ends], stop: Stop) -> list[Sought]:
    """Put the sheets that are not begun in a row in which most set-ups stay."""
    begun = [one for one in sought if one.problem.start]
    rest = list(range(len(begun), len(sought)))
    if len(rest) < 2:
        return list(sought)
    options = [_options(sought[n], shared_ends(ends, n), stop) for n in rest]
    row = best_row(options, stop)
    chosen = zip(row.sheets, row.options, strict=True)
    return [*begun, *(sought[rest[n]]._replace(blocks=list(way.blocks)) for n, way in chosen)]


def _options(one: Sought, shared: Ends, stop: Stop) -> list[Option]:
    """Return ways to saw a sheet, with ends that other sheets share; its own is the first.

    One block more may be worth it where a set-up stays at both ends.
    """
    problem = one.problem
    colours = {problem.made[n].setting: problem.colours[n] for n in bits(problem.ahead)}
    firsts = [-1, *(colours[setting] for setting in sorted(shared.firsts))]
    endings = [problem]
    for setting in sorted(shared.lasts):
        endings += ending_with(problem, setting)
    found = {_ends(problem, one.blocks): one.blocks}
    for first, ending in islice(product(firsts, endings), OPTIONS):
        blocks = None if stop else _ended(ending, first, stop)
        if blocks is not None and len(blocks) <= len(one.blocks) + 1:
            known = found.setdefault(_ends(problem, blocks), blocks)
            if len(blocks) < len(known):
                found[_ends(problem, blocks)] = blocks
    return [Option(*ends, tuple(blocks)) for ends, blocks in found.items()]


def _ended(problem: Problem, first: int, stop: Stop) -> list[ColourBlock] | None:
    """Return the order of a short search that begins with a setting."""
    blocks = exactly(problem, stop, first, OPTION_STATES).blocks if _is_small(problem) else None
    return blocks or Beam(problem, first).blocks(OPTION_WIDTH, stop)


def _ends(problem: Problem, blocks: Sequence[ColourBlock]) -> tuple[Setting, Setting]:
    first, last = (problem.made[blocks[end].passes[0]].setting for end in (0, -1))
    return first, last


def passes_of(problem: Problem, blocks: Sequence[ColourBlock]) -> Order:
    """Return all passes of the blocks, inside each one piece after the other, big ones first.

    However the passes of a block are ordered, the set-up changes stay the same. So the piece
    that lies there is finished as far as the setting goes before another is fetched; a sheet
    that is begun comes before a new one; large pieces come before small ones.
    """
    done = problem.start
    order: list[int] = []
    for block in blocks:
        last = order[-1] if order else -1
        made = _one_by_one(problem, done, last, block) or block.passes
        done |= sum(1 << number for number in made)
        order += made
    return with_left_out(problem, order)


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
    other_sheet = int(last >= 0 and problem.pieces[problem.piece_of[last]].sheet != piece.sheet)
    return near, begun, other_sheet, -piece.area, number
