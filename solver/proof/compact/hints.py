"""A known solution in the words of the compact model."""

from collections import defaultdict
from collections.abc import Iterator
from typing import NamedTuple

from solver.material.instance import Solution
from solver.proof.compact.pieces import Pairs, Pieces


class Placed(NamedTuple):
    """Where a copy lies: numbers of its block, strip and sheet, and the rest of the hint."""

    block: int
    strip: int
    sheet: int
    turned: bool
    kind: int
    length: int
    width: int


class Hint:
    """Gives copies of the model to the places of a solution, and says so to the model."""

    def __init__(self, pieces: Pieces, solution: Solution) -> None:
        """Take a solution that leaves nothing out."""
        self._pieces = pieces
        self._model = pieces.model
        self._places = _orderly(pieces, solution)

    def give(self) -> None:
        """Add all hints."""
        blocks = [place.block for place in self._places]
        strips = [place.strip for place in self._places]
        sheets = [place.sheet for place in self._places]
        self._pairs(self._pieces.in_block, blocks, range(self._pieces.count))
        self._pairs(self._pieces.in_strip, strips, _leaders(blocks))
        self._pairs(self._pieces.in_sheet, sheets, _leaders(strips))
        for c, place in enumerate(self._places):
            self._copy(c, place)
        for r, k in self._pieces.bought:
            bought = r in _leaders(sheets) and self._places[r].kind == k
            self._model.add_hint(self._pieces.bought[r, k], bought)

    def _pairs(self, pairs: Pairs, groups: list[int], members: range | frozenset[int]) -> None:
        for (member, leader), together in pairs.items():
            same = groups[member] == groups[leader] and member in members
            self._model.add_hint(together, same and leader in _leaders(groups))

    def _copy(self, c: int, place: Placed) -> None:
        pieces = self._pieces
        for turned in pieces.copies[c].ways:
            self._model.add_hint(pieces.lies[c, turned], turned == place.turned)
        for k in range(len(pieces.instance.kinds)):
            self._model.add_hint(pieces.on_kind[c, k], k == place.kind)
        leads_block = c in _leaders([p.block for p in self._places])
        leads_strip = c in _leaders([p.strip for p in self._places])
        self._model.add_hint(pieces.length[c], place.length if leads_block else 0)
        self._model.add_hint(pieces.width[c], place.width if leads_strip else 0)


def _leaders(groups: list[int]) -> frozenset[int]:
    """Return the first member of each group."""
    first = {group: member for member, group in reversed(list(enumerate(groups)))}
    return frozenset(first.values())


def _orderly(pieces: Pieces, solution: Solution) -> list[Placed]:
    """Give each copy a place, equal copies in the order of their blocks' leaders."""
    waiting = defaultdict(list)
    for item, place in _places(solution):
        waiting[item].append(place)
    places = [waiting[copy.item].pop(0) for copy in pieces.copies]
    while _exchange(pieces, places):
        pass
    return places


def _exchange(pieces: Pieces, places: list[Placed]) -> bool:
    """Exchange two neighbours that lie in the wrong order; each exchange is progress."""
    first: dict[int, int] = {}
    for c, place in enumerate(places):
        first.setdefault(place.block, c)
    for c in range(len(places) - 1):
        equal = pieces.copies[c].item == pieces.copies[c + 1].item
        if equal and first[places[c].block] > first[places[c + 1].block]:
            places[c], places[c + 1] = places[c + 1], places[c]
            return True
    return False


def _places(solution: Solution) -> Iterator[tuple[int, Placed]]:
    blocks = strips = 0
    for sheet, laid in enumerate(solution.sheets):
        for strip in laid.strips:
            strips += 1
            for block in strip.blocks:
                blocks += 1
                for item, turned in block.stack:
                    kind, size = laid.kind, (block.length, strip.width)
                    yield item, Placed(blocks, strips, sheet, turned, kind, *size)
