"""What is left to be seen of the cuts a sheet had before something came to lie in their way."""

from collections.abc import Iterator, Mapping, Sequence

from shared.drawing.records import Box, Role
from shared.geometry import Rect
from shared.lengths import Length
from shared.plan import Placement
from shared.shop import Shop
from shared.tree import Run, extent, left_over, piece_rects, runs, slice_of


def cut_boxes(last: Run, sheet: Rect, kerf: Length) -> Iterator[Box]:
    """Yield where each of the last cuts ran; they have no number any more."""
    for index, dust in enumerate(_dust(last, sheet, kerf), start=1):
        yield Box(role=Role.LAST_CUT, rect=dust, key=f"last-cut:{index}")


def fall_boxes(last: Run, sheet: Rect, shop: Shop) -> Iterator[Box]:
    """Yield what was left of the sheet; parts that lie on it now are to be drawn over it."""
    for index, rect in enumerate(_falls(last, sheet, shop.kerf), start=1):
        keeps = shop.keeps(rect.length, rect.width)
        role = Role.LAST_KEEPER if keeps else Role.LAST_WASTE
        yield Box(role=role, rect=rect, key=f"last-fall:{index}")


def strip_tints(
    last: Run,
    sheet: Rect,
    kerf: Length,
    placements: Sequence[Placement],
    numbers: Mapping[Length, int],
) -> dict[Rect, int]:
    """Return the tints of parts that lie within a strip they were cut from, or one like it."""
    strips = [rect for _, rect in piece_rects(last, sheet, kerf)]
    found: dict[Rect, int] = {}
    for one in placements:
        strip = next((strip for strip in strips if strip.contains(one.rect)), None)
        if strip is not None and (number := numbers.get(extent(strip, last.axis))) is not None:
            found[one.rect] = number
    return found


def _dust(last: Run, sheet: Rect, kerf: Length) -> Iterator[Rect]:
    for _, run, rect in runs(last, sheet, kerf):
        if run.trim:
            yield slice_of(rect, run.axis, max(0, run.trim - kerf), min(kerf, run.trim))
        start, left, own = run.trim, left_over(run, rect, kerf), run.kerf_or(kerf)
        for piece in run.pieces[:-1]:
            yield slice_of(rect, run.axis, start + piece.size, own)
            start += piece.size + own
        if run.pieces and left > 0:
            yield slice_of(rect, run.axis, start + run.pieces[-1].size, min(own, left))


def _falls(last: Run, sheet: Rect, kerf: Length) -> Iterator[Rect]:
    for _, run, rect in runs(last, sheet, kerf):
        for piece, inside in piece_rects(run, rect, kerf):
            if piece.run is None and piece.place is None and inside.area > 0:
                yield inside
        left, own = left_over(run, rect, kerf), run.kerf_or(kerf)
        if left > own:
            end = extent(rect, run.axis)
            yield slice_of(rect, run.axis, end - left + own, left - own)
