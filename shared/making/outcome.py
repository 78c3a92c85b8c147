"""What comes of each side of a cut: a part, a blank, an offcut, waste, or more cuts."""

from dataclasses import dataclass
from enum import StrEnum
from functools import cached_property

from shared.geometry import Rect
from shared.making.strokes import Stroke
from shared.parts import numbered
from shared.plan import CutKind, Placement, Plan, PlanPart
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
        self._plan = plan
        self._parts = {part.id: part for part in plan.parts}
        self._ends: dict[str, dict[Rect, tuple[PieceFate, str]]] = {}

    @cached_property
    def _cuts(self) -> dict[str, list[int]]:
        """Numbers of the cuts through each piece."""
        cuts: dict[str, list[int]] = {}
        for cut in self._plan.cuts:
            cuts.setdefault(cut.piece, []).append(cut.number)
        return cuts

    def _ends_on(self, sheet: str) -> dict[Rect, tuple[PieceFate, str]]:
        """Return what comes of a sheet, by where it lies."""
        if sheet not in self._ends:
            ends = self._ends[sheet] = {}
            for one in self._plan.placements:
                if one.sheet == sheet:
                    ends |= _fates(one, self._parts[one.part])
            for fall in self._plan.offcuts:
                if fall.sheet == sheet:
                    fate = PieceFate.KEEPER if fall.keep else PieceFate.WASTE
                    ends[fall.rect] = fate, ""
        return self._ends[sheet]

    def near(self, stroke: Stroke) -> Side:
        """Return what lies towards the reference edge or end behind the cut."""
        if stroke.is_trim:
            return Side(name="", rect=stroke.near, end=PieceFate.WASTE)
        return self._side(stroke, stroke.cut.off, stroke.near)

    def far(self, stroke: Stroke) -> Side | None:
        """Return what stays beyond the cut; ``None`` if nothing does."""
        return self._side(stroke, stroke.cut.piece, stroke.far) if stroke.far.area else None

    def _side(self, stroke: Stroke, name: str, rect: Rect) -> Side:
        later = (number for number in self._cuts.get(name, ()) if number > stroke.cut.number)
        following = next(later, 0)
        end, part = self._ends_on(stroke.sheet.id).get(rect, (PieceFate.PIECE, ""))
        around = self._blank_around(stroke)
        if end is PieceFate.PIECE and around:
            end, part = PieceFate.BLANK, around
        return Side(name=name, rect=rect, end=end, part=part, next_cut=following)

    def _blank_around(self, stroke: Stroke) -> str:
        """Name the copy whose blank a finishing cut goes through; ``""`` for any other cut."""
        if stroke.cut.kind is not CutKind.FINISH:
            return ""
        sheet = stroke.sheet.id
        blanks = (
            one.rect
            for one in self._plan.placements
            if one.sheet == sheet and self._parts[one.part].is_blank
        )
        found = (blank for blank in blanks if blank.contains(stroke.piece))
        return next((self._ends_on(sheet)[blank][1] for blank in found), "")


def _fates(one: Placement, part: PlanPart) -> dict[Rect, tuple[PieceFate, str]]:
    """Return what a copy is where it lies in the end, and its blank before that."""
    name = numbered(part.name, one.copy, part.copies)
    final = final_rect(one, part)
    fates = {final: (PieceFate.WAITS if part.waits else PieceFate.PART, name)}
    return fates if final == one.rect else {**fates, one.rect: (PieceFate.BLANK, name)}
