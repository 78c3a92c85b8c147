"""What is ahead in an order of passes takes at least, kept up pass by pass.

A size has to be set as often as passes of it need each other with another size between, and
once more for each rail it needs. Each piece comes to the saw once: it may still lie there from
the pass that makes it, and is turned then; one that is left with passes ahead has to come again.
"""

from typing import Final, NamedTuple

from shared.cuts.order_problem import bits
from shared.lengths import Length
from shared.making.rail_choice import RailChoice, Rails
from shared.making.record import Bed
from shared.shop import Rail, Support
from solver.cut_order.clock import NOTHING, Doing
from solver.cut_order.task import Task

GONE: Final = -1
"""No run."""


class Entry(NamedTuple):
    """What it counts that a piece comes to the saw for a run.

    ``laid`` from where it lies about, ``best`` in the best case: out of the pass before.
    """

    laid: int
    best: int


class Outlook:
    """Tables of one task: what is known of its passes before any order is."""

    def __init__(self, task: Task) -> None:
        """Look at all passes ahead, group after group."""
        self._task, problem = task, task.problem
        self._shop = task.clock.shop
        self._ways = RailChoice(self._shop)
        count = len(problem.made)
        self.group_of = [0] * count
        for group in task.groups:
            for number in bits(group):
                self.group_of[number] = group
        self.run_of = [one.run for one in problem.made]
        self.runs: dict[int, int] = {}
        for number, run in enumerate(self.run_of):
            self.runs[run] = self.runs.get(run, 0) | 1 << number
        self._doings = [task.clock.doing(number, problem.start) for number in range(count)]
        self._laid_for = [self._rail_of(doing) for doing in self._doings]
        self.same = self._same()
        self.levels = self._levels()
        self.entries = {
            run: self._entry(next(bits(mask & problem.ahead)))
            for run, mask in self.runs.items()
            if mask & problem.ahead
        }
        self._rails_for: dict[Length, int] = {}
        self._choices: dict[tuple[Rail, ...], int] = {}
        self._fitting: dict[tuple[int, Rail | None, int], int] = {}
        self._unfit: dict[tuple[Rails, int], int] = {}

    # -- what is set

    def _rail_of(self, doing: Doing) -> Rail | None:
        """Return the rail that a pass takes when none is in hand."""
        if doing.bed is Bed.NONE or not self._ways.ways:
            return None
        return self._ways.take(Rails(), doing.long).rail

    def rails_for(self, long: Length) -> int:
        """Return a number for the rails that a cut so long takes, whichever is in hand."""
        found = self._rails_for.get(long)
        if found is None:
            hands = (None, *self._ways.ways) if self._ways.ways else ()
            rails = tuple(self._ways.take(Rails(hand), long).rail for hand in hands)
            found = self._choices.setdefault(rails, len(self._choices))
            self._rails_for[long] = found
        return found

    def _same(self) -> list[int]:
        """Return for each pass those of its group that are made at one setting with it."""
        found: dict[object, int] = {}
        keys = [
            (doing.colour, rail, group)
            for doing, rail, group in zip(self._doings, self._laid_for, self.group_of, strict=True)
        ]
        for number in bits(self._task.problem.ahead):
            if self._doings[number].colour != NOTHING:
                found[keys[number]] = found.get(keys[number], 0) | 1 << number
        return [found.get(key, 0) for key in keys]

    def _levels(self) -> list[tuple[int, ...]]:
        """Return for each pass sets of passes: as many must still be set for as have some ahead.

        The first holds all at its setting, the next those which others of them need, with
        something else set between, and so on, as far as the pass is among them.
        """
        problem = self._task.problem
        row, above = self._in_row()
        coloured = sum(1 << number for number in row if self.same[number])
        self.others = [
            above.get(number, 0) & coloured & ~same for number, same in enumerate(self.same)
        ]
        depth = dict.fromkeys(row, 1)
        for number in reversed(row):
            same, between = self.same[number], 0
            if not same:
                continue
            for one in bits(above[number] & ~same):
                if self.same[one]:
                    between |= above[one]
            for one in bits(between & same):
                depth[one] = max(depth[one], depth[number] + 1)
        levels: list[tuple[int, ...]] = [()] * len(problem.made)
        for same in set(self.same) - {0}:
            deepest = max(depth[one] for one in bits(same))
            sets = [
                sum(1 << one for one in bits(same) if depth[one] > level)
                for level in range(deepest)
            ]
            for one in bits(same):
                levels[one] = tuple(sets[: depth[one]])
        return levels

    def _in_row(self) -> tuple[list[int], dict[int, int]]:
        """Return all passes ahead in some order, and for each all of its group that it needs."""
        before, rest = self._task.problem.before, self._task.problem.ahead
        row, above = list[int](), dict[int, int]()
        while rest:
            for number in bits(rest):
                needed = before[number] & self.group_of[number]
                if not needed & rest:
                    rest ^= 1 << number
                    row.append(number)
                    above[number] = needed
                    for one in bits(needed):
                        above[number] |= above[one]
        return row, above

    def fitting(self, colour: int, hand: Rail | None, group: int) -> int:
        """Return the passes of a group that are made with what is set and in hand."""
        found = self._fitting.get((colour, hand, group))
        if found is None:
            found = 0
            for number in bits(group):
                rail = self._laid_for[number]
                if self._doings[number].colour == colour and rail in {None, hand}:
                    found |= 1 << number
            self._fitting[colour, hand, group] = found
        return found

    def unfit(self, rails: Rails, group: int) -> int:
        """Return the passes of a group that take another rail than the one in hand."""
        found = self._unfit.get((rails, group))
        if found is None:
            found = 0
            for number in bits(group):
                rail, long = self._laid_for[number], self._doings[number].long
                if rail is not None and self._ways.take(rails, long).change:
                    found |= 1 << number
            self._unfit[rails, group] = found
        return found

    # -- what comes to the saw

    def _entry(self, number: int) -> Entry:
        """Return what it counts that a piece comes for the run of a pass."""
        problem, doing = self._task.problem, self._doings[number]
        piece = problem.pieces[problem.piece_of[number]]
        group, maker = self.group_of[number], piece.maker
        laid = doing.laid_s + self._task.lift
        turned = min(laid, doing.turned_s + self._task.lift)
        if self._shop.support is not Support.HORSES:
            turned = 0
        if problem.before[number] & piece.passes & ~self.runs[self.run_of[number]]:
            return Entry(laid, turned)
        if maker < 0 or not group >> maker & 1:
            return Entry(laid, laid)
        along = problem.made[maker].axis is problem.made[number].axis
        return Entry(laid, 0 if along else turned)
