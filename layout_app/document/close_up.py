"""Push the parts of a sheet together, toward the reference corner, one kerf between them.

Works as a saw could part them: groups between which a cut runs from edge to edge are pushed
together in their order, then the groups inside each, until nothing moves. Parts that no cut
separates, and parts nearer than a kerf, stay as they lie to each other. So a layout that can
be cut edge to edge can be cut so after it. What is held, or has to stay so that the sheet can
be cut, stays where it lies; the rest is pushed up to it.
"""

from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from layout_app.document.document import Document
from layout_app.document.edit_layout import lay_parts
from layout_app.document.judging_many import judge_here
from layout_app.document.push_aside import part_overlaps
from layout_app.model import layout_edits
from layout_app.model.feasibility import NAMED_AT_MOST
from layout_app.model.giving_way import parted
from layout_app.model.snapping import frame_of
from layout_app.model.stops import Way, high, low, moved
from shared.geometry import Rect
from shared.layout import LayoutSheet
from shared.lengths import Length
from shared.parts import Copy
from shared.plan import Placement
from shared.shop import Axis

Boxes = dict[int, Rect]
"""Rectangles by a number that stays theirs."""


def close_up(doc: Document, *sheet_ids: str) -> bool:
    """Push the parts of sheets together, as one step; what has to stay is named."""
    laid = [new for sheet_id in sheet_ids if (new := _closed(doc, sheet_id))]
    if not laid:
        return False
    what = f"sheet {laid[0][0].sheet}" if len(laid) == 1 else f"{len(laid)} sheets"
    moved_parts = [one for placements in laid for one in placements]
    return lay_parts(doc, f"close up {what}", moved_parts)


def _closed(doc: Document, sheet_id: str) -> tuple[Placement, ...]:
    """Return what lies elsewhere once a sheet is closed up; say what stays, and why.

    Parts that overlap are parted first.
    """
    lay = doc.layout.sheet(sheet_id)
    sheet = _parted(doc, lay)
    if sheet is None:
        return ()
    has_to_be_cut = sheet is not lay or judge_here(doc, lay).good
    stays: dict[Copy, str] = {}
    new = closer(doc, sheet)
    while new and (more := _held(doc, new) or (has_to_be_cut and _uncut(doc, lay, sheet, new))):
        stays |= more
        new = closer(doc, sheet, stays)
    if stays:
        doc.said.emit(_left(doc, stays))
    elif not new and sheet is lay:
        doc.said.emit(f"The parts of sheet {sheet_id} lie as close as they can in this order.")
    return _changed(lay, sheet, new)


def _parted(doc: Document, sheet: LayoutSheet) -> LayoutSheet | None:
    """Return a sheet on which no part lies on another one; say why if that cannot be."""
    found = part_overlaps(doc, sheet)
    if found is None:
        return sheet
    if found.why:
        doc.said.emit(f"The parts of sheet {sheet.id} that overlap cannot be parted: {found.why}.")
        return None
    now = {one.key: one for one in found.lying}
    return replace(sheet, placements=tuple(now.get(one.key, one) for one in sheet.placements))


def _changed(
    lay: LayoutSheet, sheet: LayoutSheet, new: Sequence[Placement]
) -> tuple[Placement, ...]:
    """Return what lies elsewhere than on a sheet as it lay, with some of it closed up."""
    now = {one.key: one for one in new}
    closed = (now.get(one.key, one) for one in sheet.placements)
    return tuple(one for one, before in zip(closed, lay.placements, strict=True) if one != before)


def _left(doc: Document, stays: Mapping[Copy, str]) -> str:
    """Say which parts stay where they lie, and why the first of them does."""
    names = [doc.job.named(key) for key in stays]
    some = ", ".join(names[:NAMED_AT_MOST])
    more = len(names) - NAMED_AT_MOST
    listed = f"{some} and {more} more" if more > 0 else some
    reason = next(iter(stays.values()))
    return f"{listed} {'stays' if len(names) == 1 else 'stay'} in place. {reason}"


