"""What the maker holds: what of a sheet stays put, and whether a hold can be kept at all.

A hold names a sheet, or a part on it. A held part freezes its strip's place and width, and
what lies in that strip up to and including its own block; a held strip all its contents; a
held sheet everything on it. A hold that cannot be kept now is suspended, with the reason,
and is in force again as soon as it can be.
"""

from collections import Counter
from collections.abc import Iterable, Iterator

from shared.check import plannable
from shared.geometry import Rect
from shared.job import Job
from shared.layout import Hold, Layout, LayoutSheet, Scope
from shared.lengths import Length
from shared.no_go import barred_by, place_name
from shared.parts import Part
from shared.plan import Placement
from shared.shop import Axis, CutRule, FirstCut
from shared.stock import Stock, orientations
from shared.tree import Place, Run, piece_rects, places, slice_of

Suspended = tuple[Hold, str]
"""A hold that cannot be kept now, and why, in one sentence."""

_AXES = {FirstCut.RIP: {Axis.RIP}, FirstCut.CROSSCUT: {Axis.CROSSCUT}, FirstCut.EITHER: set(Axis)}


def frozen(
    sheet: LayoutSheet, stock: Stock, kerf: Length, holds: Iterable[Hold]
) -> tuple[Placement, ...]:
    """Return what of a sheet stays put, in the order of its placements.

    Parameters
    ----------
    sheet
        As it lies, with its tree of cuts; without one nothing is frozen.
    stock
        The row it comes from.
    kerf
        In ticks.
    holds
        Those of other sheets are passed over.
    """
    areas = frozen_areas(sheet, stock, kerf, holds)
    return tuple(one for one in sheet.placements if any(a.contains(one.rect) for a in areas))


def frozen_areas(
    sheet: LayoutSheet, stock: Stock, kerf: Length, holds: Iterable[Hold]
) -> tuple[Rect, ...]:
    """Return which part of a sheet each hold on it freezes, in the sheet's frame.

    Parameters as in `frozen`. A hold whose part does not lie on the sheet freezes nothing.
    """
    if sheet.tree is None:
        return ()
    whole = stock.whole
    found = (
        whole if hold.scope is Scope.SHEET else _area(sheet.tree, whole, kerf, hold)
        for hold in holds
        if hold.sheet == sheet.id
    )
    return tuple(area for area in found if area is not None)


def _area(tree: Run, whole: Rect, kerf: Length, hold: Hold) -> Rect | None:
    """Return the strip that holds the named part, or so much of it as a held part freezes."""
    for piece, strip in piece_rects(tree, whole, kerf):
        if _is_named(piece.place, hold):
            return strip
        for block in _blocks(piece.run, strip, kerf, hold):
            return strip if hold.scope is Scope.STRIP else _up_to(strip, block, tree.axis.other)
    return None


def _blocks(run: Run | None, strip: Rect, kerf: Length, hold: Hold) -> Iterator[Rect]:
    """Yield the block of a strip that holds the named part, if it is in it."""
    for piece, block in piece_rects(run, strip, kerf) if run is not None else ():
        inside = (place for place, _ in places(piece.run, block, kerf))
        if any(_is_named(place, hold) for place in (piece.place, *inside)):
            yield block


def _up_to(strip: Rect, block: Rect, axis: Axis) -> Rect:
    """Return a strip from its reference end to the end of one of its blocks."""
    size = block.bottom - strip.y if axis is Axis.RIP else block.right - strip.x
    return slice_of(strip, axis, 0, size)


def _is_named(copy: Place | Placement | None, hold: Hold) -> bool:
    """Say whether a copy is the one that a hold names."""
    return copy is not None and copy.key == hold.key


def standing(job: Job, layout: Layout) -> tuple[tuple[Hold, ...], tuple[Suspended, ...]]:
    """Divide the holds of a layout into those in force, and those suspended with the reason.

    A hold is in force when its part lies on its sheet where it was held, with the size, grain
    and material that it has now; the sheet can be cut, and in the direction of the rule (not
    asked of sheets that are yours, which stay in any case, nor of whole sheets); and there
    are as many such sheets at hand. The sheets of earlier holds go first.
    """
    if not layout.holds:
        return (), ()
    court = _Court(job, layout)
    judged = [(hold, court.against(hold)) for hold in layout.holds]
    return (
        tuple(hold for hold, reason in judged if not reason),
        tuple((hold, reason) for hold, reason in judged if reason),
    )


