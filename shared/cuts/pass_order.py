"""Orders of the passes of a forest that a saw can follow, and the order nobody asked for.

In the plain order comes sheet after sheet; of a sheet all cuts of level 1 from the
reference edge on, then strip by strip its crosscuts, its block cuts, its last trims. What
finishes blanks comes when everything is sawn from the sheets.
"""

from collections.abc import Iterator, Sequence
from heapq import heappop, heappush

from shared.cuts.forest import Forest, Pass


def plain(forest: Forest) -> list[Pass]:
    """Return the passes in the plain order."""
    sawn: list[Pass] = []
    finishing: list[Pass] = []
    for index, run in enumerate(forest.runs):
        if run.parent < 0:
            for level in _by_strip(forest, index):
                (finishing if forest.runs[level].finishes else sawn).extend(
                    forest.runs[level].passes
                )
    return [*sawn, *finishing]


def _by_strip(forest: Forest, sheet: int) -> Iterator[int]:
    """Yield the runs of a sheet: its own, then those of each strip level by level."""
    yield sheet
    for strip in _below(forest, sheet):
        waiting = [strip]
        while waiting:
            yield from waiting
            waiting = [deeper for one in waiting for deeper in _below(forest, one)]


def _below(forest: Forest, index: int) -> list[int]:
    """Return the runs that saw up what a run saws off or leaves."""
    run = forest.runs[index]
    opened = [one.opens for one in run.passes if one.opens is not None]
    return opened if run.goes_on is None else [*opened, run.goes_on]


def in_order(forest: Forest, wanted: Sequence[str] = ()) -> list[Pass]:
    """Return all passes in an order that the saw can follow, as near to the one wanted as can be.

    Parameters
    ----------
    forest
        Of some sheets.
    wanted
        Keys of passes. One that has to wait for another comes as soon as it can; what is
        not named comes last, in the plain order; names of no pass are passed over.
    """
    usual = plain(forest)
    ranks = {key: rank for rank, key in enumerate(wanted)}
    late = {made.key: len(ranks) + place for place, made in enumerate(usual)}
    done = [0] * len(forest.runs)
    heap: list[tuple[int, str, int]] = []

    def offer(index: int) -> None:
        run = forest.runs[index]
        if done[index] < len(run.passes):
            key = run.passes[done[index]].key
            heappush(heap, (ranks.get(key, late[key]), key, index))

    for index, run in enumerate(forest.runs):
        if run.parent < 0:
            offer(index)
    made: list[Pass] = []
    while heap:
        _, _, index = heappop(heap)
        run = forest.runs[index]
        one = run.passes[done[index]]
        done[index] += 1
        made.append(one)
        offer(index)
        if one.opens is not None:
            offer(one.opens)
        if done[index] == len(run.passes) and run.goes_on is not None:
            offer(run.goes_on)
    return made
