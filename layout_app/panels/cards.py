"""What a cut card says: one for each cut, in sawing order, bracketed by set-up."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import groupby, islice
from typing import Final

from layout_app.model.project import Project
from shared.drawing.marks import axis_at
from shared.drawing.sheet import tints
from shared.job import Job
from shared.lengths import Length, LengthStyle
from shared.making.outcome import PieceFate, Side
from shared.making.settings import Device
from shared.plan import Keep, Plan
from shared.shop import Shop
from shared.telling import Instruction, Stroke, Untold, untold
from shared.tree import extent

NOTHING_ENTERED = "No cuts yet: enter parts and sheets, and the sequence appears here."
NONE_CHOSEN = "Select a cut first: Right goes to the first one."
NO_CUTS = "No cuts yet. If something stands in the way, it is said at the left."
NO_SHEET = "No cuts yet: no sheet lies on the bench. Lay one out, or put all parts back."
NO_PART = "No cuts yet: no part lies on a sheet."


def no_cuts(project: Project) -> str:
    """Say what there is to do where no card can be shown."""
    job, layout = project.job, project.layout
    if not (job.parts and job.stock):
        return NOTHING_ENTERED
    if not layout.sheets and any(one.sent for one in layout.waiting):
        return NO_SHEET
    if layout.sheets and not any(sheet.placements for sheet in layout.sheets):
        return NO_PART
    return NO_CUTS


NO_TINTS: Final[Mapping[Length, int]] = {}
"""Each plan numbers its rip widths anew."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Card:
    """Words and picture of one cut.

    Attributes
    ----------
    untold
        What is told of the cut when it is asked for; a card shows what fits on it.
    at_table
        Whether it is made at the table saw.
    label
        What is set and to what, in few words: the same for all cuts of one setting.
    tint
        Index of the tint of the strip it comes from.
    """

    untold: Untold
    at_table: bool
    label: str
    tint: int | None = None

    @property
    def told(self) -> Instruction:
        """All there is to say of the cut."""
        return self.untold.told

    @property
    def number(self) -> int:
        """Of the cut."""
        return self.untold.stroke.cut.number

    @property
    def set_words(self) -> str:
        """What the size is set at, such as ``G1 guide``."""
        setting = self.untold.setting
        device = "both ends" if setting.device is Device.BOTH_ENDS else setting.device
        return f"{setting.name} {device}".strip()

    @property
    def running(self) -> str:
        """Where the keep side lies from the trimmed reference edge or end, in words."""
        return self.told.position

    @property
    def long(self) -> str:
        """Length of the cut in words, and the saw where it is not the one on the rail."""
        return f"{self.told.long}, {self.told.stroke.cut.tool}" if self.at_table else self.told.long

    @property
    def keep_words(self) -> str:
        """Which side is kept; the V is drawn on the edge the size is measured from."""
        return f"keep the {'V' if self.told.stroke.cut.keep is Keep.NEAR else 'far'} side"

    @property
    def off(self) -> str:
        """What is sawn off, as short as can be."""
        return _off(self.told.near)

    @property
    def minds(self) -> int:
        """How many cautions apply to this very cut."""
        return len(self.told.cautions)


@dataclass(frozen=True, slots=True, kw_only=True)
class Bracket:
    """Consecutive cards made with one setting of guide, stop or fence."""

    label: str
    cards: tuple[Card, ...]


def brackets(cards: tuple[Card, ...]) -> tuple[Bracket, ...]:
    """Group consecutive cards of one setting, whatever the sheet."""
    groups = groupby(cards, key=lambda card: card.untold.setting)
    made = (tuple(group) for _, group in groups)
    return tuple(Bracket(label=group[0].label, cards=group) for group in made)


def cards_of(
    plans: Sequence[Plan],
    job: Job,
    stable: Mapping[Length, int] = NO_TINTS,
) -> tuple[Card, ...]:
    """Return the card of every cut, for the shop and the units of a job.

    Plans come in the order in which they are sawn: what was sawn before first. ``stable`` are
    the tints of rip widths that have one.
    """
    return tuple(_cards(plans, job.shop, job.style, stable))


def _cards(
    plans: Sequence[Plan],
    shop: Shop,
    style: LengthStyle,
    stable: Mapping[Length, int],
) -> Iterator[Card]:
    found = untold(plans, shop, style)
    tints = strip_tints(plans, [one.stroke for one in found], stable)
    labels = {one: one.label(style) for one in {each.setting for each in found}}
    for one in found:
        yield Card(
            untold=one,
            at_table=one.stroke.at_table(shop),
            label=labels[one.setting],
            tint=tints[one.stroke.cut.number],
        )


def strip_tints(
    plans: Sequence[Plan], found: Sequence[Stroke], stable: Mapping[Length, int] = NO_TINTS
) -> dict[int, int | None]:
    """Return the tint of what each cut saws off, by the cut's number.

    ``found`` are the cuts of all plans over their pieces, in sawing order.
    """
    ahead = iter(found)
    tints: dict[int, int | None] = {}
    for plan in plans:
        strips = _Strips(plan, stable)
        tints |= {one.cut.number: strips.tint(one) for one in islice(ahead, len(plan.cuts))}
    return tints


class _Strips:
    """Knows which strip every piece comes from, and so its tint."""

    def __init__(self, plan: Plan, stable: Mapping[Length, int]) -> None:
        self._tints = {width: stable.get(width, at) for width, at in tints(plan).items()}
        self._of: dict[str, int | None] = {}

    def tint(self, stroke: Stroke) -> int | None:
        """Return the tint of what a cut saws off."""
        cut = stroke.cut
        if cut.level == 1:
            found = None if stroke.is_trim else self._tints.get(cut.size)
        elif cut.piece in self._of:
            found = self._of[cut.piece]
        else:  # the last strip of an exactly filled sheet was never sawn off
            found = self._tints.get(extent(stroke.piece, axis_at(1, stroke.sheet)))
        if cut.off:
            self._of[cut.off] = found
        return found


def _off(near: Side) -> str:
    if not near.name:
        return "falls away: waste"
    ends = {
        PieceFate.PIECE: "",
        PieceFate.PART: near.part,
        PieceFate.BLANK: f"{near.part}, blank",
        PieceFate.WAITS: "left oversize",
        PieceFate.KEEPER: "keep",
        PieceFate.WASTE: "waste",
    }
    end = ends[near.end]
    return f"{near.name}: {end}" if end else f"sawn off: {near.name}"
