"""What is wrong with the shop: its saws, rails and limits, and whether any sheet can be cut.

A figure that can be meant by nobody is an error of the shop and leaves nothing to plan;
what is only unlikely, or only stops some way of working, is a warning.
"""

from collections.abc import Iterator, Sequence
from typing import Final

from shared.finding import about, error, is_sound, say, say_at_least, say_at_most, warning
from shared.issues import Issue
from shared.lengths import INCH, METRE, MM, Length, LengthStyle, round_up
from shared.making.straightedge import GRIP, least_carry, set_back
from shared.parts import Part
from shared.practice import BASE_PAIRS, not_measured
from shared.shop import ABSENT, RunsOn, SawBase, Shop, Span, TableSaw
from shared.stock import Stock

WIDEST_KERF: Final[Length] = 20 * MM
LONGEST_RAIL: Final[Length] = 10 * METRE
"""No single rail is longer than this; a slip of the unit is."""
WIDEST_RAIL: Final[Length] = 300 * MM
"""Rails are about 180 mm wide, and what is clamped on a piece is narrower still."""
BASE_SLACK: Final[Length] = INCH // 32
"""How far kerf and base may disagree: both sides of a slot are read to 1/64 in, half a mm."""
LONGEST_STEP_S: Final = 3_600
"""No one step of sawing takes longer than an hour; a slip of the keys does."""
SECONDS: Final = {
    "cut_s": "for a cut",
    "metre_s": "for each metre of it",
    "setup_s": "for a set-up",
    "measure_s": "for a first piece",
    "unguided_s": "to mark both ends",
    "rail_s": "for another rail",
    "join_s": "for joining rails",
    "lift_s": "for a lift",
    "turn_s": "for a turn",
    "heavy_s": "more for a heavy piece",
    "skim_s": "more for a skim cut",
}
"""What the seconds of each kind of work are called, by field of `Shop`."""
_NOT_BELOW_0: Final = {
    "overhang": "The rail beyond the cut",
    "rail_width": "The width of the rail",
    "square": "The longest square",
    "carry": "The narrowest piece the rail may lie on",
    "hold": "The smallest piece that can be clamped or held",
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
    if shop.guide not in {None, ABSENT}:
        parallel = shop.runs_on is RunsOn.RAIL
        what = "The parallel guide" if parallel else "The edge guide"
        yield from _span(shop.guide, style, "guide", what)
    if shop.stop not in {None, ABSENT}:
        yield from _span(shop.stop, style, "stop", "The stop")
    if shop.runs_on is RunsOn.STRAIGHTEDGE:
        yield from _base(shop.base, shop.kerf, style)
        yield from _clamped(shop, style)
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
    yield from _rail_width(shop, rows, style)
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
    for field, words in SECONDS.items():
        seconds = getattr(shop, field)
        if seconds < 0:
            said = f"Seconds {words}: {seconds:,} is less than none: enter 0 or more."
            yield error("shop-pace-negative", "", said, field)
        elif seconds > LONGEST_STEP_S:
            said = too_long(f"seconds {words}", f"{seconds:,}")
            yield error("shop-pace-absurd", "", said, field)
    if shop.cut_s == shop.metre_s == 0:
        said = "A cut takes no time, however long it is, so minutes say little: enter yours."
        yield warning("shop-pace-zero", "", said, "cut_s")


def too_long(what: str, seconds: str) -> str:
    """Say that so many seconds are too many for what a form calls so."""
    said = f"{what}: {seconds} is more than an hour for one step: enter {LONGEST_STEP_S:,} or less."
    return said[:1].upper() + said[1:]


def _lengths(shop: Shop, style: LengthStyle) -> Iterator[Issue]:
    for field, what in _NOT_BELOW_0.items():
        ticks = getattr(shop, field)
        if ticks < 0:
            said = f"{what} is {say(ticks, style)}: enter 0 or more."
            yield error("shop-limit-negative", "", said, field)


def _counts(shop: Shop) -> Iterator[Issue]:
    for field, what in (("lift_g", "lifted"), ("turn_g", "turned")):
        if getattr(shop, field) < 0:
            said = f"What can be {what} alone is less than nothing: enter a weight, 0 for no limit."
            yield error(f"shop-{field.removesuffix('_g')}-negative", "", said, field)
    if 0 < shop.turn_g < shop.lift_g:
        said = "You can turn less than you can lift: enter as much for turning, or more."
        yield warning("shop-turn-below-lift", "", said, "turn_g")
    if shop.loose < 1:
        said = f"With {shop.loose} loose pieces no sheet can be begun: allow 1 or more."
        yield error("shop-loose-none", "", said, "loose")


def _each_rail(shop: Shop, style: LengthStyle) -> Iterator[Issue]:
    what = leader(shop)
    for number, rail in enumerate(shop.rails, 1):
        named = f"{what.capitalize()} {number}"
        if rail.length <= 0:
            said = f"{named} is {say(rail.length, style)} long: measure it, or remove it."
            yield error("shop-rail-length", "", said, "rails")
        elif rail.length > LONGEST_RAIL:
            said = f"{named} is {about(rail.length, style)} long: check its unit."
            yield warning("shop-rail-absurd", "", said, "rails")
        if rail.joined < 1:
            said = f"{named} is joined from {rail.joined} {what}s: it takes 1 or more."
            yield error("shop-rail-joined", "", said, "rails")
        elif rail.count < rail.joined:
            there = "there is 1" if rail.count == 1 else f"there are {max(0, rail.count)}"
            said = (
                f"{named}: {rail.joined} can't be joined where {there}:"
                " enter how many there are, or join fewer."
            )
            yield error("shop-rail-count", "", said, "rails")


def _rails(shop: Shop, style: LengthStyle) -> Iterator[Issue]:
    faults, what = list(_each_rail(shop, style)), leader(shop)
    yield from faults
    if shop.rail_width > WIDEST_RAIL:
        said = f"The {what} is {about(shop.rail_width, style)} wide: check its unit."
        yield warning("shop-rail-broad", "", said, "rail_width")
    if shop.reach == 0 and is_sound(faults):  # each sheet is told to be beyond reach besides
        least = about(round_up(shop.beyond, style), style)
        said = (
            f"No {what} takes any cut: each has to be {least} longer than its cut,"
            f" so add a longer {what}."
        )
        yield warning("shop-rails-short", "", said, "rails")


_DISTANCES: Final = {
    "left_near": "from the left edge to the blade's nearer face",
    "left_far": "from the left edge to the blade's farther face",
    "right_near": "from the right edge to the blade's nearer face",
    "right_far": "from the right edge to the blade's farther face",
    "length": "from its front to its back",
}
_PAIRS: Final = {"left": "left edge", "right": "right edge", "length": "length"}
"""What is measured together of a base, as a sentence calls it."""


def _guessed(which: Sequence[str]) -> str:
    """Name what of a base is not measured, as what a sentence is about."""
    named = " and the ".join(_PAIRS[one] for one in which)
    return f"The {named} of the saw's base {'is' if len(which) == 1 else 'are'}"


def _base(base: SawBase | None, kerf: Length, style: LengthStyle) -> Iterator[Issue]:
    """Yield what is wrong with the base of a circular saw; one of a kerf of 0 is asked first."""
    if base is None:
        said = "The base of the saw is not measured: measure from its edges to the blade's faces."
        yield error("shop-base-none", "", said, "base.left_near")
        return
    if guessed := not_measured(base, kerf):
        what = "The base of the saw is" if len(guessed) == len(_PAIRS) else _guessed(guessed)
        said = f"{what} as common practice has it: measure yours before you saw."
        yield warning("shop-base-usual", "", said, f"base.{BASE_PAIRS[guessed[0]][0]}")
    missing = [field for field in _DISTANCES if getattr(base, field) <= 0]
    for field in missing:
        said = f"The base of the saw is not measured: measure {_DISTANCES[field]}."
        yield error("shop-base-not-measured", "", said, f"base.{field}")
    for side in ("left", "right"):
        near, far = (getattr(base, f"{side}_{face}") for face in ("near", "far"))
        if {f"{side}_near", f"{side}_far"} & set(missing):
            continue
        if abs(far - near - kerf) > BASE_SLACK:
            said = (
                f"Between {say(near, style)} and {say(far, style)} from the {side} edge of the"
                f" base the blade is {say(far - near, style)} thick, but the kerf is"
                f" {say(kerf, style)}: measure both with the blade in use."
            )
            yield error("shop-base-kerf", "", said, f"base.{side}_far")


def _clamped(shop: Shop, style: LengthStyle) -> Iterator[Issue]:
    """Yield it where the narrowest piece leaves no room to clamp a straightedge on it."""
    if 0 < shop.carry < (least := least_carry(shop)):
        said = (
            f"A straightedge lies {say(set_back(shop), style)} back from the line, and a clamp"
            f" wants {about(GRIP, style)} of the piece under it:"
            f" enter {say_at_least(least, style)} or more."
        )
        yield error("shop-carry-clamp", "", said, "carry")


def leader(shop: Shop) -> str:
    """Return what leads the saw: a rail, or a straightedge."""
    return "rail" if shop.runs_on is RunsOn.RAIL else "straightedge"


def _span(span: Span, style: LengthStyle, field: str, what: str) -> Iterator[Issue]:
    least, most = say(span.least, style), say(span.most, style)
    if span.least < 0:
        said = f"{what} reaches from {least}: enter 0 or more."
        yield error(f"shop-{field}-negative", "", said, f"{field}.least")
    elif span.most <= 0:
        said = f"{what} reaches to {most}, so it can be set to nothing: enter how far it reaches."
        yield error(f"shop-{field}-empty", "", said, f"{field}.most")
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
    yield from _handled(table, style)
    if 0 < shop.oversize < table.kerf <= WIDEST_KERF:
        least = say_at_least(table.kerf, style)
        said = (
            f"The oversize is {say(shop.oversize, style)}, less than the kerf of the {table.tool}:"
            f" cut parts {least} oversize or more, or there is nothing to saw off."
        )
        yield warning("shop-oversize-under-kerf", "", said, "oversize")


def _handled(table: TableSaw, style: LengthStyle) -> Iterator[Issue]:
    """Yield what is wrong with the largest piece at the table saw."""
    for field in ("longest", "widest"):
        ticks = getattr(table, field)
        if ticks < 0:
            said = f"The {field} piece at the {table.tool} is {say(ticks, style)}: enter 0 or more."
            yield error("shop-limit-negative", "", said, f"table.{field}")
    if table.heaviest_g < 0:
        said = f"The heaviest piece at the {table.tool} weighs less than nothing: enter 0 or more."
        yield error("shop-heaviest-negative", "", said, "table.heaviest_g")
    if table.longest > 0 and 0 in (table.widest, table.heaviest_g):
        what = "widest" if table.widest == 0 else "heaviest"
        field = "widest" if table.widest == 0 else "heaviest_g"
        said = (
            f"The {what} piece at the {table.tool} is 0, so no whole run is sawn there: enter what"
            " you can handle, or 0 for the longest."
        )
        yield warning("shop-table-nothing", "", said, f"table.{field}")
    if 0 < table.longest < table.widest:
        said = (
            f"The {table.tool} takes pieces {say(table.longest, style)} long and"
            f" {say(table.widest, style)} wide: long is the longer side, swap the two."
        )
        yield warning("shop-table-sizes", "", said, "table.widest")


# --- limits --------------------------------------------------------------------------------


def _rail_width(shop: Shop, rows: Sequence[Stock], style: LengthStyle) -> Iterator[Issue]:
    widest = max(max(row.length, row.width) for row in rows)
    if shop.runs_on is RunsOn.RAIL and shop.rail_width > widest:
        said = (
            f"The rail is {say(shop.rail_width, style)} wide, and no sheet is: measure across"
            f" the rail, {say_at_most(widest, style)} or less."
        )
        yield error("shop-rail-wide", "", said, "rail_width")


def _carry(shop: Shop, rows: Sequence[Stock], style: LengthStyle) -> Iterator[Issue]:
    widest = max(max(row.length, row.width) for row in rows)
    across = max(min(row.length, row.width) for row in rows)
    if shop.carry > widest:
        said = (
            f"A piece has to be {say(shop.carry, style)} wide to carry the {leader(shop)}, and no"
            f" sheet is: enter {say_at_most(widest, style)} or less."
        )
        yield error("shop-carry-absurd", "", said, "carry")
    elif shop.carry > across:
        said = (
            f"A piece has to be {say(shop.carry, style)} wide to carry the {leader(shop)}, so no"
            f" sheet can be cut along its long side: {say_at_most(across, style)} or less would do."
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
