"""The record of one cut: all that decides how it is made, in figures, before any words.

Card, walk-through, table, CSV, cut pack and published plan are written from it, and the
simulated saw lays its rail and refuses what does not lie.
"""

from collections.abc import Callable
from dataclasses import dataclass, field
from enum import StrEnum
from typing import Final

from shared.lengths import Length
from shared.making.lifting import Moved
from shared.making.outcome import Side
from shared.making.settings import Setting
from shared.making.strokes import Stroke
from shared.plan import CutKind
from shared.shop import Axis, Rail, Support


class Way(StrEnum):
    """What leads the saw along its line."""

    RAIL = "rail"
    STRAIGHTEDGE = "straightedge"
    """The base of a circular saw along a clamped straightedge."""
    EDGE_GUIDE = "edge guide"
    """The edge guide of a circular saw, along a sawn edge of the piece."""
    FENCE = "fence"
    """That of the table saw."""


class Bed(StrEnum):
    """What the rail lies on, or what the straightedge is clamped to."""

    KEEP = "keep side"
    WASTE = "other side"
    """The side that is not kept, one kerf past the line: the keep side is narrower than a rail."""
    PACKED = "packed"
    """The keep side, with scrap of the same thickness beside it: neither side carries by itself."""
    NONE = "none"
    """Nothing is laid: table saw, or edge guide."""


class Edge(StrEnum):
    """An edge of a piece, as it lies in the frame of its sheet with its show face up."""

    REFERENCE = "reference edge"
    FAR = "far edge"
    LEFT = "left end"
    RIGHT = "right end"


OPPOSITE: Final = {
    Edge.REFERENCE: Edge.FAR,
    Edge.FAR: Edge.REFERENCE,
    Edge.LEFT: Edge.RIGHT,
    Edge.RIGHT: Edge.LEFT,
}


class Face(StrEnum):
    """Which face of the piece is up."""

    SHOW = "show face"
    BACK = "back"
    EITHER = "either face"
    """No part of the sheet shows a face."""


class Guard(StrEnum):
    """What keeps a show face from splintering where nothing else does."""

    SCORE = "score the line"
    TAPE = "tape the line"
    SPLINTER_GUARD = "fit the splinter guard"


class SquaredBy(StrEnum):
    """How a cut is laid square to the edge it is squared from."""

    SQUARE = "square"
    BOTH_ENDS = "measured at both ends"
    """The shop's longest square is too short."""
    DEVICE = "guide, stop or fence"
    """What holds the size lies along that edge, or is a stop of which the shop says nothing."""


@dataclass(frozen=True, slots=True, kw_only=True)
class RailLaid:
    """A rail or straightedge over a cut; lengths in ticks.

    Attributes
    ----------
    rail
        Its length, and how many are ``joined`` now.
    width
        Across; 0 when the shop does not say.
    run_up, run_out
        How far it reaches beyond the piece where the saw enters and where it leaves; negative
        where it does not reach the end.
    enough
        Whether it is as much longer than the cut as the shop asks.
    change
        Whether another one was in hand before, or fewer or more were joined: what was set at the
        rail is lost then.
    fetched
        Whether it has to be laid though none is exchanged: it is the first of all, or another was
        laid along the edge of the sheet to check it.
    joins
        Whether more rails have to be joined for it than are.
    parted
        Whether joined rails have to be parted for it.
    edge_at
        Where its edge lies, from the edge of the piece that the size is measured from.
    """

    rail: Rail
    width: Length
    run_up: Length
    run_out: Length
    enough: bool
    change: bool
    fetched: bool
    joins: bool
    parted: bool
    edge_at: Length


@dataclass(frozen=True, slots=True, kw_only=True)
class Squared:
    """The edge a cut is square to, and how that is made sure."""

    edge: Edge
    by: SquaredBy


@dataclass(frozen=True, slots=True, kw_only=True)
class SheetCheck:
    """What is checked at a whole sheet before its first cut; lengths in ticks.

    Attributes
    ----------
    rail
        What is laid along the reference edge to see whether it is straight: the cut's rail if it
        reaches, else the shortest that does, joined if it has to be; else the longest, which is
        slid along. ``None`` when the shop names none.
    straight_first
        Whether it is crosscut first: then its reference edge has to be straight before that,
        since all crosscuts are square to it. Equal diagonals do not say so.
    bow
        How much of a bow in the reference edge its trim takes away; 0 where it is not trimmed.
    absorbs
        Largest difference of the diagonals that the plan's end trims, and what lies beyond its
        last parts, take up; 0 where a part goes to an end of the sheet.
    """

    rail: Rail | None
    straight_first: bool
    bow: Length
    absorbs: Length


@dataclass(frozen=True, slots=True, kw_only=True)
class SizeCheck:
    """A size that no cut is set to, because it is what remains: to be measured after the cut.

    ``side`` says which of both the cut leaves, ``size`` how wide it has to be, in ticks at right
    angles to the cut.
    """

    side: Side
    size: Length


