"""Facts of a cut in words without names of pieces, so that equal cuts say the same.

A fact that is the same at all cuts of a panel is said once for the panel; another stands in the
row, with the numbers of its cuts where not all cuts of the row share it. Where all that an
instruction holds goes on paper:

==================  ==============================================================
record, number      the box and number of each pass
title, kind         title of the row, and what each pass makes
sheet_check         bar before the panel: figures; how it is done on the reading page
before, weight      head of the panel
turn                bar before the panel
set_line, measure   bar before the row; or its first line, where nothing is set
size, position      in the set line; a position is for tables alone
square, enter       `square`, `enters` below
led, reach          `leads` below; a change of rail is a bar
long                the head's L or W, along which the cut runs; on the reading page
keep, bed           `keeps` below
face                head of the panel
guard               `guards` below
support             `bears` below; how bearers lie on the reading page
makes, left         `makes`, `remains` in `layout_app.paper.panels.becoming`
checks              `checks` in `layout_app.paper.panels.becoming`
cautions            dangers in full, handling in brief; explained by letter at the front
==================  ==============================================================
"""

from collections.abc import Callable
from dataclasses import dataclass
from typing import Final, TypeAlias

from shared.lengths import Length, LengthStyle
from shared.making.bearing import FALLS
from shared.making.record import Bed, CutRecord, Guard, Way
from shared.plan import Keep
from shared.shop import Shop
from shared.telling import Instruction, words
from shared.telling.squareness import square_in_brief


@dataclass(frozen=True, slots=True, kw_only=True)
class Told:
    """A cut with all that its facts are found from."""

    one: Instruction
    shop: Shop
    style: LengthStyle

    @property
    def record(self) -> CutRecord:
        """How the cut is made."""
        return self.one.record


Fact: TypeAlias = Callable[[Told], str]


def keeps(told: Told) -> str:
    """Say which side is kept, and what lies where; a rail on that side has its edge on the line."""
    side = "far side" if told.record.stroke.cut.keep is Keep.FAR else "V side"
    return f"keep the {side}, {_laid(told)}"


def _laid(told: Told) -> str:
    record = told.record
    if record.way in {Way.FENCE, Way.EDGE_GUIDE}:
        return told.one.bed
    on = "it" if record.bed is not Bed.WASTE else "the other"
    if record.way is Way.STRAIGHTEDGE and record.rail is not None:
        at, whence = words.clamped_at(record, record.rail)
        edge = words.written(at, told.style)
        return f"straightedge on {on}, its edge {edge} from the {whence}"
    if record.bed is Bed.WASTE:
        return "rail on the other, one kerf past the line"
    if record.bed is Bed.PACKED:
        thick = words.thickness_words(record.stroke.sheet.thickness, told.style)
        return f"rail on it and on scrap {thick} thick beside it"
    return "rail on it"


def square(told: Told) -> str:
    """Say what the cut is square to; ``""`` where nothing is squared."""
    return square_in_brief(told.record, told.shop, told.style)


def enters(told: Told) -> str:
    """Say where the saw enters, or which end of the piece goes first into the blade."""
    if told.record.way is Way.FENCE:
        return told.one.enter
    return f"enter at the {told.record.enters}"


def leads(told: Told) -> str:
    """Say which rail leads the saw, and how far it stands free if not at both ends alike.

    The saw is named too where there are several, or where nothing is laid.
    """
    record, saw = told.record, told.one.tool
    laid = record.rail
    if laid is None:
        return saw
    named = words.rail(laid.rail, told.style, words.leader(record))
    known = named if told.shop.table is None else f"{saw}, {named}"
    first, last = (words.free_words(one, told.style) for one in (laid.run_up, laid.run_out))
    if first == last:
        return known if laid.run_up >= 0 else f"{known}, {told.one.reach}"
    if (laid.run_up >= 0) is (laid.run_out >= 0):
        last = last.partition(" past")[0].partition(" short of")[0]
    return f"{known}, about {first} where you enter, {last} opposite"


def bears(told: Told) -> str:
    """Say how many bearers lie under the side that is kept and under the other, or what else.

    With none under the other side the waste drops.
    """
    record = told.record
    if record.way is Way.FENCE:
        return "stand behind the saw for what you keep, the other side free"
    if record.bearers is None:
        return f"{record.support} under both sides"
    stroke = record.stroke
    kept = _borne(record.bearers.keep, stroke.kept)
    if record.bearers.other:
        return f"bearers {kept} + {_borne(record.bearers.other, stroke.other)}"
    return f"bearers {kept} + 0" if stroke.other else f"bearers {kept}"


def _borne(at: tuple[Length, ...], wide: Length) -> str:
    return "a lath" if len(at) == 1 and wide < FALLS else str(len(at))


def guards(told: Told) -> str:
    """Say what keeps a show face whole; ``""`` where nothing has to."""
    said = {
        Guard.SCORE: _scored(told.record),
        Guard.TAPE: "tape the line",
        Guard.SPLINTER_GUARD: "fit the splinter guard",
    }
    return ", ".join(said[guard] for guard in told.record.guards)


def _scored(record: CutRecord) -> str:
    if record.way is not Way.RAIL:
        return "first score the show face on the line and one kerf past it"
    if record.bed is Bed.WASTE:
        return "first score the show face on the line"
    return "first score the show face one kerf past the line"


def changes(told: Told) -> str:
    """Say which rail or straightedge is laid before the cut; ``""`` for the one in hand."""
    laid, what = told.record.rail, words.leader(told.record)
    if laid is None or not (laid.change or laid.fetched):
        return ""
    named = words.rail(laid.rail, told.style, what)
    known = named if laid.rail.joined > 1 else f"the {named}"
    if laid.parted:
        return f"Part the {what}s, change to {known}"
    return f"Change to {known}" if laid.change else f"Lay {known}"


FACTS: Final[tuple[Fact, ...]] = (leads, square, enters, keeps, bears, guards)
"""What is said once for a panel where all its cuts say the same, else in the rows."""
SETUP: Final[tuple[Fact, ...]] = (leads, square, enters)
"""Those that a panel says for runs of its cuts, where they change between its rows."""
OWN_LINE: Final[tuple[Fact, ...]] = (guards,)
"""Those that have a line of their own in a row."""
