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

from collections.abc import Iterable, Iterator, Mapping, Sequence
from itertools import permutations
from math import ceil
from typing import Any, NamedTuple

from ortools.sat.python import cp_model

from shared.cuts.order_problem import bits
from shared.making.rail_choice import Rails
from shared.making.settings import Device
from shared.shop import Rail
from solver.budget.stop import Stop
from solver.cut_order.clock import NOTHING, START, Standing
from solver.cut_order.least import Facts, Least
from solver.cut_order.room import Room
from solver.cut_order.states import NOTHING_USEFUL, Ending, Leaving, States, Useful
from solver.cut_order.task import Task
from solver.proof.stoppable import Reach, solve

AT_A_TIME = 400
"""States of a group that are looked at before the row is looked at again."""
ROW_S = 2.0
"""Time for a row, in seconds."""
ROUNDS = 8
"""So often each way from groups that nothing aids is searched on before the first row."""
RAILS = 60
"""States of the rails that are told apart."""

Variable = Any
"""A variable of CP-SAT (the library's types are not checked)."""


class Stands(NamedTuple):
    """What stands between two groups, as far as it can be of use; ``since`` as in `Standing`."""

    colour: int = NOTHING
    rail: Rail | None = None
    since: int = 0


NONE = Stands()
FIRST = Stands(colour=-2)
"""What stands at first, before any group."""


class Way(NamedTuple):
    """A way through a group: what it counts at least, and its order if that is exact."""

    least: int
    order: list[int] | None = None


def by_rows(
    task: Task, given: Sequence[int], stop: Stop, seconds: float
) -> Iterator[tuple[list[int], int]]:
    """Yield ever better orders, group after group, or better bounds, with what they count.

    ``given`` is an order of all passes ahead, group after group. A bound is what every order
    counts at least that finishes one group before the next is begun. It is the last one's own
    count when that is the best there is.
    """
    if not task.groups:
        return
    rows = Rows(task, given)
    yield from (rows.search if rows.facts.forgets else rows.along)(stop.within(seconds))


class _Group:
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
        self.useful = Useful()
        self.searches: dict[tuple[Stands, Ending | None], States] = {}

    def _limit(self) -> int:
        """Return the room for loose pieces, as much more as the order given takes."""
        room = Room(self.task.problem, self.passes, self.done)
        loose, done, most = room.at_first, self.done, self.task.problem.limit
        for number in self.own:
            loose += room.change(number, done)
            done |= 1 << number
            most = max(most, loose)
        return most

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
            found = self.searches[entry, ending] = States(
                self.least, ([standing], self.done), self.useful, self.limit, ending
            )
        return found


