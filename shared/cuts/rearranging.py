"""Pieces of a run in the order in which they are sawn off.

The pieces of a run may lie in any order: their sizes and the kerfs between them take the
same room, so the run ends where it ended, and everything inside a piece moves with it.
"""

from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import replace

from shared.cuts.pass_keys import REST, content_of, level_of, piece_key, rest_name, sheet_name
from shared.geometry import Rect
from shared.lengths import Length
from shared.shop import Axis
from shared.tree import Piece, Run, left_over, piece_rects


def rearranged(tree: Run, sheet: str, whole: Rect, kerf: Length, ranks: Mapping[str, int]) -> Run:
    """Return a sheet's tree with the pieces of every run in the order of their passes.

    Parameters
    ----------
    tree, sheet, whole, kerf
        Tree, number and rectangle of the sheet, and the kerf in ticks.
    ranks
        Place of each pass in the sequence, by its key. The last piece of a run that ends
        exactly has no pass, and stays the last.
    """
    return _Arranger(kerf, ranks).run(tree, whole, None, 0, sheet_name(sheet))


class _Arranger:
    """Walks a tree; levels and names are those of `shared.cuts.forest`."""

    def __init__(self, kerf: Length, ranks: Mapping[str, int]) -> None:
        self._kerf = kerf
        self._ranks = ranks

    def run(self, run: Run, rect: Rect, axis: Axis | None, before: int, name: str) -> Run:
        """Return a run in order; ``axis``, ``before`` and ``name`` as its piece came to lie."""
        level = level_of(run, axis, before)
        left = left_over(run, rect, self._kerf)
        name = content_of(Piece(size=0, run=run)) or name
        if not run.trim and left <= 0 and len(run.pieces) == 1:
            ((piece, inside),) = piece_rects(run, rect, self._kerf)
            level = before if run.axis is axis else level
            return replace(run, pieces=(self._piece(piece, inside, run.axis, level, name),))
        wastes: Counter[Length] = Counter()
        ranked: list[tuple[float, Piece]] = []
        places = list(piece_rects(run, rect, self._kerf))
        for place, (piece, inside) in enumerate(places, 1):
            if place == len(places) and left <= 0:
                rest = self._piece(piece, inside, run.axis, level, rest_name(name))
                ranked.append((float("inf"), rest))
                continue
            key = piece_key(piece, level, name, wastes)
            arranged = self._piece(piece, inside, run.axis, level, key)
            ranked.append((self._ranks[key], arranged))
        ranked.sort(key=lambda one: one[0])
        return replace(run, pieces=tuple(piece for _, piece in ranked))

    def _piece(self, piece: Piece, rect: Rect, axis: Axis, level: int, name: str) -> Piece:
        if piece.run is None:
            return piece
        return replace(piece, run=self.run(piece.run, rect, axis, level, name))


def renamed(keys: Sequence[str]) -> tuple[str, ...]:
    """Return keys of passes as they are once the pieces lie in that order.

    Pieces of waste of one size in a run have no names of their own: they are counted from
    the reference end, so from the first that is sawn off.
    """
    names: dict[str, str] = {}
    counts: Counter[tuple[str, str]] = Counter()
    for key in sorted(keys, key=lambda key: key.count("/")):
        head, _, whole = key.partition("/")
        kind, waste, _ = head.partition("-")
        plain = whole.rstrip(REST)
        whole = names.get(plain, plain) + whole[len(plain) :]
        if waste:
            counts[kind, whole] += 1
            head = f"{kind}-{counts[kind, whole]}"
        names[key] = f"{head}/{whole}"
    return tuple(names[key] for key in keys)
