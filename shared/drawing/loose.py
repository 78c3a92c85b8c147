"""A sheet that has no plan: only where its parts lie, and which of them make trouble."""

from collections.abc import Iterator, Mapping

from shared.costs import sheet_price
from shared.drawing.bad_places import bad_boxes, bad_labels
from shared.drawing.grain import figure, grain_lines
from shared.drawing.grain_signs import grain_signs
from shared.drawing.loose_ties import loose_ties
from shared.drawing.records import Box, RectLabel, Role, SheetDrawing, part_key
from shared.drawing.sheet import part_box
from shared.drawing.words import group_note, sheet_title
from shared.geometry import Rect
from shared.job import Job
from shared.layout import LayoutSheet
from shared.lengths import Length, format_pair
from shared.parts import Copy
from shared.stock import Stock

Copies = frozenset[Copy]
"""Pairs of part id and copy."""


def draw_loose(
    job: Job,
    sheet: LayoutSheet,
    troubled: Copies = frozenset(),
    problem: str = "",
    tints: Mapping[Length, int] | None = None,
) -> SheetDrawing:
    """Draw a sheet without cuts.

    Parameters
    ----------
    job
        Where its stock row and its parts are found; KeyError if one is missing.
    sheet
        The sheet with its placements.
    troubled
        Copies that overlap, are locked or lie off the sheet; their boxes are marked.
    problem
        One sentence that says why the sheet cannot be cut.
    tints
        The tints of rip widths on the planned sheets: parts as wide as a strip there look
        alike here. Other widths are numbered on.
    """
    stock = job.stock_row(sheet.stock)
    rect = Rect(x=0, y=0, length=stock.length, width=stock.width)
    boxes = tuple(_boxes(sheet, rect, stock, troubled, _numbered(sheet, tints or {})))
    size = (stock.length, stock.width)
    rules = {part.id: part.grain_rule for part in job.parts}
    return SheetDrawing(
        sheet=sheet.id,
        title=sheet_title(stock.name, stock.material, size, stock.grain, job.style),
        price=sheet_price(job, stock),
        stock=stock.id,
        rect=rect,
        boxes=boxes,
        grain=grain_lines(boxes, figure(sheet.id, rect, stock.grain)),
        tags=(),
        marks=(),
        labels=tuple(_labels(job, sheet)),
        face_mark=(rect.length * 6 // 100, 0),
        problem=problem,
        ties=loose_ties(job, sheet.placements),
        signs=grain_signs(boxes, sheet.placements, rules, stock.grain),
    )


def _numbered(sheet: LayoutSheet, known: Mapping[Length, int]) -> dict[Length, int]:
    """Number the widths across a sheet: as they are known, or on from there by first sight."""
    numbers = dict(known)
    for placed in sheet.placements:
        numbers.setdefault(placed.rect.width, len(numbers))
    return numbers


def _boxes(
    sheet: LayoutSheet,
    rect: Rect,
    stock: Stock,
    troubled: Copies,
    numbers: Mapping[Length, int],
) -> Iterator[Box]:
    yield Box(role=Role.SHEET, rect=rect, key=f"sheet:{sheet.id}")
    yield Box(role=Role.PIECE, rect=rect, key=f"piece:{sheet.id}")
    yield from _margins(rect, stock)
    for placed in sheet.placements:
        bad = placed.key in troubled
        yield part_box(placed, numbers[placed.rect.width], problem=bad)
    yield from bad_boxes(stock.no_go)


def _margins(rect: Rect, stock: Stock) -> Iterator[Box]:
    """Yield the stock that is lost at each edge."""
    trims = stock.trims
    edges = {
        "near": Rect(x=0, y=0, length=rect.length, width=trims.near),
        "far": Rect(x=0, y=rect.width - trims.far, length=rect.length, width=trims.far),
        "start": Rect(x=0, y=0, length=trims.start, width=rect.width),
        "end": Rect(x=rect.length - trims.end, y=0, length=trims.end, width=rect.width),
    }
    for edge, margin in edges.items():
        if margin.area:
            yield Box(role=Role.TRIM, rect=margin, key=f"trim:{edge}")


def _labels(job: Job, sheet: LayoutSheet) -> Iterator[RectLabel]:
    parts = {part.id: part for part in job.parts}
    for placed in sheet.placements:
        part = parts[placed.part]
        size = format_pair(part.cut_length, part.cut_width, job.style)
        if part.fit_allowance or part.oversize:
            size = f"blank {size}"
        key = part_key(placed.part, placed.copy)
        # What is said of the sheet names copies, so they are numbered here.
        note = group_note(part.group)
        yield RectLabel(key=key, rect=placed.rect, lines=(part.named(placed.copy), size), note=note)
    stock = job.stock_row(sheet.stock)
    yield from bad_labels(stock.no_go, stock.whole, job.style)
