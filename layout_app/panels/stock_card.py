"""The selected row of sheets & rack: out of square, weight, price by area, bad places."""

import re
from dataclasses import replace
from fractions import Fraction
from math import isqrt
from typing import Any, Final

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import (
    QFrame,
    QGridLayout,
    QWidget,
)

from layout_app.document import edit_job
from layout_app.document.document import Document
from layout_app.look.as_typed import Label
from layout_app.model.project import fresh_ids
from layout_app.panels.bad_places import BadPlaceEntry, BadPlaces
from layout_app.panels.entry import Accept, Field
from layout_app.panels.widgets import Chooser, across, button, down, label, quiet
from shared.amounts import format_price, parse_price
from shared.costs import Basis, area_price, area_unit, costs_of
from shared.finding import called
from shared.job import Job
from shared.lengths import (
    AmbiguousLength,
    Length,
    LengthStyle,
    Unit,
    format_length,
    format_with_remainder,
    parse_length,
    step,
    with_unit,
)
from shared.shop import Shop
from shared.squaring import off_square
from shared.stock import AreaPrice, Stock
from shared.units import nearest
from shared.weighing import DENSITIES, HEAVIEST, POUND_G, format_weight, grams

DIAGONALS_TIP: Final = (
    "By how much the two measured diagonals differ; or type both, with “and” between them"
)
AREA_PRICE_TIP: Final = (
    "What the material costs by area, for sheets whose price is empty; empty: as the cheapest"
    " priced sheet of it costs, or by area alone"
)
DENSITY_TIP: Final = "In kg/m³, from the maker's sheet of data; empty when it is not known"


