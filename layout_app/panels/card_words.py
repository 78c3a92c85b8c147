"""The short words of a card: what is said at length beside it, in a few words each."""

import re
from typing import Final

from shared.lengths import LengthStyle
from shared.making.outcome import PieceFate, Side
from shared.making.record import Bed, CutRecord, Way
from shared.making.settings import Device
from shared.plan import Keep
from shared.shop import Axis
from shared.telling import words

BLANK: Final = "\N{NO-BREAK SPACE}"
_INSIDE: Final = re.compile(r" (?=\d+/\d|shy\b|strong\b|\d+$)")
"""A blank inside of a size, or before the number of a copy."""


def unbroken(line: str) -> str:
    """Return a line that no end of a line breaks inside of a size."""
    return _INSIDE.sub(BLANK, line)


def set_words(record: CutRecord) -> str:
    """Say what the size is set at, such as ``Set guide``, or ``Guide, as before``."""
    device = record.setting.device
    if device is Device.MARK:
        return "Mark"
    if device is Device.BOTH_ENDS:
        where = words.marked_at(record)
        return "Mark, then square" if where.startswith("the ") else f"Mark {where}"
    if record.again:
        return f"Set {device} again"
    return f"Set {device}" if record.anew else f"{device.capitalize()}, as before"


def from_words(record: CutRecord) -> str:
    """Say what a trim is measured from; ``""`` at any other cut."""
    if record.setting.device is not Device.MARK:
        return ""
    return f"from the factory {'edge' if record.stroke.axis is Axis.RIP else 'end'}"


def rail_words(record: CutRecord, style: LengthStyle) -> str:
    """Say which rail leads the saw and what it lies on, or what leads the saw instead.

    A straightedge lies away from the line, so it is said how far, and from what.
    """
    if record.way in {Way.FENCE, Way.EDGE_GUIDE}:
        return record.stroke.cut.tool if record.way is Way.FENCE else str(record.way)
    kept, other = words.names(record)
    bed = {
        Bed.KEEP: f"on {kept}",
        Bed.WASTE: f"on {other}",
        Bed.PACKED: f"on {kept} and scrap",
        Bed.NONE: "",
    }[record.bed]
    laid = record.rail
    if laid is None:
        return f"{record.way} {bed}"
    if record.way is Way.STRAIGHTEDGE:
        at, whence = words.clamped_at(record, laid)
        return f"{record.way} {bed}, {words.written(at, style)} from{BLANK}{whence}"
    return f"{words.rail(laid.rail, style).removesuffix(' joined')} {bed}"


def guard_words(record: CutRecord) -> str:
    """Say what keeps a show face whole at this cut; ``""`` where nothing has to."""
    return ", ".join(record.guards).capitalize()


def keep_words(record: CutRecord) -> str:
    """Say which side is kept; the V is drawn on the edge the size is measured from."""
    side = "V" if record.stroke.cut.keep is Keep.NEAR else "far"
    return f"Keep {words.names(record)[0]} ({side}{BLANK}side)"


def makes_words(record: CutRecord) -> str:
    """Say what comes of the keep side."""
    return f"Makes {_side(record, record.makes)}"


def left_words(record: CutRecord, style: LengthStyle) -> str:
    """Say what comes of the other side; ``""`` where nothing is left of it."""
    left = record.left
    if left is None or not left.rect.area:
        return ""
    if left.end is PieceFate.WASTE:
        return f"Left: waste {words.written(record.stroke.other, style)}"
    return f"Left: {_side(record, left)}"


def _side(record: CutRecord, side: Side) -> str:
    """Name a side, and what becomes of it."""
    waits = f"for{BLANK}cut{BLANK}{side.next_cut}" if side.next_cut else f"on{BLANK}the{BLANK}stack"
    ends = {
        PieceFate.PIECE: waits,
        PieceFate.PART: side.part,
        PieceFate.BLANK: f"{side.part}, blank",
        PieceFate.WAITS: f"{side.part}, oversize",
        PieceFate.KEEPER: f"to{BLANK}label",
        PieceFate.WASTE: "waste",
    }
    return f"{words.side_name(record.stroke, side)} {ends[side.end]}".strip()
