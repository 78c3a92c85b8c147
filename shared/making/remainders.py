"""Sizes of parts that no cut is set to, because they are what an exact run leaves."""

from collections.abc import Sequence

from shared.geometry import Rect
from shared.lengths import Length
from shared.making.outcome import Side, lying_on
from shared.making.record import SizeCheck
from shared.making.strokes import Stroke
from shared.plan import Placement, Plan, PlanPart
from shared.remembered import Remembered
from shared.saw.promises import final_rect
from shared.shop import Axis


class Remainders:
    """Knows the parts of a plan at their final sizes, by the sheet they lie on.

    A fit part that waits is left out: its opening is measured first.
    """

    def __init__(self, plan: Plan) -> None:
        self._finals = {
            sheet: _finals_on(plan.parts, *its) for sheet, its in lying_on(plan).items()
        }

    def checks(self, stroke: Stroke, far: Side | None) -> tuple[SizeCheck, ...]:
        """Return what is to be measured after a cut: what it leaves, if a part is as wide."""
        if far is None:
            return ()
        rest, axis = stroke.far, stroke.axis
        start, size = (rest.y, rest.width) if axis is Axis.RIP else (rest.x, rest.length)
        alike = self._finals.get(stroke.sheet.id, {}).get((axis, start, size), ())
        if any(rest.contains(part) for part in alike):
            return _check(far, size)
        return ()


_check = Remembered(lambda side, size: (SizeCheck(side=side, size=size),), 1024)


def _finals(
    parts: Sequence[PlanPart], *lying: Placement
) -> dict[tuple[Axis, Length, Length], list[Rect]]:
    """Return where the parts on a sheet begin at right angles to cuts, and how wide they are."""
    of = {part.id: part for part in parts}
    found: dict[tuple[Axis, Length, Length], list[Rect]] = {}
    for one in lying:
        if not of[one.part].waits:
            final = final_rect(one, of[one.part])
            found.setdefault((Axis.RIP, final.y, final.width), []).append(final)
            found.setdefault((Axis.CROSSCUT, final.x, final.length), []).append(final)
    return found


_finals_on = Remembered(_finals, 512)
