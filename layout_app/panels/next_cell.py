"""Which cell comes next while rows are typed: Enter and Tab go through what every row needs."""

from collections.abc import Sequence
from typing import Any

from layout_app.panels.rows_model import KIND_ROLE, Index, RowsModel

Place = tuple[int, int]
"""Line and column."""


def next_cell(model: RowsModel[Any], index: Index, way: int) -> Place | None:
    """Return the cell that is typed after another one, or before it where ``way`` is -1.

    After what is needed of a row comes the next row; columns beside that follow each other.
    ``None`` where there is nothing further that way.
    """
    needed = [model.column_of(field) for field in model.needed]
    every = [place for place, column in enumerate(model.columns) if column.change is not None]
    path = needed if index.column() in needed else every
    at = path.index(index.column()) + way
    if 0 <= at < len(path):
        return index.row(), path[at]
    line = _line_beside(model, index.row(), way)
    return None if line is None else (line, needed[0 if way > 0 else -1])


def _line_beside(model: RowsModel[Any], line: int, way: int) -> int | None:
    """Return the next line that is no heading."""
    lines: Sequence[int] = range(line + way, model.rowCount() if way > 0 else -1, way)
    return next((one for one in lines if model.index(one, 0).data(KIND_ROLE) != "heading"), None)
