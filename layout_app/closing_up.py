"""Push the parts of a sheet together, toward the reference corner, one kerf between them.

Works as a saw could part them: groups between which a cut runs from edge to edge are pushed
together in their order, then the groups inside each, until nothing moves. Parts that no cut
separates, and parts nearer than a kerf, stay as they lie to each other. So a layout that can
be cut edge to edge can be cut so after it.
"""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace

from layout_app import laying, layout_commands
from layout_app.bench.judge import judge_sheet
from layout_app.bench.snapping import frame_of
from layout_app.bench.stops import Way, high, low, moved
from layout_app.document import Document
from shared.geometry import Rect
from shared.layout import LayoutSheet
from shared.lengths import Length
from shared.plan import Placement
from shared.shop import Axis

Boxes = dict[int, Rect]
"""Rectangles by a number that stays theirs."""


def close_up(doc: Document, *sheet_ids: str) -> bool:
    """Push the parts of sheets together, as one step; a sheet that could then not be cut stays."""
    laid = [new for sheet_id in sheet_ids if (new := _closed(doc, sheet_id))]
    if not laid:
        return False
    what = f"sheet {laid[0][0].sheet}" if len(laid) == 1 else f"{len(laid)} sheets"
    moved_parts = [one for placements in laid for one in placements]
    return doc.push(layout_commands.LayParts(doc, f"close up {what}", moved_parts))


def _closed(doc: Document, sheet_id: str) -> tuple[Placement, ...]:
    """Return what lies elsewhere once a sheet is closed up; say so if that is nothing."""
    sheet = laying.sheet_of(doc.layout, sheet_id)
    new = closer(doc, sheet)
    reason = f"The parts of sheet {sheet_id} lie as close as they can in this order."
    if new:
        reason = _against(doc, sheet, new)
    if reason:
        doc.said.emit(reason)
    return () if reason else new


def closer(doc: Document, sheet: LayoutSheet) -> tuple[Placement, ...]:
    """Return the parts of a sheet that lie elsewhere once it is closed up."""
    stock = doc.job.stock_row(sheet.stock)
    first = Way.X if sheet.tree is not None and sheet.tree.axis is Axis.CROSSCUT else Way.Y
    rects = [one.rect for one in sheet.placements]
    closed = closed_up(rects, stock.usable, doc.job.shop.kerf, first)
    pairs = zip(sheet.placements, closed, strict=True)
    return tuple(replace(one, x=to.x, y=to.y) for one, to in pairs if one.rect != to)


def closed_up(
    rects: Sequence[Rect], usable: Rect, kerf: Length, first: Way = Way.Y
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
    """
    boxes = dict(enumerate(rects))
    while (new := dict(_pushed(boxes, (usable.x, usable.y), kerf, first))) != boxes:
        boxes = new
    return tuple(boxes[index] for index in range(len(rects)))


def _pushed(
    boxes: Boxes, corner: tuple[Length, Length], kerf: Length, first: Way
) -> Iterator[tuple[int, Rect]]:
    """Yield rectangles pushed to a corner, group by group; no corner of theirs goes farther."""
    for way in (first, first.other):
        groups = _groups(boxes, way, kerf)
        if len(groups) > 1:
            yield from _in_a_row(groups, corner, kerf, way)
            return
    yield from _as_one(boxes, corner)


def _in_a_row(
    groups: Iterable[Boxes], corner: tuple[Length, Length], kerf: Length, way: Way
) -> Iterator[tuple[int, Rect]]:
    """Push groups together one behind the other."""
    x, y = corner
    for group in groups:
        new = dict(_pushed(group, (x, y), kerf, way.other))
        yield from new.items()
        end = max(high(one, way) for one in new.values()) + kerf
        x, y = (end, y) if way is Way.X else (x, end)


def _as_one(boxes: Boxes, corner: tuple[Length, Length]) -> Iterator[tuple[int, Rect]]:
    """Move what no cut separates to the corner as it lies."""
    if not boxes:
        return
    frame = frame_of(boxes.values())
    by_x, by_y = corner[0] - frame.x, corner[1] - frame.y
    for index, one in boxes.items():
        yield index, moved(moved(one, Way.X, one.x + by_x), Way.Y, one.y + by_y)


def _groups(boxes: Boxes, way: Way, kerf: Length) -> list[Boxes]:
    """Part rectangles where a kerf runs between them from edge to edge."""
    groups: list[Boxes] = []
    end: Length | None = None
    for index, one in sorted(boxes.items(), key=lambda item: low(item[1], way)):
        if end is None or low(one, way) - end >= kerf:
            groups.append({})
            end = high(one, way)
        end = max(end, high(one, way))
        groups[-1][index] = one
    return groups


def _against(doc: Document, sheet: LayoutSheet, new: Sequence[Placement]) -> str:
    """Say why a sheet is not closed up: what is held, or a cut that could not be made."""
    if barred := next(filter(None, map(doc.held.bars_place, new)), ""):
        return barred
    if not judge_sheet(doc.job, sheet).good:
        return ""
    layout = laying.place_all(doc.job, doc.layout, new)
    verdict = judge_sheet(doc.job, laying.sheet_of(layout, sheet.id))
    if verdict.good:
        return ""
    return f"Sheet {sheet.id} stays as it lies. Closed up, it could not be cut: {verdict.words}."
