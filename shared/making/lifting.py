"""What a cut asks to be lifted before it: a piece laid on its support, or turned on it.

On sawhorses with bearers a piece is turned when the saw is to run the other way; a slatted
grid or foam carries the saw's line anywhere, so there one walks round and turns nothing.
"""

from enum import StrEnum

from shared.making.strokes import Stroke
from shared.shop import Axis, Shop, Support


class Moved(StrEnum):
    """What is done with a piece before its cut."""

    NOTHING = "nothing"
    """It is on its support already, the right way round."""
    LAID = "laid on its support"
    TURNED = "turned on its support"
    """A quarter, until the saw runs the other way over it; or until its other face is up."""
    ROUND = "walked round"
    """It lies, and the maker goes to where the saw runs the other way over it."""


class OnSupport:
    """Goes through the cuts in order and knows which pieces lie on the support.

    Both pieces of a cut lie there after it. The next cut goes through one of them, or through
    another piece, which takes their place.
    """

    def __init__(self, shop: Shop) -> None:
        self._turns = shop.support is Support.HORSES
        self._pieces: frozenset[tuple[str, str]] = frozenset()
        self._axis = Axis.RIP

    def move(self, stroke: Stroke, *, turn_over: bool) -> Moved:
        """Say what is done with the piece of the next cut before it."""
        cut, before, axis = stroke.cut, self._pieces, self._axis
        self._pieces = frozenset((cut.sheet, name) for name in (cut.piece, cut.off) if name)
        self._axis = stroke.axis
        if (cut.sheet, cut.piece) not in before:
            return Moved.LAID
        if axis is not stroke.axis and not self._turns and not turn_over:
            return Moved.ROUND
        turned = turn_over or axis is not stroke.axis
        return Moved.TURNED if turned else Moved.NOTHING
