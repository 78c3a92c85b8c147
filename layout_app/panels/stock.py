"""Sheets & rack: a table of sheets that can be bought and offcuts at hand."""

import re
from collections.abc import Iterable, Sequence
from dataclasses import asdict, replace
from typing import Final

from layout_app.document import edit_job
from layout_app.model.project import fresh_ids
from layout_app.panels.columns import Column, measured_text, one_of, positive, size_text, words
from layout_app.panels.edges import TRIM_EDGES, TRIM_GROUPS, read_edges, write_edges
from layout_app.panels.pasted import QUANTITY
from layout_app.panels.rows_model import Heading, Index, RowsModel
from shared.amounts import format_price, parse_count, parse_price
from shared.lengths import Length
from shared.squaring import with_trims
from shared.stock import SheetGrain, Stock, Trims

GRAINS: Final = tuple(str(grain) for grain in SheetGrain)
AS_NEEDED: Final = "as needed"


def _at_hand(row: Stock, text: str) -> Stock:
    wanted = " ".join(text.casefold().split())
    return replace(row, at_hand=None if wanted in ("", AS_NEEDED) else parse_count(text))


OFFCUT: Final = re.compile(r"\b(off-?cuts?|left-?overs?|remnants?|scraps?)\b", re.IGNORECASE)
"""Names of what lies on the rack: a new row of such a name is one at hand."""


def _named(row: Stock, text: str) -> Stock:
    """Name a row; one that is new and an offcut is at hand once, till the maker says otherwise."""
    name = words(text, "sheet")
    one = not row.id and row.at_hand is None and OFFCUT.search(name)
    return replace(row, name=name, at_hand=1 if one else row.at_hand)


COLUMNS: Final[tuple[Column[Stock], ...]] = (
    Column(
        heading="sheet or offcut",
        also=("sheet", "offcut", "name", "description", "item", "board", "panel"),
        field="name",
        show=lambda row, _: row.name,
        change=lambda row, text, _: _named(row, text),
        tip="What you call it; a new offcut is 1 at hand",
        wide="birch ply, full sheet",
    ),
    Column(
        heading="measured L",
        also=("L", "length", "long", "len"),
        field="length",
        show=lambda row, style: size_text(row.length, style),
        change=lambda row, text, style: replace(row, length=positive(text, style)),
        tip="Length as it is measured: x as it lies, whichever side is longer",
        wide="96 1/16",
        grows=True,
    ),
    Column(
        heading="measured W",
        also=("W", "width", "wide", "wd"),
        field="width",
        show=lambda row, style: size_text(row.width, style),
        change=lambda row, text, style: replace(row, width=positive(text, style)),
        tip="Width as it is measured, such as 47 15/16 of a sheet sold as 48",
        wide="96 1/16",
        grows=True,
    ),
    Column(
        heading="material",
        also=("mat", "mtl", "stock"),
        field="material",
        show=lambda row, _: row.material,
        change=lambda row, text, _: replace(row, material=words(text, "material")),
        suggests=lambda job: job.materials,
        tip="Shared with the parts that may be cut from it",
        wide="3/4 birch ply",
    ),
    Column(
        heading="measured thick",
        also=("thick", "thickness", "T", "thk"),
        field="thickness",
        show=lambda row, style: measured_text(row.thickness, style) if row.thickness else "",
        change=lambda row, text, style: replace(row, thickness=positive(text, style)),
        tip="Thickness as it is measured",
        wide="0.703",
    ),
    Column(
        heading="grain",
        also=("grain direction",),
        field="grain",
        show=lambda row, _: str(row.grain),
        change=lambda row, text, _: replace(row, grain=SheetGrain(one_of(text, GRAINS))),
        choices=GRAINS,
        tip="Which way the face grain runs; look at the sheet, its longer side does not tell",
        wide="along W",
    ),
    Column(
        heading="trims",
        field="trims",
        show=lambda row, style: write_edges(asdict(row.trims), TRIM_GROUPS, style),
        change=lambda row, text, style: with_trims(
            row, Trims(**read_edges(text, TRIM_EDGES, TRIM_GROUPS, style))
        ),
        tip="Stock lost at the edges, kerf included, such as “near 1/4; start 1/4”",
        wide="near 1/4; start 1/4",
    ),
    Column(
        heading="price",
        also=("cost", "price each", "unit price", "each"),
        field="price",
        show=lambda row, _: "" if row.price is None else format_price(row.price),
        change=lambda row, text, _: replace(row, price=parse_price(text) if text.strip() else None),
        tip="Price of one. Empty: by area, and what is at hand costs nothing. 0: it costs nothing.",
        wide="000.00",
        number=True,
    ),
    Column(
        heading="at hand",
        also=("on hand", "have", "in stock", "sheets", *QUANTITY),
        field="at_hand",
        show=lambda row, _: AS_NEEDED if row.at_hand is None else str(row.at_hand),
        change=lambda row, text, _: _at_hand(row, text),
        tip="How many you own; empty when sheets are bought as needed. An offcut is 1.",
        wide="as needed",
        number=True,
    ),
)


class StockModel(RowsModel[Stock]):
    """The rows of sheets & rack."""

    invitation = "type or paste"
    counted = "at_hand"
    needed = ("name", "length", "width", "material", "thickness", "price", "at_hand")

    def arranged(self) -> Iterable[Heading | Stock]:
        """Yield the rows in the maker's order."""
        return self.document.job.stock

    def blank(self) -> Stock:
        """Return a row of the material that was used last."""
        job = self.document.job
        every = [*(one.material for one in job.parts), *(one.material for one in job.stock)]
        known = [material for material in every if material]
        return replace(self.bare(), material=known[-1] if known else "")

    def bare(self) -> Stock:
        """Return a row with nothing in it."""
        return Stock(id="", name="", material="", length=0, width=0, thickness=0)

    def change(self, index: Index, text: str) -> None:
        """Put text into a cell; a new row has the thickness its material has, until it is typed."""
        before = self._draft or self.blank()
        super().change(index, text)
        draft = self._draft
        if draft is None or self.entry(index.row()) is not None:
            return
        if self.columns[index.column()].field == "thickness":
            return
        if before.thickness in {0, self._thickness(before.material)}:
            self._draft = replace(draft, thickness=self._thickness(draft.material))
            self._show_draft()

    def _thickness(self, material: str) -> Length:
        """Return the thickness of all sheets of a material; 0 if they differ or none is known."""
        rows = (row for row in self.document.job.stock if row.material == material)
        known = {row.thickness for row in rows if row.thickness > 0}
        return known.pop() if len(known) == 1 else 0

    def edit(self, row: Stock) -> None:
        """Change a row."""
        edit_job.edit_stock(self.document, row)

    def add(self, rows: Sequence[Stock]) -> None:
        """Add rows under new ids; without a thickness they have that of their material."""
        rows = [
            replace(row, thickness=row.thickness or self._thickness(row.material)) for row in rows
        ]
        ids = fresh_ids("sheet-", (row.id for row in self.document.job.stock), len(rows))
        named = [replace(row, id=new) for row, new in zip(rows, ids, strict=True)]
        edit_job.add_stock(self.document, named)

    def remove(self, ids: Sequence[str]) -> None:
        """Remove rows."""
        edit_job.remove_stock(self.document, ids)
