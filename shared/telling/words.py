"""Sentences about a cut: which side is kept, where the rail lies, what supports it."""

from dataclasses import replace
from functools import lru_cache
from typing import Final

from shared.drawing.words import MEASURE_FIRST
from shared.geometry import Rect
from shared.lengths import (
    MM,
    Length,
    LengthStyle,
    format_length,
    format_with_remainder,
    with_unit,
)
from shared.making.outcome import PieceFate, Side
from shared.making.record import Bed, CutRecord
from shared.making.strokes import Stroke
from shared.plan import CutKind, Keep
from shared.shop import Axis, Rail

KINDS: Final = {
    CutKind.TRIM: "Trim",
    CutKind.RIP: "Rip",
    CutKind.CROSSCUT: "Crosscut",
    CutKind.LAST_TRIM: "Last trim",
    CutKind.FINISH: "Finish",
}
LARGE: Final = (1500 * MM, 600 * MM)
"""Long and short side from which a piece wants four bearers: a sheet or most of one."""


@lru_cache(maxsize=4096)
def written(ticks: Length, style: LengthStyle) -> str:
    """Write a length with its remainder; remembered, since the sizes of a job repeat."""
    return format_with_remainder(ticks, style)


def size_words(ticks: Length, style: LengthStyle) -> str:
    """Write a length with its remainder and unit."""
    return with_unit(written(ticks, style), style)


def tool_words(record: CutRecord, style: LengthStyle) -> str:
    """Name the saw, and the rail it runs on where the shop names rails."""
    tool, laid = record.stroke.cut.tool, record.rail
    return tool if laid is None else f"{tool}, {rail(laid.rail, style)}"


def rail(one: Rail, style: LengthStyle) -> str:
    """Name a rail by its length, or say how many are joined."""
    length = with_unit(format_length(one.length, style), style)
    return f"{one.joined} rails of {length} joined" if one.joined > 1 else f"rail of {length}"


def keep_words(stroke: Stroke) -> str:
    """Say which side of the line is kept, and so on which the kerf lies."""
    edge = "edge" if stroke.axis is Axis.RIP else "end"
    if stroke.cut.keep is Keep.FAR:
        return f"{stroke.cut.piece}, the side away from the factory {edge}"
    return f"{stroke.cut.off}, the side towards the reference {edge} (the V)"


def bed_words(record: CutRecord, style: LengthStyle) -> str:
    """Say where the rail lies; ``""`` at the table saw."""
    stroke, bed = record.stroke, record.bed
    kept, other = names(stroke)
    if bed is Bed.KEEP:
        return f"on {kept}, its edge at the line"
    if bed is Bed.WASTE:
        kerf = size_words(stroke.cut.kerf, replace(style, denominator=64, decimals=2))
        return f"on {other}, its edge one kerf ({kerf}) beyond the line"
    if bed is Bed.PACKED:
        thick = size_words(stroke.sheet.thickness, style)
        return f"on {kept} and on scrap {thick} thick, packed behind it"
    return ""


def face_words(record: CutRecord) -> str:
    """Say which face lies up; common practice with a rail and at the table saw."""
    if record.bed in {Bed.KEEP, Bed.PACKED}:
        return "up, the keep side under the rail"
    return "up"


def tear_out_words(record: CutRecord) -> str:
    """Say where the cut splinters.

    The teeth of a saw on a rail leave the wood at the top, where only the rail's side is
    guarded; those of a table saw at the underside (saw manuals, common practice).
    """
    stroke = record.stroke
    kept, other = names(stroke)
    bare = kept if record.bed is Bed.WASTE else other
    where = f"top edge of {bare}, beside the rail"
    if record.bed is Bed.NONE:
        where = "underside, along both edges"
    return f"{where}; across the grain, so score it first" if stroke.across_grain else where


def support_words(record: CutRecord) -> str:
    """Say where bearers or foam go (common practice); both sides stay put to the end."""
    stroke = record.stroke
    kept, other = names(stroke)
    if record.bed is Bed.NONE:
        return f"a stand behind the saw for {kept}; {other} free to move away"
    both = f"under {kept} and under {other}" if stroke.other else f"under {kept}, to the line"
    if _is_large(stroke.piece):
        return f"foam, or four bearers, two each side of the line: {both}, so the kerf stays open"
    return f"foam, or a bearer close to the line each side: {both}, so the kerf stays open"


def _is_large(piece: Rect) -> bool:
    short, long = sorted((piece.length, piece.width))
    return long >= LARGE[0] and short >= LARGE[1]


def names(stroke: Stroke) -> tuple[str, str]:
    """Return what the keep side and the other side are called."""
    rest = stroke.cut.piece if stroke.far.area else "the waste"
    if stroke.cut.keep is Keep.FAR:
        return rest, "the waste"
    return stroke.cut.off, rest


def side_words(side: Side | None, style: LengthStyle) -> str:
    """Say what lies on one side of the cut: name, L x W, and what becomes of it."""
    if side is None or not side.rect.area:
        return "nothing"
    named = [side.name] if side.name else []
    size = f"{written(side.rect.length, style)} x {written(side.rect.width, style)}"
    return f"{', '.join([*named, size])}: {end_words(side)}"


def end_words(side: Side) -> str:
    """Say what a piece becomes."""
    later = f", cut {side.next_cut}" if side.next_cut else ""
    return {
        PieceFate.PART: side.part,
        PieceFate.BLANK: f"blank of {side.part}, to be finished{later}",
        PieceFate.WAITS: f"blank of {side.part}, {MEASURE_FIRST}",
        PieceFate.KEEPER: "offcut, keep and label it",
        PieceFate.WASTE: "waste",
        PieceFate.PIECE: f"on the stack for cut {side.next_cut}",
    }[side.end]
