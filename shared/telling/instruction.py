"""One instruction a cut: all a person at the sawhorses needs to know of it."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import partial
from typing import TypeAlias

from shared.lengths import Length, LengthStyle
from shared.making.entry import led_on
from shared.making.outcome import Side
from shared.making.record import Bed, CutRecord, OfRecord
from shared.making.recording import shops_of
from shared.plan import Keep, Plan
from shared.shop import Shop
from shared.telling import words
from shared.telling.minding import Case, Caution, cautions_of
from shared.telling.recorded import RecordRefusedError, recorded
from shared.telling.squareness import sheet_words, square_words
from shared.telling.supporting import support_words
from shared.weighing import format_weight


@dataclass(frozen=True, slots=True, kw_only=True)
class Instruction(OfRecord):
    """What one cut says, each line found from its record alone.

    What is text is written in the maker's units, rounded once, ``shy`` or ``strong`` of the mark;
    ``""`` where there is nothing to say.

    Attributes
    ----------
    record
        How the cut is made, in figures.
    title
        Such as ``Rip 1b2 → 1b2a Partition``, or ``Trim sheet 1, reference edge``.
    sheet_check
        What is checked at the sheet before its first cut, a sentence each.
    before
        The piece before the cut, its size, and the cut that it comes from.
    turn
        That it is turned over before the cut.
    set_line, measure
        What is set or marked, or that it is set already; after a set-up for several cuts,
        that the first piece is measured.
    size, position
        The bare size that is set or marked; where the line lies on the whole sheet, if that is
        another figure: for tables, since it cannot be measured once a strip is sawn off.
    square, checks
        What the cut is square to, and with what; sizes to measure after it.
    keep
        Which side is kept.
    bed, led, reach
        What the rail or straightedge lies on and where its edge is; which one, or which saw; how
        far it stands free at both ends.
    long, enter
        Length of the cut; where the saw enters and which way it is pushed.
    face, guard
        Which face is up; what keeps a show face from splintering.
    support, weight
        What the piece lies on; what it weighs, ``""`` when the density is not known.
    makes, left
        What the cut makes on the keep side, and what is left on the other.
    cautions
        Those of this very cut, the heaviest first.
    """

    record: CutRecord
    title: str
    sheet_check: tuple[str, ...]
    before: str
    turn: str
    set_line: str
    measure: str
    size: str
    position: str
    square: str
    checks: tuple[str, ...]
    keep: str
    bed: str
    led: str
    reach: str
    long: str
    enter: str
    face: str
    guard: str
    support: str
    weight: str
    makes: str
    left: str
    cautions: tuple[Caution, ...]

    @property
    def number(self) -> int:
        """Of the cut."""
        return self.record.number

    @property
    def kind(self) -> str:
        """What the cut is for, in words."""
        return words.KINDS[self.record.kind]

    @property
    def sheet(self) -> str:
        """The sheet it is of."""
        return self.record.stroke.sheet.id

    @property
    def piece(self) -> str:
        """Name of the piece before the cut."""
        return self.record.stroke.cut.piece

    @property
    def tool(self) -> str:
        """The saw."""
        return self.record.stroke.cut.tool

    @property
    def length(self) -> Length:
        """Of the cut, in ticks."""
        return self.record.length

    @property
    def near(self) -> Side:
        """What the side towards the reference edge or end becomes."""
        if self.record.stroke.cut.keep is Keep.NEAR:
            return self.record.makes
        assert self.record.left is not None  # the waste of a trim
        return self.record.left

    @property
    def far(self) -> Side | None:
        """What the other side becomes; ``None`` when nothing is left there."""
        return self.record.left if self.record.stroke.cut.keep is Keep.NEAR else self.record.makes

    @property
    def dangers(self) -> tuple[Caution, ...]:
        """The cautions of what can kick, tip, fall, pinch or be breathed in."""
        return tuple(caution for caution in self.cautions if caution.danger)

    @property
    def handling(self) -> tuple[Caution, ...]:
        """The cautions of how the piece and the work are handled well."""
        return tuple(caution for caution in self.cautions if not caution.danger)

    @property
    def rail_side(self) -> Keep | None:
        """The side of the kerf the rail lies on; ``None`` where none is laid."""
        bed = self.record.bed
        return None if bed is Bed.NONE else led_on(self.stroke, bed)

    @property
    def lines(self) -> tuple[tuple[str, str], ...]:
        """What is said, each with its heading, in the order in which it is needed."""
        found = (
            ("sheet", " ".join(self.sheet_check)),
            ("turn over", self.turn),
            ("piece", self.before),
            ("face", self.face),
            ("lies on", self.support),
            ("weight", self.weight),
            ("set", self.set_line),
            ("square", self.square),
            ("keep", self.keep),
            (str(self.record.way), self.bed),
            ("saw", self.led),
            ("reach", self.reach),
            ("splinters", self.guard),
            ("cut", self.long),
            ("saw in", self.enter),
            ("makes", self.makes),
            ("left", self.left),
            ("measure", "; ".join((*filter(None, (self.measure.rstrip("."),)), *self.checks))),
        )
        return tuple((heading, _behind(heading, said)) for heading, said in found if said)

    @property
    def spoken(self) -> str:
        """All of it in sentences, for a screen reader: dangers first, handling last."""
        sheet = f"sheet {self.sheet}"
        of = "" if sheet in self.title else f" of {sheet}"
        said = [f"Cut {self.number}, {self.title}{of}"]
        said += [f"Danger: {caution.sentence}" for caution in self.dangers]
        said += [_sentence(heading, words) for heading, words in self.lines]
        said += [f"Handling: {caution.sentence}" for caution in self.handling]
        whole = " ".join(one if one.endswith(".") else f"{one}." for one in said)
        return whole.replace(" x ", " by ").replace(" \N{RIGHTWARDS ARROW} ", " to ")


def instructions(plan: Plan, shop: Shop, style: LengthStyle) -> tuple[Instruction, ...]:
    """Return the instruction of every cut of a plan; see `instructions_of`."""
    return instructions_of((plan,), shop, style)


def instructions_of(
    plans: Sequence[Plan], shop: Shop, style: LengthStyle
) -> tuple[Instruction, ...]:
    """Return the instruction of every cut, in sawing order.

    Parameters
    ----------
    plans
        Accepted by the simulated saw, in the order in which they are sawn: each goes on
        numbering, and what is set keeps its name from one to the next.
    shop
        Its rails, guide and limits; what it does not limit is not spoken of. What was sawn before
        the last plan is told as it was sawn, with its own shop.
    style
        How lengths are written, and whether weights are in pounds or kilograms.
    """
    return tuple(one.told for one in untold(plans, shop, style))


def _behind(heading: str, said: str) -> str:
    """Return what is said without the word that stands before it already as its heading."""
    return said[len(heading) + 1 :] if said.lower().startswith(f"{heading} ") else said


def _sentence(heading: str, said: str) -> str:
    """Return a line as it is spoken: with its heading, unless it begins as a sentence does."""
    if said[:1].isupper():
        return said
    return f"E{said[1:]}" if said.startswith("enter ") else f"{heading.capitalize()} {said}"


Tell: TypeAlias = Callable[[CutRecord], Instruction]


class Untold(OfRecord):
    """A cut's record; the words for it are found when they are asked for."""

    __slots__ = ("_tell", "_told", "record")

    def __init__(self, record: CutRecord, tell: Tell) -> None:
        self.record = record
        self._tell = tell
        self._told: Instruction | None = None

    @property
    def told(self) -> Instruction:
        """All there is to say of the cut."""
        if self._told is None:
            self._told = self._tell(self.record)
        return self._told


