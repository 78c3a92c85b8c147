"""Words on a drawing: titles and labels."""

from collections.abc import Iterable

from shared.drawing.records import RectLabel, SheetDrawing, Weight
from shared.geometry import Rect
from shared.lengths import Length, LengthStyle, format_pair
from shared.offcuts import offcut_size
from shared.stock import SheetGrain

GRAIN_WORDS = {
    SheetGrain.ALONG_L: "grain along L",
    SheetGrain.ALONG_W: "grain along W",
    SheetGrain.NONE: "no grain",
}


MEASURE_FIRST = "left oversize: measure the opening first"
"""Of the blank of a fit part."""


def sheet_title(
    name: str, material: str, size: tuple[Length, Length], grain: SheetGrain, style: LengthStyle
) -> str:
    """Say what a sheet is, such as ``L 96 × W 48, 3/4 birch ply, grain along L``."""
    known = name if material.casefold() in name.casefold() else material
    extra = () if known == name or not name else (name,)
    words: Iterable[str] = (format_pair(*size, style), known, *extra, GRAIN_WORDS[grain])
    return ", ".join(word for word in words if word)


def cant_be_cut(drawing: SheetDrawing) -> str:
    """Say which sheet can't be cut yet, and why; ``""`` if it can."""
    if not drawing.problem:
        return ""
    return f"Sheet {drawing.sheet} can't be cut yet: {drawing.problem}"


def rect_size(rect: Rect, style: LengthStyle) -> str:
    """Write the size of what lies there, length along x."""
    return format_pair(rect.length, rect.width, style)


def fall_size(rect: Rect, style: LengthStyle) -> str:
    """Write the size of a fall that lies there, length along x: at most what it is."""
    return offcut_size(rect.length, rect.width, style)


def group_note(group: str) -> str:
    """Say to which match group a part belongs; ``""`` for none."""
    return f"match group {group}" if group else ""


def piece_label(key: str, rect: Rect, words: str, style: LengthStyle) -> RectLabel:
    """Label a piece with words of its own and its size."""
    return RectLabel(key=key, rect=rect, lines=(words, rect_size(rect, style)), weight=Weight.PIECE)


def fall_label(
    key: str, rect: Rect, words: str, style: LengthStyle, weight: Weight = Weight.FALL
) -> RectLabel:
    """Label a fall with words of its own and its size."""
    return RectLabel(key=key, rect=rect, lines=(words, fall_size(rect, style)), weight=weight)
