"""Part of an order put in order anew by CP-SAT: some passes are free, the others keep their row.

Passes that keep their row are tied together as far as nothing free may come between them, so a
model has few nodes however long the order is. A circuit through the nodes is an order. Along its
arcs go the rails in hand, what is set, and whether one pass alone was made at it; a lift hangs on
the two ends of an arc.

How much of its run is sawn off when a pass is made, and so how heavy its piece is and what holds
its size, is taken as it was before; and where setting took less than measuring, a size that stands
could be counted as set anew. So what comes out is measured by the clock, and taken only if it is
better.
"""

from collections.abc import Callable, Sequence
from itertools import pairwise
from typing import Any, NamedTuple

from ortools.sat.python import cp_model

from shared.cuts.order_problem import bits
from solver.budget.stop import Stop
from solver.cut_order.loose import Loose, Roomy
from solver.cut_order.nodes import Node, Nodes, Row, Single
from solver.proof.stoppable import Reach, solve

Variable = Any
"""A variable or expression of CP-SAT (the library's types are not checked)."""

BEFORE = -1
"""Stands for what is there before the first node, and for the end."""


class Resolved(NamedTuple):
    """Rows in their new order, and what no order of them undercuts by the model's figures."""

    rows: list[Row]
    bound: float
    optimal: bool


