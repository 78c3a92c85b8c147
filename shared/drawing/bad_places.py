"""Bad places of a sheet as draw records: boxes with a name, the same before and after all cuts."""

from collections.abc import Iterator, Sequence

from shared.drawing.records import Box, RectLabel, Role, Weight
from shared.drawing.words import rect_size
from shared.geometry import Rect
from shared.lengths import LengthStyle
from shared.no_go import place_name
from shared.stock import NoGo


def bad_boxes(no_go: Sequence[NoGo]) -> Iterator[Box]:
    """Yield a box for each bad place."""
    for number, bad in enumerate(no_go, 1):
        yield Box(role=Role.NO_GO, rect=bad.rect, key=_key(number))


def bad_labels(no_go: Sequence[NoGo], sheet: Rect, style: LengthStyle) -> Iterator[RectLabel]:
    """Yield what each bad place is, what keeps clear of it, and its size."""
    for number, bad in enumerate(no_go, 1):
        what = " of show faces" if bad.show_only else ""
        words = f"kept clear{what}: {place_name(bad, sheet)}"
        yield RectLabel(
            key=_key(number),
            rect=bad.rect,
            lines=(words, rect_size(bad.rect, style)),
            weight=Weight.NO_GO,
        )


def _key(number: int) -> str:
    return f"no-go:{number}"