def closer(
    doc: Document, sheet: LayoutSheet, stays: Collection[Copy] = ()
) -> tuple[Placement, ...]:
    """Return the parts of a sheet that lie elsewhere once it is closed up round what stays."""
    stock = doc.job.stock_row(sheet.stock)
    first = Way.X if sheet.tree is not None and sheet.tree.axis is Axis.CROSSCUT else Way.Y
    rects = [one.rect for one in sheet.placements]
    fixed = {i for i, one in enumerate(sheet.placements) if one.key in stays}
    closed = closed_up(rects, stock.usable, doc.job.shop.kerf, first, fixed)
    pairs = zip(sheet.placements, closed, strict=True)
    return tuple(replace(one, x=to.x, y=to.y) for one, to in pairs if one.rect != to)


def closed_up(
    rects: Sequence[Rect],
    usable: Rect,
    kerf: Length,
    first: Way = Way.Y,
    fixed: Collection[int] = (),
) -> tuple[Rect, ...]:
    """Return where rectangles lie once they are pushed together.

    Parameters
    ----------
    rects
        As they lie, in ticks.
    usable
        The sheet less its trims; its corner is what they are pushed to.
    kerf
        What stays between them.
    first
        The direction in which groups follow each other at first.
    fixed
        Which of them stay where they lie.
    """
    boxes = dict(enumerate(rects))
    pushing = _Pushing(kerf, frozenset(fixed))
    while (new := dict(pushing.pushed(boxes, (usable.x, usable.y), first))) != boxes:
        boxes = new
    return tuple(boxes[index] for index in range(len(rects)))


@dataclass(frozen=True, slots=True)
class _Pushing:
    """Pushes groups together, a kerf between them; those with something fixed do not move."""

    kerf: Length
    fixed: frozenset[int]

    def pushed(
        self, boxes: Boxes, corner: tuple[Length, Length], first: Way
    ) -> Iterator[tuple[int, Rect]]:
        """Yield rectangles pushed to a corner, group by group; none goes away from it."""
        for way in (first, first.other):
            groups = parted(boxes, way, self.kerf)
            if len(groups) > 1:
                yield from self._in_a_row(groups, corner, way)
                return
        yield from boxes.items() if self._stays(boxes) else _as_one(boxes, corner)

    def _in_a_row(
        self, groups: Iterable[Boxes], corner: tuple[Length, Length], way: Way
    ) -> Iterator[tuple[int, Rect]]:
        """Push groups together one behind the other."""
        x, y = corner
        for group in groups:
            if self._stays(group):
                start = min(low(one, way) for one in group.values())
                x, y = (start, y) if way is Way.X else (x, start)
            new = dict(self.pushed(group, (x, y), way.other))
            yield from new.items()
            end = max(high(one, way) for one in new.values()) + self.kerf
            x, y = (end, y) if way is Way.X else (x, end)

    def _stays(self, boxes: Boxes) -> bool:
        return not self.fixed.isdisjoint(boxes)


def _as_one(boxes: Boxes, corner: tuple[Length, Length]) -> Iterator[tuple[int, Rect]]:
    """Move what no cut separates to the corner as it lies."""
    if not boxes:
        return
    frame = frame_of(boxes.values())
    by_x, by_y = corner[0] - frame.x, corner[1] - frame.y
    for index, one in boxes.items():
        yield index, moved(moved(one, Way.X, one.x + by_x), Way.Y, one.y + by_y)


def _held(doc: Document, new: Sequence[Placement]) -> dict[Copy, str]:
    """Return which of those moved are locked, else which would go where something is."""
    held = {one.key: reason for one in new if (reason := doc.held.bars(one.key))}
    return held or {one.key: why for one in new if (why := doc.held.bars_place(one))}


def _uncut(
    doc: Document, lay: LayoutSheet, sheet: LayoutSheet, new: Sequence[Placement]
) -> dict[Copy, str]:
    """Return which of those moved have to stay since the sheet could not be cut else, and why."""
    layout = layout_edits.place_all(doc.job, doc.layout, _changed(lay, sheet, new))
    verdict = judge_here(doc, layout.sheet(sheet.id))
    if verdict.good:
        return {}
    moved_ones = [one.key for one in new]
    blamed = [key for key in moved_ones if key in verdict.troubled] or moved_ones[-1:]
    return dict.fromkeys(blamed, f"Else sheet {sheet.id} could not be cut: {verdict.words}.")
