"""Where tags, words and running positions stand on a sheet at one scale, in pixels.

Pixels are counted from the sheet's reference corner; the painter adds where that is.
"""

from collections import Counter
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from itertools import combinations

from PySide6.QtCore import QRectF

from layout_app.bench.frame import LEFT, to_mm, to_rect, to_ticks
from layout_app.bench.grain_signs import placed_signs
from layout_app.bench.held_signs import HeldSign, bare_signs, lettered
from layout_app.bench.scale_marks import LEAST_TEXT_PX, written_marks
from layout_app.look import pens
from layout_app.model.locks import HeldArea
from shared.drawing import (
    CutTag,
    Fitted,
    RectLabel,
    Role,
    SheetDrawing,
    Space,
    Tie,
    Weight,
    fit,
    place_tags,
)
from shared.geometry import Rect
from shared.shop import Axis

TAG_PX = 20.0
LEAST_TAG_PX = 12.0
"""Smaller tags could not be read and are not drawn."""
SIZES_PX = (13, 12, 11, 10, 9, 8)
APART_PX = 14.0
LIGHT = (Weight.FALL, Weight.COMING)
"""Labels that are not in bold."""
ALONE = (Weight.COMING, Weight.PIECE)
"""Labels whose first line stands alone where there is no room for the size."""


@dataclass(frozen=True, slots=True, kw_only=True)
class WrittenTag:
    """A tag with the middle of its circle and the place where its cut begins."""

    tag: CutTag
    x: float
    y: float
    entry: tuple[float, float]
    diameter: float

    def covers(self, x: float, y: float) -> bool:
        """Say whether a point lies in the circle."""
        return (x - self.x) ** 2 + (y - self.y) ** 2 <= (self.diameter / 2 + 2) ** 2


@dataclass(frozen=True, slots=True, kw_only=True)
class WrittenLabel:
    """A label as it found room."""

    label: RectLabel
    fitted: Fitted
    over_marks: bool = False
    """Whether it found no room but where trouble is marked."""


class Tags:
    """The tags of a sheet at a scale in pixels a millimetre: what a hit test asks for.

    ``room`` is where the sheet with all that stands about it is painted, in millimetres;
    tags that would leave it shrink, and then give way.
    """

    def __init__(self, drawing: SheetDrawing, scale: float, unit: float, room: QRectF) -> None:
        self.scale, self.unit_px = scale, unit * scale
        self.size_px = _tag_size(drawing, scale, self.unit_px, room)
        self.written = _tags(drawing, scale, self.size_px, room)


class Writing:
    """All that is written on a sheet besides its tags, at their scale.

    Running positions that would leave the room, in millimetres, shrink and then give way.
    """

    def __init__(
        self, drawing: SheetDrawing, tags: Tags, room: QRectF, held: tuple[HeldArea, ...] = ()
    ) -> None:
        scale = self.scale = tags.scale
        self.unit_px, self.tag_px, self.tags = tags.unit_px, tags.size_px, tags.written
        self.text_px = int(min(13.0, max(self.unit_px * 1.7, 0)))
        rules = bare_signs(held, scale)
        self.labels = _labels(drawing, scale, self.tags, rules)
        self.signs = lettered(held, rules, [*_circles(self.tags), *_blocks(self.labels)])
        if any(sign.word is None and not sign.narrow for sign in self.signs):
            self.signs = lettered(held, rules, _circles(self.tags))
            self.labels = _labels(drawing, scale, self.tags, self.signs)
        self.mark_px, self.marks = written_marks(drawing.marks, scale, self.text_px, room)
        taken = [*_circles(self.tags), *_blocks(self.labels), *_lying_over(drawing, scale)]
        taken += (space for sign in self.signs for space in sign.obstacles)
        self.grain_signs = placed_signs(drawing.signs, scale, taken)


def _lying_over(drawing: SheetDrawing, scale: float) -> list[Space]:
    """Return what is drawn over parts: marks of match groups and bad places."""
    bad = (box.rect for box in drawing.boxes if box.role is Role.NO_GO)
    return [*(_around(tie, scale) for tie in drawing.ties), *(_space(one, scale) for one in bad)]


def _tag_size(drawing: SheetDrawing, scale: float, unit_px: float, room: QRectF) -> float:
    """Return how large tags are in pixels: those beside the sheet shrink so that all have room."""
    largest = min(TAG_PX, (LEFT * unit_px - 2) / 1.5)
    outside = Counter(tag.axis for tag in drawing.tags if tag.outside)
    rows = ((room.height(), outside[Axis.RIP]), (room.width(), outside[Axis.CROSSCUT]))
    fair = min(
        (length * scale / number / 1.05 - 1 for length, number in rows if number), default=99
    )
    return min(largest, max(fair, LEAST_TAG_PX))


