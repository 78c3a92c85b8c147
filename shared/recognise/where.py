"""Where parts stand in each other's way: what overlaps, the gap that is too narrow, what is off."""

from collections.abc import Iterator

from shared.geometry import Rect
from shared.plan import Placement
from shared.recognise.boxes import SheetGround
from shared.recognise.troubles import LayoutTrouble, Trouble


def places(found: LayoutTrouble, ground: SheetGround) -> tuple[Rect, ...]:
    """Return the places of the sheet where something is wrong, in its frame, in ticks.

    Of parts that lock each other, or that a limit forbids, it is the frame round them all.
    """
    if found.trouble in {Trouble.OVERLAP, Trouble.TOO_NEAR}:
        return tuple(_between(*found.parts))
    if found.trouble in {Trouble.OFF_SHEET, Trouble.IN_TRIM, Trouble.NEAR_EDGE}:
        return tuple(_beyond(found.parts[0], ground))
    return (frame(found.parts),) if found.parts else ()


def frame(parts: tuple[Placement, ...]) -> Rect:
    """Return the smallest rectangle round parts, of which there is one at least."""
    x, y = min(one.rect.x for one in parts), min(one.rect.y for one in parts)
    right = max(one.rect.right for one in parts)
    bottom = max(one.rect.bottom for one in parts)
    return Rect(x=x, y=y, length=right - x, width=bottom - y)


def _between(one: Placement, other: Placement) -> Iterator[Rect]:
    """Yield what lies on both parts, or the gap between them."""
    a, b = one.rect, other.rect
    xs = sorted((max(a.x, b.x), min(a.right, b.right)))
    ys = sorted((max(a.y, b.y), min(a.bottom, b.bottom)))
    rect = Rect(x=xs[0], y=ys[0], length=xs[1] - xs[0], width=ys[1] - ys[0])
    if rect.area:
        yield rect


def _beyond(one: Placement, ground: SheetGround) -> Iterator[Rect]:
    """Yield what of a part lies outside what the saw leaves of the sheet; near an edge, the gap."""
    left, top, right, bottom = ground.usable
    rect = one.rect
    sides = (
        (rect.x, rect.y, min(rect.right, left), rect.bottom),
        (max(rect.x, right), rect.y, rect.right, rect.bottom),
        (rect.x, rect.y, rect.right, min(rect.bottom, top)),
        (rect.x, max(rect.y, bottom), rect.right, rect.bottom),
    )
    off = [side for side in sides if side[0] < side[2] and side[1] < side[3]]
    near = (
        (left, rect.y, rect.x, rect.bottom) if 0 < rect.x - left <= ground.kerf else None,
        (rect.x, top, rect.right, rect.y) if 0 < rect.y - top <= ground.kerf else None,
    )
    for x0, y0, x1, y1 in off or filter(None, near):
        yield Rect(x=x0, y=y0, length=x1 - x0, width=y1 - y0)