class StockCard(QFrame):
    """Takes no room while no row is selected."""

    set_apart = Signal(str)
    """Id of the row a flawed sheet was given."""

    def __init__(self, document: Document, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._document = document
        self._shown = ""
        self.setObjectName("partCard")
        self._title = label("", self, "strong")
        self._title.setWordWrap(True)
        self.diagonals = self._field("diagonals differ by", DIAGONALS_TIP, self._set_diagonals)
        self.squaring = quiet("", self)
        self.weight = Label(parent=self)
        self.weight.setWordWrap(True)
        self.kind = Chooser(density_choices(0), self)
        self.kind.setAccessibleName("density, as published")
        self.kind.activated.connect(self._choose_density)
        self.density = self._field("density in kg/m³", DENSITY_TIP, self._set_density)
        self.heft = quiet(KG_M3, self)
        self.heft.setWordWrap(False)
        self.area_price = self._field("price by area", AREA_PRICE_TIP, self._set_area_price)
        self.area_unit, self.counts = quiet("", self), quiet("", self)
        self.counts.setWordWrap(True)
        self.places = BadPlaces(document, self.area_price, self)
        self.entry = BadPlaceEntry(self.places.mark, lambda: document.job.style, self)
        tip = "Gives the sheet with these bad places a row of its own, 1 at hand"
        self.apart = button("Only one sheet has them", self, self._set_apart, tip)
        self._arrange()
        document.job_changed.connect(self.refresh)
        self.refresh()

    def _arrange(self) -> None:
        grid = QGridLayout()
        grid.setColumnStretch(1, 1)
        grid.setVerticalSpacing(3)
        self._line(grid, 0, "diagonals differ by", self.diagonals)
        grid.addWidget(self.squaring, 1, 0, 1, 2)
        self._line(grid, 2, "density", self.kind)
        grid.addLayout(across(self.density, self.heft, None, gap=5), 3, 1)
        grid.addWidget(quiet("a sheet weighs", self), 4, 0)
        grid.addWidget(self.weight, 4, 1)
        self._line(grid, 5, "price by area", self.area_price)
        grid.addLayout(across(self.area_price, self.area_unit, None, gap=5), 5, 1)
        grid.addWidget(self.counts, 6, 0, 1, 2)
        heading = label("Bad places", self, "heading")
        heading.setIndent(0)
        column = down(
            *(self._title, grid, heading, self.places), on=self, edges=(12, 8, 12, 10), gap=4
        )
        column.addWidget(self.apart, 0, Qt.AlignmentFlag.AlignLeft)
        column.addWidget(self.entry)

    def _line(self, grid: QGridLayout, row: int, text: str, setter: QWidget) -> None:
        before = quiet(text, self)
        before.setBuddy(setter)
        grid.addWidget(before, row, 0)
        grid.addWidget(setter, row, 1, Qt.AlignmentFlag.AlignLeft)

    def _field(self, name: str, tip: str, accept: Accept) -> Field:
        field = Field(accept, self)
        field.setAccessibleName(name)
        field.setToolTip(tip)
        field.setAlignment(Qt.AlignmentFlag.AlignLeft)
        field.setMaximumWidth(field.fontMetrics().horizontalAdvance("0" * 12))
        return field

    def show_rows(self, ids: list[str]) -> None:
        """Show a row if it is the only one selected."""
        self._shown = ids[0] if len(ids) == 1 else ""
        self.refresh()

    def refresh(self) -> None:
        """Show the row as it is now."""
        row = self._row
        self.setVisible(row is not None)
        if row is None:
            return
        job = self._document.job
        self._title.setText(f"{row.name}, as measured")
        self.diagonals.show_text(diagonals_text(row, job.style))
        self.squaring.setText(squaring_words(row, job.style))
        self.weight.setText(weight_words(row, job.shop, job.style))
        self.area_price.show_text(area_price_text(job, row.material))
        self.area_unit.setText(area_price_unit(job, row.material))
        self.counts.setText(counts_words(job, row))
        self.counts.setVisible(bool(self.counts.text()))
        self._show_density(row.density)
        self.places.show_row(row, job.style)
        self.apart.setVisible(bool(row.no_go) and row.at_hand not in {0, 1})
        self.entry.show_row(row)

    def go_to(self, field: str) -> None:
        """Give the keys to what sets a field of the row, if it is on the card."""
        setters = {"diagonals": self.diagonals, "density": self.kind}
        if field in setters:
            setters[field].setFocus()
        elif field == "no_go" and not self.places.focus():
            self.entry.where.setFocus()

    @property
    def _row(self) -> Stock | None:
        return next((row for row in self._document.job.stock if row.id == self._shown), None)

    def _show_density(self, density: int) -> None:
        choices = density_choices(density)
        if self.kind.count() != len(choices):
            self.kind.clear()
            self.kind.addItems(choices)
        self.kind.setCurrentIndex(place_of(density))
        self.density.show_text(str(density) if density else "")
        self.heft.setText(density_unit(density, self._style))

    def _choose_density(self, place: int) -> None:
        density = density_of(place)
        if density is not None:
            self._edit(f"density of {self._name}", density=density)

    def _set_density(self, text: str) -> None:
        self._edit(f"density of {self._name}", density=read_density(text))

    def _set_area_price(self, text: str) -> None:
        if (row := self._row) is not None:
            given = read_area_price(text, row.material, self._style)
            edit_job.set_area_price(self._document, row.material, given)
            self.refresh()

    def _set_diagonals(self, text: str) -> None:
        if (row := self._row) is not None:
            differ = read_diagonals(text, row, self._style)
            self._edit(f"diagonals of {self._name}", diagonals=differ)
            self.diagonals.setText(diagonals_text(self._row or row, self._style))

    @property
    def _style(self) -> LengthStyle:
        return self._document.job.style

    @property
    def _name(self) -> str:
        return self._row.name if self._row is not None else ""

    def _set_apart(self) -> None:
        """Set the flawed sheet apart, and go to its row."""
        if (row := self._row) is not None:
            (new,) = fresh_ids("sheet-", (one.id for one in self._document.job.stock), 1)
            if edit_job.set_sheet_apart(self._document, row.id, new):
                self.set_apart.emit(new)

    def _edit(self, what: str, **changes: Any) -> None:
        if (row := self._row) is not None:
            edit_job.edit_stock(self._document, replace(row, **changes), what)
            self.refresh()


KG_M3: Final = "kg/m³"
FOOT_M3: Final = Fraction(3048, 10_000) ** 3
"""Cubic metres of a cubic foot."""
UNKNOWN: Final = "not known"
OTHER: Final = "another"
NOT_MEASURED: Final = "Diagonals not measured: taken as equal."
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
        return NOT_MEASURED
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


def density_unit(density: int, style: LengthStyle) -> str:
    """Write the unit of a density in kg/m3; where inches are used also what that is in pounds."""
    if not density or style.unit is not Unit.INCH:
        return KG_M3
    pounds = nearest(Fraction(density) * FOOT_M3 * 1000 / POUND_G)
    return f"{KG_M3}, about {pounds} lb/ft³"


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
