"""How the time of a run is shared between materials, phases and processes.

As long as it is not proven that no fewer sheets will do, all processes look for them for
most of the time: tight lists give way after very different times. A phase ends as soon as
the proof is there, and on most lists that is soon; the rest goes to less sawing.
"""

from collections.abc import Iterator, Sequence
from typing import NamedTuple

from solver.budget.phase import Phase
from solver.budget.stop import Limits
from solver.solutions.incumbent import Incumbent

FIRST_ROUND_S = 3.0
LONGEST_ROUND_S = 60.0
PROVEN_PATIENCE = 1 / 3
"""Part of the patience that is left once no cheaper stock is possible."""
TRADE_PART = 0.25
"""Part of the time for sawing that goes to dearer stock, where that is asked for."""
CUTS_PART = 0.15
"""Most of a round that the process that proves spends on the bound on cuts."""
CUTS_LEAST_S = 1.5
"""Time for that where rounds are short because patience may end the run."""
START_PART = 0.015
"""Part of the first round that goes to more first plans before anything cleverer."""


class Share(NamedTuple):
    """A phase, and when it ends at the latest: a part of the round.

    Where rounds are short because patience may end the run, it has ``least_s`` at least.
    """

    phase: Phase
    until: float
    least_s: float = 0.0


ALONE = (Share(Phase.SQUEEZE, 0.1), Share(Phase.PROVE, 0.4), Share(Phase.SQUEEZE, 0.5))
"""Before sawing, when there is one process."""

LEADING = (Share(Phase.SQUEEZE, 0.65),)
"""Before sawing, the first of several processes."""

PROVING = (Share(Phase.PROVE, 0.5, least_s=6.0), Share(Phase.SQUEEZE, 0.75))
"""Before sawing, the second process."""

SQUEEZING = (Share(Phase.SQUEEZE, 0.7),)
"""Before sawing, any further process."""


def shares(process: int, processes: int) -> Sequence[Share]:
    """Return what a process does before it turns to sawing."""
    if processes == 1:
        return ALONE
    return (LEADING, PROVING)[process] if process < 2 else SQUEEZING


def rounds(limits: Limits) -> Iterator[float]:
    """Yield the seconds of each round: one, or ever longer ones when the end is open.

    Annealing has to know its end to cool in time. When patience may end the run, rounds
    begin short, and stay shorter than the patience, so that the plan is good whenever
    that happens.
    """
    if limits.patience_s is None and limits.time_s is not None:
        yield limits.time_s
        return
    longest = LONGEST_ROUND_S
    if limits.patience_s is not None:
        longest = max(FIRST_ROUND_S, 0.8 * PROVEN_PATIENCE * limits.patience_s)
    seconds = FIRST_ROUND_S
    while True:
        yield seconds
        seconds = min(2 * seconds, longest)


def by_size(incumbents: Sequence[Incumbent]) -> list[float]:
    """Return the share of each incumbent in any time, by the number of its parts."""
    sizes = [sum(item.demand for item in incumbent.instance.items) for incumbent in incumbents]
    return [size / sum(sizes) for size in sizes]
