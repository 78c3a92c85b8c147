"""What comes of each side of a cut: a part, a blank, an offcut, waste, or more cuts."""

from dataclasses import dataclass
from enum import StrEnum

from shared.geometry import Rect
from shared.parts import numbered
from shared.plan import CutKind, Placement, Plan, PlanPart
from shared.saw.promises import final_rect
from shared.telling.strokes import Stroke


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

    ``name`` is the piece's, ``""`` for what falls away at a trim; ``part`` the part's name
    with the copy's number; ``next_cut`` the number of the next cut through it, 0 for none.
    """

    name: str
    end: PieceFate
    part: str = ""
    next_cut: int = 0


class Outcomes:
    """Knows what pieces become, by where they lie on which sheet."""

    def __init__(self, plan: Plan) -> None:
        self._parts = {part.id: part for part in plan.parts}
        self._ends: dict[tuple[str, Rect], tuple[PieceFate, str]] = {}
        for one in plan.placements:
            self._place(one, self._parts[one.part])
        for fall in plan.offcuts:
            fate = PieceFate.KEEPER if fall.keep else PieceFate.WASTE
            self._ends[fall.sheet, fall.rect] = fate, ""
        self._cuts: dict[str, list[int]] = {}
        self._blanks: dict[str, list[Placement]] = {}
        for cut in plan.cuts:
            self._cuts.setdefault(cut.piece, []).append(cut.number)
        for one in plan.placements:
            if self._parts[one.part].is_blank:
                self._blanks.setdefault(one.sheet, []).append(one)

    def near(self, stroke: Stroke) -> Side:
        """Return what lies towards the reference edge or end behind the cut."""
        if stroke.is_trim:
            return Side(name="", end=PieceFate.WASTE)
        return self._side(stroke, stroke.cut.off, stroke.near)

    def far(self, stroke: Stroke) -> Side | None:
        """Return what stays beyond the cut; ``None`` if nothing does."""
        return self._side(stroke, stroke.cut.piece, stroke.far) if stroke.far.area else None

    def _place(self, one: Placement, part: PlanPart) -> None:
        name = numbered(part.name, one.copy, part.copies)
        final = final_rect(one, part)
        self._ends[one.sheet, final] = (PieceFate.WAITS if part.waits else PieceFate.PART), name
        if final != one.rect:
            self._ends[one.sheet, one.rect] = PieceFate.BLANK, name

    def _side(self, stroke: Stroke, name: str, rect: Rect) -> Side:
        later = (number for number in self._cuts.get(name, ()) if number > stroke.cut.number)
        following = next(later, 0)
        end, part = self._ends.get((stroke.sheet.id, rect), (PieceFate.PIECE, ""))
        around = self._blank_around(stroke)
        if end is PieceFate.PIECE and around:
            end, part = PieceFate.BLANK, around
        return Side(name=name, end=end, part=part, next_cut=following)

    def _blank_around(self, stroke: Stroke) -> str:
        """Name the copy whose blank a finishing cut goes through; ``""`` for any other cut."""
        if stroke.cut.kind is not CutKind.FINISH:
            return ""
        blanks = self._blanks.get(stroke.sheet.id, ())
        found = (one for one in blanks if one.rect.contains(stroke.piece))
        return next((self._ends[one.sheet, one.rect][1] for one in found), "")
