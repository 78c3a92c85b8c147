"""Group after group: the best order of all passes, and what no such order undercuts.

What a group takes hangs on how it is entered: with which rail in hand, and whether a setting
stands that it can begin with. How it is left matters only where another group can use what it
leaves. So each group is searched for every way of entering and leaving it that may spare
something (`solver.cut_order.states`), and CP-SAT puts the groups in a row and chooses one of
these ways for each. While a way is not searched to its end it counts what it takes at least:
then the row counts no more than the best order does. The ways of a row are searched on until it
has none left that is not: then it is the best.

Where a rail is laid again because it is in hand, or rails are joined, what stands does not come
down to a few ways. There each group is searched from whatever may stand at once, for the bound,
and along the row as it is given, for the order.
"""

from collections.abc import Iterator, Sequence
from itertools import permutations
from typing import Final

from shared.making.rail_choice import Rails
from shared.shop import Rail
from solver.budget.stop import Stop
from solver.cut_order.along import Along
from solver.cut_order.clock import NOTHING, START, Standing
from solver.cut_order.facts import Facts
from solver.cut_order.groups import FIRST, NONE, Group, Stands, leavings, may_follow
from solver.cut_order.row_model import Key, Row, RowModel, Way
from solver.cut_order.states import Ending, Leaving, States, Useful
from solver.cut_order.task import Task

AT_A_TIME: Final = 400
"""States of a group that are looked at before the row is looked at again."""
BEFORE: Final = 0.6
"""Part of the time before the first row is sought."""
LONG_S: Final = 60.0
"""Of that much time at most."""
ROUNDS: Final = 8
"""So often each way from groups that nothing aids is searched on before the first row."""


def by_rows(task: Task, given: Sequence[int], stop: Stop) -> Iterator[tuple[list[int], int]]:
    """Yield ever better orders, group after group, or better bounds, with what they count.

    ``given`` is an order of all passes ahead, group after group. A bound is what every order
    counts at least that finishes one group before the next is begun. It is the last one's own
    count when that is the best there is.
    """
    if not task.groups:
        return
    facts = Facts(task)
    rows = Rows(task, facts, given) if facts.forgets else Along(task, facts, given)
    yield from rows.search(stop)


