"""Passes that are alike: whichever is made first, nothing else in the order would differ.

Two passes of one run are alike when they saw off the same size, what they saw off is sawn up
alike, and the same has to come before them and after them. Any order becomes one in which they
come in the order of their names when the two change their parts in it, at no cost. So only such
orders need be looked at.
"""

from collections.abc import Iterator
from dataclasses import replace

from shared.cuts.forest import Forest, Pass
from shared.cuts.order_problem import Problem, bits
from shared.plan import CutKind


def told_apart(problem: Problem, forest: Forest) -> Problem:
    """Return the problem with passes that are alike in the order of their names."""
    before, names = list(problem.before), _Names(problem, forest)
    after = _after(problem)
    for numbers in _same_run(problem):
        alike: dict[object, int] = {}
        for number in numbers:
            own = names.within(number)
            key = (names.of(number), problem.before[number] & ~own, after[number] & ~own)
            last = alike.get(key)
            if last is not None:
                before[number] |= 1 << last
            alike[key] = number
    return replace(problem, before=tuple(before))


def _same_run(problem: Problem) -> Iterator[list[int]]:
    """Yield the passes ahead of each run, trims left out, in their order."""
    runs: dict[int, list[int]] = {}
    for number in bits(problem.ahead):
        if problem.made[number].kind is not CutKind.TRIM:
            runs.setdefault(problem.made[number].run, []).append(number)
    return iter(runs.values())


def _after(problem: Problem) -> list[int]:
    """Return for each pass what it has to come right before."""
    after = [0] * len(problem.made)
    for number, needed in enumerate(problem.before):
        for one in bits(needed):
            after[one] |= 1 << number
    return after


class _Names:
    """Names passes by what they do: those that do the same have the same name."""

    def __init__(self, problem: Problem, forest: Forest) -> None:
        self._problem, self._forest = problem, forest
        self._number = {one.key: place for place, one in enumerate(problem.made)}
        self._runs: dict[int, object] = {}

    def of(self, number: int) -> object:
        """Return the name of a pass."""
        return self._name(self._problem.made[number])

    def within(self, number: int) -> int:
        """Return the passes that saw up what a pass saws off."""
        opens = self._problem.made[number].opens
        return 0 if opens is None else self._passes(opens)

    def _passes(self, index: int) -> int:
        run = self._forest.runs[index]
        found = 0 if run.goes_on is None else self._passes(run.goes_on)
        for one in run.passes:
            if one.key in self._number:
                found |= 1 << self._number[one.key]
            found |= 0 if one.opens is None else self._passes(one.opens)
        return found

    def _name(self, one: Pass) -> object:
        number = self._number.get(one.key, -1)
        made = number >= 0 and bool(self._problem.start >> number & 1)
        opens = None if one.opens is None else self._run(one.opens)
        return one.kind, one.tool, one.size, one.keep, one.device, made, opens

    def _run(self, index: int) -> object:
        if index not in self._runs:
            run = self._forest.runs[index]
            rest = None if run.goes_on is None else self._run(run.goes_on)
            its = sorted(map(self._name, run.passes), key=repr)
            sides = (run.rect.length, run.rect.width, run.run.axis, run.run.trim, run.run.kerf)
            self._runs[index] = (*sides, run.finishes, tuple(its), rest)
        return self._runs[index]
