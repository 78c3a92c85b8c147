"""One group of passes: the searches through it, for every way of entering and leaving it."""

from collections.abc import Iterator, Sequence
from typing import Final, NamedTuple

from shared.cuts.order_problem import bits
from shared.shop import Rail
from solver.cut_order.clock import NOTHING, Standing
from solver.cut_order.facts import Facts
from solver.cut_order.least import Least
from solver.cut_order.room import Room
from solver.cut_order.states import NOTHING_USEFUL, Ending, States, Useful
from solver.cut_order.task import Task


class Stands(NamedTuple):
    """What stands between two groups, as far as it can be of use; ``since`` as in `Standing`."""

    colour: int = NOTHING
    rail: Rail | None = None
    since: int = 0


NONE: Final = Stands()
"""What stands is of no use."""
FIRST: Final = Stands(colour=-2)
"""What stands at first, before any group."""


class Group:
    """One group: all searches through it."""

    def __init__(self, task: Task, facts: Facts, place: int, given: Sequence[int]) -> None:
        self.passes = task.groups[place]
        self.place, self.task, self.facts = place, task, facts
        self.least = Least(facts, self.passes)
        self.finishes = task.finishing and place == len(task.groups) - 1
        made = range(place) if self.finishes else range(min(place, task.begun))
        self.done = task.problem.start | sum(task.groups[n] for n in made)
        self.own = [number for number in given if self.passes >> number & 1]
        self.limit = 1 << 30 if self.finishes else self._limit()
        self.useful = NOTHING_USEFUL
        self.searches: dict[tuple[Stands, Ending | None], States] = {}

    def _limit(self) -> int:
        """Return the room for loose pieces: more if as many lie there or the order given takes."""
        room = Room(self.task.problem, self.passes, self.done)
        return max(self.task.problem.limit, room.most_loose(self.own))

    @property
    def goes_through(self) -> bool:
        """Whether something may stand when it is left only because it stood before."""
        return not self.least.pairs or bool(self.facts.rails.ways and not self.least.rails)

    def begins(self) -> Useful:
        """Return the settings and rails that it may begin with."""
        facts, settings, rails = self.facts, set[tuple[int, Rail | None]](), set[Rail]()
        for number in bits(self.passes):
            earlier = [facts.of[one] for one in bits(facts.needs[number] & self.passes)]
            taken = {one.rail for one in earlier} - {None}
            its = {rail for rail in facts.reach[number] if taken <= {rail}}
            rails |= its
            set_before = {one.colour for one in earlier} - {NOTHING}
            for doing in facts.ways_of(number):
                if doing.colour != NOTHING and set_before <= {doing.colour}:
                    with_rail = facts.rails_for(doing)
                    settings |= {(doing.colour, r) for r in with_rail if r is None or r in its}
        return Useful(frozenset(settings), frozenset(rails))

    def search(self, entry: Stands, ending: Ending | None, standing: Standing) -> States:
        """Return the search of a way in and out, which is begun with what stands."""
        found = self.searches.get((entry, ending))
        if found is None:
            starts = [standing, *self.lying(standing)]
            found = self.searches[entry, ending] = States(
                self.least, (starts, self.done), self.useful, self.limit, ending
            )
        return found

    def lying(self, standing: Standing) -> Iterator[Standing]:
        """Yield what may stand with pieces of this group that lie there from the last pass.

        Only blanks that are finished come from another group. Which of them lies there is left
        open, so what comes out is a bound.
        """
        problem, known = self.task.problem, set[Standing]()
        for number in bits(problem.ahead & ~self.passes if self.finishes else 0):
            its = [problem.piece_of[number], problem.opens[number]]
            one, other = (piece if piece in self.least.pieces else NOTHING for piece in its)
            lying = standing._replace(pieces=(one, other), axis=problem.made[number].axis)
            if (one >= 0 or other >= 0) and lying not in known:
                known.add(lying)
                yield lying


def leavings(ending: Ending | None) -> list[Stands]:
    """Return what may stand where a group is left so."""
    if ending is None:
        return [NONE]
    if ending.colour == NOTHING:
        return [Stands(rail=ending.rail)]
    return [Stands(ending.colour, ending.rail, since) for since in (1, 2)]


def may_follow(task: Task, one: int, other: int) -> bool:
    """Whether a group may come right after another, or first for -1."""
    last = len(task.groups) - 1
    if one == other or (task.finishing and one == last):
        return False
    if other < task.begun or one < task.begun - 1:
        return other == one + 1
    if task.finishing and other == last:
        return one >= 0 or last == 0
    return True
