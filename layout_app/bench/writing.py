"""Where tags, words and running positions stand on a sheet at one scale, in pixels.

Pixels are counted from the sheet's reference corner; the painter adds where that is.
"""

from dataclasses import dataclass
from itertools import combinations

from layout_app.bench import ink
from layout_app.bench.frame import to_mm, to_ticks
from layout_app.bench.grain_signs import placed_signs
from layout_app.bench.held_signs import HeldSign, bare_signs, lettered
from layout_app.held import HeldArea
from shared.drawing import (
    CutTag,
    Fitted,
    Label,
    Role,
    RunningMark,
    SheetDrawing,
    Space,
    Tie,
    Weight,
    fit,
    place_tags,
    spread,
)
from shared.geometry import Rect
from shared.lengths import Length
from shared.shop import Axis

TAG_PX = 20.0
LEAST_TAG_PX = 12.0
"""Smaller tags could not be read and are not drawn."""
SIZES_PX = (13, 12, 11, 10, 9, 8)
LEAST_TEXT_PX = 7


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

    label: Label
    fitted: Fitted


@dataclass(frozen=True, slots=True, kw_only=True)
class WrittenMark:
    """A running position: where it is, and where its words stand along the scale."""

    mark: RunningMark
    at: float
    words_at: float


class Writing:
    """All that is written on a sheet at a scale in pixels a millimetre."""

    def __init__(
        self,
        drawing: SheetDrawing,
        scale: float,
        unit: float,
        held: tuple[HeldArea, ...] = (),
    ) -> None:
        self.scale = scale
        self.unit_px = unit * scale
        self.text_px = int(min(13.0, max(self.unit_px * 1.7, 0)))
        self.tag_px = min(TAG_PX, self.unit_px * 3.6)
        self.tags = _tags(drawing, scale, self.tag_px)
        rules = bare_signs(held, scale)
        self.labels = _labels(drawing, scale, self.tags, rules)
        self.signs = lettered(held, rules, [*_circles(self.tags), *_blocks(self.labels)])
        if any(sign.word is None and not sign.narrow for sign in self.signs):
            self.signs = lettered(held, rules, _circles(self.tags))
            self.labels = _labels(drawing, scale, self.tags, self.signs)
        self.marks = _marks(drawing, scale, self.text_px)
        taken = [*_circles(self.tags), *_blocks(self.labels), *_lying_over(drawing, scale)]
        taken += (space for sign in self.signs for space in sign.obstacles)
        self.grain_signs = placed_signs(drawing.signs, scale, taken)


def _lying_over(drawing: SheetDrawing, scale: float) -> list[Space]:
    """Return what is drawn over parts: marks of match groups and bad places."""
    bad = (box.rect for box in drawing.boxes if box.role is Role.NO_GO)
    return [*(_around(tie, scale) for tie in drawing.ties), *(_space(one, scale) for one in bad)]


def _tags(drawing: SheetDrawing, scale: float, tag_px: float) -> list[WrittenTag]:
    if tag_px < LEAST_TAG_PX:
        return []
    placed = place_tags(drawing.tags, to_ticks((tag_px + 1) / scale))
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
    found = (
        (label, fit_label(label, scale, taken + above.get(label.key, [])))
        for label in drawing.labels
    )
    return [WrittenLabel(label=label, fitted=fitted) for label, fitted in found if fitted]


def _circles(tags: list[WrittenTag]) -> list[Space]:
    """Return the room that tags on the wood take."""
    return [
        Space(x=t.x - t.diameter / 2, y=t.y - t.diameter / 2, length=t.diameter, width=t.diameter)
        for t in tags
        if not t.tag.outside
    ]


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


def fit_label(label: Label, scale: float, obstacles: list[Space]) -> Fitted | None:
    """Find room for a label inside its rectangle, clear of kerfs and tags."""
    space = _space(label.rect, scale, inset=1.0)
    if min(space.length, space.width) < LEAST_TEXT_PX:
        return None
    name, *rest = label.lines
    bold = label.weight is not Weight.FALL
    widths = [ink.em_width(name, bold=bold), *(ink.em_width(line) for line in rest)]
    return fit(label.lines, widths, space, SIZES_PX, obstacles)


def _marks(drawing: SheetDrawing, scale: float, text_px: int) -> list[WrittenMark]:
    marks = sorted(drawing.marks, key=lambda mark: mark.at)
    if text_px < LEAST_TEXT_PX or not marks:
        return []
    if marks[0].axis is Axis.RIP:
        least = text_px * 1.15
    else:
        least = max(ink.em_width(mark.text) for mark in marks) * text_px + 6
    places = spread([mark.at for mark in marks], to_ticks(least / scale))
    return [
        WrittenMark(mark=mark, at=_px(mark.at, scale), words_at=_px(place, scale))
        for mark, place in zip(marks, places, strict=True)
    ]


def _px(ticks: Length, scale: float) -> float:
    return to_mm(ticks) * scale
