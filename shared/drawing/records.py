"""Draw records: what is to be seen of a sheet, with no word about pens or pixels.

All coordinates are ticks in the frame of `shared.geometry`. The bench, the cut cards and
the paper all draw the same records, each in its own way.
"""

from dataclasses import dataclass
from enum import StrEnum
from typing import Final

from shared.geometry import Rect
from shared.lengths import Length
from shared.parts import Copy
from shared.shop import Axis

Point = tuple[Length, Length]
"""x and y in ticks."""


class Role(StrEnum):
    """What a box stands for."""

    SHEET = "sheet"
    """The whole untrimmed sheet; drawn first."""
    PART = "part"
    """A copy of a part, sawn free."""
    BLANK = "blank"
    """Outline of the blank a part was finished from; the part and waste lie inside."""
    KERF = "kerf"
    """What a cut that is made turned to dust."""
    WASTE = "waste"
    """A fall that is not worth keeping."""
    KEEPER = "keeper"
    """A fall worth labelling."""
    TRIM = "trim"
    """Stock lost at a factory edge."""
    PIECE = "piece"
    """A piece that more cuts will divide, as one."""
    COMING = "coming"
    """Where a part will be inside a piece that is not cut yet."""
    KEPT = "kept"
    """What the selected cut makes, on its keep side."""
    LEFT = "left"
    """What the selected cut leaves on the other side."""
    CUT = "cut"
    """What the selected cut turns to dust."""
    NO_GO = "no-go"
    """A bad place that is kept clear; it lies over what the box before it stands for."""
    LAST_CUT = "last cut"
    """Where a cut ran while the sheet could still be cut; it has no number and is no cut now."""
    LAST_KEEPER = "last keeper"
    LAST_WASTE = "last waste"
    """What those cuts left of the sheet, which is no offcut now."""
    IN_THE_WAY = "in the way"
    """Where parts lie on each other, too near, or off the sheet."""
    KNOT = "knot"
    """Round parts between which no cut runs from edge to edge."""


ONLY_SHOWN: Final = frozenset(
    {Role.LAST_CUT, Role.LAST_KEEPER, Role.LAST_WASTE, Role.IN_THE_WAY, Role.KNOT}
)
"""What marks a sheet that can't be cut: nothing lies there, and nobody reads it as a size."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Box:
    """A rectangle with a role.

    Attributes
    ----------
    key
        Stable name: ``sheet:1``, ``part:ID:2``, ``blank:ID:2``, ``cut:7``, ``piece:1a``,
        ``trim:1``, ``no-go:1``, ``last-cut:1``, ``last-fall:1``, ``way:1``, ``knot:1``.
    tint
        Index of the tint its rip width has over the whole plan, counted from 0; the
        painter repeats its tints as often as it must. ``None`` for no tint.
    part, copy
        The copy of a part it is, or ``""`` and 0.
    problem
        It cannot be cut where it lies.
    """

    role: Role
    rect: Rect
    key: str
    tint: int | None = None
    part: str = ""
    copy: int = 0
    problem: bool = False

    @property
    def copy_key(self) -> Copy:
        """Which copy of a part it is."""
        return self.part, self.copy


@dataclass(frozen=True, slots=True, kw_only=True)
class GrainLine:
    """A fine line the way the grain runs, cut off at the borders of the box ``key``."""

    key: str
    points: tuple[Point, ...]
    heavy: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class CutTag:
    """The round tag with a cut's number.

    Attributes
    ----------
    x, y
        Where the saw enters: the middle of the kerf at the left end of a rip, or at
        the top end of a crosscut.
    reach
        Length of the cut in ticks; a tag may slide along its own cut to find room.
    outside
        The tag stands outside the sheet: left of it for a rip, above it for a crosscut.
    done, current
        Made before the state that is drawn; the very cut that is selected.
    """

    number: int
    key: str
    x: Length
    y: Length
    axis: Axis
    reach: Length
    level: int
    outside: bool
    done: bool = False
    current: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class RunningMark:
    """A tick on the scale beside the sheet: position of a keep side, and its running number.

    Marks of rips stand along the right edge (``at`` is y), those of crosscuts along the
    bottom edge (``at`` is x). Number 0 is the zero of the scale: the trimmed reference
    edge or end.
    """

    number: int
    key: str
    axis: Axis
    at: Length
    text: str


class Weight(StrEnum):
    """How much a label matters."""

    PART = "part"
    FALL = "fall"
    PIECE = "piece"
    COMING = "coming"
    """A part inside a piece that is not cut yet: its name has room before that of the piece."""
    NO_GO = "no-go"


@dataclass(frozen=True, slots=True, kw_only=True)
class RectLabel:
    """Text that belongs inside a rectangle: a name, then sizes.

    ``note`` is told where the rectangle is pointed at, but not written in it.
    """

    key: str
    rect: Rect
    lines: tuple[str, ...]
    weight: Weight = Weight.PART
    note: str = ""

    @property
    def told(self) -> str:
        """All there is to say of the rectangle, on one line."""
        return ", ".join((*self.lines, self.note) if self.note else self.lines)


@dataclass(frozen=True, slots=True, kw_only=True)
class NamedPiece:
    """A piece by its name, where it lies on its sheet before cuts divide it.

    Attributes
    ----------
    strip
        It reaches from edge to edge, as the first cuts leave it.
    divided
        Cuts go through it; else it is what lies there in the end.
    freed
        Number of the cut that makes it what it is.
    """

    name: str
    rect: Rect
    strip: bool = False
    divided: bool = False
    freed: int = 0


@dataclass(frozen=True, slots=True, kw_only=True)
class Tie:
    """A short line over a kerf: the parts on both sides are of one match group."""

    group: str
    start: Point
    end: Point


class RuleState(StrEnum):
    """What has become of a part's grain rule where it lies."""

    MET = "met"
    BROKEN = "broken"
    ABSENT = "absent"
    """The part may lie either way, or its sheet has no grain."""


