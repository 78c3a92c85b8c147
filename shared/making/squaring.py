"""What a cut is squared from, and what is measured at a sheet before anything is cut.

A rip runs parallel to the edge it is set from and is squared from nothing. A crosscut, and the
trim of a short edge, is square to the piece's edge towards the reference edge, the V edge. A
square does that if its blade reaches over at least half of the cut: a gap of 0.2 mm, which one
sees against the light, is then 0.4 mm at the far edge, less than the 0.5 mm in a metre to which
EN 324-2 measures a sheet with a square of 1000 mm. With a shorter square the size is marked at
both ends from the piece's sawn end; where that is a factory end, which nobody knows to be square,
the line is laid out by 3-4-5 from the V edge. What is marked at both ends from a sawn end anyway,
because nothing holds its size, is square by that: a square could only disagree. Nothing is set
at the stop that is marked, too.
"""

from collections.abc import Iterable, Iterator

from shared.lengths import Length
from shared.making.aim import Aim
from shared.making.devices import is_squared
from shared.making.record import Edge, SheetCheck, Squared, SquaredBy, Way
from shared.making.settings import Device
from shared.making.strokes import Stroke
from shared.plan import CutKind, Placement, Plan, PlanSheet
from shared.remembered import Remembered
from shared.shop import Axis, Rail, Shop
from shared.squaring import BEYOND_KERF, absorbed
from shared.tree import extent


def squared_of(aim: Aim, way: Way, device: Device, shop: Shop) -> Squared | None:
    """Say what a cut is squared from, and how; ``None`` where nothing is to be squared.

    ``device`` is what holds its size.
    """
    if aim.axis is Axis.RIP:
        return None
    if way is Way.FENCE:
        return Squared(edge=Edge.REFERENCE, by=SquaredBy.DEVICE)
    if way is Way.EDGE_GUIDE:
        return Squared(edge=Edge.LEFT, by=SquaredBy.DEVICE)
    trusted = aim.sawn and aim.kind is not CutKind.TRIM
    marked = trusted and device is Device.BOTH_ENDS
    if is_squared(aim, shop) and not marked:
        return Squared(edge=Edge.REFERENCE, by=SquaredBy.SQUARE)
    if device is Device.STOP:
        return Squared(edge=Edge.REFERENCE, by=SquaredBy.DEVICE)
    return Squared(edge=Edge.LEFT if trusted else Edge.REFERENCE, by=SquaredBy.BOTH_ENDS)


def three_four_five(stroke: Stroke, step: Length) -> tuple[Length, Length, Length] | None:
    """Return how a right angle is laid out from the V edge: along it, across, and between.

    The converse of Pythagoras' theorem: sides of 3, 4 and 5 enclose a right angle. As large as
    the piece allows from the mark, towards the end that is farther from it, in whole steps of the
    maker's rule; ``None`` on a piece too small for that. Lengths in ticks.
    """
    piece, size = stroke.piece, stroke.cut.size
    beside = max(size, piece.length - size)
    unit = max(
        (min(beside // along, piece.width // across), along, across)
        for along, across in ((3, 4), (4, 3))
    )
    steps = unit[0] // step
    if not steps:
        return None
    along, across = (side * steps * step for side in unit[1:])
    return along, across, 5 * steps * step


class SheetChecks:
    """Knows what is checked of each sheet of a plan before its first cut."""

    def __init__(self, plan: Plan, its: Iterable[Stroke]) -> None:
        self._strokes: dict[str, list[Stroke]] = {}
        for stroke in its:
            self._strokes.setdefault(stroke.sheet.id, []).append(stroke)
        self._placed: dict[str, list[Placement]] = {}
        for one in plan.placements:
            self._placed.setdefault(one.sheet, []).append(one)

    def is_first(self, stroke: Stroke) -> bool:
        """Say whether a cut is the first of its sheet."""
        return stroke is self._strokes[stroke.sheet.id][0]

    def check(self, stroke: Stroke, rail: Rail | None) -> SheetCheck | None:
        """Return what is checked before a cut: of a whole sheet, before its first one.

        ``rail`` is what is laid along its reference edge. A piece that was begun on an earlier
        day was checked then, and is no whole sheet.
        """
        its = self._strokes[stroke.sheet.id]
        if not self.is_first(stroke) or not stroke.opens_sheet:
            return None
        return _check(rail, len(its), *its, *self._placed.get(stroke.sheet.id, ()))


def _check_sheet(rail: Rail | None, cuts: int, *found: Stroke | Placement) -> SheetCheck:
    """Return what is checked at a sheet of so many cuts: these, then what lies there."""
    its = [one for one in found[:cuts] if isinstance(one, Stroke)]
    placed = [one for one in found[cuts:] if isinstance(one, Placement)]
    sheet = its[0].sheet
    near = (one for one in its if one.is_trim and one.axis is Axis.RIP)
    shift = min(_shifts(its, placed), default=0)
    return SheetCheck(
        rail=rail,
        straight_first=its[0].axis is Axis.CROSSCUT,
        bow=max(0, min((_spare(one) for one in near), default=0)),
        absorbs=absorbed(sheet.length, sheet.width, max(0, shift)),
    )


_check = Remembered(_check_sheet, 256)


def _spare(trim: Stroke) -> Length:
    """Return what a trim takes beyond the kerf and the stock the blade wants beside it."""
    return trim.cut.size - trim.cut.kerf - BEYOND_KERF


def _shifts(its: list[Stroke], placed: Iterable[Placement]) -> Iterator[Length]:
    """Yield for each strip how far off square the sheet's ends may be over its whole width.

    A strip has its share of that only: as much as its width is of the sheet's. Its end trim has
    to leave the blade its stock, and what lies beyond its last part has to be as long as its
    share, since the far end leans as the near one does.
    """
    sheet, parts = its[0].sheet, list(placed)
    for y, width in _strips(its):
        inside = [one for one in parts if y <= one.y < y + width]
        if not inside:
            continue
        starts = [
            _spare(one)
            for one in its
            if one.is_trim
            and one.axis is Axis.CROSSCUT
            and one.piece.x == 0
            and one.piece.y < y + width
            and y < one.piece.bottom
        ]
        beyond = sheet.length - max(one.x + one.length for one in inside)
        for spare in (min(starts, default=0), beyond):
            yield max(0, spare) * sheet.width // width


def _strips(its: list[Stroke]) -> Iterator[tuple[Length, Length]]:
    """Yield where each strip of the first level lies: from the reference edge, and how wide.

    The first cut goes over the whole sheet. Where it is a crosscut, the sheet is one strip.
    """
    sheet: PlanSheet = its[0].sheet
    if its[0].axis is Axis.CROSSCUT:
        yield 0, sheet.width
        return
    last = None
    for one in its:
        if one.cut.level == its[0].cut.level:
            last = one.far
            if not one.is_trim:
                yield one.near.y, extent(one.near, Axis.RIP)
    if last is not None and last.area:
        yield last.y, last.width