class Rows:
    """The groups of a task, the ways through them, and the rows they can be put in."""

    def __init__(self, task: Task, facts: Facts, given: Sequence[int]) -> None:
        """Take an order that is given; what counts no less is not taken."""
        self.task, self.facts = task, facts
        self._groups = [Group(task, facts, n, given) for n in range(len(task.groups))]
        self._begins = [group.begins() for group in self._groups]
        self.order = list(given)
        self.counts = task.worth(given)
        self.bound = 0
        self._ways: dict[Key, Way] = {}
        self._say_what_is_useful()

    def _say_what_is_useful(self) -> None:
        """Tell each group what others can begin with; it goes through where nothing is set."""
        if any(group.goes_through for group in self._groups):
            everything = self._together(self._begins)
            self._begins = [
                everything if group.goes_through else its
                for its, group in zip(self._begins, self._groups, strict=True)
            ]
        for group in self._groups:
            later = [
                its for n, its in enumerate(self._begins) if may_follow(self.task, group.place, n)
            ]
            group.useful = self._together(later)
        everything = self._together(self._begins)
        others = [way for way in self.facts.rails.ways if way not in everything.rails]
        self._other = Rails(hand=others[0] if others else None)
        self._all_set = not any(group.goes_through for group in self._groups)
        self._may_leave_nothing = bool(others) or not self.facts.rails.ways

    @staticmethod
    def _together(some: Sequence[Useful]) -> Useful:
        return Useful(
            frozenset[tuple[int, Rail | None]]().union(*(one.settings for one in some)),
            frozenset[Rail]().union(*(one.rails for one in some)),
        )

    # -- where a rail does not hang on what is in hand

    def search(self, stop: Stop) -> Iterator[tuple[list[int], int]]:
        """Yield orders and bounds until the best order is found."""
        self.bound = min(self.counts, self._anywhere())
        yield self.order, self.bound
        self._find_ways(stop.within(BEFORE * min(stop.remaining_s, LONG_S)))
        self.bound = min(self.counts, max(self.bound, self._unaided()))
        while True:
            row = self._row(stop)
            if row is None:
                return
            self._take(row)
            self.bound = min(self.counts, max(self.bound, row.least))
            yield self.order, self.bound
            if self.bound >= self.counts or stop:
                return
            if not self._search_on(row, stop):
                return

    def _anywhere(self) -> int:
        """Return what all groups count at least, whatever stands before each."""
        return sum(group.least.anywhere(group.done) for group in self._groups)

    def _unaided(self) -> int:
        """Return what all groups count at least, by how much any other can spare a group."""
        if not self._all_set:
            return 0
        total, shop = 0, self.facts.shop
        most = shop.rail_s + shop.setup_s + shop.measure_s
        for group in self._groups:
            search = group.searches.get((NONE, None)) or group.searches.get((FIRST, None))
            least = None if search is None else search.least
            alone = (FIRST, None) in group.searches and len(self._groups) == 1
            total += max(0, (least or 0) - (0 if alone else most))
        return total

    def _find_ways(self, stop: Stop) -> None:
        """Search each group without aid, then say how others may aid it and be aided by it."""
        count = len(self._groups)
        self._entries: list[list[Stands]] = [[NONE] for _ in range(count)]
        for group in self._groups:
            if count > 1:
                self._search(group, NONE, None).run(stop, AT_A_TIME)
            if may_follow(self.task, -1, group.place):
                self._entries[group.place].append(FIRST)
                if not self._is_like_none(group, FIRST):
                    self._search(group, FIRST, None).run(stop, AT_A_TIME)
        self._search_plainly(stop.within(stop.remaining_s / 2))
        self._endings: list[list[Ending | None]] = [
            [None, *(one for one in self._wanted(group) if self._may_pay(group, one))]
            for group in self._groups
        ]
        for group, other in permutations(self._groups, 2):
            if may_follow(self.task, group.place, other.place):
                for ending in self._endings[group.place]:
                    for left in leavings(ending):
                        entry = self._entered(other.place, left)
                        if entry not in self._entries[other.place]:
                            self._entries[other.place].append(entry)
                            if other.goes_through:
                                self._search(other, entry, None)
        self._settle(stop)

    def _search_plainly(self, stop: Stop) -> None:
        """Search groups to their end that nothing aids and that aid nobody, as far as time goes."""
        searches = [its for group in self._groups for its in group.searches.values()]
        while not stop:
            ahead = [one for one in searches if not one.found and one.bound is not None]
            if not ahead:
                return
            for search in ahead:
                search.run(stop, AT_A_TIME)

    def _settle(self, stop: Stop) -> None:
        """Search on what may be worth while from groups that nothing aids, if it soon comes out.

        Where no ending is, no group is ever aided.
        """
        for _ in range(ROUNDS):
            some = False
            for group in self._groups:
                for entry in (NONE, FIRST):
                    for ending in self._endings[group.place]:
                        search = group.searches.get((entry, ending))
                        if search is None or search.found or stop:
                            continue
                        way = self._way(group, entry, ending, leavings(ending)[0])
                        if way is not None and self._pays(group, entry, ending, way):
                            search.run(stop, AT_A_TIME)
                            some = True
            if not some:
                return

    def _is_like_none(self, group: Group, entry: Stands) -> bool:
        """Whether nothing stands at first but that no rail is in hand yet, which spares a change.

        Then a group takes as much as after another that leaves nothing, less the change.
        """
        bare = entry == FIRST and self.task.standing == START and len(self._groups) > 1
        return bare and (not self.facts.rails.ways or bool(group.least.rails))

    def _wanted(self, group: Group) -> Iterator[Ending]:
        """Yield the endings of a group that another may begin with."""
        for hand in group.useful.rails:
            yield Ending(rail=hand)
        for colour, rail in group.useful.settings:
            yield Ending(colour, rail)
            if rail is None:
                for hand in group.useful.rails:
                    yield Ending(colour, hand)

    def _may_pay(self, group: Group, ending: Ending) -> bool:
        """Whether it may be worth while to leave a group so, however it is entered."""
        if not (self._all_set and (self._may_leave_nothing or ending.colour != NOTHING)):
            return True
        entry = NONE if (NONE, None) in group.searches else FIRST
        plain = self._search(group, entry, None).least
        least = self._search(group, entry, ending).least
        if plain is None or least is None:
            return False
        return least < plain + self._gain(ending) + self._most_gain

    def _pays(self, group: Group, entry: Stands, ending: Ending | None, way: Way) -> bool:
        """Whether a way may count less than to leave the group anyhow, and go on without aid."""
        plain = self._way(group, entry, None, NONE)
        if ending is None or plain is None or plain.order is None:
            return True
        if not (self._all_set and (self._may_leave_nothing or ending.colour != NOTHING)):
            return True
        return way.least < plain.least + self._gain(ending)

    @property
    def _most_gain(self) -> int:
        """What can be spared at most by how a group is entered; nothing if it is the first."""
        shop = self.facts.shop
        return (shop.rail_s + shop.setup_s + shop.measure_s) * (len(self._groups) > 1)

    def _gain(self, ending: Ending) -> int:
        """Return what it can spare others at most that a group is left so."""
        shop, gain = self.facts.shop, 0
        if ending.rail is not None:
            gain += shop.rail_s
        return gain + (shop.setup_s + shop.measure_s if ending.colour != NOTHING else 0)

    def _entered(self, group: int, left: Stands) -> Stands:
        """Return what is of use to a group of what another leaves."""
        begins, (colour, rail, since) = self._begins[group], left
        if colour != NOTHING and not begins.keeps(colour, rail):
            colour, since = NOTHING, 0
        if rail is not None and rail not in begins.rails:
            rail = None
        return Stands(colour, rail, since)

    def _search(self, group: Group, entry: Stands, ending: Ending | None) -> States:
        return group.search(entry, ending, self._standing(entry))

    def _standing(self, entry: Stands) -> Standing:
        if entry == FIRST:
            return self.task.standing
        rails = self._other if entry.rail is None else Rails(hand=entry.rail)
        if entry.colour == NOTHING:
            return Standing(rails)
        return Standing(rails, entry.colour, self.facts.devices[entry.colour], entry.since)

    def _way(self, group: Group, entry: Stands, ending: Ending | None, left: Stands) -> Way | None:
        """Return a way through a group; ``None`` where there is none."""
        if self._is_like_none(group, entry):
            way = self._way(group, NONE, ending, left)
            spared = self.facts.shop.rail_s if self._other.hand is not None else 0
            return None if way is None else way._replace(least=way.least - spared)
        search = group.searches.get((entry, ending))
        if search is None and (entry == NONE or group.goes_through):
            search = self._search(group, entry, ending)
        if search is None:
            return self._not_searched(group, entry, ending, left)
        for found in search.found.values():
            if ending is None or ending.colour == NOTHING or found.leaves.since == left.since:
                return Way(found.counts, found.order)
        return None if search.bound is None else Way(search.bound)

    def _not_searched(
        self, group: Group, entry: Stands, ending: Ending | None, left: Stands
    ) -> Way | None:
        """Return what is known of a way from others: less aid spares no more than it can."""
        if ending is None:
            way = self._way(group, NONE, None, NONE)
            gain = self._gain(Ending(entry.colour, entry.rail))
            return None if way is None else Way(way.least - gain)
        plain = self._way(group, entry, None, NONE)
        if plain is None:
            return None
        unaided = [self._way(group, NONE, ending, left) for left in leavings(ending)]
        known = [way.least for way in unaided if way is not None]
        if entry in {NONE, FIRST} or group.goes_through or not known:
            return Way(plain.least)
        return Way(max(plain.least, min(known) - self._gain(Ending(entry.colour, entry.rail))))

    # -- a row

    def _row(self, stop: Stop) -> Row | None:
        """Return the best row of all ways that may be worth while from where one can come."""
        self._ways = {}
        ahead = [
            (group.place, entry)
            for group in self._groups
            for entry in (NONE, FIRST)
            if entry in self._entries[group.place]
        ]
        known = set(ahead)
        for place, entry in ahead:
            for key, way in self._ways_from(place, entry, stop):
                self._ways[key] = way
                for other in range(len(self._groups)):
                    entered = other, self._entered(other, key.left)
                    if may_follow(self.task, place, other) and entered not in known:
                        known.add(entered)
                        ahead.append(entered)
        return RowModel(self.task, self._ways, self._entered, self._ends_row).solve(stop)

    def _ends_row(self, key: Key) -> bool:
        """Whether no group comes after one that is left so: something always stands there."""
        through = self._groups[key.place].goes_through
        return key.ending is None and not self._may_leave_nothing and not through

    def _ways_from(self, place: int, entry: Stands, stop: Stop) -> Iterator[tuple[Key, Way]]:
        """Yield the ways through a group that may be worth while where it is entered so."""
        group = self._groups[place]
        if not self._is_like_none(group, entry):
            search = self._search(group, entry, None)
            if not search.found:
                search.run(stop, AT_A_TIME)
        for ending in self._endings[place]:
            for left in leavings(ending):
                way = self._way(group, entry, ending, left)
                if way is not None and self._pays(group, entry, ending, way):
                    yield Key(place, entry, ending, left), way

    def _take(self, row: Row) -> None:
        order: list[int] = []
        for key in row.keys:
            order += self._order(key)
        counts = self.task.worth(order)
        if counts < self.counts:
            self.order, self.counts = order, counts

    def _order(self, key: Key) -> list[int]:
        """Return the order of a way, or else the best that is known of its group."""
        way, group = self._ways[key], self._groups[key.place]
        if way.order is not None:
            return way.order
        found: list[Leaving] = []
        for entry in (key.entry, NONE, FIRST):
            search = group.searches.get((entry, None))
            found += [] if search is None else search.found.values()
        return found[0].order if found else group.own

    def _search_on(self, row: Row, stop: Stop) -> bool:
        """Search on all ways of a row that are not exact; whether anything came of it."""
        gone_on = False
        for key in row.keys:
            if self._ways[key].order is None:
                group = self._groups[key.place]
                entry = NONE if self._is_like_none(group, key.entry) else key.entry
                search = self._search(group, entry, key.ending)
                before = search.seen, search.bound
                search.run(stop, AT_A_TIME)
                gone_on |= before != (search.seen, search.bound)
        return gone_on
