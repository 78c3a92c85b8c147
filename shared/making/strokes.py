"""Every cut with the piece it goes through, as the cuts before have left it."""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import TypeAlias

from shared.drawing.marks import sides
from shared.geometry import Rect
from shared.lengths import Length
from shared.plan import Cut, CutKind, Keep, Plan, PlanSheet
from shared.remembered import Remembered
from shared.shop import Axis, Shop
from shared.stock import SheetGrain
from shared.tree import extent, span


@dataclass(frozen=True, slots=True, kw_only=True)
class Stroke:
    """A cut laid over its piece.

    ``piece`` is what is cut, ``near`` what lies towards the reference edge or end behind
    the cut, ``far`` the other side; in the frame of the sheet, in ticks. A side may be empty.
    """

    cut: Cut
    sheet: PlanSheet
    axis: Axis
    piece: Rect
    near: Rect
    far: Rect

    @property
    def long(self) -> Length:
        """Length of the cut, in ticks."""
        return span(self.piece, self.axis)

    @property
    def kept(self) -> Length:
        """Extent of the keep side at right angles to the cut, in ticks."""
        return extent(self.near if self.cut.keep is Keep.NEAR else self.far, self.axis)

    @property
    def other(self) -> Length:
        """Extent of the other side at right angles to the cut, in ticks."""
        return extent(self.far if self.cut.keep is Keep.NEAR else self.near, self.axis)

    @property
    def dust(self) -> Length:
        """Stock that the blade takes, at right angles to the cut, in ticks."""
        return extent(self.cut.rect, self.axis)

    @property
    def is_trim(self) -> bool:
        """Whether it makes a reference edge."""
        return self.cut.kind is CutKind.TRIM

    @property
    def opens_sheet(self) -> bool:
        """Whether it is the first cut of a whole sheet."""
        return not self.sheet.piece and self.piece == self.sheet.rect

    @property
    def is_skim(self) -> bool:
        """Whether the blade takes all that is left behind the line, so that it may be left out."""
        return not self.is_trim and self.far.area == 0

    @property
    def across_grain(self) -> bool:
        """Whether it runs across the face grain."""
        along = Axis.RIP if self.sheet.grain is SheetGrain.ALONG_L else Axis.CROSSCUT
        return self.sheet.grain is not SheetGrain.NONE and self.axis is not along

    def at_table(self, shop: Shop) -> bool:
        """Say whether it is made at the table saw."""
        return shop.table is not None and self.cut.tool == shop.table.tool


def strokes(plan: Plan) -> Iterator[Stroke]:
    """Yield the cuts of an accepted plan in sawing order, each laid over its piece.

    A cut of a piece that is as it was is laid over it as it was.
    """
    sheets = {sheet.id: sheet for sheet in plan.sheets}
    lying = {sheet.id: _whole(sheet) for sheet in plan.sheets}
    for cut in plan.cuts:
        one = _laid(cut, sheets[cut.sheet], lying[cut.piece])
        lying[cut.piece] = one.far
        if cut.off:
            lying[cut.off] = one.near
        yield one


_Sides: TypeAlias = tuple[Axis, Rect, Rect]


def _lay(cut: Cut, sheet: PlanSheet, piece: Rect) -> Stroke:
    axis, near, far = _parted(cut.x, cut.y, cut.length, cut.width, piece)
    return Stroke(cut=cut, sheet=sheet, axis=axis, piece=piece, near=near, far=far)


def _part(x: Length, y: Length, length: Length, width: Length, piece: Rect) -> _Sides:
    """Return which way the saw runs, edge to edge of the piece, and what lies on each side."""
    rips = x == piece.x and length == piece.length
    axis = Axis.RIP if rips else Axis.CROSSCUT
    return axis, *sides(Rect(x=x, y=y, length=length, width=width), piece, axis)


_laid = Remembered(_lay, 4096)
_parted = Remembered(_part, 4096)
_whole = Remembered(lambda sheet: sheet.rect, 512)
