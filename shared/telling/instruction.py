"""One instruction a cut: all a person at the sawhorses needs to know of it."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from itertools import chain
from typing import TypeAlias

from shared.lengths import Length, LengthStyle
from shared.plan import CutKind, Keep, Plan
from shared.shop import Shop
from shared.telling import words
from shared.telling.minding import Case, Caution, cautions_of
from shared.telling.outcome import Outcomes, Side
from shared.telling.rails import Bed, RailUse, rail_use
from shared.telling.settings import Setting, name_settings
from shared.telling.strokes import Stroke, strokes
from shared.weighing import format_weight, grams


@dataclass(frozen=True, slots=True, kw_only=True)
class Instruction:
    """What one cut says.

    Lengths are in ticks; what is text is written in the maker's units, rounded once, the
    remainder shown.

    Attributes
    ----------
    number, sheet, piece, kind
        Of the cut; ``kind`` in words.
    stroke
        The cut laid over its piece.
    setting
        What is set, named once for the whole plan.
    tool
        The saw, and the rail it runs on.
    use
        Which rail, and what it lies on.
    set_to
        The setting's name and size.
    size, running
        What is set or marked; where the keep side lies from the trimmed reference edge or
        end of the whole sheet, ``""`` for a blank that has left its sheet.
    keep, bed, face, tear_out, support
        Keep side, where the rail lies (``""`` at the table saw), which face is up, where it
        splinters, what goes under it.
    length, long
        Length of the cut, and the same in words.
    weight
        Of the piece before the cut; ``""`` when the density is not known.
    near, far
        What each side becomes; ``far`` is ``None`` when nothing stays.
    off, stays
        The same in words.
    cautions
        Those of this very cut.
    """

    number: int
    sheet: str
    piece: str
    kind: str
    stroke: Stroke
    setting: Setting
    use: RailUse
    tool: str
    set_to: str
    size: str
    running: str
    keep: str
    bed: str
    face: str
    tear_out: str
    support: str
    length: Length
    long: str
    weight: str
    near: Side
    far: Side | None
    off: str
    stays: str
    cautions: tuple[Caution, ...]

    @property
    def title(self) -> str:
        """Kind and piece, such as ``Rip 1a``."""
        return f"{self.kind} {self.piece}"

    @property
    def rail_side(self) -> Keep | None:
        """The side of the kerf the rail lies on; ``None`` at the table saw."""
        if self.use.bed is Bed.NONE:
            return None
        keep = self.stroke.cut.keep
        turned = Keep.FAR if keep is Keep.NEAR else Keep.NEAR
        return turned if self.use.bed is Bed.OTHER else keep

    @property
    def lines(self) -> tuple[tuple[str, str], ...]:
        """What is said, each with its heading, in the order in which it is needed."""
        found = (
            ("saw", self.tool),
            ("set", self.set_to),
            ("running", self.running),
            ("keep", self.keep),
            ("cut", self.long),
            ("rail", self.bed),
            ("show face", self.face),
            ("tear-out", self.tear_out),
            ("support", self.support),
            ("weight", self.weight),
            ("off", self.off),
            ("stays", self.stays),
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


Tell: TypeAlias = Callable[[Stroke, Setting], Instruction]


class Untold:
    """A cut laid over its piece, with what is set for it; the rest is told when it is asked for."""

    __slots__ = ("_tell", "_told", "setting", "stroke")

    def __init__(self, stroke: Stroke, setting: Setting, tell: Tell) -> None:
        self.stroke, self.setting = stroke, setting
        self._tell = tell
        self._told: Instruction | None = None

    @property
    def told(self) -> Instruction:
        """All there is to say of the cut."""
        if self._told is None:
            self._told = self._tell(self.stroke, self.setting)
        return self._told


def untold(plans: Sequence[Plan], shop: Shop, style: LengthStyle) -> tuple[Untold, ...]:
    """Return every cut, in sawing order, before its words are found; as `instructions_of`."""
    made = [tuple(strokes(plan)) for plan in plans]
    settings = name_settings(chain.from_iterable(made), shop)
    return tuple(
        Untold(stroke, settings[stroke.cut.number], tell)
        for tell, its in zip((_telling(plan, shop, style) for plan in plans), made, strict=True)
        for stroke in its
    )


def _telling(plan: Plan, shop: Shop, style: LengthStyle) -> Tell:
    """Return what tells a cut of a plan."""
    outcomes = Outcomes(plan)

    def tell(stroke: Stroke, setting: Setting) -> Instruction:
        sides = outcomes.near(stroke), outcomes.far(stroke)
        return _tell(stroke, setting, sides, shop, style)

    return tell


def _tell(
    stroke: Stroke,
    setting: Setting,
    sides: tuple[Side, Side | None],
    shop: Shop,
    style: LengthStyle,
) -> Instruction:
    near, far = sides
    cut, use = stroke.cut, rail_use(stroke, shop)
    heavy = _grams(stroke)
    case = Case(stroke=stroke, setting=setting, use=use, grams=heavy, shop=shop, style=style)
    return Instruction(
        number=cut.number,
        sheet=cut.sheet,
        piece=cut.piece,
        kind=words.KINDS[cut.kind],
        stroke=stroke,
        setting=setting,
        use=use,
        tool=words.tool_words(stroke, use, style),
        set_to=setting.words(style),
        size=words.written(cut.size, style),
        running=_running(stroke, style),
        keep=words.keep_words(stroke),
        bed=words.bed_words(stroke, use, style),
        face=words.face_words(use),
        tear_out=words.tear_out_words(stroke, use),
        support=words.support_words(stroke, use),
        length=stroke.long,
        long=f"{words.size_words(stroke.long, style)} long",
        weight=format_weight(heavy, style.unit) if heavy else "",
        near=near,
        far=far,
        off=words.off_words(stroke, near),
        stays=words.stays_words(far),
        cautions=cautions_of(case),
    )


def _running(stroke: Stroke, style: LengthStyle) -> str:
    """A blank has left its sheet: only its own size is of use."""
    finish = stroke.cut.kind is CutKind.FINISH
    return "" if finish else words.written(stroke.cut.running, style)


def _grams(stroke: Stroke) -> int:
    sheet, piece = stroke.sheet, stroke.piece
    return grams(piece.length, piece.width, sheet.thickness, sheet.density)