def follows(tree: Run, rule: CutRule) -> bool:
    """Say whether a sheet is cut in the direction of the rule, so that it has such strips.

    How deep a strip is cut is no matter: what is held is not planned.
    """
    return tree.axis in _AXES[rule.first]


def says(job: Job, hold: Hold) -> str:
    """Return what is held, such as ``Case side 2 on sheet 1``."""
    if hold.scope is Scope.SHEET:
        return f"Sheet {hold.sheet}"
    name = _name(job, hold)
    return f"{'The strip of ' if hold.scope is Scope.STRIP else ''}{name} on sheet {hold.sheet}"


def said_within(job: Job, hold: Hold) -> str:
    """Return what is held, within a sentence, such as ``sheet 1``; parts are named as typed."""
    words = says(job, hold)
    return words if hold.scope is Scope.PART else words[0].lower() + words[1:]


def _name(job: Job, hold: Hold) -> str:
    part = next((part for part in job.parts if part.id == hold.part), None)
    if part is None:
        return f"a part that is gone ({hold.part})"
    return part.named(hold.copy)


class _Court:
    """Judges the holds of one layout, one after the other."""

    def __init__(self, job: Job, layout: Layout) -> None:
        self._job, self._sound = job, plannable(job)
        self._parts = {part.id: part for part in self._sound.parts}
        self._wrong = {part.id for part in job.parts} - set(self._parts)
        self._rows = {row.id: row for row in self._sound.stock}
        self._sheets = {sheet.id: sheet for sheet in layout.sheets}
        self._used = Counter(sheet.stock for sheet in layout.sheets if sheet.yours)
        self._counted = {sheet.id for sheet in layout.sheets if sheet.yours}

    def against(self, hold: Hold) -> str:
        """Say why a hold cannot be kept; ``""`` if it can."""
        sheet = self._sheets.get(hold.sheet)
        what = f"The lock of {said_within(self._job, hold)}"
        if sheet is None:
            return f"{what} is not in force: that sheet is not in use."
        row = self._rows.get(sheet.stock)
        if row is None:
            return f"{what} is not in force: the row of its sheet has an error."
        reason = self._of_part(hold, sheet, row) or self._of_sheet(hold, sheet)
        reason = reason or self._of_number(sheet, row)
        return reason and f"{what} is not in force: {reason}."

    def _of_part(self, hold: Hold, sheet: LayoutSheet, row: Stock) -> str:
        if hold.scope is Scope.SHEET:
            known = hold.lies is None or hold.lies in sheet.placements
            return "" if known else "that number is of another sheet now"
        if hold.part in self._wrong:
            return "its row has an error"
        part = self._parts.get(hold.part)
        if part is None or not 1 <= hold.copy <= part.copies:
            return "the take-off has no such part"
        lies = [one for one in sheet.placements if _is_named(one, hold)]
        if not lies or not _is_where_held(hold, lies[0]):
            return "it no longer fits where it was locked"
        return _of_placement(part, lies[0], row)

    def _of_sheet(self, hold: Hold, sheet: LayoutSheet) -> str:
        if sheet.tree is None:
            return "its sheet cannot be cut as it lies"
        if hold.scope is Scope.SHEET or sheet.yours or follows(sheet.tree, self._job.rule):
            return ""
        return "its sheet is not cut as the rule says now; lock the whole sheet instead"

    def _of_number(self, sheet: LayoutSheet, row: Stock) -> str:
        """Count a sheet that is held, unless there are not so many at hand."""
        if sheet.id in self._counted:
            return ""
        if row.at_hand is not None and self._used[row.id] >= row.at_hand:
            return f"more sheets of {row.name} are locked than are at hand ({row.at_hand})"
        self._counted.add(sheet.id)
        self._used[row.id] += 1
        return ""


def _is_where_held(hold: Hold, lies: Placement) -> bool:
    """Say whether a part lies where it was when it was held, if that is known."""
    if hold.lies is None:
        return True
    was = hold.lies
    return (was.x, was.y, was.turned) == (lies.x, lies.y, lies.turned)


def _of_placement(part: Part, lies: Placement, stock: Stock) -> str:
    size = (part.cut_width, part.cut_length) if lies.turned else (part.cut_length, part.cut_width)
    if size != (lies.length, lies.width):
        return "its size has changed"
    if part.material != stock.material:
        return f"it is of {part.material}, the sheet of {stock.material}"
    if lies.turned not in orientations(part.grain_rule, stock.grain):
        return f"it lies against its grain rule, {part.grain_rule}"
    bad = barred_by(stock.no_go, lies.rect, show=part.show)
    return "" if bad is None else f"it lies on a {place_name(bad, stock.whole)}"
