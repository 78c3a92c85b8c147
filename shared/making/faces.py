"""Which face of a piece is up at each cut, and what keeps a show face from splintering.

The teeth of a hand-held saw leave the wood at the top, those of a table saw at the underside
(saw manuals). A rail guards the edge beneath its splinter strip, so there the show face is up
and the wanted side under the rail; a circular saw along a straightedge has no strip, so there
it is down. All this matters only where the edge of a part whose face is shown is sawn across
the grain, or through a facing that is brittle in every direction (common practice). Elsewhere a
piece stays as it lies.
"""

import re
from collections.abc import Iterable
from dataclasses import dataclass
from functools import lru_cache
from typing import Final

from shared.geometry import Rect
from shared.lengths import Length
from shared.making.devices import led
from shared.making.entry import led_on
from shared.making.record import Bed, Face, Guard, Way
from shared.making.strokes import Stroke
from shared.plan import Keep, Plan
from shared.saw.promises import final_rect
from shared.shop import Axis, Shop
from shared.stock import SheetGrain

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
        self._shown = _Edges(plan)
        self._up: dict[str, Face] = {}
        for stroke in its:
            sheet = stroke.sheet.id
            if sheet not in self._up and self._matters(stroke):
                self._up[sheet] = _WANTED[led(stroke, shop).way]
        for sheet in self._shown.sheets:
            self._up.setdefault(sheet, Face.SHOW)

    def lay(self, stroke: Stroke, weighs: int, way: Way, bed: Bed) -> Lying:
        """Say how the piece of the next cut lies, which weighs so many grams."""
        cut = stroke.cut
        up = self._up.get(cut.piece, Face.EITHER)
        matters, turned = self._matters(stroke), False
        if matters and up is not _WANTED[way] and self._can_turn(weighs):
            up, turned = _WANTED[way], True
        self._up[cut.piece] = up
        if cut.off:
            self._up[cut.off] = up
        bare = matters and self._splinters(stroke, way, bed, up)
        guards = (self._guard(way),) if bare else ()
        return Lying(up=up, turn_over=turned, guards=guards, matters=matters)

    def _matters(self, stroke: Stroke) -> bool:
        """Whether the edge of a part that is shown is sawn where it splinters."""
        if stroke.sheet.id not in self._shown.sheets:
            return False
        return self._at(stroke, Keep.NEAR) or self._at(stroke, Keep.FAR)

    def _at(self, stroke: Stroke, side: Keep) -> bool:
        """Whether it is on this side."""
        return splinters(stroke) and self._shown.along(stroke, side)

    def _splinters(self, stroke: Stroke, way: Way, bed: Bed, up: Face) -> bool:
        """Whether nothing guards a show face that matters: no strip, and not how it lies."""
        if way is Way.RAIL and up is Face.SHOW:
            return self._at(stroke, led_on(stroke, bed).other)
        return way is not Way.RAIL and up is not _WANTED[way]

    def _guard(self, way: Way) -> Guard:
        """Return what is done: a line can be scored where the saw runs twice along the same."""
        if way is Way.RAIL and self._shop.splinter_guard:
            return Guard.SPLINTER_GUARD
        return Guard.TAPE if way is Way.EDGE_GUIDE else Guard.SCORE

    def _can_turn(self, weighs: int) -> bool:
        return self._shop.lift_g == 0 or weighs <= self._shop.lift_g


def splinters(stroke: Stroke) -> bool:
    """Say whether a face splinters along a cut: across the grain, or brittle any way."""
    return stroke.across_grain or _either_way(stroke.sheet.material, stroke.sheet.grain)


@lru_cache(256)
def _either_way(material: str, grain: SheetGrain) -> bool:
    unknown = grain is SheetGrain.NONE and bool(_VENEER.search(material))
    return unknown or bool(_BRITTLE.search(material))


class _Edges:
    """Where the edges are of the parts whose face is shown, each part at its final size."""

    def __init__(self, plan: Plan) -> None:
        self.sheets: set[str] = set()
        self._at: dict[tuple[str, Axis, Keep, Length], list[tuple[Length, Length]]] = {}
        shown = {part.id: part for part in plan.parts if part.show}
        for one in plan.placements:
            if one.part in shown:
                self.sheets.add(one.sheet)
                self._add(one.sheet, final_rect(one, shown[one.part]))

    def _add(self, sheet: str, part: Rect) -> None:
        across, along = (part.y, part.bottom), (part.x, part.right)
        for axis, (start, end), way in (
            (Axis.RIP, across, along),
            (Axis.CROSSCUT, along, across),
        ):
            self._at.setdefault((sheet, axis, Keep.NEAR, end), []).append(way)
            self._at.setdefault((sheet, axis, Keep.FAR, start), []).append(way)

    def along(self, stroke: Stroke, side: Keep) -> bool:
        """Say whether a cut makes an edge of such a part, on one side of it."""
        dust, rip = stroke.cut.rect, stroke.axis is Axis.RIP
        low, high = (dust.y, dust.bottom) if rip else (dust.x, dust.right)
        start, end = (dust.x, dust.right) if rip else (dust.y, dust.bottom)
        edge = low if side is Keep.NEAR else high
        found = self._at.get((stroke.sheet.id, stroke.axis, side, edge), ())
        return any(first < end and start < last for first, last in found)
