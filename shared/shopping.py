"""What a plan takes from the rack and what has to be bought for it."""

from collections import Counter
from collections.abc import Mapping
from dataclasses import dataclass

from shared.banding import BandNeed, band_needs
from shared.costs import sheet_price
from shared.job import Job
from shared.plan import Plan
from shared.stock import Stock


@dataclass(frozen=True, slots=True, kw_only=True)
class StockLine:
    """Sheets of one row: how many are needed, of which so many are bought; prices in hundredths.

    ``each`` is the price of a sheet, ``price`` that of all of them; both are 0 where they cost
    nothing or nobody gave a price. ``unpriced`` says that they are bought and have no price. A
    row with a number at hand is owned; of any other row all sheets are bought. ``unplanned``
    names those of them that have no cuts yet.
    """

    stock: Stock
    used: int
    buy: int
    each: int
    price: int
    unpriced: bool
    unplanned: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Shopping:
    """Sheets and bands; ``price`` is that of all sheets in hundredths, as far as they have any."""

    sheets: tuple[StockLine, ...]
    bands: tuple[BandNeed, ...]
    price: int

    @property
    def unpriced(self) -> int:
        """Number of sheets that are bought and have no price."""
        return sum(line.buy for line in self.sheets if line.unpriced)

    @property
    def unplanned(self) -> tuple[str, ...]:
        """The numbers of sheets that are counted though they have no cuts yet."""
        return tuple(sheet for line in self.sheets for sheet in line.unplanned)


def shopping(job: Job, plan: Plan, uncut: Mapping[str, str] | None = None) -> Shopping:
    """Return what a job takes; a piece that lies on the sawhorses is no sheet.

    Parameters
    ----------
    plan
        Of the sheets that can be cut.
    uncut
        The row of each sheet that parts lie on but that cannot be cut as they lie, by its
        number: its boards are needed all the same.
    """
    used = Counter(sheet.stock for sheet in plan.sheets if not sheet.piece)
    loose: dict[str, list[str]] = {row.id: [] for row in job.stock}
    for sheet, row_id in (uncut or {}).items():
        loose[row_id].append(sheet)
    rows = [
        _line(job, row, used[row.id], tuple(loose[row.id]))
        for row in job.stock
        if used[row.id] or (loose[row.id] and not row.is_piece)
    ]
    return Shopping(
        sheets=tuple(rows),
        bands=band_needs(job.parts, job.style.unit),
        price=sum(line.price for line in rows),
    )


def _line(job: Job, row: Stock, planned: int, unplanned: tuple[str, ...]) -> StockLine:
    used, each = planned + len(unplanned), sheet_price(job, row)
    return StockLine(
        stock=row,
        used=used,
        buy=used if row.at_hand is None else 0,
        each=each,
        price=used * each,
        unpriced=row.at_hand is None and row.price is None and not each,
        unplanned=unplanned,
    )
