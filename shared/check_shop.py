"""What is wrong with the shop: its saws, rails and limits, and whether any sheet can be cut.

A figure that can be meant by nobody is an error of the shop and leaves nothing to plan;
what is only unlikely, or only stops some way of working, is a warning.
"""

from collections.abc import Iterator, Sequence
from typing import Final

from shared.finding import about, error, say, say_at_least, say_at_most, warning
from shared.issues import Issue
from shared.lengths import METRE, MM, Length, LengthStyle
from shared.parts import Part
from shared.shop import Shop, Span
from shared.stock import Stock

WIDEST_KERF: Final[Length] = 20 * MM
LONGEST_RAIL: Final[Length] = 10 * METRE
"""No single rail is longer than this; a slip of the unit is."""
SECONDS: Final = ("cut_s", "setup_s", "skim_s", "unguided_s")
_NOT_BELOW_0: Final = {
    "overhang": "The rail's overhang",
    "carry": "The least width that carries the rail",
    "hold": "The smallest piece to hold",
    "oversize": "The oversize for the table saw",
    "keep_length": "The long side of an offcut worth keeping",
    "keep_width": "The short side of an offcut worth keeping",
}


def shop_faults(shop: Shop, style: LengthStyle) -> Iterator[Issue]:
    """Yield what is wrong with the figures of a shop, whatever is to be made in it."""
    yield from _kerf(shop.kerf, style, "kerf", "The kerf")
    yield from _pace(shop)
    yield from _lengths(shop, style)
    yield from _counts(shop)
    yield from _rails(shop, style)
    if shop.guide is not None:
        yield from _span(shop.guide, style, "guide", "The parallel guide")
    yield from _table(shop, style)


def limit_faults(
    shop: Shop, style: LengthStyle, usable: Sequence[Stock], parts: Sequence[Part]
) -> Iterator[Issue]:
    """Yield limits of the shop with which no sheet of the job can be cut at all.

    Parameters
    ----------
    style
        How the job writes lengths.
    usable
        Its stock rows without errors.
    parts
        Its parts; one that is a whole row needs no cut.
    """
    rows = [row for row in usable if row.at_hand != 0 and any(_shared(row, p) for p in parts)]
    if not rows or any(_is_whole(part, row) for row in rows for part in parts):
        return
    yield from _carry(shop, rows, style)
    yield from _hold(shop, rows, style)


# --- figures -------------------------------------------------------------------------------


def _kerf(kerf: Length, style: LengthStyle, field: str, what: str) -> Iterator[Issue]:
    code = "shop-kerf" if field == "kerf" else "shop-table-kerf"
    if kerf < 0:
        yield error(f"{code}-negative", "", f"{what} is less than 0: measure it.", field)
    elif kerf == 0:
        said = f"{what} is 0, but no saw cuts without one: measure yours."
        yield warning(f"{code}-zero", "", said, field)
    elif kerf > WIDEST_KERF:
        said = f"{what} is {say(kerf, style)}; {say(WIDEST_KERF, style)} is the most."
        yield error(f"{code}-absurd", "", said, field)


def _pace(shop: Shop) -> Iterator[Issue]:
    for field in SECONDS:
        seconds = getattr(shop, field)
        if seconds < 0:
            said = f"No cut or set-up takes {seconds} seconds."
            yield error("shop-pace-negative", "", said, field)


def _lengths(shop: Shop, style: LengthStyle) -> Iterator[Issue]:
    for field, what in _NOT_BELOW_0.items():
        ticks = getattr(shop, field)
        if ticks < 0:
            said = f"{what} is {say(ticks, style)}: enter 0 or more."
            yield error("shop-limit-negative", "", said, field)


