"""The words of a cut, found from its record alone: short lines, one thing a line.

A line on a card has at most 15 words; it says what to do in the imperative, and what is in the
present tense.
"""

from dataclasses import replace
from functools import lru_cache
from typing import Final

from shared.drawing.words import MEASURE_FIRST
from shared.geometry import Rect
from shared.lengths import (
    INCH,
    MM,
    Length,
    LengthStyle,
    Unit,
    format_length,
    format_mark,
    with_unit,
)
from shared.making.lifting import Moved
from shared.making.outcome import PieceFate, Side
from shared.making.record import (
    Bed,
    CutRecord,
    Edge,
    Face,
    Guard,
    RailLaid,
    SizeCheck,
    Way,
)
from shared.making.settings import Device
from shared.making.strokes import Stroke
from shared.offcuts import offcut_name
from shared.plan import CutKind, Keep
from shared.shop import Axis, Rail

KINDS: Final = {
    CutKind.TRIM: "Trim",
    CutKind.RIP: "Rip",
    CutKind.CROSSCUT: "Crosscut",
    CutKind.LAST_TRIM: "Last trim",
    CutKind.FINISH: "Finish",
}
RIGHT: Final = {Unit.INCH: INCH // 32, Unit.MM: MM // 2}
"""How far from its size what remains may be (common practice: a step of the rule, or 0.5 mm)."""
WASTE: Final = "the waste"
MEASURE_ONE: Final = "Measure the first piece before cutting the next."
"""Said wherever guide, stop or fence is set anew."""
ENDS: Final = {Edge.LEFT, Edge.RIGHT}
ROUGH: Final = {Unit.INCH: INCH // 4, Unit.MM: 5 * MM}
"""How far a rail stands free is said in such steps, never more than it is."""


@lru_cache(maxsize=4096)
def written(ticks: Length, style: LengthStyle) -> str:
    """Write a length as it is found on a rule; remembered, since the sizes of a job repeat."""
    return format_mark(ticks, style)


def size_words(ticks: Length, style: LengthStyle) -> str:
    """Write a length as it is found on a rule, with its unit."""
    return with_unit(written(ticks, style), style)


def thickness_words(ticks: Length, style: LengthStyle) -> str:
    """Write a measured thickness with its unit: in 64ths, or tenths of a millimetre."""
    fine = replace(style, denominator=64, decimals=1)
    return with_unit(format_length(ticks, fine), fine)


def sides_words(rect: Rect, style: LengthStyle) -> str:
    """Write a piece's size, L x W as it lies on its sheet."""
    return f"{written(rect.length, style)} x {written(rect.width, style)}"


# --- what is cut -----------------------------------------------------------------------


def piece_name(stroke: Stroke, name: str) -> str:
    """Name a piece; a sheet, and what is left of it, by its number."""
    whole = name == stroke.sheet.id and not stroke.sheet.piece
    return f"sheet {name}" if whole else name


def side_name(stroke: Stroke, side: Side) -> str:
    """Name what a cut leaves on a side; an offcut worth keeping as on diagrams and lists."""
    if side.end is PieceFate.KEEPER:
        return offcut_name(side.name, sawn=side.name == stroke.cut.piece)
    return piece_name(stroke, side.name)


def title_words(record: CutRecord) -> str:
    """Say what is cut and what it makes, such as ``Rip 1b2 → 1b2a Partition``."""
    stroke, made = record.stroke, record.makes
    begun = f"{KINDS[record.kind]} {piece_name(stroke, stroke.cut.piece)}"
    if stroke.is_trim:
        return f"{begun}, {record.first_edge}"
    if made.end is PieceFate.PIECE or not made.part:
        return f"{begun} \N{RIGHTWARDS ARROW} {side_name(stroke, made)}"
    what = made.part if made.name == stroke.cut.piece else f"{made.name} {made.part}"
    return f"{begun} \N{RIGHTWARDS ARROW} {what}"


def before_words(record: CutRecord, style: LengthStyle) -> str:
    """Say which piece is cut and how large it is, and where it comes from."""
    stroke = record.stroke
    name = piece_name(stroke, stroke.cut.piece)
    return f"{name}, {sides_words(stroke.piece, style)}{_from(record)}"


def _from(record: CutRecord) -> str:
    if not record.since:
        return ", from the stack" if record.stroke.sheet.piece else ", whole sheet"
    if record.since == record.number - 1:
        return _MOVES[record.moved] if not record.turn_over else ", turned over"
    return f", from the stack (cut {record.since})"


_MOVES: Final = {
    Moved.NOTHING: ", as it lies",
    Moved.LAID: ", laid on",
    Moved.TURNED: ", turn it a quarter",
    Moved.ROUND: ", as it lies; walk round to its side",
}
"""What is done with a piece of the cut before."""


# --- what is set -----------------------------------------------------------------------


def set_words(record: CutRecord, style: LengthStyle) -> str:
    """Say what is set or marked, and to what; or that it is set already."""
    setting, size = record.setting, written(record.size, style)
    if setting.device is Device.MARK:
        return f"Mark {size} from the factory {_side_of(record)}, at {marked_at(record)}"
    if setting.device is Device.BOTH_ENDS or _beyond_fence(record):
        return f"Mark {size} at {marked_at(record)}"
    if record.anew:
        return f"Set {setting.device} {size}{' again' if record.again else ''}"
    return f"{setting.device.capitalize()} {size}, as before"


def marked_at(record: CutRecord) -> str:
    """Say where a line is marked: twice, or where it begins that is laid out square from there."""
    if record.stroke.axis is Axis.RIP:
        return "both ends"
    squared = record.squared
    from_mark = squared is not None and squared.edge is Edge.REFERENCE
    return f"the {Edge.REFERENCE}" if from_mark else "both edges"


def _beyond_fence(record: CutRecord) -> bool:
    """Say whether a finishing cut is made at the table saw though its fence does not reach."""
    return record.way is Way.FENCE and "fence" in record.hazards


def _side_of(record: CutRecord) -> str:
    """Name what a size is measured from: edges run along the sheet, ends across."""
    return "edge" if record.stroke.axis is Axis.RIP else "end"


def position_words(record: CutRecord, style: LengthStyle) -> str:
    """Say where the line lies on the whole sheet; ``""`` where that says nothing new."""
    if not record.position or record.position == record.size:
        return ""
    return f"{written(record.position, style)} from {record.first_edge}"


def check_words(record: CutRecord, check: SizeCheck, style: LengthStyle) -> str:
    """Say what has to be measured after the cut, because no cut is set to it."""
    across = "wide" if record.stroke.axis is Axis.RIP else "long"
    name = side_name(record.stroke, check.side)
    within = with_unit(format_length(RIGHT[style.unit], style), style)
    size = f"{written(check.size, style)} {across}, within {within}"
    return f"measure {name}: {size}; if not, trim it or pencil its true size"


# --- what is laid ----------------------------------------------------------------------


def rail(one: Rail, style: LengthStyle, what: str = "rail") -> str:
    """Name a rail or straightedge by its length, or say how many are joined."""
    length = with_unit(format_length(one.length, style), style)
    if one.joined > 1:
        return f"{one.joined} x {length} {what}s joined"
    return f"{length} {what}"


def leader(record: CutRecord) -> str:
    """Say what leads the saw where anything is laid: a rail, or a straightedge."""
    return "straightedge" if record.way is Way.STRAIGHTEDGE else "rail"


def led_words(record: CutRecord, style: LengthStyle, *, several: bool = False) -> str:
    """Name the rail or straightedge, and the saw where there are several or it needs none.

    Says where it is changed, or laid first.
    """
    saw = record.stroke.cut.tool
    if record.rail is None:
        return saw
    led = _led(record, record.rail, style)
    return f"{saw}, {led}" if several else led


def _led(record: CutRecord, laid: RailLaid, style: LengthStyle) -> str:
    what = leader(record)
    named = rail(laid.rail, style, what)
    if laid.parted:
        return f"part the {what}s, change to {named}"
    if laid.change:
        return f"change to {named}"
    return f"lay {named}" if laid.fetched else named


def bed_words(record: CutRecord, style: LengthStyle) -> str:
    """Say what the rail or straightedge lies on and where its edge is."""
    stroke = record.stroke
    if record.way is Way.FENCE:
        sled = "on the sled, clear of the fence"
        return sled if _beyond_fence(record) else f"{record.first_edge} against the fence"
    if record.way is Way.EDGE_GUIDE:
        return f"edge guide along the {record.first_edge}"
    if record.way is Way.STRAIGHTEDGE and record.rail is not None:
        return _clamped(record, record.rail, style)
    kept, other = names(record)
    if record.bed is Bed.WASTE:
        on = "the waste side" if other == WASTE else other
        return f"rail on {on}, one kerf past the line"
    if record.bed is Bed.PACKED:
        thick = thickness_words(stroke.sheet.thickness, style)
        return f"rail on {kept} and on scrap {thick} thick beside it, edge on the line"
    return f"rail on {kept}, edge on the line"


def _clamped(record: CutRecord, laid: RailLaid, style: LengthStyle) -> str:
    kept, other = names(record)
    on = other if record.bed is Bed.WASTE else kept
    at, whence = clamped_at(record, laid)
    return f"straightedge on {on}, its edge {written(at, style)} from the {whence}"


def clamped_at(record: CutRecord, laid: RailLaid) -> tuple[Length, str]:
    """Return how far the edge of a straightedge lies from what it is measured from, and that."""
    if not record.stroke.is_trim:
        return laid.edge_at, "V"
    if record.squared is None:
        return laid.edge_at, f"factory {_side_of(record)}"
    return abs(laid.edge_at - record.size), "squared line"  # a leaning end would not be square


def reach_words(record: CutRecord, style: LengthStyle) -> str:
    """Say how far the rail stands free beyond the piece at both ends; ``""`` without one."""
    laid = record.rail
    if laid is None:
        return ""
    first, last = (free_words(one, style) for one in (laid.run_up, laid.run_out))
    if first == last:
        return f"about {first} both {'ends' if record.enters in ENDS else 'edges'}"
    left = record.leaves.removesuffix(" end")
    return f"about {first} the {record.enters}, {last} the {left}"


def roughly(ticks: Length, style: LengthStyle) -> Length:
    """Return how far something stands free in the steps in which that is said, never more."""
    step = ROUGH[style.unit]
    return ticks // step * step


def free_words(ticks: Length, style: LengthStyle) -> str:
    """Say about how far a rail stands free at one end, or how far it is too short there."""
    shown = format_length(abs(roughly(ticks, style)), style)
    return f"{shown} {'past' if ticks >= 0 else 'short of'}"


def long_words(record: CutRecord, style: LengthStyle) -> str:
    """Say how long the cut is."""
    return f"{format_length(record.length, style)} long"


def enter_words(record: CutRecord) -> str:
    """Say where the saw, or at the table the piece, enters and which way it is pushed."""
    if record.way is Way.FENCE:
        return f"{record.enters} first into the blade"
    return f"enter at the {record.enters}, push to the {record.leaves}"


# --- the piece -------------------------------------------------------------------------


def keep_words(record: CutRecord) -> str:
    """Say which side of the line is kept, and so on which the kerf lies."""
    side = "far side" if record.stroke.cut.keep is Keep.FAR else "V side"
    return f"Keep {names(record)[0]} ({side})"


def face_words(record: CutRecord) -> str:
    """Say which face is up; ``""`` where it does not matter and the piece lies as it lay before.

    A piece of an earlier plan may have lain otherwise, sawn with another saw.
    """
    if record.up is Face.BACK:
        return "show face down"
    begins = record.stroke.sheet.piece and not record.since and record.up is Face.SHOW
    return "show face up" if record.face_matters or begins else ""


def turn_words(record: CutRecord) -> str:
    """Say that the piece is turned over before the cut; ``""`` where it is not."""
    if not record.turn_over:
        return ""
    name = piece_name(record.stroke, record.stroke.cut.piece)
    up = "down" if record.up is Face.BACK else "up"
    return f"Turn {name} over, left end to right; show face {up}; pencil REF and LEFT again"


def guard_words(record: CutRecord) -> str:
    """Say what keeps a show face whole at this cut; ``""`` where nothing has to."""
    said = {
        Guard.SCORE: _score_words(record),
        Guard.TAPE: "tape the line",
        Guard.SPLINTER_GUARD: "fit the splinter guard",
    }
    return ", ".join(said[guard] for guard in record.guards)


def _score_words(record: CutRecord) -> str:
    """Say which edge is scored: of the side that no rail guards, or of both."""
    if record.way is not Way.RAIL:
        return "before the cut, score the line and one kerf past it on the show face"
    kept, other = names(record)
    if record.bed is Bed.WASTE:
        return f"before the cut, score the face of {kept} with a knife, on the line"
    return f"before the cut, score the face of {other}, one kerf past the line"


def names(record: CutRecord) -> tuple[str, str]:
    """Return what the keep side and the other side are called."""
    stroke, left = record.stroke, record.left
    kept = side_name(stroke, record.makes)
    if left is None or left.end is PieceFate.WASTE or not left.rect.area:
        return kept, WASTE
    return kept, side_name(stroke, left)


# --- what comes of it ------------------------------------------------------------------


def makes_words(record: CutRecord, style: LengthStyle) -> str:
    """Say what the cut makes on the keep side, such as ``1b2a, 28 19/32 x 15 3/4: …``."""
    return _side_words(record, record.makes, style)


def left_words(record: CutRecord, style: LengthStyle) -> str:
    """Say what is left on the other side: its size, and what becomes of it."""
    side = record.left
    if side is None or not side.rect.area:
        return "nothing, the blade takes it"
    if side.end is PieceFate.WASTE:
        wide = side.rect.width if record.stroke.axis is Axis.RIP else side.rect.length
        whole = "; the whole factory end must go" if _squared_trim(record) else ""
        return f"waste {written(wide, style)}{whole}"
    return _side_words(record, side, style)


def _squared_trim(record: CutRecord) -> bool:
    """Say whether a trim is marked in one place, so that elsewhere it may take less."""
    return record.stroke.is_trim and record.squared is not None


def _side_words(record: CutRecord, side: Side, style: LengthStyle) -> str:
    name = side_name(record.stroke, side)
    fate = fate_words(side, record.number)
    return f"{name}, {sides_words(side.rect, style)}: {fate}"


def fate_words(side: Side, number: int) -> str:
    """Say what becomes of a piece after the cut of that number."""
    later = f"; finish at cut {side.next_cut}" if side.next_cut else ""
    return {
        PieceFate.PART: f"{side.part}, done, label it",
        PieceFate.BLANK: f"blank of {side.part}{later}",
        PieceFate.WAITS: f"blank of {side.part}, {MEASURE_FIRST}",
        PieceFate.KEEPER: "label it",
        PieceFate.WASTE: "waste",
        PieceFate.PIECE: _stacked(side, number),
    }[side.end]


def _stacked(side: Side, number: int) -> str:
    """Say for which cut a piece waits; one that was planned anew since waits for none of these."""
    if not side.next_cut:
        return "on the stack"
    after = f"cut {side.next_cut}"
    return f"next, {after}" if side.next_cut == number + 1 else f"on the stack for {after}"
