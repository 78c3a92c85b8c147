"""Cells of a table that a spreadsheet opens: texts stay texts, numbers stay numbers.

RFC 4180 says how a cell is written: in quotes, quotes doubled, rows ended by CR LF. It does not
keep a spreadsheet from taking a text for a formula (CSV injection, as OWASP describes it), so a
text that begins with ``= + - @``, or that holds one of them behind ``, ; |``, gets an apostrophe
before it; line breaks and tabs become spaces. A program that splits rows elsewhere than at
commas finds no formula either. The apostrophe is also put before a text that would be read as
another number or as a date (``3/4``, ``1e1``, ``007``). Spreadsheets show it; what stands behind
it is as the maker wrote it. Numbers of ours carry none, negative ones neither.
"""

import csv
import re
from collections.abc import Iterable, Sequence
from io import StringIO
from typing import Final

from layout_app.paper.millimetres import mm
from layout_app.paper.plain import one_line
from shared.amounts import format_price
from shared.lengths import Length

SIGNS: Final = "=+\\-@＝＋－＠"
"""What formulas begin with, the full-width forms too."""
_UNSEEN: Final = "\\s\\u200b-\\u200f\\ufeff"
_FORMULA: Final = re.compile(rf"(\A|[,;|])(?=[{_UNSEEN}]*[{SIGNS}])")
_MISREAD: Final = re.compile(r"0\d+|\d+[eE]\d+|\d{16,}|\d+(?:\s*[-/.,:]\s*\d+)+")


class Number(str):
    """A number that is written already; no guard."""

    __slots__ = ()


def text(words: str) -> str:
    """Return words as a cell that no spreadsheet takes for anything else."""
    line = one_line(words)
    guarded = _FORMULA.sub(r"\1'", line)
    return f"'{guarded}" if _MISREAD.fullmatch(line) else guarded


def millimetres(ticks: Length) -> Number:
    """Return a length in mm, exact, with a decimal point."""
    return Number(mm(ticks))


def price(hundredths: int) -> Number:
    """Return a price as a number with two decimals."""
    return Number(format_price(hundredths))


def table(headings: Sequence[str], rows: Iterable[Sequence[str | int]], banner: str = "") -> str:
    """Write a table as CSV.

    Every cell stands in quotes, since programs differ in what separates cells. ``banner`` is
    the first cell of a row of its own below the headings. To be saved as UTF-8 with a byte
    order mark, by which spreadsheets know the encoding.
    """
    out = StringIO()
    write = csv.writer(out, quoting=csv.QUOTE_ALL, lineterminator="\r\n").writerow
    write(headings)
    if banner:
        write([text(banner), *[""] * (len(headings) - 1)])
    for row in rows:
        write([_cell(cell) for cell in row])
    return out.getvalue()


def _cell(cell: str | int) -> str | int:
    return text(cell) if isinstance(cell, str) and not isinstance(cell, Number) else cell
