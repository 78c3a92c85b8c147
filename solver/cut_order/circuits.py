"""How often settings and pieces come again, because passes tie them together in circuits."""

from collections.abc import Iterator, Sequence
from typing import NamedTuple

from shared.shop import Rail


class Pair(NamedTuple):
    """Passes that are sure to share a setting, with its colour, and the rail if it is one."""

    passes: int
    colour: int
    rail: Rail | None


class Run(NamedTuple):
    """Passes ahead of one run over a piece, and whether the saw goes another way in it."""

    passes: int
    crosses: bool


class Child(NamedTuple):
    """A piece that a pass saws off another: what laying it, or turning it at once, takes."""

    maker: int
    laid: int
    turned: int


class Piece(NamedTuple):
    """A piece with passes ahead; ``whole`` is what laying it takes before it is begun."""

    passes: int
    whole: int
    laid: int
    turned: int
    runs: tuple[Run, ...]
    axes: tuple[object, ...]
    children: tuple[Child, ...]


class Circuits:
    """Pieces and settings as the vertices of a graph, tied by the passes that need both.

    An edge is what is to be sawn of a piece with a setting. Who goes from edge to edge changes
    one of both at least. So there are as many changes as edges and one more for each part of
    the graph that hangs together, but only as many vertices as that has: what is over is the
    number of edges that close a circuit. Settings and pieces come again so often.
    """

    def __init__(self, pieces: Sequence[Piece], pairs: Sequence[Pair], setting: int) -> None:
        """Take all pieces and settings, and what it counts at least to set something again."""
        self._edges = tuple(_edges(pieces, pairs))
        self._makers = [one.maker for piece in pieces for one in piece.children]
        fetching = min((piece.laid for piece in pieces), default=0)
        spared = [
            min(child.laid, child.turned + piece.laid) - child.turned
            for piece in pieces
            for child in piece.children
        ]
        self._anyhow = min(setting, fetching)
        self._from_child = max(0, min(setting, fetching - max([0, *spared])))

    def again(self, left: int) -> int:
        """Return what it counts at least that settings and pieces of these passes come again.

        A piece may come back from what was sawn off it and gone on with at once: that spares
        the other a lift, once for each piece that is still to be sawn off.
        """
        over = self._over(left)
        if not over:
            return 0
        back = min(over, sum(1 for maker in self._makers if left >> maker & 1))
        return back * self._from_child + (over - back) * self._anyhow

    def _over(self, left: int) -> int:
        joined: dict[int, int] = {}
        over = 0
        for one, other, passes in self._edges:
            if passes & left:
                first, second = _root(joined, one), _root(joined, other)
                if first == second:
                    over += 1
                else:
                    joined[second] = first
        return over


def _edges(pieces: Sequence[Piece], pairs: Sequence[Pair]) -> Iterator[tuple[int, int, int]]:
    """Yield settings and pieces that passes need together, with these passes.

    A piece counts anew from where the saw goes another way in it: what is done before that is
    finished then.
    """
    vertices: list[int] = []
    for piece in pieces:
        for place, run in enumerate(piece.runs):
            if run.crosses or not place:
                vertices.append(run.passes)
            else:
                vertices[-1] |= run.passes
    for at, pair in enumerate(pairs):
        for vertex, passes in enumerate(vertices):
            if passes & pair.passes:
                yield -1 - at, vertex, passes & pair.passes


def _root(joined: dict[int, int], vertex: int) -> int:
    while vertex in joined:
        vertex = joined[vertex]
    return vertex
