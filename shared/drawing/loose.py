"""A sheet that has no plan: where its parts lie, its last cuts in grey, and what is in the way.

Match groups are marked where members lie as their grid asks.
"""

from collections.abc import Iterable, Iterator, Mapping
from itertools import combinations

from shared.costs import sheet_price
from shared.drawing.bad_places import bad_boxes, bad_labels
from shared.drawing.grain import figure, grain_lines
from shared.drawing.grain_signs import grain_signs
from shared.drawing.last_cuts import cut_boxes, fall_boxes, strip_tints
from shared.drawing.records import Box, RectLabel, Role, SheetDrawing, Tie, part_key
from shared.drawing.sheet import part_box
from shared.drawing.ties import ties_between
from shared.drawing.words import group_note, sheet_title
from shared.geometry import Rect
from shared.groups import members
from shared.job import Job
from shared.layout import LayoutSheet
from shared.lengths import Length, format_pair
from shared.parts import Copy
from shared.plan import Placement
from shared.stock import Stock
from shared.tree import Run

Copies = frozenset[Copy]
"""Pairs of part id and copy."""


def draw_loose(
    job: Job,
    sheet: LayoutSheet,
    troubled: Copies = frozenset(),
    problem: str = "",
    tints: Mapping[Length, int] | None = None,
    *,
    last: Run | None = None,
    spots: Iterable[Rect] = (),
    knots: Iterable[Rect] = (),
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
    last
        The cuts it had while it could be cut: drawn in grey, with what was left of the sheet,
        below whatever lies there now. A part within a strip of theirs keeps its tint.
    spots, knots
        Where parts are in each other's way, and frames round those that lock each other.
    """
    stock = job.stock_row(sheet.stock)
    rect = stock.whole
    numbers = _numbered(sheet, tints or {})
    known = tints or {}
    below: tuple[Box, ...] = ()
    above: list[Box] = []
    kept: Mapping[Rect, int] = {}
    if last is not None:
        below = tuple(fall_boxes(last, rect, job.shop))
        above += cut_boxes(last, rect, job.shop.kerf)
        kept = strip_tints(last, rect, job.shop.kerf, sheet.placements, known)
    above += _marked(Role.IN_THE_WAY, "way", spots)
    above += _marked(Role.KNOT, "knot", knots)
    lying = _lying(sheet, troubled, numbers, kept)
    boxes = (*_bare(sheet, rect, stock), *below, *lying, *bad_boxes(stock.no_go), *above)
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


def _bare(sheet: LayoutSheet, rect: Rect, stock: Stock) -> Iterator[Box]:
    yield Box(role=Role.SHEET, rect=rect, key=f"sheet:{sheet.id}")
    yield Box(role=Role.PIECE, rect=rect, key=f"piece:{sheet.id}")
    yield from _margins(rect, stock)


def _lying(
    sheet: LayoutSheet,
    troubled: Copies,
    numbers: Mapping[Length, int],
    kept: Mapping[Rect, int],
) -> Iterator[Box]:
    """Yield the boxes of the parts: tinted as in the strip they come from, else by width."""
    for placed in sheet.placements:
        tint = kept.get(placed.rect, numbers[placed.rect.width])
        yield part_box(placed, tint, problem=placed.key in troubled)


def _marked(role: Role, name: str, rects: Iterable[Rect]) -> Iterator[Box]:
    for index, rect in enumerate(rects, start=1):
        yield Box(role=role, rect=rect, key=f"{name}:{index}")


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


Cell = tuple[str, int, int]
"""Group, row and column."""


def loose_ties(job: Job, placements: tuple[Placement, ...]) -> tuple[Tie, ...]:
    """Return the marks between neighbours of a grid that lie beside each other by one kerf."""
    return tuple(_ties(job, placements))


def _ties(job: Job, placements: tuple[Placement, ...]) -> Iterator[Tie]:
    cells = _cells(job, placements)
    lying = [one for one in placements if one.key in cells]
    for one, other in combinations(lying, 2):
        cell, beside = cells[one.key], cells[other.key]
        if one.turned is other.turned and _are_neighbours(cell, beside):
            along_x = (cell[1] == beside[1]) is not one.turned
            for tie in ties_between((one, other), job.parts, job.shop.kerf):
                if (tie.start[1] == tie.end[1]) is along_x:
                    yield tie


def _cells(job: Job, placements: tuple[Placement, ...]) -> dict[Copy, Cell]:
    """Return the place in its grid of each member of the groups that lie there."""
    here = {one.part for one in placements}
    found: dict[Copy, Cell] = {}
    for group in dict.fromkeys(part.group for part in job.parts if part.id in here):
        if group:
            columns = max(1, job.columns_of(group))
            for index, (part, copy) in enumerate(members(job, group)):
                found[part.id, copy] = (group, *divmod(index, columns))
    return found


def _are_neighbours(one: Cell, other: Cell) -> bool:
    """Say whether two cells of one grid share an edge."""
    return one[0] == other[0] and abs(one[1] - other[1]) + abs(one[2] - other[2]) == 1
