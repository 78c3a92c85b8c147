"""Everything a plan is made from: parts, stock, shop and rule."""

from collections.abc import Mapping
from dataclasses import dataclass, field

from shared.lengths import LengthStyle
from shared.parts import Copy, Part
from shared.remembered import Remembered
from shared.shop import CutRule, Shop
from shared.stock import AreaPrice, Stock


@dataclass(frozen=True, slots=True, kw_only=True)
class MatchGroup:
    """How the grid of a match group is laid: so many parts beside each other in a row.

    A group that has no such entry has one part in a row: all lie above each other.
    """

    name: str
    columns: int = 1


@dataclass(frozen=True, slots=True, kw_only=True)
class Job:
    """One piece to be made: what is needed, what it is cut from, and how.

    Attributes
    ----------
    name
        Title on screen and paper.
    parts, stock
        Rows in the maker's order, each with an id of its own.
    groups
        Match groups whose rows are longer than one part; parts name theirs.
    area_prices
        What materials cost by area, where the maker gave that: it counts for rows without a
        price.
    shop, rule
        The saw, and how deep and in which direction first it may cut.
    style
        How lengths are written in sentences, on screen and on paper.
    """

    name: str = ""
    parts: tuple[Part, ...] = ()
    stock: tuple[Stock, ...] = ()
    groups: tuple[MatchGroup, ...] = ()
    area_prices: tuple[AreaPrice, ...] = ()
    shop: Shop = field(default_factory=Shop)
    rule: CutRule = field(default_factory=CutRule)
    style: LengthStyle = field(default_factory=LengthStyle)

    def part(self, part_id: str) -> Part:
        """Return the part of that id; KeyError if there is none."""
        return _parts_by_id(self.parts)[part_id]

    def named(self, copy: Copy) -> str:
        """Return what a copy is called, such as ``Side 2``; KeyError if there is no such part."""
        part, number = copy
        return self.part(part).named(number)

    def stock_row(self, stock_id: str) -> Stock:
        """Return the stock row of that id; KeyError if there is none."""
        return _stock_by_id(self.stock)[stock_id]

    def columns_of(self, group: str) -> int:
        """Return how many parts lie beside each other in a row of a match group."""
        return next((one.columns for one in self.groups if one.name == group), 1)

    @property
    def materials(self) -> tuple[str, ...]:
        """Names of all materials of parts and stock, in order of first mention."""
        rows: tuple[Part | Stock, ...] = (*self.parts, *self.stock)
        return tuple(dict.fromkeys(row.material for row in rows))


def _by_id(parts: tuple[Part, ...]) -> Mapping[str, Part]:
    return {part.id: part for part in parts}


def _rows_by_id(stock: tuple[Stock, ...]) -> Mapping[str, Stock]:
    return {row.id: row for row in stock}


_parts_by_id = Remembered(_by_id, 16)
_stock_by_id = Remembered(_rows_by_id, 16)