@dataclass(frozen=True, slots=True, kw_only=True)
class Bearers:
    """Where bearers go on sawhorses, along the line of the cut.

    ``keep`` and ``other`` are how far from the line, or from the edge the blade leaves on the
    other side, the middles of the bearers lie under each side, in ticks; empty where there are
    none, because nothing is left there or it is waste too narrow to be carried, which falls.
    """

    keep: tuple[Length, ...]
    other: tuple[Length, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class CutRecord:
    """How one cut is made. Lengths in ticks, weights in grams.

    Attributes
    ----------
    stroke
        The cut laid over its piece; number, sheet, kind, tool, kerf and keep side are the cut's.
    since
        Number of the cut that the piece came from, or that was made in it last; 0 for none.
    grams
        Of the piece before the cut; 0 when the density is not known.
    makes, left
        What the cut makes on the keep side; what is left on the other, ``None`` for nothing.
    way, rail, bed
        What leads the saw; which rail or straightedge, ``None`` where there is none or the shop
        names none; what it lies on.
    setting, anew
        What is set and to what; whether it has to be set before this cut, because it is another
        or was lost.
    again
        Whether it was set so last, and came off with the rail since.
    proves
        Whether this is the first of several cuts at one set-up: what it makes is measured
        before the next is cut.
    squared
        What it is squared from; ``None`` where nothing is to be squared.
    sheet_check
        What is checked at the sheet before this cut; ``None`` unless it is a sheet's first.
    checks
        Sizes to measure after the cut that no cut is set to.
    position
        Of the keep side's line from the trimmed reference edge or end of the whole sheet, where
        the cut is laid out on the whole sheet before anything moves; else ``None``.
    entry
        Where the saw enters; it leaves at the edge opposite. `enters` and `leaves` say it as the
        piece lies.
    up, turn_over
        Which face is up, and whether the piece has to be turned over before the cut. With its
        back up it is ``mirrored``: left and right ends change places, and `lies` says where.
    face_matters
        Whether a face that is shown splinters at this cut unless it lies so and is guarded so.
    guards
        What keeps a show face whole that would splinter here.
    support, bearers, moved
        What the piece lies on; where the bearers go, ``None`` where there are none; whether it is
        laid on it or turned on it for this cut.
    find_hazards
        Looks up which rules apply to the cut, whenever `hazards` is asked for.
    """

    stroke: Stroke
    since: int
    grams: int
    makes: Side
    left: Side | None
    way: Way
    rail: RailLaid | None
    bed: Bed
    setting: Setting
    anew: bool
    again: bool
    proves: bool
    squared: Squared | None
    sheet_check: SheetCheck | None
    checks: tuple[SizeCheck, ...]
    position: Length | None
    entry: Edge
    up: Face
    turn_over: bool
    face_matters: bool
    guards: tuple[Guard, ...]
    support: Support
    bearers: Bearers | None
    moved: Moved
    find_hazards: Callable[["CutRecord"], tuple[str, ...]] = field(compare=False, repr=False)

    @property
    def hazards(self) -> tuple[str, ...]:
        """Codes of the rules that apply; `shared.making.hazards` classes and explains each."""
        return self.find_hazards(self)

    @property
    def number(self) -> int:
        """Of the cut."""
        return self.stroke.cut.number

    @property
    def kind(self) -> CutKind:
        """What the cut is for."""
        return self.stroke.cut.kind

    @property
    def size(self) -> Length:
        """What is set or marked: the sawn-off piece's size, or what a trim takes off."""
        return self.stroke.cut.size

    @property
    def length(self) -> Length:
        """Of the cut."""
        return self.stroke.long

    @property
    def mirrored(self) -> bool:
        """Whether its back is up."""
        return self.up is Face.BACK

    def lies(self, edge: Edge) -> Edge:
        """Say where an edge of the piece is as it lies: turned over, its ends change places."""
        ends = {Edge.LEFT, Edge.RIGHT}
        return OPPOSITE[edge] if self.mirrored and edge in ends else edge

    @property
    def saw_in(self) -> tuple[tuple[Length, Length], tuple[Length, Length]]:
        """Where the saw enters and where it leaves, x and y in ticks in the frame of its sheet."""
        dust = self.stroke.cut.rect
        x, y = dust.x + dust.length // 2, dust.y + dust.width // 2
        at = {
            Edge.LEFT: (dust.x, y),
            Edge.RIGHT: (dust.right, y),
            Edge.REFERENCE: (x, dust.y),
            Edge.FAR: (x, dust.bottom),
        }
        return at[self.entry], at[OPPOSITE[self.entry]]

    @property
    def enters(self) -> Edge:
        """Where the saw enters the piece as it lies."""
        return self.lies(self.entry)

    @property
    def leaves(self) -> Edge:
        """Where the saw leaves the piece as it lies."""
        return OPPOSITE[self.enters]

    @property
    def first_edge(self) -> Edge:
        """The edge or end that sizes are measured from, as it lies; the V points to it."""
        return self.lies(Edge.REFERENCE if self.stroke.axis is Axis.RIP else Edge.LEFT)


class OfRecord:
    """Anything made of the record of one cut, which it holds."""

    __slots__ = ()
    record: CutRecord

    @property
    def stroke(self) -> Stroke:
        """The cut laid over its piece."""
        return self.record.stroke

    @property
    def setting(self) -> Setting:
        """What is set for it."""
        return self.record.setting