class Rows:
    """The groups of a task, the ways through them, and the rows they can be put in."""

    def __init__(self, task: Task, given: Sequence[int]) -> None:
        """Take an order that is given; what counts no less is not taken."""
        self.task, self.facts = task, Facts(task)
        self._groups = [_Group(task, self.facts, n, given) for n in range(len(task.groups))]
        self._begins = [group.begins() for group in self._groups]
        self.order = list(given)
        self.counts = task.worth(given)
        self.bound = 0
        self._devices: dict[int, Device] = {
            doing.colour: doing.device
            for number in bits(task.problem.ahead)
            for doing in self.facts.ways_of(number)
        }
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
            later = [its for n, its in enumerate(self._begins) if self._may_follow(group.place, n)]
            group.useful = self._together(later)
        everything = self._together(self._begins)
        others = [way for way in self.facts.rails.ways if way not in everything.rails]
        self._other = Rails(hand=others[0] if others else None)
        self._may_leave_nothing = bool(others) or not self.facts.rails.ways

    @staticmethod
    def _together(some: Sequence[Useful]) -> Useful:
        return Useful(
            frozenset[tuple[int, Rail | None]]().union(*(one.settings for one in some)),
            frozenset[Rail]().union(*(one.rails for one in some)),
        )

    def _may_follow(self, one: int, other: int) -> bool:
        """Whether a group may come right after another, or first for -1."""
        begun, last = self.task.begun, len(self._groups) - 1
        if one == other or (one == last and self._groups[last].finishes):
            return False
        if other < begun or one < begun - 1:
            return other == one + 1
        if self._groups[other].finishes:
            return one >= 0 or last == 0
        return True

    # -- where a rail does not hang on what is in hand

    def search(self, stop: Stop) -> Iterator[tuple[list[int], int]]:
        """Yield orders and bounds until the best order is found."""
        self._find_ways(stop)
        while True:
            row = self._row(stop)
            if row is None:
                return
            self.bound = max(self.bound, row.least)
            self._take(row)
            yield self.order, min(self.bound, self.counts)
            if self.bound >= self.counts or stop:
                return
            if not self._search_on(row, stop):
                return

    def _find_ways(self, stop: Stop) -> None:
        """Search each group without aid, then say how others may aid it and be aided by it."""
        count = len(self._groups)
        self._entries: list[list[Stands]] = [[NONE] for _ in range(count)]
        for group in self._groups:
            if count > 1:
                self._search(group, NONE, None).run(stop, AT_A_TIME)
            if self._may_follow(-1, group.place):
                self._entries[group.place].append(FIRST)
                if not self._is_like_none(group, FIRST):
                    self._search(group, FIRST, None).run(stop, AT_A_TIME)
        self._endings: list[list[Ending | None]] = [
            [None, *(one for one in self._wanted(group) if self._may_pay(group, one))]
            for group in self._groups
        ]
        for group, other in permutations(self._groups, 2):
            if self._may_follow(group.place, other.place):
                for ending in self._endings[group.place]:
                    for left in _leavings(ending):
                        entry = self._entered(other.place, left)
                        if entry not in self._entries[other.place]:
                            self._entries[other.place].append(entry)
                            if other.goes_through:
                                self._search(other, entry, None)
        self._settle(stop)

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
                        way = self._way(group, entry, ending, _leavings(ending)[0])
                        if way is not None and self._pays(group, entry, ending, way):
                            search.run(stop, AT_A_TIME)
                            some = True
            if not some:
                return

    def _is_like_none(self, group: _Group, entry: Stands) -> bool:
        """Whether nothing stands at first but that no rail is in hand yet, which spares a change.

        Then a group takes as much as after another that leaves nothing, less the change.
        """
        bare = entry == FIRST and self.task.standing == START and len(self._groups) > 1
        return bare and (not self.facts.rails.ways or bool(group.least.rails))

    def _wanted(self, group: _Group) -> Iterator[Ending]:
        """Yield the endings of a group that another may begin with."""
        for rail in group.useful.rails:
            yield Ending(rail=rail)
        for colour, rail in group.useful.settings:
            yield Ending(colour, rail)
            if rail is None:
                for hand in group.useful.rails:
                    yield Ending(colour, hand)

    def _may_pay(self, group: _Group, ending: Ending) -> bool:
        """Whether it may be worth while to leave a group so, however it is entered."""
        if group.goes_through or not (self._may_leave_nothing or ending.colour != NOTHING):
            return True
        entry = NONE if (NONE, None) in group.searches else FIRST
        plain = _least_of(self._search(group, entry, None))
        least = _least_of(self._search(group, entry, ending))
        if plain is None or least is None:
            return False
        return least < plain + self._gain(ending) + self._most_gain

    def _pays(self, group: _Group, entry: Stands, ending: Ending | None, way: Way) -> bool:
        """Whether a way may count less than to leave the group anyhow, and go on without aid."""
        plain = self._way(group, entry, None, NONE)
        if ending is None or plain is None or plain.order is None or group.goes_through:
            return True
        if not (self._may_leave_nothing or ending.colour != NOTHING):
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

    def _search(self, group: _Group, entry: Stands, ending: Ending | None) -> States:
        return group.search(entry, ending, self._standing(entry))

    def _standing(self, entry: Stands) -> Standing:
        if entry == FIRST:
            return self.task.standing
        rails = self._other if entry.rail is None else Rails(hand=entry.rail)
        if entry.colour == NOTHING:
            return Standing(rails)
        return Standing(rails, entry.colour, self._devices[entry.colour], entry.since)

    def _way(self, group: _Group, entry: Stands, ending: Ending | None, left: Stands) -> Way | None:
        """Return a way through a group; ``None`` where there is none."""
        search = group.searches.get((entry, ending))
        if search is None:
            return self._not_searched(group, entry, ending, left)
        for found in search.found.values():
            if ending is None or ending.colour == NOTHING or found.leaves.since == left.since:
                return Way(found.counts, found.order)
        return None if search.bound is None else Way(search.bound)

    def _not_searched(
        self, group: _Group, entry: Stands, ending: Ending | None, left: Stands
    ) -> Way | None:
        """Return what is known of a way from others: less aid spares no more than it can."""
        if self._is_like_none(group, entry):
            way = self._way(group, NONE, ending, left)
            spared = self.facts.shop.rail_s if self.facts.rails.ways else 0
            return None if way is None else way._replace(least=way.least - spared)
        if ending is None:
            way = self._way(group, NONE, None, NONE)
            gain = self._gain(Ending(entry.colour, entry.rail))
            return None if way is None else Way(way.least - gain)
        plain = self._way(group, entry, None, NONE)
        if plain is None:
            return None
        unaided = [self._way(group, NONE, ending, left) for left in _leavings(ending)]
        known = [way.least for way in unaided if way is not None]
        if entry in {NONE, FIRST} or group.goes_through or not known:
            return Way(plain.least)
        return Way(max(plain.least, min(known) - self._gain(Ending(entry.colour, entry.rail))))

    # -- a row

    def _row(self, stop: Stop) -> "_Row | None":
        ways: dict[tuple[int, Stands, Ending | None, Stands], Way] = {}
        ahead = [
            (group.place, entry)
            for group in self._groups
            for entry in (NONE, FIRST)
            if entry in self._entries[group.place]
        ]
        known = set(ahead)
        for place, entry in ahead:
            for key, way in self._ways_from(place, entry, stop):
                ways[key] = way
                for other in range(len(self._groups)):
                    entered = other, self._entered(other, key[3])
                    if self._may_follow(place, other) and entered not in known:
                        known.add(entered)
                        ahead.append(entered)
        return self._chosen(ways, stop)

    def _ways_from(
        self, place: int, entry: Stands, stop: Stop
    ) -> Iterator[tuple[tuple[int, Stands, Ending | None, Stands], Way]]:
        """Yield the ways through a group that may be worth while where it is entered so."""
        group = self._groups[place]
        if not self._is_like_none(group, entry):
            search = self._search(group, entry, None)
            if not search.found:
                search.run(stop, AT_A_TIME)
        for ending in self._endings[place]:
            for left in _leavings(ending):
                way = self._way(group, entry, ending, left)
                if way is not None and self._pays(group, entry, ending, way):
                    yield (place, entry, ending, left), way

    def _chosen(
        self, ways: Mapping[tuple[int, Stands, Ending | None, Stands], Way], stop: Stop
    ) -> "_Row | None":
        """Return the groups in a row, with a way for each, such that they count least."""
        model, depot, count = cp_model.CpModel(), len(self._groups), len(self._groups)
        uses = {key: model.new_bool_var("") for key in ways}
        arcs: dict[tuple[int, int], Variable] = {}
        for one, other in permutations(range(count + 1), 2):
            if other == depot or self._may_follow(-1 if one == depot else one, other):
                arcs[one, other] = model.new_bool_var("")
        model.add_circuit([(one, other, arc) for (one, other), arc in arcs.items()])
        for place in range(count):
            its = {key: use for key, use in uses.items() if key[0] == place}
            model.add_exactly_one(its.values())
            entering: dict[Stands, list[Variable]] = {}
            for (_, entry, ending, _), use in its.items():
                entering.setdefault(entry, []).append(use)
                if ending is None and not self._leaves_nothing(place):
                    model.add_implication(use, arcs[place, depot])
            for one in range(count + 1):
                if (one, place) in arcs:
                    self._join(model, (one, place, arcs[one, place]), uses, entering)
        model.minimize(sum(ways[key].least * use for key, use in uses.items()))
        answer = solve(model, Reach(seconds=ROW_S), stop)
        if not answer.is_found:
            return None
        after = {one: other for (one, other), arc in arcs.items() if answer(arc)}
        by_place = {key[0]: key for key, use in uses.items() if answer(use)}
        row, at = [], after[depot]
        while at != depot:
            row.append(by_place[at])
            at = after[at]
        least = max(0, ceil(answer.bound - 1e-6))
        return _Row(least, row, {key[0]: ways[key] for key in row})

    def _leaves_nothing(self, place: int) -> bool:
        return self._may_leave_nothing or self._groups[place].goes_through

    def _join(
        self,
        model: Any,
        arc: tuple[int, int, Variable],
        uses: Mapping[tuple[int, Stands, Ending | None, Stands], Variable],
        entering: Mapping[Stands, Sequence[Variable]],
    ) -> None:
        """Let a group be entered as the one before it is left."""
        one, place, literal = arc
        if one == len(self._groups):
            model.add_bool_or([~literal, *entering.get(FIRST, [])])
            return
        for (its, _, _, left), use in uses.items():
            if its == one:
                entered = entering.get(self._entered(place, left), [])
                model.add_bool_or([~literal, ~use, *entered])

    def _take(self, row: "_Row") -> None:
        order: list[int] = []
        for place, entry, _, _ in row.chosen:
            group = self._groups[place]
            order += self._order(group, entry, row.ways[place])
        counts = self.task.worth(order)
        if counts < self.counts:
            self.order, self.counts = order, counts

    @staticmethod
    def _order(group: _Group, entry: Stands, way: Way) -> list[int]:
        """Return the order of a way, or else the best that is known of the group."""
        if way.order is not None:
            return way.order
        found: list[Leaving] = []
        for its in (entry, NONE, FIRST):
            search = group.searches.get((its, None))
            found += [] if search is None else search.found.values()
        return found[0].order if found else group.own

    def _search_on(self, row: "_Row", stop: Stop) -> bool:
        """Search on all ways of a row that are not exact; whether there were any."""
        open_ways = [one for one in row.chosen if row.ways[one[0]].order is None]
        for place, entry, ending, _ in open_ways:
            group = self._groups[place]
            its = NONE if self._is_like_none(group, entry) else entry
            self._search(group, its, ending).run(stop, AT_A_TIME)
        return bool(open_ways)

    # -- where it does

    def along(self, stop: Stop) -> Iterator[tuple[list[int], int]]:
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

    def _groups_given(self) -> list[_Group]:
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
                least = max(least, _least_of(search) or 0)
            self.bound += least
        return self.bound

    def _all_rails(self) -> list[Rails] | None:
        """Return all states of the rails that can come about; ``None`` if they are too many."""
        longs = {doing.long for n in self.facts.of for doing in self.facts.ways_of(n)}
        known = [self.task.standing.rails]
        for rails in known:
            for long in longs:
                after = self.facts.rails.take(rails, long).rails
                if after not in known:
                    known.append(after)
            if len(known) > RAILS:
                return None
        return known

    def _all_standing(self, group: _Group, rails: Iterable[Rails]) -> Iterator[Standing]:
        colours = {colour for colour, _ in self.facts.setters}
        yield self.task.standing
        for hand in rails:
            yield Standing(hand)
            for colour in colours:
                if group.least.may_set(colour, hand.hand):
                    yield Standing(hand, colour, self._devices[colour], 2)


class _Row(NamedTuple):
    """Groups in a row, each with its way, and what the row counts at least."""

    least: int
    chosen: list[tuple[int, Stands, Ending | None, Stands]]
    ways: dict[int, Way]


def _leavings(ending: Ending | None) -> list[Stands]:
    """Return what may stand where a group is left so."""
    if ending is None:
        return [NONE]
    if ending.colour == NOTHING:
        return [Stands(rail=ending.rail)]
    return [Stands(ending.colour, ending.rail, since) for since in (1, 2)]


def _least_of(search: States) -> int | None:
    """Return what a search counts at least, ``None`` if it leads nowhere."""
    if search.found:
        return min(one.counts for one in search.found.values())
    return search.bound
