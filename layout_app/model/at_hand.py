"""How many sheets of a row there are, and which of a layout are more than that."""

from collections import Counter
from collections.abc import Collection, Iterable

from shared.finding import called
from shared.job import Job
from shared.layout import Layout, LayoutSheet
from shared.stock import Stock

REMEDY = "Lay its parts on another, or type how many there are in its row."


def over(
    job: Job, sheets: Iterable[LayoutSheet], begun: Collection[str]
) -> tuple[LayoutSheet, ...]:
    """Return the sheets with parts on them for which none is left at hand.

    Those that are begun are there, whatever the row says. Of the others the maker's own have
    the first claim.
    """
    rows = {row.id: row for row in job.stock}
    used = [one for one in sheets if one.id in begun or (one.placements and one.stock in rows)]
    used.sort(key=lambda one: (one.id not in begun, not one.yours))
    taken: Counter[str] = Counter()
    more = []
    for one in used:
        taken[one.stock] += 1
        if one.id not in begun and _is_over(rows[one.stock], taken[one.stock]):
            more.append(one)
    return tuple(more)


def over_words(job: Job, sheet: LayoutSheet) -> str:
    """Say of a sheet for which none is left that there is no such sheet, and what to do."""
    row = job.stock_row(sheet.stock)
    if not row.at_hand:
        return f"Sheet {sheet.id}: no sheet of {called(row)} is at hand. {REMEDY}"
    number, they = ("one", "it") if row.at_hand == 1 else (str(row.at_hand), "them")
    are = "is" if row.at_hand == 1 else "are"
    return (
        f"Sheet {sheet.id}: only {number} of {called(row)} {are} at hand, and other sheets of the"
        f" layout take {they}. {REMEDY}"
    )


def is_left(row: Stock, layout: Layout) -> bool:
    """Say whether one more sheet of a row can be put on the bench, empty ones there counted."""
    return row.at_hand is None or _on_bench(row, layout) < row.at_hand


def rows_left(job: Job, layout: Layout, material: str) -> list[Stock]:
    """Return the rows of a material of which one more sheet can be put on the bench, in order."""
    return [row for row in job.stock if row.material == material and is_left(row, layout)]


def none_left_words(row: Stock) -> str:
    """Say why no further sheet of a row can be laid out."""
    said = f"No further sheet of {called(row)} can be laid out"
    if not row.at_hand:
        return f"{said}: none is at hand. Type how many there are in its row."
    if row.at_hand == 1:
        return f"{said}: the one at hand is on the bench already."
    return f"{said}: all {row.at_hand} at hand are on the bench already."


def _is_over(row: Stock, taken: int) -> bool:
    return row.at_hand is not None and taken > max(0, row.at_hand)


def _on_bench(row: Stock, layout: Layout) -> int:
    return sum(sheet.stock == row.id for sheet in layout.sheets)
