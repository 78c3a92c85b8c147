"""Words on squareness: what a cut is square to, and what is checked at a sheet before its first."""

from collections.abc import Iterator
from typing import Final

from shared.lengths import (
    INCH,
    MM,
    Length,
    LengthStyle,
    Unit,
    format_length,
    round_down,
    with_unit,
)
from shared.making.record import CutRecord, Edge, SheetCheck, SquaredBy, Way
from shared.making.settings import Device
from shared.making.squaring import three_four_five
from shared.shop import Rail, RunsOn, Shop
from shared.telling.words import rail, written
from shared.weighing import format_weight

STEPS: Final = {Unit.INCH: INCH, Unit.MM: 10 * MM}
"""Whole steps in which a right angle is laid out."""


def square_words(record: CutRecord, shop: Shop, style: LengthStyle) -> str:
    """Say what the cut is square to, and with what; ``""`` where nothing is squared."""
    squared = record.squared
    if squared is None:
        return ""
    edge = record.lies(squared.edge)
    if squared.by is SquaredBy.SQUARE:
        return f"square to the {edge}{_begun(record)} with the {_about(shop.square, style)} square"
    if squared.by is SquaredBy.DEVICE:
        return _by_device(record.way, edge)
    if squared.edge is not Edge.REFERENCE:
        return f"square by both marks, each from the {edge}"
    return f"square {_laid_out(record, edge, style)}"


def square_in_brief(record: CutRecord, shop: Shop, style: LengthStyle) -> str:
    """Say the same without where the line begins, which the mark says, and which square it is."""
    squared = record.squared
    if squared is not None and squared.by is SquaredBy.SQUARE:
        return f"square on the {record.lies(squared.edge)}"
    return square_words(record, shop, style).replace(_begun(record), "")


def sheet_in_brief(record: CutRecord, shop: Shop, style: LengthStyle) -> str:
    """Say the figures of a sheet's check; ``""`` where there is none."""
    check = record.sheet_check
    return "" if check is None else " ".join(_in_brief(record, check, shop, style))


def _in_brief(
    record: CutRecord, check: SheetCheck, shop: Shop, style: LengthStyle
) -> Iterator[str]:
    with_what = "a straight edge" if check.rail is None else _checked_with(check.rail, shop, style)
    yield f"Reference edge with {with_what}: {_may_bow(check, style)}."
    piece = record.stroke.piece
    long, wide = (written(side, style) for side in (piece.length, piece.width))
    yield f"Long edges {long}, ends {wide}."
    apart = round_down(check.absorbs, style)
    may = f"may differ by up to {_about(apart, style)}" if apart else "must be equal"
    yield f"The diagonals {may}."


def _checked_with(laid: Rail, shop: Shop, style: LengthStyle) -> str:
    named = rail(laid, style, "rail" if shop.runs_on is RunsOn.RAIL else "straightedge")
    return named if laid.joined > 1 else f"the {named}"


def _may_bow(check: SheetCheck, style: LengthStyle) -> str:
    if check.straight_first:
        return "straight before the first cut, a crosscut"
    if bow := round_down(check.bow, style):
        return f"bow up to {_about(bow, style)}"
    return "straight, it is not trimmed"


def _by_device(way: Way, edge: Edge) -> str:
    if way is Way.FENCE:
        return f"{edge} against the sled or mitre gauge"
    return f"square to the {edge}" if way is Way.RAIL else f"edge guide along the {edge}"


def _begun(record: CutRecord) -> str:
    """Say where a squared line begins that is marked."""
    marked = record.setting.device in {Device.MARK, Device.BOTH_ENDS}
    return " from the mark" if marked else ""


def _laid_out(record: CutRecord, edge: Edge, style: LengthStyle) -> str:
    found = three_four_five(record.stroke, STEPS[style.unit])
    if found is None:
        return f"to the {edge}"
    along, across, between = (format_length(side, style) for side in found)
    sides = f"{along} along the {edge}, {across} across, {between} between"
    return f"by 3-4-5{_begun(record)}: {sides}"


def sheet_words(record: CutRecord, shop: Shop, style: LengthStyle) -> tuple[str, ...]:
    """Say what is checked at the sheet before the cut; empty where nothing is."""
    check = record.sheet_check
    return () if check is None else tuple(_sheet_words(record, check, shop, style))


def _sheet_words(
    record: CutRecord, check: SheetCheck, shop: Shop, style: LengthStyle
) -> Iterator[str]:
    if 0 < shop.lift_g < record.grams:
        weighs, limit = (format_weight(one, style.unit) for one in (record.grams, shop.lift_g))
        yield f"It weighs {weighs}; you can lift {limit}. Get help to lay it on."
    yield from _along(check, record.stroke.piece.length, shop, style)
    if check.straight_first:
        yield "Crosscut first: straighten a bowed reference edge before that."
        yield "Equal diagonals do not replace a straight edge."
    elif bow := round_down(check.bow, style):
        yield f"Its trim takes away a bow of up to {_about(bow, style)}."
        yield "The rest of the trim is for the blade, and wood beside it."
    else:
        yield "That edge is not trimmed: if it bows, trim it and plan again."
    long, wide = (
        written(side, style) for side in (record.stroke.piece.length, record.stroke.piece.width)
    )
    yield f"Measure both long edges, {long} each, and both ends, {wide} each."
    yield "If one is shorter, change the size under Sheets & rack, then plan again."
    if apart := round_down(check.absorbs, style):
        most = _about(apart, style)
        yield f"Then measure the diagonals: they may differ by up to {most}."
        yield "If they differ more, write that under Sheets & rack, then plan again."
    else:
        yield "Then measure the diagonals: they must be equal, a part goes to the end."
        yield "If they are not, write the difference under Sheets & rack, then plan again."


def _along(check: SheetCheck, long: Length, shop: Shop, style: LengthStyle) -> Iterator[str]:
    """Say what is laid along the reference edge, and that it is slid along if it is shorter."""
    if check.rail is None:
        yield "Lay a straight edge along the reference edge: a gap shows a bow."
        return
    what = "rail" if shop.runs_on is RunsOn.RAIL else "straightedge"
    named = rail(check.rail, style, what)
    the = "" if check.rail.joined > 1 else "the "
    yield f"Lay {the}{named} along the reference edge: a gap shows a bow."
    if check.rail.whole < long:
        yield "It is shorter than the edge: slide it along."


def _about(ticks: Length, style: LengthStyle) -> str:
    return with_unit(format_length(ticks, style), style)
