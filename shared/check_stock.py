"""What is wrong with the rows of sheets and rack.

Also with a sheet as it really is: out of square, bad places, too heavy to lift.
"""

from collections.abc import Iterator
from typing import Final

from shared.finding import LONGEST, Judged, about, called, error, judge, say, size_faults, warning
from shared.geometry import Rect
from shared.issues import Issue
from shared.job import Job
from shared.lengths import MM, Length, LengthStyle, round_down, round_up
from shared.no_go import covers, place_name
from shared.reach import ways
from shared.shop import Shop
from shared.squaring import off_square
from shared.stock import NoGo, Stock
from shared.weighing import HEAVIEST, format_weight, grams

THICKEST: Final[Length] = 100 * MM
OUT_OF_SQUARE: Final = 50
"""A short edge that is off by a fiftieth of itself is a slip: ten times what standards of
panels allow (2 mm to the metre)."""
MOST_PLACES: Final = 40
"""A sheet with more bad places is no sheet to saw parts from."""
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
        yield from _sheet_faults(row, job.shop, job.style)
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
                " (kerf and 2 mm) only part of the kerf is in wood."
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


def _sheet_faults(row: Stock, shop: Shop, style: LengthStyle) -> Iterator[Issue]:
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
