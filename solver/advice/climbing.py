"""From a change that saves something to the smallest that does, rung by rung."""

from collections.abc import Callable, Iterator
from typing import NamedTuple

from shared.changes import Change
from solver.advice.candidates import Ladder
from solver.advice.trial import Trial, TrialResult


class Found(NamedTuple):
    """A change that saves something; ``smallest`` if the rung below is proven not to."""

    change: Change
    trial: Trial
    smallest: bool


def climb(
    ladder: Ladder, attempt: Callable[[Change], Trial], top: Trial, *, proven: bool
) -> Iterator[Found]:
    """Yield ever smaller changes by bisection below the strongest, which saves.

    Parameters
    ----------
    attempt
        Tries a change.
    top
        The trial of the strongest rung.
    proven
        Whether it is proven that nothing can be saved without any change.
    """
    low, high, is_sure = -1, len(ladder.rungs) - 1, proven
    best = Found(ladder.rungs[high], top, is_sure and high == 0)
    yield best
    while high - low > 1:
        middle = (low + high) // 2
        trial = attempt(ladder.rungs[middle])
        if trial.verdict is TrialResult.SAVES:
            high, best = middle, Found(ladder.rungs[middle], trial, False)
        else:
            low, is_sure = middle, trial.verdict is TrialResult.RULED_OUT
    if len(ladder.rungs) > 1:
        yield best._replace(smallest=is_sure)
