"""Which parts lie in each piece on the sawhorses, cut by cut."""

from collections.abc import Iterable, Sequence
from typing import NamedTuple

from shared.plan import Cut, CutKind, Placement, PlanSheet
from shared.saw.sawhorses import SawPass
from shared.shop import Axis


class Parted(NamedTuple):
    """What lay in a piece before a cut, and what of it lies on which side of the dust."""

    before: Sequence[Placement]
    near: Sequence[Placement]
    far: Sequence[Placement]


class Contents:
    """Knows by the corner nearest to the reference corner in which piece a part lies."""

    def __init__(self, sheets: Iterable[PlanSheet], lying: Iterable[Placement]) -> None:
        self._inside: dict[str, list[Placement]] = {sheet.id: [] for sheet in sheets}
        for one in lying:
            self._inside.setdefault(one.sheet, []).append(one)

    def saw(self, cut: Cut, done: SawPass) -> Parted:
        """Make a cut that was possible."""
        before = self._inside.get(cut.piece, [])
        near: list[Placement] = []
        far: list[Placement] = []
        rip = done.axis is Axis.RIP
        for one in before:
            (near if (one.y if rip else one.x) < done.dust_start else far).append(one)
        if cut.kind is not CutKind.TRIM:
            self._inside[cut.off] = near
        self._inside[cut.piece] = far
        return Parted(before, near, far)
