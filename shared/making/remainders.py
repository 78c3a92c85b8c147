"""Sizes of parts that no cut is set to, because they are what an exact run leaves."""

from collections.abc import Iterator

from shared.geometry import Rect
from shared.making.outcome import Side
from shared.making.record import SizeCheck
from shared.making.strokes import Stroke
from shared.plan import Plan
from shared.saw.promises import final_rect
from shared.shop import Axis
from shared.tree import extent


class Remainders:
    """Knows the parts of a plan at their final sizes, by the sheet they lie on.

    A fit part that waits is left out: its opening is measured first.
    """

    def __init__(self, plan: Plan) -> None:
        parts = {part.id: part for part in plan.parts}
        self._finals: dict[str, list[Rect]] = {}
        for one in plan.placements:
            part = parts[one.part]
            if not part.waits:
                self._finals.setdefault(one.sheet, []).append(final_rect(one, part))

    def checks(self, stroke: Stroke, far: Side | None) -> Iterator[SizeCheck]:
        """Yield what is to be measured after a cut: what it leaves, if a part is as wide."""
        if far is not None and any(self._as_wide(stroke)):
            yield SizeCheck(side=far, size=extent(stroke.far, stroke.axis))

    def _as_wide(self, stroke: Stroke) -> Iterator[bool]:
        rest = stroke.far
        for part in self._finals.get(stroke.sheet.id, ()):
            if stroke.axis is Axis.RIP:
                fills = part.y == rest.y and part.width == rest.width
            else:
                fills = part.x == rest.x and part.length == rest.length
            yield fills and rest.contains(part)
