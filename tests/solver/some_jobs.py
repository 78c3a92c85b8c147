"""Small jobs of one material for the tests of planning, in inches unless said otherwise."""

from shared.job import Job
from shared.lengths import INCH, MM, Length
from shared.parts import GrainRule, Part
from shared.shop import Shop
from shared.stock import SheetGrain, Stock, Trims

EIGHTH = INCH // 8
PLY = "3/4 birch ply"


def part(
    name: str,
    length: Length,
    width: Length,
    copies: int = 1,
    *,
    rule: GrainRule = GrainRule.ALONG_LENGTH,
    material: str = PLY,
) -> Part:
    """Return a part without bands."""
    return Part(
        id=name,
        name=name,
        length=length,
        width=width,
        copies=copies,
        material=material,
        grain_rule=rule,
    )


def sheet(
    name: str = "s",
    length: Length = 96 * INCH,
    width: Length = 48 * INCH,
    *,
    trims: Trims | None = None,
    price: int | None = None,
    at_hand: int | None = None,
    grain: SheetGrain = SheetGrain.ALONG_L,
    material: str = PLY,
) -> Stock:
    """Return a sheet row; a full sheet unless told otherwise."""
    return Stock(
        id=name,
        name=name,
        material=material,
        length=length,
        width=width,
        thickness=18 * MM,
        trims=trims or Trims(),
        price=price,
        at_hand=at_hand,
        grain=grain,
    )


def job(*rows: Part | Stock, kerf: Length = EIGHTH) -> Job:
    """Return the job of these parts and sheets."""
    return Job(
        name="Some job",
        parts=tuple(row for row in rows if isinstance(row, Part)),
        stock=tuple(row for row in rows if isinstance(row, Stock)),
        shop=Shop(kerf=kerf),
    )
