"""Where the words of running positions stand along the scale beside a sheet, in pixels."""

from collections.abc import Sequence
from dataclasses import dataclass

from PySide6.QtCore import QRectF

from layout_app.bench.frame import to_mm, to_ticks
from layout_app.look import pens
from shared.drawing import RunningMark, spread
from shared.lengths import Length
from shared.shop import Axis

LEAST_TEXT_PX = 7
LEADING, GAP_PX = 1.15, 6
"""From line to line in text sizes, where words stand one above the other; between them else."""
BELOW_TITLE = 1.1
"""How far above the sheet words beside it may begin, in text sizes: the title stands above."""


@dataclass(frozen=True, slots=True, kw_only=True)
class WrittenMark:
    """A running position: where it is, and where its words stand along the scale."""

    mark: RunningMark
    at: float
    words_at: float


def written_marks(
    marks: Sequence[RunningMark], scale: float, text_px: int, room: QRectF
) -> tuple[int, list[WrittenMark]]:
    """Find places for the words, apart from each other and inside a room in millimetres.

    They shrink where there is little room, and where that does not help those that lie closest
    together give way.

    Returns
    -------
    tuple[int, list[WrittenMark]]
        The text size, and the marks from the zero on.
    """
    ordered = sorted(marks, key=lambda mark: mark.at)
    if text_px < LEAST_TEXT_PX or not ordered:
        return text_px, []
    for size in range(text_px, LEAST_TEXT_PX - 1, -1):
        apart, within = _stretch(ordered, size, scale, room)
        if (len(ordered) - 1) * apart <= within[1] - within[0]:
            return size, _placed(ordered, apart, within, scale)
    kept = _thinned(ordered, max(1, (within[1] - within[0]) // apart + 1))
    return size, _placed(kept, apart, within, scale)


def _stretch(
    marks: Sequence[RunningMark], size: int, scale: float, room: QRectF
) -> tuple[Length, tuple[Length, Length]]:
    """Return how far middles of words are apart at least, and where the first and last may be."""
    if marks[0].axis is Axis.RIP:
        # The price may stand above the scale.
        apart, start, end = size * LEADING, -BELOW_TITLE * size / scale, room.bottom()
        half = apart / 2
    else:
        widest = max(pens.em_width(mark.text) for mark in marks) * size
        apart, start, end = widest + GAP_PX, room.left(), room.right()
        half = widest / 2
    low, high = start + half / scale, end - half / scale
    return to_ticks(apart / scale), (to_ticks(low), to_ticks(high))


def _thinned(marks: Sequence[RunningMark], number: int) -> list[RunningMark]:
    """Leave out marks until there are so many: whichever lies closest behind another."""
    kept = list(marks)
    while len(kept) > number:
        gaps = [(kept[index].at - kept[index - 1].at, index) for index in range(1, len(kept))]
        del kept[min(gaps)[1]]
    return kept


def _placed(
    marks: Sequence[RunningMark], apart: Length, within: tuple[Length, Length], scale: float
) -> list[WrittenMark]:
    places = spread([mark.at for mark in marks], apart, within)
    return [
        WrittenMark(mark=mark, at=to_mm(mark.at) * scale, words_at=to_mm(place) * scale)
        for mark, place in zip(marks, places, strict=True)
    ]