@dataclass(frozen=True, slots=True, kw_only=True)
class GrainSign:
    """Whether the grain rule of the part in the box ``key`` is met, and that in words.

    ``along_x`` says which way the grain runs there.
    """

    key: str
    rect: Rect
    state: RuleState
    along_x: bool
    words: str


@dataclass(frozen=True, slots=True, kw_only=True)
class SheetDrawing:
    """Everything to be seen of one sheet.

    Attributes
    ----------
    sheet, title, price
        Number of the sheet; size, material and grain in words; hundredths.
    stock
        Id of the row it comes from.
    rect
        The untrimmed sheet.
    boxes
        In the order in which they are to be painted.
    face_mark
        Where the V of the face edge points at the reference edge (y = 0).
    problem
        Why the sheet cannot be cut, or ``""``.
    ties
        Over the kerfs within match groups; words keep clear of them.
    signs
        Of the grain rule, one for each part that lies free.
    mirrored
        It is drawn with its show face down, left and right ends have changed places.
    pieces
        Strips and blocks, and what lies there in the end, by their names; in sawing order.
    saw_in
        Where the saw enters the selected cut, and where it leaves; ``None`` if that is not known.
    """

    sheet: str
    title: str
    price: int
    stock: str
    rect: Rect
    boxes: tuple[Box, ...]
    grain: tuple[GrainLine, ...]
    tags: tuple[CutTag, ...]
    marks: tuple[RunningMark, ...]
    labels: tuple[RectLabel, ...]
    face_mark: Point
    problem: str = ""
    ties: tuple[Tie, ...] = ()
    signs: tuple[GrainSign, ...] = ()
    mirrored: bool = False
    saw_in: tuple[Point, Point] | None = None
    pieces: tuple[NamedPiece, ...] = ()


def part_key(part: str, copy: int) -> str:
    """Return the key of a copy of a part."""
    return f"part:{part}:{copy}"


def blank_key(part: str, copy: int) -> str:
    """Return the key of the outline of a copy's blank."""
    return f"blank:{part}:{copy}"


def cut_key(number: int) -> str:
    """Return the key of a cut."""
    return f"cut:{number}"
