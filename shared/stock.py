"""Sheets and offcuts the maker can cut from."""

from dataclasses import dataclass, field
from enum import StrEnum

from shared.lengths import Length
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
        Price of one sheet in hundredths of the maker's currency; 0 for what is owned.
    at_hand
        How many there are; ``None`` when more can be bought. An offcut is a row with 1.
    """

    id: str
    name: str
    material: str
    length: Length
    width: Length
    thickness: Length
    grain: SheetGrain = SheetGrain.ALONG_L
    trims: Trims = field(default_factory=Trims)
    price: int = 0
    at_hand: int | None = None


def orientations(rule: GrainRule, grain: SheetGrain) -> tuple[bool, ...]:
    """Say how a part may lie: ``False`` with its length along x, ``True`` turned.

    A part's length runs along its grain unless its rule says width; on a sheet whose
    grain runs along W, a grained part therefore lies turned.
    """
    if rule is GrainRule.EITHER or grain is SheetGrain.NONE:
        return (False, True)
    return ((rule is GrainRule.ALONG_WIDTH) is (grain is SheetGrain.ALONG_L),)
