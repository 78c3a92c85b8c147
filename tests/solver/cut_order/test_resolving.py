"""Part of an order put in order anew: the model against the clock, and what is taken of it."""

from collections.abc import Iterator
from dataclasses import replace
from itertools import permutations

import pytest
from ortools.sat.python import cp_model

from shared.cuts.order_problem import bits
from solver.budget.stop import Stop
from solver.cut_order.improving import Improving
from solver.cut_order.moving import moved
from solver.cut_order.nodes import Nodes
from solver.cut_order.quick import quick
from solver.cut_order.resolving import Resolving
from solver.cut_order.room import Room
from solver.cut_order.task import Task, passes_in, task_of
from solver.proof.stoppable import Reach
from tests.solver.cut_order.paced_cuts import paced_cuts

SEEDS = range(40)
FEW = 6
"""Passes of a group of which all orders are gone through."""


def tasks(seeds: range) -> Iterator[Task]:
    """Yield drawn tasks whose settings take no less than measuring; else the model counts less."""
    for seed in seeds:
        task = task_of(paced_cuts(seed, 8).asked)
        if task.clock.shop.setup_s >= task.clock.shop.measure_s:
            yield task


def groups_of(task: Task) -> list[list[int]]:
    """Return the groups of a quick order."""
    return task.split(quick(task, Stop()))


def nodes_of(task: Task, groups: list[list[int]], place: int) -> Nodes:
    """Return the passes of a group as nodes, one each, as they lie in an order."""
    before = [number for group in groups[:place] for number in group]
    standing = task.clock.run(before, task.standing)[1]
    done = task.problem.start | sum(1 << number for number in before)
    rows = [(number,) for number in groups[place]]
    return Nodes(task, rows, standing, done, None)


def worth(nodes: Nodes, order: list[int]) -> int:
    """Return what the passes of nodes count in an order."""
    return nodes.task.worth(order, nodes.standing, nodes.done)


@pytest.mark.parametrize("begin", SEEDS[::10])
def test_an_order_given_as_a_hint_is_complete_and_counts_what_the_clock_says(begin: int) -> None:
    """With every variable at its hint the model holds, and its objective is the clock's count."""
    for task in tasks(range(begin, begin + 10)):
        groups = groups_of(task)
        for place, group in enumerate(groups):
            nodes = nodes_of(task, groups, place)
            model = Resolving(nodes)
            model.hint()
            solver = cp_model.CpSolver()
            solver.parameters.fix_variables_to_their_hinted_value = True
            solver.parameters.num_workers = 1
            assert solver.solve(model.model) == cp_model.OPTIMAL
            assert solver.objective_value == worth(nodes, group)


def is_steady(task: Task) -> bool:
    """Whether every pass is made the same way, however much of its run is gone."""
    everything = task.problem.everything
    return all(
        task.clock.ways(number, 0, 0) == {task.clock.doing(number, everything & ~(1 << number))}
        for number in bits(task.problem.ahead)
    )


def test_few_passes_come_in_the_best_order_there_is() -> None:
    """The end of the model is the least that the clock counts over all orders of a group."""
    compared = 0
    for task in tasks(range(200)):
        groups = groups_of(task) if is_steady(task) else []
        for place, group in enumerate(groups):
            if len(group) > FEW:
                continue
            nodes = nodes_of(task, groups, place)
            found = Resolving(nodes).solve(Stop(), Reach())
            assert found is not None
            assert found.optimal
            best = min(worth(nodes, order) for order in orders_of(task, group))
            assert round(found.bound) == best
            assert worth(nodes, [number for row in found.rows for number in row]) == best
            compared += len(group) > 2
    assert compared >= 20


def orders_of(task: Task, group: list[int]) -> list[list[int]]:
    """Return all orders of a group in which each pass comes behind what it needs."""
    return [list(order) for order in permutations(group) if in_order(task, order)]


def in_order(task: Task, order: tuple[int, ...] | list[int]) -> bool:
    """Whether each pass comes behind what it needs of the same passes."""
    ahead = sum(1 << number for number in order)
    for number in order:
        ahead &= ~(1 << number)
        if task.problem.before[number] & ahead:
            return False
    return True


@pytest.mark.parametrize("seed", range(8))
def test_what_is_improved_is_an_order_no_worse_and_with_no_more_about(seed: int) -> None:
    """Each order found is better than the one before, has all passes, and keeps to the room."""
    task = task_of(paced_cuts(1000 + seed, 14).asked)
    groups = groups_of(task)
    improving = Improving(task, groups, workers=1, seed=seed)
    counts = [improving.worth]
    for order in improving.improve(Stop().within(0.5)):
        counts.append(improving.worth)
        assert task.worth(order) == improving.worth
        assert sorted(order) == sorted(number for group in groups for number in group)
        done = task.problem.start
        for group, given in zip(task.split(order), groups, strict=True):
            assert in_order(task, group)
            finishes = task.finishing and given is groups[-1]
            room = Room(task.problem, passes_in(given), done)
            limit = max(task.problem.limit, room.most_loose(given))
            assert finishes or room.most_loose(group) <= limit
            done |= sum(1 << number for number in group)
    assert counts == sorted(set(counts), reverse=True)


def test_groups_in_another_row_count_less_and_stay_whole() -> None:
    """Moved groups count no more, are as they were inside, and begun and finishing ones stay."""
    helped = 0
    for seed in range(120):
        task = task_of(paced_cuts(seed, 12).asked)
        given = groups_of(task)
        order = [number for group in given for number in group]
        found = moved(task, order, Stop())
        groups = task.split(found)
        assert sorted(groups) == sorted(given)
        assert groups[: task.begun] == given[: task.begun]
        assert not task.finishing or groups[-1] == given[-1]
        assert task.worth(found) <= task.worth(order)
        helped += task.worth(found) < task.worth(order)
    assert helped > 0


def test_what_follows_stays_behind_also_where_hands_set_it_before() -> None:
    """A cut of the next sheet that was set before one of this sheet breaks no model."""
    for task in tasks(range(60)):
        groups = groups_of(task)
        if len(groups) < 2:
            continue
        follows, last = groups[1][0], groups[0][-1]
        before = list(task.problem.before)
        before[last] |= 1 << follows
        set_by_hand = replace(task, problem=replace(task.problem, before=tuple(before)))
        rows = [(number,) for number in groups[0]]
        nodes = Nodes(set_by_hand, rows, task.standing, task.problem.start, follows)
        found = Resolving(nodes).solve(Stop(), Reach())
        assert found is not None
        assert sorted(number for row in found.rows for number in row) == sorted(groups[0])
