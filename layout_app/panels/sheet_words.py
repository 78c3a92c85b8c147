"""What is said of a sheet as it really is, and how its measured diagonals are read."""

import re
from dataclasses import replace
from math import isqrt
from typing import Final

from shared.amounts import format_price, parse_price
from shared.costs import Basis, area_price, area_unit, costs_of
from shared.finding import called
from shared.job import Job
from shared.lengths import (
    AmbiguousLength,
    Length,
    LengthStyle,
    format_length,
    format_with_remainder,
    parse_length,
    step,
    with_unit,
)
from shared.shop import Shop
from shared.squaring import off_square
from shared.stock import AreaPrice, Stock
from shared.weighing import DENSITIES, HEAVIEST, format_weight, grams

UNKNOWN: Final = "not known"
OTHER: Final = "another"
SQUARE: Final = "Equal diagonals: the sheet is square."
_BOTH: Final = re.compile(r"\s*(?:[;&]|\band\b)\s*", re.IGNORECASE)
_FAR: Final = 30
"""Diagonals whose mean is off by more than a thirtieth are not those of this sheet."""


def read_diagonals(text: str, row: Stock, style: LengthStyle) -> Length:
    """Read by how much the diagonals differ: the difference itself, or both diagonals.

    Two lengths are parted by ``and`` or a semicolon. ValueError with a sentence.
    """
    if not text.strip():
        return 0
    lengths = _BOTH.split(text.strip())
    if len(lengths) == 1:
        return abs(parse_length(lengths[0], style.unit))
    if len(lengths) != 2 or not all(lengths):
        raise ValueError("Write the difference, or both diagonals with “and” between them.")
    one, other = (_plain(part, style) for part in lengths)
    true = isqrt(row.length**2 + row.width**2)
    if abs(one + other - 2 * true) * _FAR > 2 * true:
        about = with_unit(format_length(true, style), style)
        raise ValueError(
            f"The diagonals of this sheet are about {about}: measure again, or write by how much"
            f" they differ."
        )
    return abs(one - other)


def _plain(text: str, style: LengthStyle) -> Length:
    try:
        return parse_length(text, style.unit)
    except AmbiguousLength as question:
        raise ValueError(str(question)) from question


def diagonals_text(row: Stock, style: LengthStyle) -> str:
    """Write by how much the diagonals differ; empty for a square sheet."""
    return format_with_remainder(abs(row.diagonals), style) if row.diagonals else ""


def squaring_words(row: Stock, style: LengthStyle) -> str:
    """Say what the diagonals of a squared row make, as finely as trims are set."""
    if not row.diagonals:
        return SQUARE
    off, fine = off_square(row), replace(style, denominator=64, decimals=1)
    amount = format_length(max(off, step(fine)), fine)
    start, end = (
        with_unit(format_length(trim, fine), fine) for trim in (row.trims.start, row.trims.end)
    )
    return (
        f"The short edge is off by {with_unit(amount, style)}: trims left (start) {start},"
        f" right (end) {end}."
    )


def weight_words(row: Stock, shop: Shop, style: LengthStyle) -> str:
    """Say what a sheet of a row weighs, and whether one person lifts it."""
    if not row.density:
        return "not known: choose a density"
    weight = grams(row.length, row.width, row.thickness, row.density)
    said = format_weight(weight, style.unit)
    if 0 < shop.lift_g < weight:
        return f"{said}, more than the {format_weight(shop.lift_g, style.unit)} you lift alone"
    return said


def density_choices(density: int) -> tuple[str, ...]:
    """Return what can be chosen: published densities, and another where the row has one."""
    known = tuple(f"{name}, {value}" for name, value in DENSITIES.items())
    other = density and density not in DENSITIES.values()
    return (UNKNOWN, *known, *((OTHER,) if other else ()))


def area_price_text(job: Job, material: str) -> str:
    """Write what a material costs by area, as far as the maker said it."""
    given = area_price(job, material)
    return format_price(given.price) if given else ""


def area_price_unit(job: Job, material: str) -> str:
    """Say for what area of which material that is."""
    given = area_price(job, material)
    return f"per {given.per if given else area_unit(job.style.unit)} of {material}"


def read_area_price(text: str, material: str, style: LengthStyle) -> AreaPrice | None:
    """Read a price by area for the unit in use; nothing, and 0, is none. ValueError if neither."""
    price = parse_price(text) if text.strip() else 0
    if not price:
        return None
    return AreaPrice(material=material, price=price, per=area_unit(style.unit))


def counts_words(job: Job, row: Stock) -> str:
    """Say what a sheet without a price counts where the least is looked for; ``""`` with one."""
    costs = costs_of(job, row.material)
    if row.price is not None or row.is_piece:
        return ""
    if row.at_hand is not None:
        return "Owned: costs nothing, and is used where that spares something to buy."
    if costs.basis is Basis.BY_AREA:
        return f"No price: counts {format_price(costs.each[row.id])}, by area."
    if costs.like is not None:
        return f"No price: counts by area, as {called(costs.like)} costs."
    return "No price: counts by area."


def density_of(place: int) -> int | None:
    """Return the density of a choice, in kg/m3; ``None`` for another than the published."""
    values = (0, *DENSITIES.values())
    return values[place] if place < len(values) else None


def place_of(density: int) -> int:
    """Return the place of a density among the choices."""
    values = (0, *DENSITIES.values())
    return values.index(density) if density in values else len(values)


def read_density(text: str) -> int:
    """Read a density in whole kg/m3; empty is not known. ValueError with a sentence."""
    bare = re.sub(r"kg\s*/\s*m(3|³|\^3)$", "", text.strip(), flags=re.IGNORECASE).strip()
    if not bare:
        return 0
    if not bare.isdecimal() or int(bare[:6]) > HEAVIEST:
        raise ValueError(f"Write kg/m³ as a whole number up to {HEAVIEST}, such as 680.")
    return int(bare)
