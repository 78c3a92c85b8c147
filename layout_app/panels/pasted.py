"""Rows from the clipboard: cells parted by tabs, semicolons or commas."""

import csv
from collections.abc import Iterator, Sequence
from io import StringIO

from layout_app.panels.columns import Column
from layout_app.panels.rows_model import Row, RowsModel

MOST_LINES = 2_000


class PasteError(ValueError):
    """Pasted text cannot become rows; the message is one sentence that names the line."""


def read_rows(text: str, model: RowsModel[Row]) -> tuple[Row, ...]:
    """Read rows from text, all or none.

    The first line may name the columns; otherwise cells come in the order of the table,
    columns that are only shown left out.
    """
    lines = [cells for cells in _cells(text) if any(cell.strip() for cell in cells)]
    if len(lines) > MOST_LINES:
        raise PasteError(f"{len(lines)} lines are too many to paste at once.")
    named = _named(lines[0], model.columns) if lines else []
    order = named or [column for column in model.columns if column.change is not None]
    first = 1 if named else 0
    return tuple(
        _row(number, cells, order, model) for number, cells in enumerate(lines[first:], first + 1)
    )


def _cells(text: str) -> Iterator[list[str]]:
    separator = next((mark for mark in "\t;," if mark in text), "\t")
    if separator == "\t":  # an inch mark is no quotation mark
        yield from (line.split("\t") for line in text.splitlines())
    else:
        yield from csv.reader(StringIO(text), delimiter=separator)


def _named(cells: Sequence[str], columns: Sequence[Column[Row]]) -> list[Column[Row] | None]:
    """Return the column each heading names; empty when the line is no line of headings."""
    by_name = {name.casefold(): one for one in columns for name in _names(one)}
    found = [by_name.get(cell.strip().casefold()) for cell in cells]
    return list(found) if sum(one is not None for one in found) >= 2 else []


def _names(column: Column[Row]) -> tuple[str, ...]:
    """Return the words by which pasted text may name a column."""
    return (column.heading, column.field, *column.also)


def _row(
    number: int, cells: Sequence[str], order: Sequence[Column[Row] | None], model: RowsModel[Row]
) -> Row:
    row, style = model.blank(), model.document.job.style
    for column, cell in zip(order, cells, strict=False):
        if column is None or column.change is None or not cell.strip():
            continue
        try:
            row = column.change(row, cell, style)
        except ValueError as error:
            place = f"line {number}, {column.heading}"
            raise PasteError(f"Nothing was pasted: {place}: {error}") from None
    if lacking := next((one for one in ("name", "length", "width") if not getattr(row, one)), ""):
        raise PasteError(f"Nothing was pasted: line {number} has no {lacking}.")
    return row
