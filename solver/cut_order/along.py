"""Group after group where rails are laid again because they are in hand, or joined.

What stands between groups does not come down to a few ways there. For the bound each group is
searched from all that may stand at once; for the order, along the row as it is given.
"""

from collections.abc import Iterable, Iterator, Sequence
from typing import Final

from shared.cuts.order_problem import bits
from shared.making.rail_choice import Rails
from solver.budget.stop import Stop
from solver.cut_order.clock import Standing
from solver.cut_order.facts import Facts
from solver.cut_order.groups import Group
from solver.cut_order.states import NOTHING_USEFUL, States
from solver.cut_order.task import Task

AT_A_TIME: Final = 400
"""States of a group that are looked at before the time is."""
RAILS: Final = 60
"""States of the rails that are told apart."""


class Along:
    """The groups of a task, in the row that is given."""

    def __init__(self, task: Task, facts: Facts, given: Sequence[int]) -> None:
        """Take the facts and an order."""
        self.task, self.facts = task, facts
        self._groups = [Group(task, facts, n, given) for n in range(len(task.groups))]
        self.order, self.counts = list(given), task.worth(given)
        self.bound = 0

    def search(self, stop: Stop) -> Iterator[tuple[list[int], int]]:
        """Yield orders along the row as it is given, and bounds from whatever may stand."""
        yield self.order, min(self._anywhere(stop), self.counts)
        order: list[int] = []
        standing = self.task.standing
        for group in self._groups_given():
            search = States(group.least, ([standing], group.done), NOTHING_USEFUL, group.limit)
            while search.bound is not None and not stop and not search.run(stop, AT_A_TIME):
                pass
            its = min(search.found.values(), default=None)
            order += group.own if its is None else its.order
            standing = self.task.clock.run(order, self.task.standing)[1]
        counts = self.task.worth(order)
        if counts < self.counts:
            self.order, self.counts = order, counts
            yield self.order, min(self.bound, self.counts)

    def _groups_given(self) -> list[Group]:
        place = {number: at for at, number in enumerate(self.order)}
        return sorted(self._groups, key=lambda group: min(place[n] for n in bits(group.passes)))

    def _anywhere(self, stop: Stop) -> int:
        """Return what all groups count at least, each from whatever may stand before it."""
        rails = self._all_rails()
        self.bound = 0
        for group in self._groups:
            least = group.least.anywhere(group.done)
            if rails is not None:
                its = stop.within(stop.remaining_s / 2 / len(self._groups))
                starts = list(self._all_standing(group, rails))
                search = States(group.least, (starts, group.done), group.useful, group.limit)
                while search.bound is not None and not its and not search.run(its, AT_A_TIME):
                    pass
                least = max(least, search.least or 0)
            self.bound += least
        return self.bound

    def _all_rails(self) -> list[Rails] | None:
        """Return all states of the rails that can come about; ``None`` if they are too many."""
        clock, known = self.task.clock, [self.task.standing.rails]
        longs = {clock.doing(n, 0).long for n in self.facts.of if self.facts.rails.ways}
        for rails in known:
            for long in longs:
                after = self.facts.rails.take(rails, long).rails
                if after not in known:
                    known.append(after)
            if len(known) > RAILS:
                return None
        return known

    def _all_standing(self, group: Group, rails: Iterable[Rails]) -> Iterator[Standing]:
        colours = {colour for colour, _ in self.facts.setters}
        found = [self.task.standing]
        for hand in rails:
            found.append(Standing(hand))
            found += [
                Standing(hand, colour, self.facts.devices[colour], 2)
                for colour in colours
                if group.least.may_set(colour, hand.hand)
            ]
        for standing in found:
            yield standing
            yield from group.lying(standing)
