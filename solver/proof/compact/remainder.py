"""The best remainder of the compact model: the largest single fall worth keeping.

One fall of any level is picked; it must be worth keeping, and its area is made as large as
can be. The same rules as `solver.limits.measure`, as variables.
"""

from typing import NamedTuple

from solver.proof.compact.pieces import Pieces
from solver.proof.stoppable import Variable


class Fall(NamedTuple):
    """A fall that may be picked: whether its piece exists, and its sides, a kerf included."""

    exists: Variable
    left: Variable
    across: Variable


class Remainder:
    """The picked fall of a compact model.

    Attributes
    ----------
    area
        Area of the picked fall, 0 if none is worth keeping.
    """

    def __init__(self, pieces: Pieces) -> None:
        self._pieces = pieces
        self._kerf = pieces.instance.kerf
        kinds = pieces.instance.kinds
        self._longest = max(kind.length for kind in kinds)
        self._widest = max(kind.width for kind in kinds)
        self.area = pieces.size(self._longest * self._widest)
        falls = [*self._of_sheets(), *self._of_strips(), *self._of_blocks()]
        picks = [self._picked(fall) for fall in falls]
        none = pieces.flag()
        pieces.model.add(self.area == 0).only_enforce_if(none)
        pieces.model.add_exactly_one([none, *picks])

    def _of_sheets(self) -> list[Fall]:
        pieces = self._pieces
        return [
            Fall(bought, pieces.left_across[r], pieces.instance.kinds[k].length)
            for (r, k), bought in pieces.bought.items()
        ]

    def _of_strips(self) -> list[Fall]:
        pieces = self._pieces
        return [
            Fall(pieces.in_strip[t, t], pieces.left_along[t], pieces.width[t])
            for t in range(pieces.count)
        ]

    def _of_blocks(self) -> list[Fall]:
        """Falls beside the stack of a block, and behind each of its items."""
        pieces = self._pieces
        falls = [
            Fall(pieces.in_block[b, b], pieces.left_across_block(b), pieces.length[b])
            for b in range(pieces.count)
        ]
        if pieces.instance.levels < 3:
            return falls
        for c in range(pieces.count):
            width = pieces.extent(c, across=True)
            falls.append(Fall(1, pieces.left_along_block(c), width))
        return falls

    def _picked(self, fall: Fall) -> Variable:
        """Return whether a fall is picked: then it is worth keeping, and has the area."""
        pieces, pick = self._pieces, self._pieces.flag()
        sides = [self._side(fall.left, pick), self._side(fall.across, pick)]
        pieces.model.add(fall.exists >= pick)
        self._worth_keeping(sides, pick)
        product = pieces.size(self._longest * self._widest)
        pieces.model.add_multiplication_equality(product, sides)
        pieces.model.add(self.area <= product).only_enforce_if(pick)
        return pick

    def _side(self, size: Variable, pick: Variable) -> Variable:
        """Return a side of a picked fall without its kerf; 0 of one that is not."""
        side = self._pieces.size(max(self._longest, self._widest))
        self._pieces.model.add(side == size - self._kerf).only_enforce_if(pick)
        self._pieces.model.add(side == 0).only_enforce_if(~pick)
        return side

    def _worth_keeping(self, sides: list[Variable], pick: Variable) -> None:
        pieces, (long, short) = self._pieces, self._pieces.instance.keep
        turned = pieces.flag()
        for flag, (one, other) in ((turned, sides[::-1]), (~turned, sides)):
            pieces.model.add(one >= long).only_enforce_if(pick, flag)
            pieces.model.add(other >= short).only_enforce_if(pick, flag)
