"""Cautions that apply to one very cut, each only where its rule is hit, with its reason.

What holds at every cut stands in `shared.cautions`. The rules are common practice or
from the documents named beside them; the limits are the maker's own, from the shop.
"""

import re
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final

from shared.lengths import METRE, MM, Length, LengthStyle, format_length, with_unit
from shared.making.devices import within
from shared.making.record import Bed, CutRecord
from shared.making.settings import Device, Setting
from shared.making.strokes import Stroke
from shared.plan import CutKind
from shared.shop import Shop
from shared.stock import SheetGrain
from shared.telling.words import size_words
from shared.weighing import DENSITIES, format_weight

PRACTICE: Final = "common practice"
MANUALS: Final = "saw manuals"

THIN_TRIM: Final[Length] = 2 * MM
"""A trim takes at least the kerf and this much more (common practice)."""
SLENDER: Final = 15
"""A strip so many times longer than wide is apt to twist; our reading of the manuals."""
LOPSIDED: Final = 4
"""A rail hangs over so many times the cut before it is spoken of: four fifths of it."""
FIBREBOARD: Final = 720
"""Grainless board from this density on, in kg/m3, is taken for MDF (published: 769)."""

_MDF = re.compile(r"\bmdf\b|fib(er|re)\s?board", re.IGNORECASE)


@dataclass(frozen=True, slots=True, kw_only=True)
class Caution:
    """What to mind at a cut, what to do about it, and where that comes from.

    Attributes
    ----------
    sentence
        All of it, with the figures of this cut.
    short
        A few words with these figures, for who has read the rule.
    rule
        The same of every cut it applies to; ``""`` if the sentence has no figures of one cut.
        Rule and short words together say all that the sentence says.
    """

    code: str
    sentence: str
    short: str
    rule: str = ""
    source: str = PRACTICE
    danger: bool = True
    """Whether something can kick, tip, fall or pinch; else it is a matter of handling."""

    @property
    def full(self) -> str:
        """What holds wherever it applies, in full."""
        return self.rule or self.sentence


@dataclass(frozen=True, slots=True, kw_only=True)
class Case:
    """All that the rules look at: the record of the cut, and the shop."""

    record: CutRecord
    shop: Shop
    style: LengthStyle

    @property
    def stroke(self) -> Stroke:
        """The cut laid over its piece."""
        return self.record.stroke

    @property
    def setting(self) -> Setting:
        """What is set for it."""
        return self.record.setting

    @property
    def grams(self) -> int:
        """Weight of the piece before the cut."""
        return self.record.grams

    def about(self, ticks: Length) -> str:
        """Write a limit, or what is left of one, with its unit."""
        return with_unit(format_length(ticks, self.style), self.style)

    def size(self, ticks: Length) -> str:
        """Write a size with its remainder and unit."""
        return size_words(ticks, self.style)


def cautions_of(case: Case) -> tuple[Caution, ...]:
    """Return what is to be minded at a cut, the heaviest first."""
    found: list[Caution] = []
    for rule in (_heavy, _small, _rail, _bed, _blade, _setting, _table, _twist, _dust):
        found.extend(rule(case))
    return tuple(found)


def _heavy(case: Case) -> Iterator[Caution]:
    limit = case.shop.lift_g
    if not 0 < limit < case.grams:
        return
    weighs, alone = (format_weight(grams, case.style.unit) for grams in (case.grams, limit))
    yield Caution(
        code="heavy",
        sentence=f"Piece {case.stroke.cut.piece} weighs {weighs}, and you lift {alone} alone:"
        " get help, or saw it where it lies.",
        short=f"get help, piece {case.stroke.cut.piece} weighs {weighs}",
        rule=f"Heavy piece, and you lift {alone} alone: get help, or saw it where it lies.",
        source="the limit is yours; NIOSH names 23 kg (51 lb) for the best case",
    )


def _small(case: Case) -> Iterator[Caution]:
    longer = max(case.stroke.piece.length, case.stroke.piece.width)
    if longer < case.shop.hold:
        yield Caution(
            code="small",
            sentence=f"Small piece, {case.about(longer)} at its longest:"
            " clamp it, do not hold it by hand.",
            short=f"clamp it, {case.about(longer)} at its longest",
            rule="Small piece, short at its longest: clamp it, do not hold it by hand.",
        )


def _rail(case: Case) -> Iterator[Caution]:
    laid = case.record.rail
    if laid is None:
        return
    over = laid.run_up + laid.run_out
    if laid.rail.joined > 1:
        yield Caution(
            code="joined",
            sentence="Joined rails: lay a straightedge along them;"
            " a kink at the joint shows on the edge.",
            short="a straightedge along the rails",
        )
    if over < 0:
        yield Caution(
            code="no-rail",
            sentence=f"No rail reaches: the longest is {case.about(-over)} shorter than the cut.",
            short=f"no rail reaches, {case.about(-over)} shorter",
            rule="No rail reaches: the longest is shorter than the cut.",
        )
    elif not laid.enough:
        yield Caution(
            code="overhang",
            sentence=f"The rail is only {case.about(over)} longer than the cut: it starts with"
            " the saw hanging off the end. Hold its base flat on the rail until all of it rests.",
            short=f"hold base flat, rail {case.about(over)} over",
            rule="The rail is only a little longer than the cut: it starts with the saw hanging off"
            " the end. Hold its base flat on the rail until all of it rests.",
            source="guide-rail manuals",
        )
    elif over > LOPSIDED * case.stroke.long:
        yield Caution(
            code="long-rail",
            sentence=f"The rail is {case.about(over)} longer than the cut:"
            " rest its free end at the same height, or it tips.",
            short=f"prop the rail, {case.about(over)} over",
            rule="The rail is much longer than the cut:"
            " rest its free end at the same height, or it tips.",
        )


