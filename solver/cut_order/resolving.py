"""Part of an order put in order anew by CP-SAT: some passes are free, the others keep their row.

Passes that keep their row are tied together as far as nothing free may come between them, so a
model has few nodes however long the order is. A circuit through the nodes is an order. What is
in hand and what is set goes along its arcs: which rail each node finds, and whether what it sets
first stands there already. A lift depends on both ends of an arc alone.

How much of its run is sawn off when a pass is made, and so how heavy its piece is and what holds
its size, is taken as it was before. So what comes out is measured by the clock, and taken only
if it is better.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Any, NamedTuple

from ortools.sat.python import cp_model

from shared.cuts.order_problem import bits
from shared.making.rail_choice import Rails
from shared.making.settings import Device
from solver.budget.stop import Stop
from solver.cut_order.clock import NOTHING, Standing
from solver.cut_order.task import Task
from solver.proof.stoppable import Reach, solve

Variable = Any
"""A variable of CP-SAT (the library's types are not checked)."""


class Found(NamedTuple):
    """An order of the nodes, and what no order of them undercuts in the model's own figures."""

    nodes: list[int]
    bound: float
    optimal: bool


class _Way(NamedTuple):
    """What a node takes when it finds a rail in hand, and what it leaves.

    ``matched`` is what it takes less when what it sets first stands; ``colour`` what stands after
    it, ``None`` for what stood before.
    """

    takes: int
    matched: int
    rails: Rails
    colour: int | None


@dataclass(frozen=True, slots=True)
class _Node:
    """Passes in a row: the first and the last, the colour set first, and a way for each rail."""

    passes: tuple[int, ...]
    first: int
    ways: tuple[_Way, ...]


class Resolving:
    """The model of some nodes between what stands before them and the pass that follows."""

    def __init__(
        self,
        task: Task,
        nodes: Sequence[tuple[int, ...]],
        before: Sequence[tuple[int, int]],
        entry: tuple[Standing, int],
        follows: int | None,
    ) -> None:
        """Take the nodes as they are now in order, pairs of them that keep their row, and ends.

        ``entry`` is what stands, and which passes are made, before the first; ``follows`` the
        pass after the last.
        """
        self._task, self._before = task, before
        self._standing, self._done = entry
        self._given = list(nodes)
        self._rails = self._rails_met()
        self._nodes = list(self._made_nodes(follows))
        self._model = cp_model.CpModel()
        self._build()

    # -- what nodes take

    def _rails_met(self) -> list[Rails]:
        """Return all states of the rails that can come up: closed under what nodes do."""
        known = [self._standing.rails]
        for rails in known:
            done = self._done
            for node in self._given:
                for number in node:
                    after = self._task.clock.step(
                        self._standing._replace(rails=rails), number, done
                    ).standing.rails
                    done |= 1 << number
                    if after not in known:
                        known.append(after)
        return known

    def _made_nodes(self, follows: int | None) -> Iterator[_Node]:
        done = self._done
        for passes in self._given:
            yield self._node(passes, done)
            done |= sum(1 << number for number in passes)
        if follows is not None:
            yield self._node((follows,), done)

    def _node(self, passes: tuple[int, ...], done: int) -> _Node:
        first = self._first_set(passes, done)
        ways = []
        for rails in self._rails:
            cold = self._run(passes, done, Standing(rails))
            warm = cold
            colour: int | None = cold[1].colour
            if first[0] != NOTHING:
                standing = Standing(rails, first[0], first[1], 2)
                warm = self._run(passes, done, standing)
            else:
                stands = Standing(rails, _OTHER, Device.GUIDE, 2)
                colour = None if self._run(passes, done, stands)[1].colour == _OTHER else NOTHING
            ways.append(_Way(cold[0], cold[0] - warm[0], cold[1].rails, colour))
        return _Node(passes, first[0], tuple(ways))

    def _first_set(self, passes: tuple[int, ...], done: int) -> tuple[int, Device]:
        for number in passes:
            doing = self._task.clock.doing(number, done)
            if doing.colour != NOTHING:
                return doing.colour, doing.device
            done |= 1 << number
        return NOTHING, Device.MARK

    def _run(self, passes: tuple[int, ...], done: int, standing: Standing) -> tuple[int, Standing]:
        """Return what passes take beside the lift of the first, from what stands."""
        problem = self._task.problem
        piece = problem.piece_of[passes[0]]
        axis = problem.made[passes[0]].axis
        standing = standing._replace(pieces=(piece, NOTHING), axis=axis)
        total = 0
        for number in passes:
            step = self._task.clock.step(standing, number, done)
            total += self._task.value(step)
            standing, done = step.standing, done | 1 << number
        return total, standing

    def _lift(self, one: int, other: int) -> int:
        """Return what the first lift of a node takes after another node, -1 for what stands."""
        clock, problem = self._task.clock, self._task.problem
        number = self._nodes[other].passes[0]
        if one < 0:
            pieces, axis = self._standing.pieces, self._standing.axis
        else:
            last = self._nodes[one].passes[-1]
            pieces = (problem.piece_of[last], problem.opens[last])
            axis = problem.made[last].axis
        standing = Standing(pieces=pieces, axis=axis)
        done = self._done_before[other]
        step = clock.step(standing, number, done)
        held = clock.step(
            standing._replace(
                pieces=(problem.piece_of[number], NOTHING), axis=problem.made[number].axis
            ),
            number,
            done,
        )
        return self._task.value(step) - self._task.value(held)

    # -- the model

    def _build(self) -> None:
        model, count = self._model, len(self._nodes)
        ends = len(self._given)
        self._done_before = []
        done = self._done
        for node in self._nodes:
            self._done_before.append(done)
            done |= sum(1 << number for number in node.passes)
        earlier = self._earlier()
        self._arcs: dict[tuple[int, int], Variable] = {}
        lifts = []
        for one in range(-1, count):
            for other in range(count):
                if one == other or not self._may_follow(one, other, earlier):
                    continue
                arc = model.new_bool_var("")
                self._arcs[one, other] = arc
                took = self._lift(one, other)
                if took:
                    lifts.append(took * arc)
        lasts = [ends] if count > ends else [n for n in range(count) if not self._later(n, earlier)]
        for last in lasts:
            self._arcs[last, -1] = model.new_bool_var("")
        model.add_circuit([(one + 1, other + 1, arc) for (one, other), arc in self._arcs.items()])
        self._rank = [model.new_int_var(0, count - 1, "") for _ in range(count)]
        for (one, other), arc in self._arcs.items():
            if one >= 0 and other >= 0:
                row = model.add(self._rank[other] == self._rank[one] + 1)
                row.only_enforce_if(arc)
            elif one < 0:
                model.add(self._rank[other] == 0).only_enforce_if(arc)
        for one, other in self._before:
            model.add(self._rank[one] < self._rank[other])
        hands, leaves = self._hands()
        matched = self._matched(hands, leaves)
        takes = [
            way.takes * hand
            for node, its in zip(self._nodes, hands, strict=True)
            for way, hand in zip(node.ways, its, strict=True)
        ]
        saves = [
            max(way.matched for way in node.ways) * match
            for node, match in zip(self._nodes, matched, strict=True)
            if match is not None
        ]
        model.minimize(sum(lifts) + sum(takes) - sum(saves))

    def _earlier(self) -> list[int]:
        """Return for each node the nodes that come before it, at any remove."""
        earlier = [0] * len(self._nodes)
        for one, other in self._before:
            earlier[other] |= 1 << one
        for at in range(len(self._given), len(self._nodes)):
            earlier[at] = (1 << at) - 1
        for at in range(len(self._nodes)):  # nodes come in a row that holds all pairs
            for one in bits(earlier[at]):
                earlier[at] |= earlier[one]
        return earlier

    @staticmethod
    def _later(node: int, earlier: Sequence[int]) -> bool:
        return any(one >> node & 1 for one in earlier)

    @staticmethod
    def _may_follow(one: int, other: int, earlier: Sequence[int]) -> bool:
        """Whether a node may come right after another: nothing has to come between."""
        if one < 0:
            return not earlier[other]
        if earlier[one] >> other & 1:
            return False
        between = earlier[other] & ~earlier[one] & ~(1 << one)
        return not any(earlier[k] >> one & 1 for k in bits(between))

    def _hands(self) -> tuple[list[list[Variable]], list[list[Variable]]]:
        """Return for each node which rails it finds, and which it leaves."""
        model = self._model
        hands = [[model.new_bool_var("") for _ in self._rails] for _ in self._nodes]
        leaves = []
        for node, its in zip(self._nodes, hands, strict=True):
            model.add_exactly_one(its)
            after: list[list[Variable]] = [[] for _ in self._rails]
            for way, hand in zip(node.ways, its, strict=True):
                after[self._rails.index(way.rails)].append(hand)
            leaves.append([sum(some) if some else 0 for some in after])
        start = self._rails.index(self._standing.rails)
        for (one, other), arc in self._arcs.items():
            if other < 0:
                continue
            if one < 0:
                model.add_implication(arc, hands[other][start])
                continue
            for place in range(len(self._rails)):
                left = leaves[one][place]
                if isinstance(left, int):
                    model.add_implication(arc, ~hands[other][place])
                else:
                    model.add(hands[other][place] == left).only_enforce_if(arc)
        return hands, leaves

    def _matched(
        self, hands: list[list[Variable]], leaves: list[list[Variable]]
    ) -> list[Variable | None]:
        """Return for each node whether what it sets first stands when it is made."""
        del leaves
        model = self._model
        colours = {node.first for node in self._nodes} - {NOTHING}
        through = [
            all(way.colour is None or node.first == NOTHING for way in node.ways)
            for node in self._nodes
        ]
        stands: dict[tuple[int, int], Variable] = {}
        for at, node in enumerate(self._nodes):
            if through[at]:
                keeps = [
                    hand
                    for way, hand in zip(node.ways, hands[at], strict=True)
                    if way.colour is None
                ]
                for colour in colours:
                    stands[at, colour] = model.new_bool_var("")
                    model.add(stands[at, colour] <= sum(keeps))
        matched: list[Variable | None] = []
        for at, node in enumerate(self._nodes):
            useful = node.first != NOTHING and max(way.matched for way in node.ways) > 0
            matched.append(model.new_bool_var("") if useful else None)
            if useful:
                saving = [
                    hand for way, hand in zip(node.ways, hands[at], strict=True) if way.matched > 0
                ]
                model.add(matched[at] <= sum(saving))
        wanted = [(at, node.first, matched[at]) for at, node in enumerate(self._nodes)]
        wanted = [one for one in wanted if one[2] is not None]
        wanted += [(at, colour, literal) for (at, colour), literal in stands.items()]
        for at, colour, literal in wanted:
            from_set = []
            for one in range(-1, len(self._nodes)):
                arc = self._arcs.get((one, at))
                if arc is None:
                    continue
                if one < 0:
                    if self._standing.colour == colour:
                        from_set.append(arc)
                elif through[one]:
                    from_set.append(arc)
                    model.add_implication(literal, stands[one, colour]).only_enforce_if(arc)
                elif any(way.colour == colour for way in self._nodes[one].ways):
                    from_set.append(arc)
                    leaving = [
                        hand
                        for way, hand in zip(self._nodes[one].ways, hands[one], strict=True)
                        if way.colour == colour
                    ]
                    if len(leaving) < len(self._rails):
                        model.add(literal <= sum(leaving)).only_enforce_if(arc)
            model.add(literal <= sum(from_set))
        return matched

    # -- solving

    def solve(self, stop: Stop, reach: Reach) -> Found | None:
        """Put the nodes in order; ``None`` if nothing was found in time."""
        for (one, other), arc in self._arcs.items():
            row = one + 1 == other or (one == len(self._nodes) - 1 and other == -1)
            self._model.add_hint(arc, row)
        for at, rank in enumerate(self._rank):
            self._model.add_hint(rank, at)
        answer = solve(self._model, reach, stop)
        if not answer.is_found:
            return None
        after = {one: other for (one, other), arc in self._arcs.items() if answer(arc)}
        order, at = [], after[-1]
        while at >= 0:
            order.append(at)
            at = after[at]
        return Found(
            [one for one in order if one < len(self._given)], answer.bound, answer.is_optimal
        )


_OTHER = 1 << 30
"""A colour that no pass has."""


def pairs_between(task: Task, nodes: Sequence[tuple[int, ...]]) -> list[tuple[int, int]]:
    """Return which node has to come before which, as far as passes need each other."""
    of = {number: at for at, node in enumerate(nodes) for number in node}
    found = set()
    for number, at in of.items():
        for one in bits(task.problem.before[number]):
            if one in of and of[one] != at:
                found.add((of[one], at))
    return sorted(found)


def row_of(nodes: Sequence[int]) -> list[tuple[int, int]]:
    """Return pairs that keep nodes in a row."""
    return list(pairwise(nodes))
