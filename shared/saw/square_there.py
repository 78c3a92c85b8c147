"""What a cut has to be squared from, and what has to be checked at a sheet before its first cut.

The saw lets a sheet lean by what its record says the plan takes up, and looks whether every part
still lies in it, the blade's stock beside it. It shares no arithmetic with what writes records.
"""

from collections.abc import Iterator
from fractions import Fraction
from math import isqrt
from typing import Final

from shared.lengths import MM, Length
from shared.making.record import CutRecord, Edge, Squared, SquaredBy, Way
from shared.making.settings import Device
from shared.plan import Cut, CutKind, Placement, Plan, PlanSheet
from shared.saw.laid import Lies
from shared.saw.sawhorses import SawPass
from shared.shop import Axis, Shop

STOCK: Final[Length] = 2 * MM
"""What the blade wants beside it (common practice)."""


def squared_there(
    cut: Cut, done: SawPass, there: Lies, shop: Shop, led: tuple[Way, Device]
) -> Squared | None:
    """Return what a cut has to be squared from, by what leads the saw and holds the size."""
    way, device = led
    if done.axis is not Axis.CROSSCUT:
        return None
    if way in {Way.FENCE, Way.EDGE_GUIDE}:
        edge = Edge.REFERENCE if way is Way.FENCE else Edge.LEFT
        return Squared(edge=edge, by=SquaredBy.DEVICE)
    trusted = there.sawn and cut.kind is not CutKind.TRIM
    if trusted and device is Device.BOTH_ENDS:
        return Squared(edge=Edge.LEFT, by=SquaredBy.BOTH_ENDS)
    if there.long <= 2 * shop.square:
        return Squared(edge=Edge.REFERENCE, by=SquaredBy.SQUARE)
    if device is Device.STOP:
        return Squared(edge=Edge.REFERENCE, by=SquaredBy.DEVICE)
    return Squared(edge=Edge.LEFT if trusted else Edge.REFERENCE, by=SquaredBy.BOTH_ENDS)


class SheetsThere:
    """Knows the first cut and the parts of each sheet of a plan."""

    def __init__(self, plan: Plan) -> None:
        self._parts: dict[str, list[Placement]] = {}
        for one in plan.placements:
            self._parts.setdefault(one.sheet, []).append(one)
        self._begun: set[str] = set()

    def faults(self, cut: Cut, done: SawPass, sheet: PlanSheet, record: CutRecord) -> Iterator[str]:
        """Yield what a record says otherwise of the check of its sheet."""
        check, first = record.sheet_check, sheet.id not in self._begun
        self._begun.add(sheet.id)
        whole = first and not sheet.piece and done.piece.rect == sheet.rect
        if whole is not (check is not None):
            yield "the check of its sheet is missing, or one too many"
        if check is None or not whole:
            return
        if check.straight_first is not (done.axis is Axis.CROSSCUT):
            yield "it says otherwise whether the sheet is crosscut first"
        beside = cut.kerf + STOCK
        if check.bow > max(0, sheet.trims.near - beside):
            yield f"no trim takes away a bow of {check.bow}"
        if check.absorbs and not self._fit(sheet, check.absorbs, beside):
            yield f"its plan does not take up diagonals that differ by {check.absorbs}"

    def _fit(self, sheet: PlanSheet, difference: Length, beside: Length) -> bool:
        """Whether each part lies in a sheet that leans so, stock for the blade at its left end.

        By the law of cosines the squares of the diagonals differ by four times one side and the
        shift of the other; and their sum is at most twice the diagonal of a rectangle.
        """
        diagonal = isqrt(sheet.length**2 + sheet.width**2) + 1
        shift = Fraction(2 * diagonal * difference, 4 * sheet.length)
        for one in self._parts.get(sheet.id, ()):
            share = shift * one.width / sheet.width
            spare = min(one.x - beside, sheet.length - one.x - one.length)
            if spare < share - 1:
                return False
        return True
