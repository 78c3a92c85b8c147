"""What is wrong with a sheet as it really is: out of square, bad places, too heavy to lift."""

from collections.abc import Iterator
from typing import Final

from shared.finding import LONGEST, about, called, error, warning
from shared.geometry import Rect
from shared.issues import Issue
from shared.lengths import LengthStyle, round_down
from shared.no_go import covers, place_name
from shared.shop import Shop
from shared.squaring import off_square
from shared.stock import NoGo, Stock
from shared.weighing import format_weight
from shared.weights import HEAVIEST, grams

OUT_OF_SQUARE: Final = 50
"""A short edge that is off by a fiftieth of itself is a slip: ten times what standards of
panels allow (2 mm to the metre)."""
MOST_PLACES: Final = 40
"""A sheet with more bad places is no sheet to saw parts from."""


def sheet_faults(row: Stock, shop: Shop, style: LengthStyle) -> Iterator[Issue]:
    """Yield what is wrong with a row's diagonals, bad places and weight."""
    if row.length > 0 and row.width > 0:
        yield from _diagonals(row, style)
        yield from _bad_places(row, style)
    yield from _weight(row, shop, style)


# --- out of square ---------------------------------------------------------------------


def _diagonals(row: Stock, style: LengthStyle) -> Iterator[Issue]:
    differ, off = abs(row.diagonals), off_square(row)
    if not differ:
        return
    if differ >= 2 * min(row.length, row.width):
        said = (
            f"{called(row)}: no sheet of that size has diagonals that differ by"
            f" {about(differ, style)}; measure both again."
        )
        yield error("stock-diagonals-absurd", row.id, said, "diagonals")
    elif row.trims.start + row.trims.end >= row.length:
        said = (
            f"{called(row)}: squaring it takes {about(row.trims.start + row.trims.end, style)},"
            f" more than its length; measure both diagonals again."
        )
        yield error("stock-squaring-eats-sheet", row.id, said, "diagonals")
    elif off * OUT_OF_SQUARE > row.width:
        said = (
            f"{called(row)}: diagonals that differ by {about(differ, style)} put its short edge off"
            f" by {about(off, style)}; measure both again."
        )
        yield warning("stock-diagonals-far-off", row.id, said, "diagonals")


# --- bad places ------------------------------------------------------------------------


def _bad_places(row: Stock, style: LengthStyle) -> Iterator[Issue]:
    whole = row.whole
    for number, bad in enumerate(row.no_go, 1):
        name = f"{called(row)}: bad place {number}"
        if min(bad.length, bad.width) <= 0 or max(bad.length, bad.width) > LONGEST:
            said = f"{name} has no size that can be: enter how large it is, or remove it."
            yield error("stock-no-go-size", row.id, said, "no_go")
        elif not whole.contains(bad.rect):
            yield error("stock-no-go-off", row.id, _off(name, bad, whole, style), "no_go")
    if len(row.no_go) > MOST_PLACES:
        said = f"{called(row)} has more than {MOST_PLACES} bad places; set it aside."
        yield error("stock-no-go-many", row.id, said, "no_go")
    else:
        yield from _left_over(row)
    if row.no_go and row.at_hand not in {0, 1}:
        where = place_name(row.no_go[0], whole)
        said = (
            f"{called(row)}: every sheet of this row is planned with the same {where}; if it is"
            f" one sheet only, give it a row of its own with 1 at hand."
        )
        yield warning("stock-no-go-every-sheet", row.id, said, "no_go")


def _off(name: str, bad: NoGo, whole: Rect, style: LengthStyle) -> str:
    """Say how far a bad place may reach, or that it lies beside the sheet."""
    rect = bad.rect
    if not whole.overlaps(rect) or rect.x < 0 or rect.y < 0:
        return f"{name} lies off the sheet: measure it from the reference corner."
    over = []
    for label, start, end, most in (
        ("L", rect.x, rect.right, whole.length),
        ("W", rect.y, rect.bottom, whole.width),
    ):
        if end > most:
            over.append(f"{label} {about(round_down(most - start, style), style)}")
    return f"{name} reaches over the edge of the sheet: make it {' and '.join(over)}."


def _left_over(row: Stock) -> Iterator[Issue]:
    rest = row.usable
    if min(rest.length, rest.width) <= 0:
        return
    if covers((bad.rect for bad in row.no_go if not bad.show_only), rest):
        said = f"{called(row)}: its bad places leave nothing of the sheet; set it aside."
        yield error("stock-no-go-all", row.id, said, "no_go")
    elif covers((bad.rect for bad in row.no_go), rest):
        said = f"{called(row)}: its bad places leave nothing of the sheet for a show face."
        yield warning("stock-no-go-no-show", row.id, said, "no_go")


# --- weight ------------------------------------------------------------------------------


def _weight(row: Stock, shop: Shop, style: LengthStyle) -> Iterator[Issue]:
    if not 0 <= row.density <= HEAVIEST:
        said = f"{called(row)}: no sheet has {row.density} kg/m³; enter 0 to {HEAVIEST}."
        yield error("stock-density", row.id, said, "density")
        return
    weight = _grams(row)
    if 0 < shop.lift_g < weight:
        said = (
            f"{called(row)} weighs about {format_weight(weight, style.unit)} a sheet, and you lift"
            f" {format_weight(shop.lift_g, style.unit)} alone: get help, or break it down where"
            f" it lies."
        )
        yield warning("stock-heavy", row.id, said, "density")


def _grams(row: Stock) -> int:
    if min(row.length, row.width, row.thickness) <= 0:
        return 0
    return grams(row.length, row.width, row.thickness, row.density)
