"""The columns of the table of cuts: heading, a sample of the widest usual text, what is said."""

from collections.abc import Callable
from dataclasses import dataclass
from typing import Final

from layout_app.panels.cards import Card
from shared.telling import Instruction


@dataclass(frozen=True, slots=True)
class Column:
    """One column; the sample is for its width."""

    heading: str
    sample: str
    said: Callable[[Instruction], str]


def _sentences(told: Instruction, *, danger: bool) -> str:
    found = told.dangers if danger else told.handling
    return " ".join(caution.sentence for caution in found)


COLUMNS: Final = (
    Column("no.", "000", lambda told: str(told.number)),
    Column("cut", "Crosscut 1a1a1 → 1a1a1a Case bottom", lambda told: told.title),
    Column("sheet", "sheet", lambda told: told.sheet),
    Column("set", "Guide 34 19/32, as before", lambda told: told.set_line),
    Column("position", "34 19/32 from reference edge", lambda told: told.position),
    Column("makes", "1a1a1, 34 19/32 x 17 11/16: Case top, bottom 12", lambda told: told.makes),
    Column("left", "1a1, 34 19/32 x 17 11/16: on the stack for cut 100", lambda told: told.left),
    Column(
        "danger",
        "No rail reaches: the longest is 12 1/4 in",
        lambda told: _sentences(told, danger=True),
    ),
    Column("keep", "Keep 1a1a1 (far side)", lambda told: told.keep),
    Column("rail", "change to 2 x 106 5/16 in rails joined", lambda told: told.led),
    Column("lies on", "rail on the waste side, one kerf past the line", lambda told: told.bed),
    Column(
        "square", "square to the reference edge with the 24 in square", lambda told: told.square
    ),
    Column("length of cut", "34 19/32 strong long", lambda told: told.long),
    Column("reach", "7 1/4 past the left end, 4 1/4 past the right", lambda told: told.reach),
    Column("enter", "enter at the reference edge, push to the far edge", lambda told: told.enter),
    Column(
        "turn over",
        "Turn 1a1 over, left end to right; show face down; pencil REF and LEFT again",
        lambda told: told.turn,
    ),
    Column("face", "show face down", lambda told: told.face),
    Column("splinters", "score the line with a knife, tape the line", lambda told: told.guard),
    Column(
        "support", "two bearers under sheet 1, beside the line and near", lambda told: told.support
    ),
    Column(
        "measure",
        "measure 1a1a: 34 19/32 wide, nothing was set",
        lambda told: "; ".join(told.checks),
    ),
    Column(
        "sheet check", "Lay the 106 5/16 in rail along it", lambda told: " ".join(told.sheet_check)
    ),
    Column("piece", "sheet 1, 95 3/4 x 47 3/4, from cut 100", lambda told: told.before),
    Column("weight", "100 kg", lambda told: told.weight),
    Column(
        "handling",
        "Measure both ends of the line, and mark",
        lambda told: _sentences(told, danger=False),
    ),
)
"""In the order in which a maker looks for them; the first column of all, the tick, has no words."""
HEADINGS: Final = ("made", *(column.heading for column in COLUMNS))
WIDE: Final = ("made", *(column.sample for column in COLUMNS))
"""Samples of the widest usual text, for the columns' widths."""


def fields(card: Card) -> tuple[str, ...]:
    """Return what each column says of a cut; the first, whether it is made, is a box to tick."""
    return tuple(column.said(card.told) for column in COLUMNS)
