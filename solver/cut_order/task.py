"""What is to be put in order: all passes of a job, in groups that stay together.

Sheet by sheet, each sheet is a group; set-up by set-up all sheets are one. What finishes blanks
is the last group. Groups are made one after the other: those begun first, then in any order that
suits. An order is worth its seconds; where one walks as little as can be, first the number of
times a piece is lifted or turned.
"""

from collections.abc import Iterable
from dataclasses import dataclass, replace
from typing import Final

from shared.asked import CutsToOrder
from shared.cuts.forest import Forest
from shared.cuts.freedom import Freedom
from shared.cuts.growing import grow
from shared.cuts.order_problem import Problem, Wishes, problem_of, put_last
from shared.shop import SawingOrder
from solver.cut_order.alike import told_apart
from solver.cut_order.clock import START, Clock, Standing, Step

A_LIFT: Final = 1_000_000
"""What a lift or turn counts beside seconds where one walks as little as can be."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Task:
    """Passes ahead, in groups.

    Attributes
    ----------
    problem
        All passes; those of its start are made already.
    clock
        Tells what passes take.
    groups
        Sets of passes ahead that are made together, one set after the other.
    begun
        So many groups come first, in their order.
    finishing
        Whether the last group finishes blanks, and stays the last.
    standing
        What the passes made leave.
    lift
        What a lift or turn counts beside its seconds.
    """

    problem: Problem
    clock: Clock
    groups: tuple[int, ...]
    begun: int
    finishing: bool
    standing: Standing
    lift: int

    def value(self, step: Step) -> int:
        """Return what a step counts."""
        return step.seconds + (self.lift if step.lifts else 0)

    def worth(
        self, order: Iterable[int], standing: Standing | None = None, done: int | None = None
    ) -> int:
        """Return what passes count in an order, from what stands at first unless it is said."""
        standing = self.standing if standing is None else standing
        done = self.problem.start if done is None else done
        total = 0
        for number in order:
            step = self.clock.step(standing, number, done)
            total += self.value(step)
            standing, done = step.standing, done | 1 << number
        return total

    def split(self, order: Iterable[int]) -> list[list[int]]:
        """Return an order group by group, the groups in the row in which the order has them."""
        found: list[list[int]] = []
        for number in order:
            group = next(one for one in self.groups if one >> number & 1)
            if not found or not group >> found[-1][0] & 1:
                found.append([])
            found[-1].append(number)
        return found


def passes_in(order: Iterable[int]) -> int:
    """Return the set of the passes of an order."""
    return sum(1 << number for number in order)


def task_of(asked: CutsToOrder) -> Task:
    """Return what is asked for; the sheets are those that have a tree."""
    job = asked.job
    sheets = [sheet for sheet in asked.sheets if sheet.tree is not None]
    forest = grow(job, sheets)
    wishes = _wishes(asked)
    problem = problem_of(forest, range(len(forest.runs)), wishes)
    groups, finishing = _groups(problem, forest, job.shop.sawing)
    if finishing:
        before = list(problem.before)
        put_last(before, finishing & problem.ahead)
        problem = replace(problem, before=tuple(before))
    if not wishes.before:
        problem = told_apart(problem, forest)
    clock = Clock(job, sheets, forest, problem)
    number = {one.key: place for place, one in enumerate(problem.made)}
    head = [number[key] for key in asked.made if key in number]
    ahead = [group & problem.ahead for group in groups if group & problem.ahead]
    ahead.sort(key=lambda group: not _is_begun(problem, group, groups))
    begun = sum(_is_begun(problem, group, groups) for group in ahead)
    last = (finishing & problem.ahead,) if finishing & problem.ahead else ()
    return Task(
        problem=problem,
        clock=clock,
        groups=(*ahead, *last),
        begun=begun,
        finishing=bool(last),
        standing=clock.run(head, START, 0)[1],
        lift=A_LIFT if job.shop.sawing is SawingOrder.LEAST_WALKING else 0,
    )


def _is_begun(problem: Problem, group: int, groups: Iterable[int]) -> bool:
    """Whether passes are made of what a group ahead belongs to."""
    return any(whole & group and whole & problem.start for whole in groups)


def _groups(problem: Problem, forest: Forest, mode: SawingOrder) -> tuple[list[int], int]:
    """Return the groups of a mode, and apart from them what finishes blanks."""
    groups: dict[str, int] = {}
    finishing = 0
    for number, one in enumerate(problem.made):
        run = forest.runs[one.run]
        if run.finishes:
            finishing |= 1 << number
        else:
            name = "" if mode is SawingOrder.BY_SETUP else run.sheet
            groups[name] = groups.get(name, 0) | 1 << number
    return list(groups.values()), finishing


def _wishes(asked: CutsToOrder) -> Wishes:
    freedom = Freedom(asked.job, asked.sheets)
    spoiled = {row.id for row in asked.job.stock if row.no_go}
    return Wishes(
        limit=max(1, asked.job.shop.loose),
        fixed=asked.fixed | {sheet.id for sheet in asked.sheets if sheet.stock in spoiled},
        is_fixed=freedom.is_fixed,
        ends_with=freedom.ends_with,
        waiting=frozenset(part.id for part in asked.job.parts if part.waits),
        before=tuple(wish for wish in asked.before if wish.then not in asked.made),
        made=asked.made,
    )
