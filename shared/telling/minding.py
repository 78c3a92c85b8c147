"""Cautions of one very cut, in words: each rule that its record names, with figures of the cut.

Which rules apply, how they are classed and why stands in `shared.making.hazards`; what holds
at every cut in `shared.cautions`. A sentence on a card has at most 15 words.
"""

from collections.abc import Callable
from dataclasses import dataclass
from typing import Final

from shared.lengths import Length, LengthStyle, format_length, with_unit
from shared.making.devices import within
from shared.making.hazard_rules import (
    narrow_bed,
    side_grams,
    too_heavy,
    too_small,
)
from shared.making.hazards import BY_CODE, PRACTICE, Sort
from shared.making.outcome import PieceFate, Side
from shared.making.record import Bed, CutRecord, OfRecord, Way
from shared.plan import CutKind
from shared.shop import Axis, Shop, Span
from shared.telling.words import leader, piece_name, roughly, size_words, thickness_words
from shared.weighing import format_weight

SUPPORT_ENDS: Final = "Support both rail ends with scrap of the same thickness."
"""Of a rail that is longer than what it lies on."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Caution:
    """What to mind at a cut, what to do about it, and where that comes from.

    Attributes
    ----------
    sentence
        All of it, with the figures of this cut.
    source
        Where it comes from.
    danger
        Whether something can kick, tip, fall, pinch or be thrown; else it is handling.
    """

    code: str
    sentence: str
    source: str = PRACTICE
    danger: bool = True


@dataclass(frozen=True, slots=True, kw_only=True)
class Case(OfRecord):
    """All that the words look at: the record of the cut, and the shop.

    Pieces are not ``named`` where one sentence is said of several cuts.
    """

    record: CutRecord
    shop: Shop
    style: LengthStyle
    named: bool = True

    @property
    def piece(self) -> str:
        """What the piece before the cut is called."""
        if not self.named:
            return "the piece"
        name = piece_name(self.stroke, self.stroke.cut.piece)
        return name if name != self.stroke.cut.piece else f"piece {name}"

    @property
    def subject(self) -> str:
        """The same at the head of a sentence."""
        return self.piece[0].upper() + self.piece[1:]

    def side(self, side: Side) -> str:
        """Return what one side of the cut is called."""
        if not self.named:
            return "what you keep" if side == self.record.makes else "what remains"
        return piece_name(self.stroke, side.name) or "the waste"

    @property
    def thick(self) -> str:
        """Thickness of the sheet, written as it is measured."""
        return thickness_words(self.stroke.sheet.thickness, self.style)

    def about(self, ticks: Length) -> str:
        """Write a limit, or what is left of one, with its unit."""
        return with_unit(format_length(ticks, self.style), self.style)

    def size(self, ticks: Length) -> str:
        """Write a size with its remainder and unit."""
        return size_words(ticks, self.style)

    def roughly(self, ticks: Length) -> str:
        """Write how far something stands free with its unit, never more than it does."""
        return self.about(roughly(ticks, self.style))

    def weight(self, grams: int) -> str:
        """Write a weight with its unit."""
        return format_weight(grams, self.style.unit)


def cautions_of(case: Case) -> tuple[Caution, ...]:
    """Return what is to be minded at a cut, the heaviest first."""
    return tuple(_caution(code, case) for code in case.record.hazards)


def _caution(code: str, case: Case) -> Caution:
    hazard = BY_CODE[code]
    return Caution(
        code=code,
        sentence=PLAIN[code] if code in PLAIN else SAYINGS[code](case),
        source=hazard.source,
        danger=hazard.sort is Sort.DANGER,
    )


def _over(case: Case) -> Length:
    laid = case.record.rail
    assert laid is not None  # the rules of rails ask for one
    return laid.run_up + laid.run_out


def _no_rail(case: Case) -> str:
    led, lacking = leader(case.record), case.about(-_over(case))
    missing = f"the longest is {lacking} shorter than the cut"
    return f"No {led} reaches: {missing}. Join or borrow a longer one."


def _packed(case: Case) -> str:
    led, bed = leader(case.record), f"Pack scrap {case.thick} thick beside it, on its own bearer"
    return f"Neither side carries the {led}. {bed}; clamp both."


def _free_rail(case: Case) -> str:
    record, (under, across) = case.record, (case.stroke.long, case.stroke.kept)
    if record.bed is Bed.WASTE:
        across = case.stroke.other
    rests = case.about(min(under, across) if narrow_bed(record, case.shop) else under)
    return f"The rail rests on only {rests} and tips. {SUPPORT_ENDS}"


def _long_rail(case: Case) -> str:
    laid = case.record.rail
    assert laid is not None
    free = case.roughly(max(laid.run_up, laid.run_out))
    do = "Set the saw on the rail at the piece, not at the rail's end."
    return f"{free} of the rail is free. {SUPPORT_ENDS} {do}"


def _overhang(case: Case) -> str:
    led, over = leader(case.record), case.about(_over(case))
    do = f"Hold the base flat on the {led} until all of it rests."
    if case.record.way is Way.STRAIGHTEDGE:
        do = "Hold the base against it where its end is near."
    return f"The {led} is only {over} longer than the cut. {do}"


def _joined(case: Case) -> str:
    return f"Joined {leader(case.record)}s: check the joint with a straight edge, a kink shows."


def _heavy(case: Case) -> str:
    weighs, limit = case.weight(case.record.grams), case.weight(case.shop.lift_g)
    do = "Get help to lift it on." if case.record.since else "Get help, or saw it where it lies."
    return f"{case.subject} weighs {weighs}; you can lift {limit}. {do}"


def _turn(case: Case) -> str:
    weighs = case.weight(case.record.grams)
    limit = case.weight(case.shop.turn_g or case.shop.lift_g)
    return f"{case.subject} weighs {weighs}; you can turn {limit}. Get help to turn it."


def _turn_heavy(case: Case) -> str:
    weighs = case.weight(case.record.grams)
    return f"{case.subject} weighs {weighs}: turn it with one end down, or get help."


def _carry_away(case: Case) -> str:
    side = too_heavy(case.record, case.shop)
    assert side is not None  # the rule found it
    what = case.side(side)
    weighs = case.weight(side_grams(case.record, side))
    limit = case.weight(case.shop.lift_g)
    what = what if what != side.name else f"piece {what}"
    said = f"{what[0].upper()}{what[1:]} weighs {weighs}; you can lift {limit}."
    if side.end is PieceFate.PIECE:
        return f"{said} Get help to set it aside, or lower one end at a time."
    return f"{said} Get help to carry it."


def _small(case: Case) -> str:
    longest = case.about(max(case.stroke.piece.length, case.stroke.piece.width))
    return f"Clamp the piece, {longest} at its longest; never hold it by hand."


def _small_side(case: Case) -> str:
    hold = case.about(case.shop.hold)
    names = [case.side(side) for side in too_small(case.record, case.shop)]
    if len(names) > 1 and not case.named:
        return f"After the cut both pieces are shorter than {hold}: clamp both."
    if len(names) > 1:
        return f"After the cut {' and '.join(names)} are shorter than {hold}: clamp both."
    return f"After the cut {names[0]} is shorter than {hold}: clamp it."


def _thin_trim(case: Case) -> str:
    size, do = case.size(case.stroke.cut.size), "only part of the kerf is wood, feed slowly."
    return f"Trim of {size}: {do}"


def _skim(case: Case) -> str:
    stroke, skim = case.stroke, "Skim: only part of the kerf is wood, feed slowly."
    if stroke.cut.kind is CutKind.FINISH:
        return skim
    left, uncut = case.size(stroke.dust), case.size(stroke.cut.size + stroke.dust)
    what = stroke.cut.off if case.named else "the piece"
    instead = f"{what} is then {left} wider, {uncut}"
    return f"{skim} Left uncut, {instead}."


def _unguided(case: Case) -> str:
    rips = case.stroke.axis is Axis.RIP
    name, span = ("guide", case.shop.guide) if rips else ("stop", case.shop.stop)
    why = f"So heavy a piece bends the {name}"
    if span is not None and not within(case.setting.size, span):
        why = f"Outside the {name}'s range, {_reach(case, span)}"
        if not span.least:
            why = f"The {name} reaches only {case.about(span.most)}"
    elif case.record.bed is not Bed.KEEP:
        why = f"The rail lies on the other side, where the {name} sizes nothing"
    elif case.setting.size < case.shop.rail_width:
        why = f"The rail covers the edge that the {name} is set from"
    elif rips:
        why = "The edge is too short for the guide to follow"
    elif not 0 < case.shop.lift_g < case.record.grams:
        why = "No square reaches over this line, and the stop needs one"
    return f"{why}: mark it."


def _reach(case: Case, span: Span) -> str:
    return f"{format_length(span.least, case.style)} to {case.about(span.most)}"


def _fence(case: Case) -> str:
    assert case.shop.table is not None  # the rule asks for a fence
    reach = _reach(case, case.shop.table.fence)
    return f"Outside the fence's range, {reach}: use a sled, never saw freehand."


def _push_stick(case: Case) -> str:
    size, long = (case.about(one) for one in (case.stroke.kept, case.stroke.long))
    return f"Use the push stick: {size} between fence and blade, {long} long."


def _narrow_keep(case: Case) -> str:
    kept, ends = case.about(case.stroke.kept), "ends" if case.stroke.axis is Axis.RIP else "edges"
    do = f"Measure the kept piece at both {ends}."
    return f"Only {kept} is kept, so the rail lies on the other side. {do}"


def _narrow_bed(case: Case) -> str:
    under = case.stroke.kept if case.record.bed is Bed.KEEP else case.stroke.other
    wide, do = case.about(under), f"Pack scrap {case.thick} thick beside it, away from the line."
    lies = " Lay the scrap on its own bearer, level with the others." if case.record.bearers else ""
    return f"Only {wide} lies under the {leader(case.record)}. {do}{lies}"


PLAIN: Final[dict[str, str]] = {
    "twist": "Long narrow strip: support it to its end, so the kerf cannot close.",
    "covered": "Too little of it shows outside the rail to hold: clamp rail and piece down.",
    "drops": "The waste strip drops: never catch it, and wait until the blade stands.",
    "sag": "Thin sheet: more bearers between these, so that nothing sags at the line.",
    "table-crosscut": "Use a sled or mitre gauge; the fence must end before the blade.",
    "table-short": "Shorter along the fence than wide: use a sled or mitre gauge.",
    "sliver": "A sliver can be thrown back: stand beside the line.",
    "table-large": "Too large for one at the table saw: get help, or a stand.",
    "table": (
        "Straight edge on the fence; riving knife, guard and push stick in place."
        " Hands 150 mm (6 in) from the blade. Let nothing hold what is cut free."
    ),
    "turned-over": "Turned over: left and right end have changed places, the V is on top.",
    "short-for-base": (
        "The cut is too short for base and clamps. Pack scrap of the same thickness at both"
        " sides. Clamp the straightedge to the scrap, and the scrap down."
    ),
    "straightedge": (
        "Clamp the straightedge to both edges of the piece, clear of the motor. Keep the base flat."
    ),
    "narrow-for-base": (
        "The base tips on so narrow a piece. Pack scrap of the same thickness past the waste,"
        " with a gap. Clamp one end, saw half, stop, and clamp the other."
    ),
    "base-off": (
        "Less than half the base rests on the piece: it tips. Pack scrap of the same thickness"
        " past the waste; leave a gap."
    ),
    "edge-guide": (
        "Clamp the piece, clear of the guide."
        " The cut copies the edge it follows: see that it is straight."
    ),
    "large-turn": "Large piece to turn: clear the floor, and keep it flat.",
    "dust": "MDF gives the finest dust: extract it, and wear a rated mask.",
}
"""What is said of the rules that have no figures, by code."""

SAYINGS: Final[dict[str, Callable[[Case], str]]] = {
    "no-rail": _no_rail,
    "packed": _packed,
    "free-rail": _free_rail,
    "overhang": _overhang,
    "small": _small,
    "small-side": _small_side,
    "fence": _fence,
    "push-stick": _push_stick,
    "heavy": _heavy,
    "turn": _turn,
    "turn-heavy": _turn_heavy,
    "carry-away": _carry_away,
    "narrow-keep": _narrow_keep,
    "long-rail": _long_rail,
    "narrow-bed": _narrow_bed,
    "joined": _joined,
    "unguided": _unguided,
    "thin-trim": _thin_trim,
    "skim": _skim,
}
"""What is said of the other rules of `shared.making.hazards`, by code."""
