"""In which order the pieces of a run are sawn off: for few set-ups, and within the limits.

An exactly filled run needs no cut behind its last piece, so the size of a piece that
occurs once in it can be spared there. A set-up is saved only when every run that has its
size spares it, and a run spares one size: sizes that meet in a run exclude each other.
The largest set of sizes to spare is a largest independent set of that graph.

Wanted is largest first. A rail that has nothing else to rest on wants the largest last; in
an exact run whose last size is spared, second to last (see `solver.limits.cut_run`).
"""

from collections import Counter, defaultdict
from collections.abc import Sequence
from typing import NamedTuple, TypeAlias

from solver.limits.cut_run import CutRun, last_sizes, within_limits
from solver.material.instance import ShopLimits

Graph: TypeAlias = dict[int, set[int]]

BRANCHES = 5_000
"""Choices tried in one connected part of the graph before greed takes over."""


class Sizes(NamedTuple):
    """Sizes of the pieces of one run, whether they fill it exactly, and which may end it.

    ``able`` of ``None`` is any.
    """

    sizes: tuple[int, ...]
    exact: bool
    able: frozenset[int] | None = None

    def may_end(self, size: int) -> bool:
        """Whether a piece of that size may go last and need no cut."""
        return self.exact and (self.able is None or size in self.able)


def spared(runs: Sequence[Sizes]) -> frozenset[int]:
    """Return the sizes that no cut of these runs, all of one level, has to be set to.

    Each run that can must put its piece of such a size last; no run has two of them.
    """
    found: set[int] = set()
    for part in _connected(_conflicts(runs)):
        search = _BranchAndBound()
        search.extend(part, set())
        found |= search.best
    return frozenset(found)


def _conflicts(runs: Sequence[Sizes]) -> Graph:
    """Return the sizes that may be spared, each with those it excludes."""
    counts = [(Counter(run.sizes), run) for run in runs]
    needed = {s for count, run in counts for s, n in count.items() if n > 1 or not run.may_end(s)}
    graph: defaultdict[int, set[int]] = defaultdict(set)
    for count, _ in counts:
        free = count.keys() - needed
        for size in free:
            graph[size] |= free - {size}
    return dict(graph)


def _connected(graph: Graph) -> list[Graph]:
    """Split a graph into its connected parts."""
    ahead, parts = set(graph), []
    while ahead:
        part: set[int] = set()
        border = {min(ahead)}
        while border:
            part |= border
            border = {other for size in border for other in graph[size]} - part
        ahead -= part
        parts.append({size: graph[size] for size in part})
    return parts


class _BranchAndBound:
    """Looks for a largest independent set; on a tangled graph the best of `BRANCHES` choices.

    The first branch is greedy, so there is always an answer.
    """

    def __init__(self) -> None:
        self.best: set[int] = set()
        self._branches = 0

    def extend(self, graph: Graph, chosen: set[int]) -> None:
        """Extend an independent set by vertices of a graph of which none excludes it."""
        graph, chosen = _forced(graph, chosen)
        if not graph:
            self.best = max(self.best, chosen, key=len)
            return
        if len(chosen) + _bound(graph) <= len(self.best) or self._branches > BRANCHES:
            return
        self._branches += 1
        least = min(graph, key=lambda size: (len(graph[size]), size))
        most = max(graph, key=lambda size: (len(graph[size]), size))
        if not self.best:
            self.extend(_without(graph, {least} | graph[least]), chosen | {least})
        self.extend(_without(graph, {most}), chosen)
        self.extend(_without(graph, {most} | graph[most]), chosen | {most})


def _forced(graph: Graph, chosen: set[int]) -> tuple[Graph, set[int]]:
    """Choose vertices with at most one neighbour: no other choice is better."""
    while (least := min(graph, key=lambda size: len(graph[size]), default=None)) is not None:
        if len(graph[least]) > 1:
            break
        chosen = chosen | {least}
        graph = _without(graph, {least} | graph[least])
    return graph, chosen


def _without(graph: Graph, gone: set[int]) -> Graph:
    return {size: others - gone for size, others in graph.items() if size not in gone}


def _bound(graph: Graph) -> int:
    """Return an upper bound: number of cliques that cover the graph, found greedily."""
    cliques: list[set[int]] = []
    for size in sorted(graph, key=lambda size: (-len(graph[size]), size)):
        for clique in cliques:
            if clique <= graph[size]:
                clique.add(size)
                break
        else:
            cliques.append({size})
    return len(cliques)


def places(run: CutRun, limits: ShopLimits) -> list[int]:
    """Return the pieces of a run by their places, in the order in which to saw them off.

    ``run.sizes`` are in the order wanted, of which no more is given up than must be.
    """
    order = list(range(len(run.sizes)))
    if len(order) < 2 or (not limits.bind and limits.guide is None):
        return order
    if run.ends_exactly:
        able = last_sizes(run, limits)
        if able and run.sizes[order[-1]] not in able:
            last = [place for place in order if run.sizes[place] in able][-1]
            order.remove(last)
            order.append(last)
    return within_limits(run, order, limits)
