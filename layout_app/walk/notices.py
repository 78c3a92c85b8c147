"""What is said before a cut, the same on the page and spoken: what to do, the figure, the rest."""

from dataclasses import dataclass
from typing import Final

from layout_app.document.ticks import all_of
from layout_app.walk.moments import Before, CheckSheet, RailChange, SetUp, TurnOver
from shared.drawing.words import sheet_title
from shared.lengths import LengthStyle
from shared.making.record import CutRecord, Way
from shared.making.settings import Device
from shared.telling import words

SET_UP: Final = "Change the set-up"
LOST: Final = "It came off with the rail: set it again."
LOST_GUIDE: Final = "It came off for the straightedge: set it again."


@dataclass(frozen=True, slots=True, kw_only=True)
class Notice:
    """A page before a cut: what it is about, what to do, the figure in large type, more lines.

    ``dangers`` are lines of what can hurt.
    """

    title: str
    lines: tuple[str, ...]
    lead: str = ""
    figure: str = ""
    dangers: tuple[str, ...] = ()

    @property
    def spoken(self) -> str:
        """All of it in sentences."""
        dangers = (f"Danger: {one}" for one in self.dangers)
        said = (self.title, f"{self.lead} {self.figure}".strip(), *self.lines, *dangers)
        return " ".join(one if one.endswith(".") else f"{one}." for one in said if one)


def notice(moment: Before, style: LengthStyle) -> Notice:
    """Return what a moment before a cut says."""
    if isinstance(moment, CheckSheet):
        return _check(moment, style)
    if isinstance(moment, TurnOver):
        return _turn_over(moment)
    if isinstance(moment, RailChange):
        return _rail_change(moment, style)
    return _set_up(moment, style)


def _check(moment: CheckSheet, style: LengthStyle) -> Notice:
    told, sheet = moment.card.told, moment.card.record.stroke.sheet
    size = sheet.length, sheet.width
    which = sheet_title(sheet.name, sheet.material, size, sheet.grain, style)
    lies = f"Lay it {told.face}." if told.record.mirrored else ""
    lines = (f"{which}.", lies, *told.sheet_check)
    return Notice(title=f"Check sheet {told.sheet}", lines=tuple(filter(None, lines)))


def _turn_over(moment: TurnOver) -> Notice:
    told = moment.card.told
    return Notice(
        title="Turn the piece over",
        lead="Turn over",
        figure=words.piece_name(told.stroke, told.piece),
        lines=(told.turn, told.before),
        dangers=tuple(one.sentence for one in told.dangers if one.code in LIFTING),
    )


LIFTING: Final = frozenset({"heavy", "turn", "turned-over"})
"""Cautions that hold when a piece is turned, before it is sawn."""


def _rail_change(moment: RailChange, style: LengthStyle) -> Notice:
    laid, what = moment.card.record.rail, words.leader(moment.card.record)
    assert laid is not None
    before, many = moment.before, laid.rail.joined
    if laid.parted or _were_joined(moment.card.record):
        lead = f"Part the {what}s, and lay"
    elif many > (1 if before is None else before.joined):
        lead = f"Join the {what}s, and lay"
    elif before is None:
        lead = "Lay"
    else:
        lead = f"Instead of the {words.rail(before, style, what)}, lay"
    return Notice(
        title=f"{'Lay' if before is None else 'Change'} the {what}",
        lead=lead,
        figure=words.rail(laid.rail, style, what),
        lines=(f"for {all_of([moment.card.number])}, {moment.card.told.long}",),
    )


def _were_joined(record: CutRecord) -> bool:
    """Say whether the rail is one of those that were joined to check the sheet."""
    laid, check = record.rail, record.sheet_check
    if laid is None or check is None or check.rail is None or not laid.fetched:
        return False
    needs = check.rail.joined + laid.rail.joined
    same = check.rail.length == laid.rail.length
    return check.rail.joined > laid.rail.joined and same and needs > laid.rail.count


def _set_up(moment: SetUp, style: LengthStyle) -> Notice:
    setting, record = moment.setting, moment.card.record
    measure = filter(None, (moment.card.told.measure,))
    came_off = LOST_GUIDE if record.way is Way.EDGE_GUIDE else LOST
    lost = (came_off,) if record.again and setting.device is not Device.FENCE else ()
    return Notice(
        title=SET_UP,
        lead=f"Set the {setting.device} to",
        figure=words.written(setting.size, style),
        lines=(setting.tool, f"for {all_of(moment.numbers)}", *lost, *measure),
    )