def untold(plans: Sequence[Plan], shop: Shop, style: LengthStyle) -> tuple[Untold, ...]:
    """Return every cut, in sawing order, before its words are found; as `instructions_of`."""
    found = recorded(plans, shop)
    if found.refused is not None:
        raise RecordRefusedError(found.refused.sentence)
    tells = [
        partial(_tell, shop=its_shop, style=style)
        for plan, its_shop in zip(plans, shops_of(plans, shop), strict=True)
        for _ in plan.cuts
    ]
    return tuple(Untold(record, tell) for record, tell in zip(found.records, tells, strict=True))


def _tell(record: CutRecord, shop: Shop, style: LengthStyle) -> Instruction:
    heavy = record.grams
    return Instruction(
        record=record,
        title=words.title_words(record),
        sheet_check=sheet_words(record, shop, style),
        before=words.before_words(record, style),
        turn=words.turn_words(record),
        set_line=words.set_words(record, style),
        measure=words.MEASURE_ONE if record.proves else "",
        size=words.written(record.size, style),
        position=words.position_words(record, style),
        square=square_words(record, shop, style),
        checks=tuple(words.check_words(record, check, style) for check in record.checks),
        keep=words.keep_words(record),
        bed=words.bed_words(record, style),
        led=words.led_words(record, style, several=shop.table is not None),
        reach=words.reach_words(record, style),
        long=words.long_words(record, style),
        enter=words.enter_words(record),
        face=words.face_words(record),
        guard=words.guard_words(record),
        support=support_words(record),
        weight=format_weight(heavy, style.unit) if heavy else "",
        makes=words.makes_words(record, style),
        left=words.left_words(record, style),
        cautions=cautions_of(Case(record=record, shop=shop, style=style)),
    )