class Resolving:
    """The model of some rows between what stands before them and the pass that follows."""

    def __init__(
        self, nodes: Nodes, chains: Sequence[Sequence[int]] = (), room: Roomy | None = None
    ) -> None:
        """Take the nodes as they are in order now; those of a chain keep their row.

        Without a room any number of pieces may lie about after any of them.
        """
        self._nodes, self._all = nodes, nodes.all
        self._pairs = sorted({*nodes.pairs(), *(pair for one in chains for pair in pairwise(one))})
        self.model = cp_model.CpModel()
        self._earlier = self._ancestors()
        self._arcs = self._circuit()
        self._rank = self._ranks()
        if room is not None:
            self._bound_loose(room)
        self._hands = self._rails()
        self._single = [self.model.new_bool_var("") for _ in self._all]
        self._stands = self._through()
        self._matched = [self._match(at) for at in range(len(self._all))]
        self._trace()
        self._set_once()
        self._pays = self._measured()
        task = nodes.task
        lifts = [nodes.lift(*arc) * on for arc, on in self._arcs.items() if arc[1] != BEFORE]
        takes = [
            way.takes * hand
            for node, hands in zip(self._all, self._hands, strict=True)
            for way, hand in zip(node.ways, hands, strict=True)
        ]
        saves = [
            max(way.saves for way in node.ways) * matched
            for node, matched in zip(self._all, self._matched, strict=True)
        ]
        self.model.minimize(
            sum(lifts)
            + sum(takes)
            - sum(saves)
            + task.clock.shop.measure_s * sum(self._pays.values())
        )

    # -- the circuit

    def _ancestors(self) -> list[int]:
        """Return for each node the nodes that come before it, at any remove."""
        earlier = [0] * len(self._all)
        for one, other in self._pairs:
            earlier[other] |= 1 << one
        for at in range(self._nodes.given, len(self._all)):
            earlier[at] = (1 << at) - 1
        for at in range(len(self._all)):  # as they come now, nodes are behind what they need
            for one in bits(earlier[at]):
                earlier[at] |= earlier[one]
        return earlier

    def _circuit(self) -> dict[tuple[int, int], Variable]:
        places = range(len(self._all))
        arcs = {
            (one, other): self.model.new_bool_var("")
            for one in (BEFORE, *places)
            for other in (*places, BEFORE)
            if one != other and self._may_follow(one, other)
        }
        self.model.add_circuit([(one + 1, other + 1, on) for (one, other), on in arcs.items()])
        return arcs

    def _may_follow(self, one: int, other: int) -> bool:
        """Whether a node may come right after another: nothing has to come between."""
        earlier = self._earlier
        if one == BEFORE:
            return other != BEFORE and not earlier[other]
        if other == BEFORE:
            return not any(some >> one & 1 for some in earlier)
        if earlier[one] >> other & 1:
            return False
        between = earlier[other] & ~earlier[one] & ~(1 << one)
        return not any(earlier[k] >> one & 1 for k in bits(between))

    def _ranks(self) -> list[Variable]:
        model, count = self.model, len(self._all)
        rank = [model.new_int_var(one.bit_count(), count - 1, "") for one in self._earlier]
        for (one, other), on in self._arcs.items():
            if other != BEFORE:
                place = 0 if one == BEFORE else rank[one] + 1
                model.add(rank[other] == place).only_enforce_if(on)
        for one, other in self._pairs:
            model.add(rank[one] < rank[other])
        return rank

    def _bound_loose(self, room: Roomy) -> None:
        """Let no more pieces lie about after a node than there is room for."""
        model, places = self.model, Loose(self._nodes, room.group)
        if places.at_first + places.opened <= room.limit:
            return
        intervals = []
        for one in places.changing:
            begin = self._end_of(one.begins, model.add_min_equality) if one.begins else 0
            end = self._end_of(one.ends, model.add_max_equality) if one.ends else len(self._all)
            size = model.new_int_var(0, len(self._all), "")
            intervals.append(model.new_interval_var(begin, size, end, ""))
        model.add_cumulative(intervals, [1] * len(intervals), max(1, room.limit - places.staying))

    def _end_of(
        self, places: Sequence[int], bind: Callable[[Variable, list[Variable]], object]
    ) -> Variable:
        """Return the least or the largest rank of some nodes."""
        if len(places) == 1:
            return self._rank[places[0]]
        found = self.model.new_int_var(0, len(self._all), "")
        bind(found, [self._rank[place] for place in places])
        return found

    # -- what goes along the arcs

    def _rails(self) -> list[list[Variable]]:
        """Return for each node which of the states of the rails it finds."""
        model, states = self.model, self._nodes.rails
        hands = [[model.new_bool_var("") for _ in states] for _ in self._all]
        for its in hands:
            model.add_exactly_one(its)
        for (one, other), on in self._arcs.items():
            if other == BEFORE:
                continue
            for place, state in enumerate(states):
                if one == BEFORE:
                    left: Variable = int(state == self._nodes.standing.rails)
                else:
                    left = sum(
                        hand
                        for way, hand in zip(self._all[one].ways, hands[one], strict=True)
                        if way.leaves == state
                    )
                model.add(hands[other][place] == left).only_enforce_if(on)
        return hands

    def _found(self, at: int, suits: Sequence[bool]) -> Variable:
        """Return whether a node finds the rails in one of the states that suit."""
        return sum(hand for hand, suit in zip(self._hands[at], suits, strict=True) if suit)

    def _through(self) -> dict[tuple[int, int], Variable]:
        """Return whether a colour stands after a node that sets nothing."""
        colours = sorted({node.first for node in self._all if not node.is_through})
        stands = {}
        for at, node in enumerate(self._all):
            for colour in colours if node.is_through else ():
                stands[at, colour] = self.model.new_bool_var("")
                keeps = [way.colour is None for way in node.ways]
                self.model.add(stands[at, colour] <= self._found(at, keeps))
        return stands

    def _match(self, at: int) -> Variable:
        """Return whether what a node sets first stands when it comes."""
        node = self._all[at]
        if node.is_through or not max(way.saves for way in node.ways):
            return 0
        matched = self.model.new_bool_var("")
        self.model.add(matched <= self._found(at, [way.saves > 0 for way in node.ways]))
        return matched

    def _trace(self) -> None:
        """Let a colour stand only where it came along the arcs."""
        wanted = [
            (at, self._all[at].first, on)
            for at, on in enumerate(self._matched)
            if not isinstance(on, int)
        ]
        wanted += [(at, colour, on) for (at, colour), on in self._stands.items()]
        for at, colour, on in wanted:
            sources = []
            for one in (BEFORE, *range(len(self._all))):
                arc = self._arcs.get((one, at))
                if arc is not None and self._may_stand(one, colour):
                    sources.append(arc)
                    self._came(one, colour, arc, on)
            self.model.add(on <= sum(sources))

    def _set_once(self) -> None:
        """Let each colour that does not stand at first be set once at least; it helps the proof."""
        colours: dict[int, list[Variable]] = {}
        for node, matched in zip(self._all, self._matched, strict=True):
            if not node.is_through:
                colours.setdefault(node.first, []).append(matched)
        for colour, its in colours.items():
            others = any(
                way.colour == colour and node.first != colour
                for node in self._all
                for way in node.ways
            )
            if colour != self._nodes.standing.colour and not others:
                self.model.add(sum(its) <= len(its) - 1)

    def _may_stand(self, one: int, colour: int) -> bool:
        if one == BEFORE:
            return self._nodes.standing.colour == colour
        node = self._all[one]
        return node.is_through or any(way.colour == colour for way in node.ways)

    def _came(self, one: int, colour: int, arc: Variable, on: Variable) -> None:
        """Let a colour come from a node only if it stands there."""
        if one == BEFORE:
            return
        node = self._all[one]
        if node.is_through:
            self.model.add_implication(on, self._stands[one, colour]).only_enforce_if(arc)
            return
        leaves = [way.colour == colour for way in node.ways]
        if not all(leaves):
            self.model.add(on <= self._found(one, leaves)).only_enforce_if(arc)

    def _measured(self) -> dict[int, Variable]:
        """Return for some nodes whether their first pass makes what stands worth measuring.

        It does where what it sets stands, and one pass alone was made at it.
        """
        model = self.model
        measured: dict[int, Variable] = {}
        if not self._nodes.task.clock.shop.measure_s:
            return measured
        for at, node in enumerate(self._all):
            self._is_single(at, node)
            if isinstance(self._matched[at], int):
                continue
            pays = model.new_bool_var("")
            measured[at] = pays
            for one in (BEFORE, *range(len(self._all))):
                arc = self._arcs.get((one, at))
                if arc is None or not self._may_stand(one, node.first):
                    continue
                if one == BEFORE:
                    if self._nodes.standing.since == 1:
                        model.add_bool_or([~arc, ~self._matched[at], pays])
                else:
                    model.add_bool_or([~arc, ~self._matched[at], ~self._single[one], pays])
        return measured

    def _is_single(self, at: int, node: Node) -> None:
        """Say whether one pass alone was made at what stands after a node."""
        model, single = self.model, self._single[at]
        kinds = {way.single for way in node.ways}
        if kinds == {Single.ALWAYS}:
            model.add(single == 1)
        elif kinds == {Single.NEVER}:
            model.add(single == 0)
        elif kinds == {Single.AS_BEFORE}:
            for one in (BEFORE, *range(len(self._all))):
                arc = self._arcs.get((one, at))
                if arc is not None:
                    before = (
                        int(self._nodes.standing.since == 1) if one == BEFORE else self._single[one]
                    )
                    model.add(single >= before).only_enforce_if(arc)
        else:
            alone = self._found(at, [way.single is not Single.NEVER for way in node.ways])
            model.add(single >= alone - self._matched[at])

    # -- solving

    def solve(self, stop: Stop, reach: Reach) -> Resolved | None:
        """Put the rows in order, from the one they have; ``None`` if none was found in time."""
        self.hint()
        answer = solve(self.model, reach, stop)
        if not answer.is_found:
            return None
        after = {one: other for (one, other), on in self._arcs.items() if answer(on)}
        order, at = [], after[BEFORE]
        while at != BEFORE:
            order.append(at)
            at = after[at]
        rows = [self._all[one].row for one in order if one < self._nodes.given]
        return Resolved(rows, answer.bound, answer.is_optimal)

    def hint(self) -> None:
        """Give every variable the value it has in the order that the nodes come in."""
        model, last = self.model, len(self._all) - 1
        for (one, other), on in self._arcs.items():
            model.add_hint(on, other == one + 1 or (one == last and other == BEFORE))
        at_first = self._nodes.standing
        rails, colour, single = at_first.rails, at_first.colour, at_first.since == 1
        for at, node in enumerate(self._all):
            found = self._nodes.rails.index(rails)
            way = node.ways[found]
            matched = way.saves > 0 and colour == node.first
            model.add_hint(self._rank[at], at)
            for place, hand in enumerate(self._hands[at]):
                model.add_hint(hand, place == found)
            if not isinstance(self._matched[at], int):
                model.add_hint(self._matched[at], matched)
            if at in self._pays:
                model.add_hint(self._pays[at], matched and single)
            rails, colour = way.leaves, colour if way.colour is None else way.colour
            if way.single is not Single.AS_BEFORE:
                single = way.single is Single.ALWAYS or (
                    way.single is Single.UNLESS_MATCHED and not matched
                )
            model.add_hint(self._single[at], single)
            for (one, its), stands in self._stands.items():
                if one == at:
                    model.add_hint(stands, its == colour)
