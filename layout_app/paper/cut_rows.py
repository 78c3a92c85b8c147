"""The record of a cut as one row of a table: all its figures, and its words for who reads it.

Lengths are exact millimetres, weights whole grams; yes and no, names of sides, edges, devices
and rules as `shared.making` has them. What does not apply is empty.
"""

from collections.abc import Iterator
from typing import TypeAlias

from layout_app.paper.millimetres import mm
from shared.lengths import Length
from shared.making.outcome import Side
from shared.making.record import CutRecord
from shared.plan import Keep
from shared.telling import Instruction


class Figure(str):
    """A number that is written already; no guard."""

    __slots__ = ()


Cell: TypeAlias = str | int
Pairs: TypeAlias = Iterator[tuple[str, Cell]]


def millimetres(ticks: Length) -> Figure:
    """Return a length in mm, exact, with a decimal point."""
    return Figure(mm(ticks))


def cut_row(told: Instruction) -> dict[str, Cell]:
    """Return the cells of a cut by their headings, in order; each cut has the same headings."""
    return {
        **dict(_words(told)),
        **dict(_piece(told.record)),
        **dict(_side("Makes", told.record.makes)),
        **dict(_side("Left", told.record.left)),
        **dict(_set(told.record)),
        **dict(_laid(told.record)),
        **dict(_saw(told.record)),
    }


def _words(told: Instruction) -> Pairs:
    yield "Cut", told.number
    yield "Sheet", told.sheet
    yield "What", told.title
    yield "Check first", " ".join(told.sheet_check)
    yield "Set", told.set_line
    yield "Position", told.position
    yield "Square", told.square
    yield "Keep", told.keep
    yield "Rail", told.led
    yield "Rail lies", told.bed
    yield "Enter", told.enter
    yield "Face", told.face
    yield "On", told.support
    yield "Long", told.long
    yield "Makes", told.makes
    yield "Left", told.left
    yield "Measure after", "; ".join(filter(None, (told.measure, *told.checks)))
    yield "Danger", " ".join(caution.sentence for caution in told.dangers)
    yield "Handling", " ".join(caution.sentence for caution in told.handling)


def _piece(record: CutRecord) -> Pairs:
    cut, piece = record.stroke.cut, record.stroke.piece
    yield "Kind", record.kind.value
    yield "Level", cut.level
    yield "Piece", cut.piece
    yield "Piece from cut", record.since or ""
    yield "Piece x mm", millimetres(piece.x)
    yield "Piece y mm", millimetres(piece.y)
    yield "Piece L mm", millimetres(piece.length)
    yield "Piece W mm", millimetres(piece.width)
    yield "Piece g", record.grams or ""
    yield "Moved", record.moved.value
    checked = record.sheet_check
    rail = None if checked is None else checked.rail
    yield "Check with rail mm", "" if rail is None else millimetres(rail.length)
    yield "Check with joined", "" if rail is None else rail.joined
    yield "Straight edge first", "" if checked is None else yes(checked.straight_first)
    yield "Bow mm", "" if checked is None else millimetres(checked.bow)
    yield "Diagonals differ mm", "" if checked is None else millimetres(checked.absorbs)


def _side(heading: str, side: Side | None) -> Pairs:
    there = None if side is None or not side.rect.area else side
    yield f"{heading} name", "" if there is None else there.name
    yield f"{heading} L mm", "" if there is None else millimetres(there.rect.length)
    yield f"{heading} W mm", "" if there is None else millimetres(there.rect.width)
    yield f"{heading} becomes", "" if there is None else there.end.value
    yield f"{heading} part", "" if there is None else there.part
    yield f"{heading} next cut", "" if there is None or not there.next_cut else there.next_cut


def _set(record: CutRecord) -> Pairs:
    squared = record.squared
    yield "Keep side", "V side" if record.stroke.cut.keep is Keep.NEAR else "far side"
    yield "Set by", record.setting.device.value
    yield "Set-up", record.setting.name
    yield "Set mm", millimetres(record.size)
    yield "Set anew", yes(record.anew)
    yield "Lost with the rail", yes(record.again)
    yield "Measure first", yes(record.proves)
    yield "Position mm", "" if record.position is None else millimetres(record.position)
    yield "Square to", "" if squared is None else squared.edge.value
    yield "Squared by", "" if squared is None else squared.by.value
    yield "Check piece", "; ".join(check.side.name for check in record.checks)
    yield "Check mm", "; ".join(mm(check.size) for check in record.checks)


def _laid(record: CutRecord) -> Pairs:
    laid = record.rail
    yield "Led by", record.way.value
    yield "Laid on", record.bed.value
    yield "Rail width mm", "" if laid is None else millimetres(laid.width)
    yield "Rail mm", "" if laid is None else millimetres(laid.rail.length)
    yield "Rails joined", "" if laid is None else laid.rail.joined
    yield "Rail changed", "" if laid is None else yes(laid.change)
    yield "Rail laid first", "" if laid is None else yes(laid.fetched)
    yield "Rails joined first", "" if laid is None else yes(laid.joins)
    yield "Rails parted", "" if laid is None else yes(laid.parted)
    yield "Rail edge mm", "" if laid is None else millimetres(laid.edge_at)
    yield "Run-up mm", "" if laid is None else millimetres(laid.run_up)
    yield "Run-out mm", "" if laid is None else millimetres(laid.run_out)
    yield "Rail reaches", "" if laid is None else yes(laid.enough)


def _saw(record: CutRecord) -> Pairs:
    cut, dust = record.stroke.cut, record.stroke.cut.rect
    yield "Saw", cut.tool
    yield "Kerf mm", millimetres(cut.kerf)
    yield "Long mm", millimetres(record.length)
    yield "Dust x mm", millimetres(dust.x)
    yield "Dust y mm", millimetres(dust.y)
    yield "Dust L mm", millimetres(dust.length)
    yield "Dust W mm", millimetres(dust.width)
    yield "Enter at", record.enters.value
    yield "Face up", record.up.value
    yield "Face matters", yes(record.face_matters)
    yield "Turned over", yes(record.turn_over)
    yield "Mirrored", yes(record.mirrored)
    yield "Guards", "; ".join(guard.value for guard in record.guards)
    yield "Support", record.support.value
    borne = record.bearers
    yield "Bearers keep mm", "" if borne is None else "; ".join(map(mm, borne.keep))
    yield "Bearers other mm", "" if borne is None else "; ".join(map(mm, borne.other))
    yield "Rules", "; ".join(record.hazards)


def yes(what: bool) -> str:
    """Say yes or no."""
    return "yes" if what else "no"
