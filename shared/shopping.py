"""What a plan takes from the rack and what has to be bought for it."""

from collections import Counter
from dataclasses import dataclass

from shared.banding import BandNeed, band_needs
from shared.job import Job
from shared.plan import Plan
from shared.stock import Stock


@dataclass(frozen=True, slots=True, kw_only=True)
class StockLine:
    """Sheets of one row: how many the plan cuts, of which so many are bought; price in hundredths.

    A row with a number at hand is owned; of any other row all sheets are bought.
    """

    stock: Stock
    used: int
    buy: int
    price: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Shopping:
    """Sheets and bands; ``price`` is that of all sheets in hundredths."""

    sheets: tuple[StockLine, ...]
    bands: tuple[BandNeed, ...]
    price: int


def shopping(job: Job, plan: Plan) -> Shopping:
    """Return what a plan of a job takes; a piece that lies on the sawhorses is no sheet."""
    used = Counter(sheet.stock for sheet in plan.sheets if not sheet.piece)
    rows = [_line(row, used[row.id]) for row in job.stock if used[row.id]]
    return Shopping(
        sheets=tuple(rows),
        bands=band_needs(job.parts, job.style.unit),
        price=sum(line.price for line in rows),
    )


def _line(row: Stock, used: int) -> StockLine:
    return StockLine(
        stock=row,
        used=used,
        buy=used if row.at_hand is None else 0,
        price=used * row.price,
    )
