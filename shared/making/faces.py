"""Which face of a piece is up at each cut, and what keeps a show face from splintering.

The teeth of a hand-held saw leave the wood at the top, those of a table saw at the underside
(saw manuals). A rail guards the edge beneath its splinter strip, so there the show face is up
and the wanted side under the rail; a circular saw along a straightedge has no strip, so there
it is down. All this matters only where the edge of a part whose face is shown is sawn across
the grain, or through a facing that is brittle in every direction (common practice). Elsewhere a
piece stays as it lies.
"""

import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from functools import lru_cache
from typing import Final

from shared.geometry import Rect
from shared.lengths import Length
from shared.making.devices import led
from shared.making.entry import led_on
from shared.making.record import Face, Guard, Way
from shared.making.strokes import Stroke
from shared.plan import Keep, Placement, Plan, PlanPart
from shared.remembered import Remembered
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
        self._shown = _shown_on(plan)
        self._up: dict[str, Face] = {}
        for stroke in its if self._shown else ():
            sheet = stroke.sheet.id
            edges = None if sheet in self._up else self._shown.get(sheet)
            if edges is not None and _matters(edges, stroke):
                self._up[sheet] = _WANTED[led(stroke, shop).way]
        for sheet in self._shown:
            self._up.setdefault(sheet, Face.SHOW)

    def lay(self, stroke: Stroke) -> Lying:
        """Say how the piece of the next cut lies."""
        cut, edges = stroke.cut, self._shown.get(stroke.sheet.id)
        if edges is None:
            return _EITHER_WAY
        up = self._up.get(cut.piece, Face.EITHER)
        found = _lying(self._shop, edges, stroke, up)
        self._up[cut.piece] = found.up
        if cut.off:
            self._up[cut.off] = found.up
        return found


def _lie(shop: Shop, edges: "_Edges", stroke: Stroke, up: Face) -> Lying:
    """Say how a piece lies that lay with that face up till now."""
    aim, way, bed, _ = led(stroke, shop)
    matters, turned = _matters(edges, stroke), False
    if matters and up is not _WANTED[way] and (shop.lift_g == 0 or aim.grams <= shop.lift_g):
        up, turned = _WANTED[way], True
    if way is Way.RAIL and up is Face.SHOW:  # its splinter strip guards one side of the line
        side = led_on(stroke, bed).other
        bare = matters and edges.along(stroke, side)
    else:
        bare = matters and way is not Way.RAIL and up is not _WANTED[way]
    guards = (_guard(way, shop),) if bare else ()
    return Lying(up=up, turn_over=turned, guards=guards, matters=matters)


def _guard(way: Way, shop: Shop) -> Guard:
    """Return what is done: a line can be scored where the saw runs twice along the same."""
    if way is Way.RAIL and shop.splinter_guard:
        return Guard.SPLINTER_GUARD
    return Guard.TAPE if way is Way.EDGE_GUIDE else Guard.SCORE


def _matter(edges: "_Edges", stroke: Stroke) -> bool:
    """Whether the edge of a part that is shown is sawn where it splinters."""
    return splinters(stroke) and any(edges.along(stroke, side) for side in Keep)


_EITHER_WAY: Final = Lying(up=Face.EITHER, turn_over=False, guards=(), matters=False)
"""How what comes of a sheet lies, no part of which is shown."""
_lying = Remembered(_lie, 4096)
_matters = Remembered(_matter, 4096)


def splinters(stroke: Stroke) -> bool:
    """Say whether a face splinters along a cut: across the grain, or brittle any way."""
    return stroke.across_grain or _either_way(stroke.sheet.material, stroke.sheet.grain)


@lru_cache(256)
def _either_way(material: str, grain: SheetGrain) -> bool:
    unknown = grain is SheetGrain.NONE and bool(_VENEER.search(material))
    return unknown or bool(_BRITTLE.search(material))


def _shown_on(plan: Plan) -> "dict[str, _Edges]":
    """Return the edges of the parts whose face is shown, of each sheet that has such parts."""
    shown = {part.id: part for part in plan.parts if part.show}
    lying: dict[str, list[Placement]] = {}
    for one in plan.placements if shown else ():
        if one.part in shown:
            lying.setdefault(one.sheet, []).append(one)
    return {sheet: _edges(plan.parts, *found) for sheet, found in lying.items()}


class _Edges:
    """Where on a sheet the edges are of parts whose face is shown, each part at its final size."""

    def __init__(self, parts: Sequence[PlanPart], *lying: Placement) -> None:
        of = {part.id: part for part in parts}
        self._at: dict[tuple[Axis, Keep, Length], list[tuple[Length, Length]]] = {}
        for one in lying:
            self._add(final_rect(one, of[one.part]))

    def _add(self, part: Rect) -> None:
        across, along = (part.y, part.bottom), (part.x, part.right)
        for axis, (start, end), way in (
            (Axis.RIP, across, along),
            (Axis.CROSSCUT, along, across),
        ):
            self._at.setdefault((axis, Keep.NEAR, end), []).append(way)
            self._at.setdefault((axis, Keep.FAR, start), []).append(way)

    def along(self, stroke: Stroke, side: Keep) -> bool:
        """Say whether a cut makes an edge of such a part, on one side of it."""
        dust, rip = stroke.cut.rect, stroke.axis is Axis.RIP
        low, high = (dust.y, dust.bottom) if rip else (dust.x, dust.right)
        start, end = (dust.x, dust.right) if rip else (dust.y, dust.bottom)
        edge = low if side is Keep.NEAR else high
        found = self._at.get((stroke.axis, side, edge), ())
        return any(first < end and start < last for first, last in found)


_edges = Remembered(_Edges, 512)
