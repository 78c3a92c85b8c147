"""One instruction a cut: all a person at the sawhorses needs to know of it."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import TypeAlias

from shared.lengths import Length, LengthStyle
from shared.making.outcome import Side
from shared.making.record import Bed, CutRecord
from shared.making.recording import records
from shared.making.settings import Setting
from shared.making.strokes import Stroke
from shared.plan import Keep, Plan
from shared.shop import Shop
from shared.telling import words
from shared.telling.minding import Case, Caution, cautions_of
from shared.weighing import format_weight


@dataclass(frozen=True, slots=True, kw_only=True)
class Instruction:
    """What one cut says.

    Lengths are in ticks; what is text is written in the maker's units, rounded once, the
    remainder shown.

    Attributes
    ----------
    record
        How the cut is made, in figures.
    kind
        What the cut is for, in words.
    tool
        The saw, and the rail it runs on.
    set_to
        The setting's name and size.
    size, position
        What is set or marked; where the keep side lies from the trimmed reference edge or end,
        ``""`` where the cut is not laid out on the whole sheet.
    keep, bed, face, tear_out, support
        Keep side, where the rail lies (``""`` at the table saw), which face is up, where it
        splinters, what goes under it.
    long
        Length of the cut.
    weight
        Of the piece before the cut; ``""`` when the density is not known.
    makes, left
        What the cut makes on the keep side, and what is left on the other.
    cautions
        Those of this very cut.
    """

    record: CutRecord
    kind: str
    tool: str
    set_to: str
    size: str
    position: str
    keep: str
    bed: str
    face: str
    tear_out: str
    support: str
    long: str
    weight: str
    makes: str
    left: str
    cautions: tuple[Caution, ...]

    @property
    def number(self) -> int:
        """Of the cut."""
        return self.record.number

    @property
    def sheet(self) -> str:
        """The sheet it is of."""
        return self.record.stroke.sheet.id

    @property
    def piece(self) -> str:
        """Name of the piece before the cut."""
        return self.record.stroke.cut.piece

    @property
    def stroke(self) -> Stroke:
        """The cut laid over its piece."""
        return self.record.stroke

    @property
    def setting(self) -> Setting:
        """What is set, named once for the whole plan."""
        return self.record.setting

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
    def title(self) -> str:
        """Kind and piece, such as ``Rip 1a``."""
        return f"{self.kind} {self.piece}"

    @property
    def rail_side(self) -> Keep | None:
        """The side of the kerf the rail lies on; ``None`` at the table saw."""
        bed = self.record.bed
        if bed is Bed.NONE:
            return None
        keep = self.stroke.cut.keep
        turned = Keep.FAR if keep is Keep.NEAR else Keep.NEAR
        return turned if bed is Bed.WASTE else keep

    @property
    def lines(self) -> tuple[tuple[str, str], ...]:
        """What is said, each with its heading, in the order in which it is needed."""
        found = (
            ("saw", self.tool),
            ("set", self.set_to),
            ("position", self.position),
            ("keep", self.keep),
            ("cut", self.long),
            ("rail", self.bed),
            ("show face", self.face),
            ("tear-out", self.tear_out),
            ("support", self.support),
            ("weight", self.weight),
            ("makes", self.makes),
            ("left", self.left),
        )
        return tuple((heading, said) for heading, said in found if said)

    @property
    def spoken(self) -> str:
        """All of it in sentences, for a screen reader."""
        said = [f"{heading} {words}" for heading, words in self.lines]
        minded = [f"Mind: {caution.sentence}" for caution in self.cautions]
        return f"Cut {self.number}, {self.title} of sheet {self.sheet}, {', '.join(said)}." + (
            " " + " ".join(minded) if minded else ""
        )


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
        Its rails, guide and limits; what it does not limit is not spoken of.
    style
        How lengths are written, and whether weights are in pounds or kilograms.
    """
    return tuple(one.told for one in untold(plans, shop, style))


Tell: TypeAlias = Callable[[CutRecord], Instruction]


class Untold:
    """A cut's record; the words for it are found when they are asked for."""

    __slots__ = ("_tell", "_told", "record")

    def __init__(self, record: CutRecord, tell: Tell) -> None:
        self.record = record
        self._tell = tell
        self._told: Instruction | None = None

    @property
    def stroke(self) -> Stroke:
        """The cut laid over its piece."""
        return self.record.stroke

    @property
    def setting(self) -> Setting:
        """What is set for it."""
        return self.record.setting

    @property
    def told(self) -> Instruction:
        """All there is to say of the cut."""
        if self._told is None:
            self._told = self._tell(self.record)
        return self._told


def untold(plans: Sequence[Plan], shop: Shop, style: LengthStyle) -> tuple[Untold, ...]:
    """Return every cut, in sawing order, before its words are found; as `instructions_of`."""

    def tell(record: CutRecord) -> Instruction:
        return _tell(record, shop, style)

    return tuple(Untold(record, tell) for record in records(plans, shop))


def _tell(record: CutRecord, shop: Shop, style: LengthStyle) -> Instruction:
    heavy, position = record.grams, record.position
    return Instruction(
        record=record,
        kind=words.KINDS[record.kind],
        tool=words.tool_words(record, style),
        set_to=record.setting.words(style),
        size=words.written(record.size, style),
        position="" if position is None else words.written(position, style),
        keep=words.keep_words(record.stroke),
        bed=words.bed_words(record, style),
        face=words.face_words(record),
        tear_out=words.tear_out_words(record),
        support=words.support_words(record),
        long=f"{words.size_words(record.length, style)} long",
        weight=format_weight(heavy, style.unit) if heavy else "",
        makes=words.side_words(record.makes, style),
        left=words.side_words(record.left, style),
        cautions=cautions_of(Case(record=record, shop=shop, style=style)),
    )