def _tags(drawing: SheetDrawing, scale: float, tag_px: float, room: QRectF) -> list[WrittenTag]:
    if tag_px < LEAST_TAG_PX:
        return []
    placed = place_tags(drawing.tags, to_ticks((tag_px + 1) / scale), to_rect(room))
    return [
        WrittenTag(
            tag=one.tag,
            x=to_mm(one.x) * scale,
            y=to_mm(one.y) * scale,
            entry=(to_mm(one.tag.x) * scale, to_mm(one.tag.y) * scale),
            diameter=tag_px if one.tag.outside else tag_px - 3,
        )
        for one in placed
    ]


def _labels(
    drawing: SheetDrawing, scale: float, tags: list[WrittenTag], signs: list[HeldSign]
) -> list[WrittenLabel]:
    taken = [*_circles(tags), *(space for sign in signs for space in sign.obstacles)]
    taken += [_around(tie, scale) for tie in drawing.ties]
    above = _covering(drawing, scale)
    marked = [_space(box.rect, scale) for box in drawing.boxes if box.role is Role.IN_THE_WAY]
    coming = [label for label in drawing.labels if label.weight is Weight.COMING]
    written = list(_written(coming, scale, (taken, above, marked)))
    # A name inside a piece comes before what the piece is called, which keeps away from it.
    taken += [_wider(block, APART_PX) for block in _blocks(written)]
    rest = (label for label in drawing.labels if label.weight is not Weight.COMING)
    return [*_written(rest, scale, (taken, above, marked)), *written]


def _written(
    labels: Iterable[RectLabel],
    scale: float,
    there: tuple[list[Space], dict[str, list[Space]], list[Space]],
) -> Iterator[WrittenLabel]:
    """Yield the labels that find room, clear of what is there; a name alone if need be."""
    taken, above, marked = there
    for label in labels:
        around = taken + above.get(label.key, [])
        clear = fit_label(label, scale, around + marked)
        fitted = clear or (fit_label(label, scale, around) if marked else None)
        if fitted is None and label.weight in ALONE:
            fitted = fit_label(replace(label, lines=label.lines[:1]), scale, around)
        if fitted is not None:
            yield WrittenLabel(
                label=label, fitted=fitted, over_marks=clear is None and bool(marked)
            )


def _circles(tags: list[WrittenTag]) -> list[Space]:
    """Return the room that tags on the wood take."""
    return [
        Space(x=t.x - t.diameter / 2, y=t.y - t.diameter / 2, length=t.diameter, width=t.diameter)
        for t in tags
        if not t.tag.outside
    ]


def _wider(space: Space, by: float) -> Space:
    return Space(x=space.x - by, y=space.y - 2, length=space.length + 2 * by, width=space.width + 4)


def _blocks(labels: list[WrittenLabel]) -> list[Space]:
    return [label.fitted.block for label in labels]


def _covering(drawing: SheetDrawing, scale: float) -> dict[str, list[Space]]:
    """Return, for each thing that others lie upon, where they do: words make way for them.

    Parts lie on each other where there is trouble; bad places lie on anything.
    """
    parts = [box for box in drawing.boxes if box.role is Role.PART]
    bad = [box.rect for box in drawing.boxes if box.role is Role.NO_GO]
    found = {
        label.key: [_space(rect, scale) for rect in bad if rect.overlaps(label.rect)]
        for label in drawing.labels
        if label.weight is not Weight.NO_GO
    }
    if drawing.problem:
        for below, above in combinations(parts, 2):
            if below.rect.overlaps(above.rect):
                found.setdefault(below.key, []).append(_space(above.rect, scale))
    return found


def _around(tie: Tie, scale: float) -> Space:
    (x, y), (right, bottom) = tie.start, tie.end
    return _space(Rect(x=x, y=y, length=right - x, width=bottom - y), scale, inset=-1.5)


def _space(rect: Rect, scale: float, inset: float = 0.0) -> Space:
    return Space(
        x=to_mm(rect.x) * scale + inset,
        y=to_mm(rect.y) * scale + inset,
        length=to_mm(rect.length) * scale - 2 * inset,
        width=to_mm(rect.width) * scale - 2 * inset,
    )


def fit_label(label: RectLabel, scale: float, obstacles: list[Space]) -> Fitted | None:
    """Find room for a label inside its rectangle, clear of kerfs and tags."""
    space = _space(label.rect, scale, inset=1.0)
    if min(space.length, space.width) < LEAST_TEXT_PX:
        return None
    # All that comes to stand on one line is as bold as the name.
    bold = label.weight not in LIGHT
    widths = [pens.em_width(line, bold=bold) for line in label.lines]
    return fit(label.lines, widths, space, SIZES_PX, obstacles)
