"""How a sheet of one stock row can be used, in ticks: the room it has, and what may lie in it."""

from collections.abc import Iterator
from typing import NamedTuple

from shared.parts import Part
from shared.shop import FirstCut
from shared.stock import Stock, orientations


class Room(NamedTuple):
    """A sheet in the solver's frame: room for pieces, one kerf included, all in ticks.

    ``transposed`` means crosscut first: the solver's x is the sheet's y.
    """

    stock: Stock
    transposed: bool
    kerf: int

    @property
    def _trims(self) -> tuple[tuple[int, int], tuple[int, int]]:
        """(reference end, other end) along the strips, and across them."""
        trims = self.stock.trims
        along, across = (trims.start, trims.end), (trims.near, trims.far)
        return (across, along) if self.transposed else (along, across)

    @property
    def length(self) -> int:
        """Room along the strips."""
        whole = self.stock.width if self.transposed else self.stock.length
        return whole - sum(self._trims[0]) + self.kerf

    @property
    def width(self) -> int:
        """Room across the strips."""
        whole = self.stock.length if self.transposed else self.stock.width
        return whole - sum(self._trims[1]) + self.kerf

    @property
    def exact(self) -> tuple[bool, bool]:
        """Whether a run that fills the length, or the width, needs no last cut."""
        return self._trims[0][1] == 0, self._trims[1][1] == 0

    @property
    def trimmed(self) -> tuple[bool, bool]:
        """Whether every strip, or the sheet, begins with a trim cut."""
        return self._trims[0][0] > 0, self._trims[1][0] > 0

    def lying(self, part: Part) -> tuple[bool, ...]:
        """Say how a part may lie here and fits: ``False`` with its length along the strips."""
        allowed = orientations(part.grain_rule, self.stock.grain)
        flags = sorted(flag is not self.transposed for flag in allowed)
        fitting = [flag for flag in flags if self._holds(part, flag)]
        square = part.cut_length == part.cut_width
        return tuple(fitting[:1] if square else fitting)

    def _holds(self, part: Part, turned: bool) -> bool:
        length, width = part.cut_length + self.kerf, part.cut_width + self.kerf
        if turned:
            length, width = width, length
        return length <= self.length and width <= self.width


def rooms_of(stock: Stock, first: FirstCut, kerf: int) -> Iterator[Room]:
    """Yield the ways to use a sheet: one, or two when the first cut may go either way."""
    if first is not FirstCut.CROSSCUT:
        yield Room(stock, False, kerf)
    if first is not FirstCut.RIP:
        yield Room(stock, True, kerf)