def _counts(shop: Shop) -> Iterator[Issue]:
    if shop.lift_g < 0:
        said = "What can be lifted alone is less than nothing: enter a weight, or 0 for no limit."
        yield error("shop-lift-negative", "", said, "lift_g")
    if shop.loose < 1:
        said = f"With {shop.loose} loose pieces no sheet can be begun: allow 1 or more."
        yield error("shop-loose-none", "", said, "loose")


def _rails(shop: Shop, style: LengthStyle) -> Iterator[Issue]:
    for number, rail in enumerate(shop.rails, 1):
        if rail.length <= 0:
            said = f"Rail {number} is {say(rail.length, style)} long: measure it, or remove it."
            yield error("shop-rail-length", "", said, "rails")
        elif rail.length > LONGEST_RAIL:
            said = f"Rail {number} is {about(rail.length, style)} long: check its unit."
            yield warning("shop-rail-absurd", "", said, "rails")
        if rail.joined < 1:
            said = f"Rail {number} is joined from {rail.joined} rails: it takes 1 or more."
            yield error("shop-rail-joined", "", said, "rails")


def _span(span: Span, style: LengthStyle, field: str, what: str) -> Iterator[Issue]:
    least, most = say(span.least, style), say(span.most, style)
    if span.least < 0:
        said = f"{what} reaches from {least}: enter 0 or more."
        yield error(f"shop-{field}-negative", "", said, f"{field}.least")
    elif span.least > span.most:
        said = f"{what} reaches from {least} to {most}, so it can be set to nothing: swap the two."
        yield error(f"shop-{field}-empty", "", said, f"{field}.most")


def _table(shop: Shop, style: LengthStyle) -> Iterator[Issue]:
    table = shop.table
    if table is None:
        return
    if table.tool == shop.tool:
        said = f"Both saws are called {table.tool}: give one another name, to tell cuts apart."
        yield warning("shop-saws-one-name", "", said, "table.tool")
    yield from _kerf(table.kerf, style, "table.kerf", f"The kerf of the {table.tool}")
    yield from _span(table.fence, style, "fence", f"The fence of the {table.tool}")
    if 0 < shop.oversize < table.kerf <= WIDEST_KERF:
        least = say_at_least(table.kerf, style)
        said = (
            f"The oversize is {say(shop.oversize, style)}, less than the kerf of the {table.tool}:"
            f" cut parts {least} oversize or more, or there is nothing to saw off."
        )
        yield warning("shop-oversize-under-kerf", "", said, "oversize")


# --- limits --------------------------------------------------------------------------------


def _carry(shop: Shop, rows: Sequence[Stock], style: LengthStyle) -> Iterator[Issue]:
    widest = max(max(row.length, row.width) for row in rows)
    across = max(min(row.length, row.width) for row in rows)
    if shop.carry > widest:
        said = (
            f"A piece has to be {say(shop.carry, style)} wide to carry the rail, and no sheet is:"
            f" enter {say_at_most(widest, style)} or less."
        )
        yield error("shop-carry-absurd", "", said, "carry")
    elif shop.carry > across:
        said = (
            f"A piece has to be {say(shop.carry, style)} wide to carry the rail, so no sheet can be"
            f" cut along its long side: {say_at_most(across, style)} or less would do."
        )
        yield warning("shop-carry-wide", "", said, "carry")


def _hold(shop: Shop, rows: Sequence[Stock], style: LengthStyle) -> Iterator[Issue]:
    longest = max(max(row.length, row.width) for row in rows)
    if shop.hold > longest:
        said = (
            f"A piece has to be {say(shop.hold, style)} long to be held, and no sheet is:"
            f" enter {say_at_most(longest, style)} or less."
        )
        yield error("shop-hold-absurd", "", said, "hold")


def _shared(row: Stock, part: Part) -> bool:
    return row.material == part.material


def _is_whole(part: Part, row: Stock) -> bool:
    """Say whether a part is a row as it lies, so that no cut is needed."""
    sides = {part.cut_length, part.cut_width}
    return _shared(row, part) and sides == {row.length, row.width}
