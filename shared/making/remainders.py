"""Sizes of parts that no cut is set to, because they are what an exact run leaves."""

from shared.geometry import Rect
from shared.lengths import Length
from shared.making.outcome import Side
from shared.making.record import SizeCheck
from shared.making.strokes import Stroke
from shared.plan import Plan
from shared.remembered import Remembered
from shared.saw.promises import final_rect
from shared.shop import Axis


class Remainders:
    """Knows the parts of a plan at their final sizes, by the sheet they lie on.

    A fit part that waits is left out: its opening is measured first.
    """

    def __init__(self, plan: Plan) -> None:
        parts = {part.id: part for part in plan.parts}
        self._finals: dict[tuple[str, Axis, Length, Length], list[Rect]] = {}
        for one in plan.placements:
            part = parts[one.part]
            if not part.waits:
                final = final_rect(one, part)
                rip, crosscut = (one.sheet, Axis.RIP), (one.sheet, Axis.CROSSCUT)
                self._finals.setdefault((*rip, final.y, final.width), []).append(final)
                self._finals.setdefault((*crosscut, final.x, final.length), []).append(final)

    def checks(self, stroke: Stroke, far: Side | None) -> tuple[SizeCheck, ...]:
        """Return what is to be measured after a cut: what it leaves, if a part is as wide."""
        if far is None:
            return ()
        rest, axis = stroke.far, stroke.axis
        start, size = (rest.y, rest.width) if axis is Axis.RIP else (rest.x, rest.length)
        alike = self._finals.get((stroke.sheet.id, axis, start, size), ())
        if any(rest.contains(part) for part in alike):
            return _check(far, size)
        return ()


_check = Remembered(lambda side, size: (SizeCheck(side=side, size=size),), 1024)
