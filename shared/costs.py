"""What each sheet of a material counts where the least is looked for, and which prices say so.

A price that was given counts as it is. Of what is owned (a number is at hand) nothing has to be
bought: without a price it costs nothing. Any other sheet without a price costs its area times
the material's price by area: the one the maker gave, or else the lowest that a priced row of the
material has. Where nobody gave any price, area itself is what counts, in whole square
millimetres.

Both are rounded up sheet by sheet, so of stock that costs the same by area the fewest sheets do.
"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from enum import StrEnum
from fractions import Fraction
from typing import Final

from shared.job import Job
from shared.lengths import MM
from shared.plan import Goal
from shared.stock import AreaPrice, AreaUnit, Stock
from shared.units import Unit

SQUARE_MM: Final = MM**2
"""Square ticks of a square millimetre."""


class Basis(StrEnum):
    """What the costs of a material rest on."""

    GIVEN = "given"
    """Every sheet that has to be bought has a price."""
    BY_AREA = "by area"
    """Some have none, and the maker gave a price by area."""
    DERIVED = "derived"
    """Some have none: the price by area is that of another row. Nobody gave it as money."""
    AREA = "area"
    """Nobody gave any price."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Costs:
    """One material.

    Attributes
    ----------
    material
        Its name.
    basis
        What they rest on.
    each
        By id of the row, what a sheet counts: hundredths, or square millimetres where nobody
        gave any price.
    prices
        By id, the money of a sheet in hundredths; 0 where it costs nothing or nobody gave any.
    rack
        By id, the square millimetres of a sheet that is owned and counts nothing, so that of two
        plans that buy the same the one wins that leaves more on the rack; 0 for all others.
    rate, like
        Price by area that counts, and the row it is taken from.
    blank
        Ids of the rows that count by area.
    """

    material: str
    basis: Basis
    each: Mapping[str, int]
    prices: Mapping[str, int]
    rack: Mapping[str, int]
    rate: Fraction | None = None
    like: Stock | None = None
    blank: frozenset[str] = frozenset()

    @property
    def is_money(self) -> bool:
        """Whether they are hundredths."""
        return self.basis is not Basis.AREA

    @property
    def goal(self) -> Goal:
        """What is made least where sheets count differently."""
        if self.basis is Basis.AREA:
            return Goal.LEAST_AREA
        return Goal.LEAST_COST if self.basis is Basis.DERIVED else Goal.LEAST_PRICE


def costs_of(job: Job, material: str) -> Costs:
    """Return what the sheets of a material count; pieces on the sawhorses count nothing."""
    rows = [row for row in job.stock if row.material == material and not row.is_piece]
    given = given_rate(job, material)
    like = None if given else _cheapest_by_area(rows)
    rate = given or (_rate_of(like) if like is not None else None)
    if rate is None:
        return _by_area(material, rows)
    blank = frozenset(row.id for row in rows if row.price is None and row.at_hand is None)
    each = {row.id: _cost(row, rate) for row in rows}
    basis = (Basis.BY_AREA if given else Basis.DERIVED) if blank else Basis.GIVEN
    return Costs(
        material=material,
        basis=basis,
        each=each,
        prices={
            row: 0 if row in blank and basis is Basis.DERIVED else cost
            for row, cost in each.items()
        },
        rack=_rack(rows, each),
        rate=rate,
        like=like,
        blank=blank,
    )


def given_rate(job: Job, material: str) -> Fraction | None:
    """Return the price by area that the maker gave, in hundredths a square tick."""
    given = area_price(job, material)
    return Fraction(given.price, given.per.square_ticks) if given and given.price > 0 else None


def area_price(job: Job, material: str) -> AreaPrice | None:
    """Return what the maker gave as a material's price by area, if anything."""
    return next((one for one in job.area_prices if one.material == material), None)


def area_unit(unit: Unit) -> AreaUnit:
    """Return what prices by area are given for where lengths are in that unit."""
    return AreaUnit.SQUARE_FOOT if unit is Unit.INCH else AreaUnit.SQUARE_METRE


def sheet_price(job: Job, row: Stock) -> int:
    """Return the money of a sheet in hundredths; 0 where it costs nothing or nobody gave any."""
    return costs_of(job, row.material).prices.get(row.id, 0)


@dataclass(frozen=True, slots=True, kw_only=True, order=True)
class Spent:
    """What some sheets take, compared field by field: less is better.

    Hundredths of the materials that have prices, and square millimetres that are bought of the
    others; then square millimetres taken from the rack that cost nothing.
    """

    money: int = 0
    area: int = 0
    rack: int = 0

    @property
    def bought(self) -> tuple[int, int]:
        """Money and area, without what is taken from the rack."""
        return self.money, self.area


NOTHING_SPENT: Final = Spent()


def spent(job: Job, rows: Iterable[str]) -> Spent:
    """Return what the sheets take whose rows have these ids, one id for each sheet.

    Rows that the job does not have take nothing.
    """
    stock = {row.id: row for row in job.stock}
    costs = {material: costs_of(job, material) for material in job.materials}
    money = area = rack = 0
    for row_id in rows:
        if row_id not in stock:
            continue
        of = costs[stock[row_id].material]
        cost = of.each.get(row_id, 0)
        money += cost if of.is_money else 0
        area += 0 if of.is_money else cost
        rack += of.rack.get(row_id, 0)
    return Spent(money=money, area=area, rack=rack)


def value_of(job: Job, rows: Iterable[Stock], goal: Goal) -> int:
    """Return what sheets take in units of a goal, one row for each sheet."""
    bought = [row for row in rows if not row.is_piece]
    if goal is Goal.FEWEST_SHEETS:
        return len(bought)
    total = spent(job, (row.id for row in bought))
    return total.area if goal is Goal.LEAST_AREA else total.money


def _by_area(material: str, rows: list[Stock]) -> Costs:
    """Return costs where nobody gave any price: what is owned counts if all of it is."""
    blank = [row for row in rows if row.price is None and row.at_hand is None]
    bought = blank or [row for row in rows if row.at_hand is None] or rows
    counted = frozenset(row.id for row in bought)
    each = {row.id: square_mm(row) if row.id in counted else 0 for row in rows}
    return Costs(
        material=material,
        basis=Basis.AREA,
        each=each,
        prices={row.id: 0 for row in rows},
        rack=_rack(rows, each),
        blank=counted,
    )


def square_mm(row: Stock) -> int:
    """Return the area of a sheet in square millimetres, rounded up."""
    return -(-row.area // SQUARE_MM)


def _rack(rows: Iterable[Stock], each: Mapping[str, int]) -> dict[str, int]:
    return {
        row.id: square_mm(row) if row.at_hand is not None and not each[row.id] else 0
        for row in rows
    }


def _cost(row: Stock, rate: Fraction) -> int:
    if row.price is not None:
        return max(0, row.price)
    if row.at_hand is not None:
        return 0
    cost = row.area * rate
    return -(-cost.numerator // cost.denominator)


def _cheapest_by_area(rows: Iterable[Stock]) -> Stock | None:
    """Return the priced row that costs least by area, one that can be bought if there is any."""
    priced = [row for row in rows if row.price and row.price > 0 and row.area > 0]
    to_buy = [row for row in priced if row.at_hand is None]
    return min(to_buy or priced, key=_rate_of, default=None)


def _rate_of(row: Stock) -> Fraction:
    return Fraction(row.price or 0, row.area)
