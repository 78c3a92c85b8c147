"""What is wrong with the rows of sheets and rack."""

from collections.abc import Iterator
from typing import Final

from shared.check_sheet import sheet_faults
from shared.finding import Judged, about, called, error, judge, say, size_faults, warning
from shared.issues import Issue
from shared.job import Job
from shared.lengths import MM, Length, LengthStyle, round_up
from shared.reach import ways
from shared.stock import Stock

THICKEST: Final[Length] = 100 * MM
LEAST_TRIM_BEYOND_KERF: Final[Length] = 2 * MM
"""With less stock beyond the kerf the blade rides half in air (common practice)."""
LEFT_OUT: Final = frozenset({"stock-beyond-reach"})
"""Errors of a row that is well described, but that the shop cannot cut: others may do."""


def judged_stock(job: Job) -> Judged[Stock]:
    """Return each stock row of the job with what is wrong with it."""
    first = {row.material: row for row in reversed(job.stock)}

    def faults(row: Stock) -> Iterator[Issue]:
        yield from size_faults(row, "stock", job.style)
        yield from _thickness(row, first[row.material], job.style)
        yield from _trims(row, job.shop.kerf, job.style)
        yield from _shopping(row)
        yield from sheet_faults(row, job.shop, job.style)
        yield from _reach(row, job)

    return judge(job.stock, "stock", faults)


def _thickness(row: Stock, first: Stock, style: LengthStyle) -> Iterator[Issue]:
    thick = say(row.thickness, style)
    if row.thickness < 0:
        said = f"{called(row)}: no sheet is {thick} thick; measure it."
        yield error("stock-thickness-negative", row.id, said, "thickness")
    elif not 0 < row.thickness <= THICKEST:
        said = f"{called(row)}: a sheet is not {thick} thick; measure it."
        yield warning("stock-thickness", row.id, said, "thickness")
    elif 0 < first.thickness != row.thickness:
        said = (
            f"{called(row)} is {thick} thick, {called(first)} of the same material"
            f" {say(first.thickness, style)}."
        )
        yield warning("stock-thickness-differs", row.id, said, "thickness")


def _trims(row: Stock, kerf: Length, style: LengthStyle) -> Iterator[Issue]:
    trims = row.trims
    for field in ("near", "far", "start", "end"):
        if getattr(trims, field) < 0:
            said = f"{called(row)}: the {field} trim is less than 0."
            yield error("stock-trim-negative", row.id, said, f"trims.{field}")
    for field, both, side in (
        ("width", trims.near + trims.far, row.width),
        ("length", trims.start + trims.end, row.length),
    ):
        squaring = field == "length" and row.diagonals  # said of the diagonals
        if 0 < side <= both and not squaring:
            said = f"{called(row)}: its trims leave nothing of the {field}."
            yield error("stock-trims-eat-sheet", row.id, said, "trims")
    least = max(kerf, 0) + LEAST_TRIM_BEYOND_KERF
    for field in ("near", "start"):
        if 0 < getattr(trims, field) < least:
            said = (
                f"{called(row)}: with a {field} trim under {about(round_up(least, style), style)}"
                " (kerf and 2 mm) the blade rides half in air."
            )
            yield warning("stock-trim-thin", row.id, said, f"trims.{field}")


def _shopping(row: Stock) -> Iterator[Issue]:
    if row.price is not None and row.price < 0:
        said = f"{called(row)}: the price is less than 0."
        yield error("stock-price-negative", row.id, said, "price")
    if row.at_hand is not None and row.at_hand < 0:
        said = f"{called(row)}: {row.at_hand} sheets cannot be at hand."
        yield error("stock-at-hand-negative", row.id, said, "at_hand")


def _reach(row: Stock, job: Job) -> Iterator[Issue]:
    """Say when no rail is long enough for the first cuts that the rule asks for."""
    found = ways(job, row)
    if not found.axes:
        said = f"{_apart(row, job)}: {_begun_small(found.sentence)}"
        yield error("stock-beyond-reach", row.id, said, "length")
    elif found.switched:
        said = f"{_apart(row, job)}: {_begun_small(found.sentence)}"
        yield warning("stock-cut-other-way", row.id, said, "length")


def _apart(row: Stock, job: Job) -> str:
    """Return what a row is called; with its material where another row is called the same."""
    alike = [one for one in job.stock if called(one) == called(row)]
    return f"{called(row)}, {row.material}" if len(alike) > 1 else called(row)


def _begun_small(sentence: str) -> str:
    return sentence[:1].lower() + sentence[1:]
