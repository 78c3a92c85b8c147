"""Sheets and offcuts the maker can cut from."""

from dataclasses import dataclass, field
from enum import StrEnum

from shared.geometry import Rect
from shared.lengths import FOOT, METRE, Length
from shared.parts import GrainRule


class SheetGrain(StrEnum):
    """Which way the face grain of a sheet runs; asked, never inferred from its shape."""

    ALONG_L = "along L"
    ALONG_W = "along W"
    NONE = "none"


@dataclass(frozen=True, slots=True, kw_only=True)
class Trims:
    """Stock lost at each edge of a sheet, kerf included, in ticks.

    ``near`` lies at the reference edge (y = 0), ``far`` opposite it; ``start`` is the
    short edge at x = 0, ``end`` the other. Near and start trims are cuts that make a
    reference edge; far and end trims are stock that is not used.
    """

    near: Length = 0
    far: Length = 0
    start: Length = 0
    end: Length = 0


@dataclass(frozen=True, slots=True, kw_only=True)
class NoGo:
    """A rectangle of a sheet to keep clear of: a damaged corner, a knot.

    In ticks, in the frame of the untrimmed sheet as `shared.geometry` has it. With
    ``show_only`` parts may lie there whose face is not shown.
    """

    x: Length
    y: Length
    length: Length
    width: Length
    show_only: bool = False

    @property
    def rect(self) -> Rect:
        """The rectangle itself."""
        return Rect(x=self.x, y=self.y, length=self.length, width=self.width)

    def bars(self, *, show: bool) -> bool:
        """Say whether a part keeps clear of it; ``show`` if its face is shown."""
        return show or not self.show_only


@dataclass(frozen=True, slots=True, kw_only=True)
class Stock:
    """One row of sheets and rack: sheets of one size, or a single offcut.

    Attributes
    ----------
    id
        Stable name inside the job.
    name
        What the maker calls it.
    material
        Name shared with the parts that may be cut from it.
    length, width
        Measured size in ticks; length is x as the sheet lies, whatever is longer.
    thickness
        Measured thickness in ticks.
    grain
        Which way the face grain runs.
    trims
        Stock lost at each edge.
    price
        Price of one sheet in hundredths of the maker's currency; ``None`` where nobody gave
        one: then `shared.costs` says what it counts. 0 is a price: it costs nothing.
    at_hand
        How many there are; ``None`` when more can be bought. What is at hand is owned: without
        a price it costs nothing. An offcut is a row with 1.
    diagonals
        Difference of the two measured diagonals, in ticks; 0 for a square sheet. The trims
        of the short edges are what `shared.squaring` makes of it, or more.
    own_trims
        What the maker wants trimmed, where squaring raised it; ``None`` where ``trims`` is
        just that.
    density
        In kg/m3, for the weight; 0 when it is not known.
    no_go
        What parts keep clear of; every sheet of the row has the same.
    piece, named
        Of a piece of an earlier sheet that lies on the sawhorses: its name, and how many
        pieces were sawn off it already; ``""`` and 0 for anything else.
    """

    id: str
    name: str
    material: str
    length: Length
    width: Length
    thickness: Length
    grain: SheetGrain = SheetGrain.ALONG_L
    trims: Trims = field(default_factory=Trims)
    price: int | None = None
    at_hand: int | None = None
    diagonals: Length = 0
    own_trims: Trims | None = None
    density: int = 0
    no_go: tuple[NoGo, ...] = ()
    piece: str = ""
    named: int = 0

    @property
    def whole(self) -> Rect:
        """The untrimmed sheet."""
        return Rect(x=0, y=0, length=self.length, width=self.width)

    @property
    def usable(self) -> Rect:
        """The sheet less its trims, bad places included."""
        trims = self.trims
        return Rect(
            x=trims.start,
            y=trims.near,
            length=self.length - trims.start - trims.end,
            width=self.width - trims.near - trims.far,
        )

    @property
    def is_piece(self) -> bool:
        """Whether it is a piece of an earlier sheet, not a sheet that is to be had."""
        return bool(self.piece)

    @property
    def area(self) -> int:
        """Area of the untrimmed sheet in square ticks."""
        return self.length * self.width


class AreaUnit(StrEnum):
    """What prices by area are given for."""

    SQUARE_FOOT = "sq ft"
    SQUARE_METRE = "m²"

    @property
    def square_ticks(self) -> int:
        """Its area in square ticks."""
        return FOOT**2 if self is AreaUnit.SQUARE_FOOT else METRE**2


@dataclass(frozen=True, slots=True, kw_only=True)
class AreaPrice:
    """What a material costs by area: hundredths of the maker's currency for each unit of it.

    Raises
    ------
    ValueError
        If the price is below 0.
    """

    material: str
    price: int
    per: AreaUnit

    def __post_init__(self) -> None:
        if self.price < 0:
            raise ValueError(f"A price by area is 0 or more, not {self.price}.")


def orientations(rule: GrainRule, grain: SheetGrain) -> tuple[bool, ...]:
    """Say how a part may lie: ``False`` with its length along x, ``True`` turned.

    A part's length runs along its grain unless its rule says width; on a sheet whose
    grain runs along W, a grained part therefore lies turned.
    """
    if rule is GrainRule.EITHER or grain is SheetGrain.NONE:
        return (False, True)
    return ((rule is GrainRule.ALONG_WIDTH) is (grain is SheetGrain.ALONG_L),)
