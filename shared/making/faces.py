"""Which face of a piece is up at each cut, and what keeps a show face from splintering.

The teeth of a hand-held saw leave the wood at the top, those of a table saw at the underside
(saw manuals). A rail guards the edge beneath its splinter strip, so there the show face is up
and the wanted side under the rail; a circular saw along a straightedge has no strip, so there
it is down. All this matters only where the edge of a part whose face is shown is sawn across
the grain, or through a facing that is brittle in every direction (common practice). Elsewhere a
piece stays as it lies.
"""

import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Final

from shared.geometry import Rect
from shared.making.aim import aim_of
from shared.making.entry import led_on
from shared.making.record import Bed, Face, Guard, Way
from shared.making.straightedge import way_of
from shared.making.strokes import Stroke
from shared.plan import Keep, Plan
from shared.saw.promises import final_rect
from shared.shop import Axis, Shop
from shared.stock import SheetGrain
from shared.tree import extent
from shared.weighing import grams

_BRITTLE: Final = re.compile(
    r"\b(melamine|laminate|hpl|mfc|lacquer(ed)?|acrylic|foil)(?![a-z])", re.IGNORECASE
)
"""Facings that chip whichever way they are sawn; not "laminated", which is glued-up wood."""
_VENEER: Final = re.compile(r"\bveneer", re.IGNORECASE)
"""Splinters across its grain; where the sheet's grain counts for nothing, either way."""

_WANTED: Final = {
    Way.RAIL: Face.SHOW,
    Way.FENCE: Face.SHOW,
    Way.STRAIGHTEDGE: Face.BACK,
    Way.EDGE_GUIDE: Face.BACK,
}
"""Which face is up where it matters."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Lying:
    """How a piece lies at a cut.

    ``matters`` says that a face that is shown splinters there unless the piece lies so or is
    guarded; ``up``, ``turn_over`` and ``guards`` are as in the record.
    """

    up: Face
    turn_over: bool
    guards: tuple[Guard, ...]
    matters: bool


class FacesUp:
    """Goes through the cuts in order and knows how each piece lies.

    A sheet is laid down as the first cut needs it to which that matters. A piece keeps that
    face up until a cut needs the other one; then it is turned over if the maker can lift it,
    else guarded.
    """

    def __init__(self, plan: Plan, its: Iterable[Stroke], shop: Shop) -> None:
        self._shop = shop
        self._shown = _shown(plan)
        self._up: dict[str, Face] = {}
        for stroke in its:
            sheet = stroke.sheet.id
            if sheet not in self._up and self._at(stroke, None):
                self._up[sheet] = _WANTED[way_of(aim_of(stroke, shop), shop)]
        for sheet in self._shown:
            self._up.setdefault(sheet, Face.SHOW)

    def lay(self, stroke: Stroke, way: Way, bed: Bed) -> Lying:
        """Say how the piece of the next cut lies."""
        cut = stroke.cut
        up = self._up.get(cut.piece, Face.EITHER)
        matters, turned = self._at(stroke, None), False
        if matters and up is not _WANTED[way] and self._can_turn(stroke):
            up, turned = _WANTED[way], True
        self._up[cut.piece] = up
        if cut.off:
            self._up[cut.off] = up
        bare = matters and self._splinters(stroke, way, bed, up)
        guards = (self._guard(way),) if bare else ()
        return Lying(up=up, turn_over=turned, guards=guards, matters=matters)

    def _at(self, stroke: Stroke, side: Keep | None) -> bool:
        """Whether the edge of a part that is shown is sawn where it splinters, on one side."""
        shown = self._shown.get(stroke.sheet.id, ())
        return splinters(stroke) and any(_edged(stroke, one, side) for one in shown)

    def _splinters(self, stroke: Stroke, way: Way, bed: Bed, up: Face) -> bool:
        """Whether nothing guards a show face that matters: no strip, and not how it lies."""
        if way is Way.RAIL and up is Face.SHOW:
            led = led_on(stroke, bed)
            return self._at(stroke, Keep.FAR if led is Keep.NEAR else Keep.NEAR)
        return way is not Way.RAIL and up is not _WANTED[way]

    def _guard(self, way: Way) -> Guard:
        """Return what is done: a line can be scored where the saw runs twice along the same."""
        if way is Way.RAIL and self._shop.splinter_guard:
            return Guard.SPLINTER_GUARD
        return Guard.TAPE if way is Way.EDGE_GUIDE else Guard.SCORE

    def _can_turn(self, stroke: Stroke) -> bool:
        piece, sheet, most = stroke.piece, stroke.sheet, self._shop.lift_g
        heavy = grams(piece.length, piece.width, sheet.thickness, sheet.density)
        return most == 0 or heavy <= most


def splinters(stroke: Stroke) -> bool:
    """Say whether a face splinters along a cut: across the grain, or brittle any way."""
    material, grain = stroke.sheet.material, stroke.sheet.grain
    unknown = grain is SheetGrain.NONE and bool(_VENEER.search(material))
    return stroke.across_grain or unknown or bool(_BRITTLE.search(material))


def _shown(plan: Plan) -> Mapping[str, tuple[Rect, ...]]:
    """Return by sheet where the parts lie whose face is shown, each at its final size."""
    shown = {part.id: part for part in plan.parts if part.show}
    found: dict[str, tuple[Rect, ...]] = {}
    for one in plan.placements:
        if one.part in shown:
            rects = found.get(one.sheet, ())
            found[one.sheet] = (*rects, final_rect(one, shown[one.part]))
    return found


def _edged(stroke: Stroke, part: Rect, side: Keep | None) -> bool:
    """Whether a cut makes an edge of a part, on one side of it or, with ``None``, on any."""
    dust = stroke.cut.rect
    start, end = _ends(dust, stroke.axis)
    first, last = _ends(part, stroke.axis)
    if not _beside(dust, part, stroke.axis):
        return False
    return (last == start and side is not Keep.FAR) or (first == end and side is not Keep.NEAR)


def _ends(rect: Rect, axis: Axis) -> tuple[int, int]:
    start = rect.y if axis is Axis.RIP else rect.x
    return start, start + extent(rect, axis)


def _beside(dust: Rect, part: Rect, axis: Axis) -> bool:
    """Whether both share some of the way along the cut."""
    (start, end), (first, last) = _ends(dust, axis.other), _ends(part, axis.other)
    return start < last and first < end
