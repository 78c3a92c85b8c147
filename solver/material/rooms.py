"""The rooms parts can lie in: whole sheets of a stock row, and what is free between holds."""

from dataclasses import dataclass

from shared.lengths import Length
from shared.parts import Part
from shared.stock import Stock, orientations


@dataclass(frozen=True, slots=True, kw_only=True)
class Room:
    """A room in the solver's frame; all lengths in ticks.

    Attributes
    ----------
    stock
        Row of the sheet it is on.
    transposed
        Crosscut first: the solver's x is the sheet's y.
    kerf
        Width of the slot.
    length, width
        Room for pieces along and across the strips, one kerf included.
    exact
        Whether a run that fills the length, or the width, needs no last cut.
    trimmed
        Whether every strip, or the sheet, begins with a trim cut.
    place
        Sheet and slot of a room that holds leave free on a sheet; ``None`` for whole sheets.
    fixed
        The room is one strip that is ripped already.
    beyond
        Stock behind the length, and behind the width, that lies there and is not used.
    reach
        The longest cut a rail takes, a kerf included; ``None`` for no limit.
    before
        Waste before the length, and before the width, that is sawn off first, a kerf
        included in each; 0 for none.
    hidden
        Only for parts whose face is not shown.
    """

    stock: Stock
    transposed: bool
    kerf: Length
    length: Length
    width: Length
    exact: tuple[bool, bool]
    trimmed: tuple[bool, bool]
    place: tuple[str, int] | None = None
    fixed: bool = False
    beyond: tuple[Length, Length] = (0, 0)
    reach: Length | None = None
    before: tuple[Length, Length] = (0, 0)
    hidden: bool = False

    @property
    def whole(self) -> Length:
        """How long cuts of the first level are, a kerf included."""
        along = self.stock.width if self.transposed else self.stock.length
        return along + self.kerf

    @property
    def begun(self) -> bool:
        """Whether the sheet is in use already."""
        return self.place is not None

    def lying(self, part: Part) -> tuple[bool, ...]:
        """Say how a part may lie here and fits: ``False`` with its length along the strips."""
        if self.hidden and part.show:
            return ()
        allowed = orientations(part.grain_rule, self.stock.grain)
        flags = sorted(flag is not self.transposed for flag in allowed)
        fitting = [flag for flag in flags if self._holds(part, flag)]
        square = part.cut_length == part.cut_width
        return tuple(fitting[:1] if square else fitting)

    def _holds(self, part: Part, turned: bool) -> bool:
        length, width = part.cut_length + self.kerf, part.cut_width + self.kerf
        if turned:
            length, width = width, length
        return length <= self.length and width <= self.width and self._reached(length, width)

    def _reached(self, length: Length, width: Length) -> bool:
        """Whether a strip that wide can be crosscut, or need not be."""
        if self.reach is None:
            return True
        uncut = length == self.length and self.exact[0] and not self.trimmed[0]
        return uncut or (self.width if self.fixed else width) <= self.reach


def whole_sheet(stock: Stock, transposed: bool, kerf: Length, reach: Length | None = None) -> Room:
    """Return the room of a sheet with nothing on it."""
    trims = stock.trims
    along = (stock.length, trims.start, trims.end)
    across = (stock.width, trims.near, trims.far)
    if transposed:
        along, across = across, along
    return Room(
        stock=stock,
        transposed=transposed,
        kerf=kerf,
        length=along[0] - along[1] - along[2] + kerf,
        width=across[0] - across[1] - across[2] + kerf,
        exact=(along[2] == 0, across[2] == 0),
        trimmed=(along[1] > 0, across[1] > 0),
        beyond=(along[2], across[2]),
        reach=None if reach is None else reach + kerf,
    )
