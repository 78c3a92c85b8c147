"""What comes of each side of a cut: a part, a blank, an offcut, waste, or more cuts."""

from collections.abc import Sequence
from dataclasses import dataclass
from enum import StrEnum
from typing import Final, NamedTuple

from shared.geometry import Rect
from shared.making.strokes import Stroke
from shared.parts import numbered
from shared.plan import CutKind, Placement, Plan, PlanPart
from shared.remembered import Remembered
from shared.saw.promises import final_rect


class PieceFate(StrEnum):
    """What a piece is."""

    PART = "part"
    """A copy of a part, at its final size."""
    BLANK = "blank"
    """A copy that a later cut brings to its final size."""
    WAITS = "waits"
    """The blank of a fit part whose opening is not measured yet."""
    KEEPER = "keeper"
    """An offcut worth labelling."""
    WASTE = "waste"
    PIECE = "piece"
    """It is sawn further."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Side:
    """One side of a cut.

    ``name`` is the piece's, ``""`` for the waste of a trim; ``rect`` where it lay on its sheet, in
    ticks; ``part`` the part's name with the copy's number; ``next_cut`` the number of the next cut
    through it, 0 for none.
    """

    name: str
    rect: Rect
    end: PieceFate
    part: str = ""
    next_cut: int = 0


class Outcomes:
    """Knows what pieces become, by where they lie on which sheet."""

    def __init__(self, plan: Plan) -> None:
        self._on = {sheet: _on_sheet(plan.parts, *its) for sheet, its in lying_on(plan).items()}
        self._falls = {(fall.sheet, fall.rect): _FALLS[fall.keep] for fall in plan.offcuts}
        self._next = _next_cuts(plan)

    def near(self, stroke: Stroke) -> Side:
        """Return what lies towards the reference edge or end behind the cut."""
        if stroke.is_trim:
            return _side("", stroke.near, PieceFate.WASTE, "", 0)
        return self._side(stroke, stroke.cut.off, stroke.near)

    def far(self, stroke: Stroke) -> Side | None:
        """Return what stays beyond the cut; ``None`` if nothing does."""
        return self._side(stroke, stroke.cut.piece, stroke.far) if stroke.far.area else None

    def _side(self, stroke: Stroke, name: str, rect: Rect) -> Side:
        following = self._next.get((name, stroke.cut.number), 0)
        there = self._on.get(stroke.sheet.id, _BARE)
        fall = self._falls.get((stroke.sheet.id, rect))
        end, part = there.ends.get(rect, _SAWN_ON) if fall is None else fall
        if end is PieceFate.PIECE and stroke.cut.kind is CutKind.FINISH:
            end, part = self._blank_around(stroke)
        return _side(name, rect, end, part, following)

    def _blank_around(self, stroke: Stroke) -> tuple[PieceFate, str]:
        """Return the blank that a finishing cut goes through."""
        for blank, name in self._on.get(stroke.sheet.id, _BARE).blanks:
            if blank.contains(stroke.piece):
                return PieceFate.BLANK, name
        return _SAWN_ON


class _There(NamedTuple):
    """What becomes of the pieces of a sheet that are parts, by where they lie; and its blanks."""

    ends: dict[Rect, tuple[PieceFate, str]]
    blanks: list[tuple[Rect, str]]


def lying_on(plan: Plan) -> dict[str, list[Placement]]:
    """Return what lies on each sheet."""
    found: dict[str, list[Placement]] = {}
    for one in plan.placements:
        found.setdefault(one.sheet, []).append(one)
    return found


def _look_at(parts: Sequence[PlanPart], *lying: Placement) -> _There:
    of = {part.id: part for part in parts}
    there = _There({}, [])
    for one in lying:
        part = of[one.part]
        there.ends.update(_fates(one, part))
        if part.is_blank:
            there.blanks.append((one.rect, numbered(part.name, one.copy, part.copies)))
    return there


_on_sheet = Remembered(_look_at, 512)
_BARE: Final = _There({}, [])
_FALLS: Final = {True: (PieceFate.KEEPER, ""), False: (PieceFate.WASTE, "")}
_SAWN_ON: Final = (PieceFate.PIECE, "")
_side = Remembered(
    lambda name, rect, end, part, following: Side(
        name=name, rect=rect, end=end, part=part, next_cut=following
    ),
    8192,
)
"""Returns one value for a side that is as it was, so that what is made of it is known again."""


def _next_cuts(plan: Plan) -> dict[tuple[str, int], int]:
    """Return the number of the next cut through what each cut leaves and saws off."""
    later: dict[str, int] = {}
    found: dict[tuple[str, int], int] = {}
    for cut in reversed(plan.cuts):
        for name in (cut.piece, cut.off):
            if name in later:
                found[name, cut.number] = later[name]
        later[cut.piece] = cut.number
    return found


def _fates(one: Placement, part: PlanPart) -> dict[Rect, tuple[PieceFate, str]]:
    """Return what a copy is where it lies in the end, and its blank before that."""
    name = numbered(part.name, one.copy, part.copies)
    final = final_rect(one, part)
    fates = {final: (PieceFate.WAITS if part.waits else PieceFate.PART, name)}
    return fates if final == one.rect else {**fates, one.rect: (PieceFate.BLANK, name)}
