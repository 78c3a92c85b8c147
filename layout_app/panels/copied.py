"""Parts as lines of text, as a table or a spreadsheet takes them."""

import csv
from collections.abc import Iterator, Sequence
from io import StringIO
from typing import Final

from layout_app.panels.columns import Column
from layout_app.panels.parts import COLUMNS
from shared.lengths import LengthStyle
from shared.parts import Part

ALWAYS: Final = ("name", "length", "width", "copies", "material", "grain_rule")
"""What is written of every part; anything else where a part has it."""
LENGTHS: Final = ("length", "width", "measured_length", "measured_width")
"""Columns whose headings name the unit: another project may have another one."""


def rows_text(parts: Sequence[Part], style: LengthStyle) -> str:
    """Write parts below their headings, cells parted by tabs, sizes in the maker's unit."""
    columns = list(_columns(parts, style))
    out = StringIO()
    writer = csv.writer(out, delimiter="\t", lineterminator="\n")
    writer.writerow(_heading(column, style) for column in columns)
    writer.writerows([column.show(part, style) for column in columns] for part in parts)
    return out.getvalue()


def _columns(parts: Sequence[Part], style: LengthStyle) -> Iterator[Column[Part]]:
    """Yield the columns that can be read again and have something to say."""
    bare = Part(id="", name="", length=0, width=0, material="")
    for column in COLUMNS:
        says = any(column.show(part, style) != column.show(bare, style) for part in parts)
        if column.change is not None and (column.field in ALWAYS or says):
            yield column


def _heading(column: Column[Part], style: LengthStyle) -> str:
    return f"{column.heading} ({style.unit})" if column.field in LENGTHS else column.heading