def _bed(case: Case) -> Iterator[Caution]:
    stroke, bed = case.stroke, case.record.bed
    if bed not in {Bed.WASTE, Bed.PACKED} or stroke.kept >= case.shop.carry:
        return
    kept, carry = case.about(stroke.kept), case.about(case.shop.carry)
    if bed is Bed.WASTE:
        what = "lay the rail on the other side"
    else:
        thick = case.about(stroke.sheet.thickness)
        what = f"pack behind the piece with scrap {thick} thick"
    yield Caution(
        code="narrow",
        sentence=f"Only {kept} wide, less than the {carry} that carry the rail: {what}.",
        short=f"only {kept} wide, see rail",
        rule=f"What is kept is less wide than the {carry} that carry the rail: {what}.",
    )


def _blade(case: Case) -> Iterator[Caution]:
    stroke = case.stroke
    if stroke.is_trim and stroke.cut.size < stroke.cut.kerf + THIN_TRIM:
        yield Caution(
            code="thin-trim",
            sentence=f"The trim takes only {case.size(stroke.cut.size)}:"
            " the blade rides half in air, so lead the saw slowly.",
            short=f"lead slowly, trim of {case.size(stroke.cut.size)}",
            rule="The trim takes only little: the blade rides half in air, so lead the saw slowly.",
        )
    if stroke.is_skim:
        yield _skim(case)


def _skim(case: Case) -> Caution:
    stroke = case.stroke
    skim = "Skim: the blade rides half in air, so lead the saw slowly."
    if stroke.cut.kind is CutKind.FINISH:
        return Caution(code="skim", sentence=skim, short="skim: lead slowly")
    left, uncut = case.size(stroke.dust), case.size(stroke.cut.size + stroke.dust)
    instead = f"{stroke.cut.off} is then {left} wider, {uncut}"
    return Caution(
        code="skim",
        sentence=f"{skim} Or leave it uncut: {instead}.",
        short=f"skim: lead slowly. Or leave it uncut: {instead}",
        rule=skim,
    )


def _setting(case: Case) -> Iterator[Caution]:
    device, size, shop, table = case.setting.device, case.setting.size, case.shop, case.shop.table
    if device is Device.BOTH_ENDS and shop.guide is not None:
        least, most = case.about(shop.guide.least), case.about(shop.guide.most)
        yield Caution(
            code="unguided",
            sentence=f"The guide goes from {least} to {most}: measure this size at both ends.",
            short="measure at both ends",
        )
    if device is Device.FENCE and table is not None and not within(size, table.fence):
        least, most = case.about(table.fence.least), case.about(table.fence.most)
        yield Caution(
            code="fence",
            sentence=f"The fence goes from {least} to {most}:"
            " this size wants a sled or a stop of its own.",
            short="a sled or a stop of its own",
        )


def _table(case: Case) -> Iterator[Caution]:
    if case.stroke.at_table(case.shop):
        yield Caution(
            code="table",
            sentence="Table saw: riving knife on, hands 150 mm (6 in) from the blade,"
            " and nothing that holds what is sawn off against it.",
            short="riving knife on, hands well away",
        )


def _twist(case: Case) -> Iterator[Caution]:
    stroke = case.stroke
    sides = [side for side in (stroke.kept, stroke.other) if side]
    if stroke.is_trim or stroke.long < METRE or min(sides) * SLENDER > stroke.long:
        return
    yield Caution(
        code="twist",
        sentence="A long narrow strip may twist and close the kerf on the blade:"
        " support it to its end, and wedge the kerf open behind the saw.",
        short="support to its end, wedge kerf",
        source=MANUALS,
    )


def _dust(case: Case) -> Iterator[Caution]:
    if is_mdf(case.stroke.sheet.material, case.stroke.sheet.density, case.stroke.sheet.grain):
        yield Caution(
            code="dust",
            sentence="MDF gives the finest dust: extract it at the saw, and wear a rated mask.",
            short="extract the dust, wear a mask",
            source="NIOSH and IARC on wood dust",
        )


def is_mdf(material: str, density: int, grain: SheetGrain) -> bool:
    """Say whether a material is MDF by its name, or by its density in kg/m3 and lack of grain."""
    heavy = FIBREBOARD <= density <= DENSITIES["MDF"] + 100
    return bool(_MDF.search(material)) or (heavy and grain is SheetGrain.NONE)
