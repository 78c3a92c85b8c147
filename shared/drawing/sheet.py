"""A sheet of a plan as draw records: all cuts made."""

from collections.abc import Iterator, Mapping
from dataclasses import replace

from shared.drawing.bad_places import bad_boxes, bad_labels
from shared.drawing.grain import figure, grain_lines
from shared.drawing.grain_signs import grain_signs
from shared.drawing.marks import axis_at, cut_tags, face_mark, running_marks
from shared.drawing.pieces import named_pieces
from shared.drawing.records import (
    Box,
    GrainSign,
    RectLabel,
    Role,
    SheetDrawing,
    blank_key,
    cut_key,
    part_key,
)
from shared.drawing.ties import ties_between
from shared.drawing.words import MEASURE_FIRST, fall_label, group_note, sheet_title
from shared.geometry import Rect
from shared.lengths import Length, LengthStyle, format_pair
from shared.offcuts import offcut_name, sawn_pieces
from shared.plan import Cut, CutKind, Offcut, Placement, Plan, PlanPart, PlanSheet
from shared.remembered import Remembered
from shared.saw.promises import final_rect
from shared.shop import Axis
from shared.tree import extent, strips


def sheet_of(plan: Plan, sheet_id: str) -> PlanSheet:
    """Return the sheet of that id; KeyError if there is none."""
    return {sheet.id: sheet for sheet in plan.sheets}[sheet_id]


def cuts_of(plan: Plan, sheet_id: str) -> tuple[Cut, ...]:
    """Return the cuts of one sheet in sawing order."""
    return tuple(cut for cut in plan.cuts if cut.sheet == sheet_id)


def draw_finished(plan: Plan, sheet_id: str, style: LengthStyle) -> SheetDrawing:
    """Draw a sheet with all its cuts made."""
    sheet, cuts = sheet_of(plan, sheet_id), cuts_of(plan, sheet_id)
    boxes = tuple(_boxes(plan, sheet, cuts))
    return replace(
        draw_bare(sheet, cuts, style),
        boxes=boxes,
        grain=grain_lines(boxes, figure(sheet.id, sheet.rect, sheet.grain)),
        tags=cut_tags(sheet, cuts),
        labels=tuple(_labels(plan, sheet_id, style)),
        ties=ties_between(placed_on(plan, sheet_id), plan.parts, _kerf(plan, cuts)),
        signs=signs_of(plan, sheet, boxes),
        pieces=tuple(named_pieces(sheet, cuts)),
    )


def draw_bare(sheet: PlanSheet, cuts: tuple[Cut, ...], style: LengthStyle) -> SheetDrawing:
    """Draw what is the same of a sheet at any time: title, running positions, face mark."""
    size = (sheet.length, sheet.width)
    return SheetDrawing(
        sheet=sheet.id,
        title=sheet_title(sheet.name, sheet.material, size, sheet.grain, style),
        price=sheet.price,
        stock=sheet.stock,
        rect=sheet.rect,
        boxes=(),
        grain=(),
        tags=(),
        labels=(),
        marks=running_marks(sheet, cuts, style),
        face_mark=face_mark(sheet),
    )


def tints(plan: Plan) -> Mapping[Length, int]:
    """Number the rip widths of a plan (its first-level sizes) in order of first sight."""
    return _tints(plan)


def _number_widths(plan: Plan) -> Mapping[Length, int]:
    found = (
        one for sheet in plan.sheets if sheet.tree for one in strips(sheet.tree, sheet.rect, 0)
    )
    sizes = [piece.size for piece, _ in found if piece.run or piece.place]
    return {size: index for index, size in enumerate(dict.fromkeys(sizes))}


_tints = Remembered(_number_widths, 4)


def part_boxes(plan: Plan, sheet: PlanSheet) -> Iterator[Box]:
    """Yield a box for each part on a sheet at its final size, tinted by its rip width."""
    parts = {part.id: part for part in plan.parts}
    for placement, tint in _tinted(plan, sheet):
        final = final_rect(placement, parts[placement.part])
        yield replace(part_box(placement, tint), rect=final)


def blank_boxes(plan: Plan, sheet: PlanSheet) -> Iterator[Box]:
    """Yield the outline of each blank as it leaves its sheet, before it is finished."""
    blanks = {part.id for part in plan.parts if part.is_blank}
    for placement, tint in _tinted(plan, sheet):
        if placement.part in blanks:
            key = blank_key(placement.part, placement.copy)
            yield replace(part_box(placement, tint), role=Role.BLANK, key=key)


def part_box(placement: Placement, tint: int | None, *, problem: bool = False) -> Box:
    """Return the box of a placement."""
    return Box(
        role=Role.PART,
        rect=placement.rect,
        key=part_key(placement.part, placement.copy),
        tint=tint,
        part=placement.part,
        copy=placement.copy,
        problem=problem,
    )


def placed_on(plan: Plan, sheet_id: str) -> tuple[Placement, ...]:
    """Return what lies on a sheet."""
    return tuple(placed for placed in plan.placements if placed.sheet == sheet_id)


def signs_of(plan: Plan, sheet: PlanSheet, boxes: tuple[Box, ...]) -> tuple[GrainSign, ...]:
    """Return the signs of the grain rule on the parts of a sheet that lie free."""
    rules = {part.id: part.grain_rule for part in plan.parts}
    return grain_signs(boxes, placed_on(plan, sheet.id), rules, sheet.grain)


def offcut_box(offcut: Offcut) -> Box:
    """Return the box of an offcut, a keeper or waste."""
    role = Role.KEEPER if offcut.keep else Role.WASTE
    return Box(role=role, rect=offcut.rect, key=f"piece:{offcut.piece}")


def kerf_box(cut: Cut) -> Box:
    """Return the box of the dust of a cut that is made."""
    return Box(role=Role.KERF, rect=cut.rect, key=cut_key(cut.number))


def trim_box(cut: Cut, axis: Axis) -> Box | None:
    """Return what falls away at a trim; ``None`` when the blade takes it all."""
    rect = cut.rect
    fall = cut.size - extent(rect, axis)
    if cut.kind is not CutKind.TRIM or fall <= 0:
        return None
    if axis is Axis.RIP:
        inside = Rect(x=rect.x, y=rect.y - fall, length=rect.length, width=fall)
    else:
        inside = Rect(x=rect.x - fall, y=rect.y, length=fall, width=rect.width)
    return Box(role=Role.TRIM, rect=inside, key=f"trim:{cut.number}")


def part_label(placement: Placement, part: PlanPart, style: LengthStyle) -> RectLabel:
    """Name a part and its size after the last cut, always as its own length and width."""
    size = format_pair(*part.final, style)
    notes = (group_note(part.group), MEASURE_FIRST if part.waits else "")
    return RectLabel(
        key=part_key(placement.part, placement.copy),
        rect=final_rect(placement, part),
        lines=(part.name, f"blank {size}" if part.waits else size),
        note=", ".join(filter(None, notes)),
    )


def blank_label(placement: Placement, part: PlanPart, style: LengthStyle) -> RectLabel:
    """Name the blank of a part that is still to be finished, and its size."""
    return RectLabel(
        key=part_key(placement.part, placement.copy),
        rect=placement.rect,
        lines=(part.name, f"blank {format_pair(part.length, part.width, style)}"),
        note=group_note(part.group),
    )


def keeper_label(offcut: Offcut, plan: Plan, style: LengthStyle) -> RectLabel:
    """Name an offcut worth keeping."""
    name = offcut_name(offcut.piece, sawn=offcut.piece in sawn_pieces(plan))
    return fall_label(f"piece:{offcut.piece}", offcut.rect, name, style)


def _boxes(plan: Plan, sheet: PlanSheet, cuts: tuple[Cut, ...]) -> Iterator[Box]:
    yield Box(role=Role.SHEET, rect=sheet.rect, key=f"sheet:{sheet.id}")
    yield from (offcut_box(fall) for fall in plan.offcuts if fall.sheet == sheet.id)
    yield from filter(None, (trim_box(cut, axis_at(cut.level, sheet)) for cut in cuts))
    yield from blank_boxes(plan, sheet)
    yield from part_boxes(plan, sheet)
    yield from bad_boxes(sheet.no_go)
    yield from (kerf_box(cut) for cut in cuts)


def _labels(plan: Plan, sheet_id: str, style: LengthStyle) -> Iterator[RectLabel]:
    parts = {part.id: part for part in plan.parts}
    for placement in placed_on(plan, sheet_id):
        yield part_label(placement, parts[placement.part], style)
    for fall in plan.offcuts:
        if fall.sheet == sheet_id and fall.keep:
            yield keeper_label(fall, plan, style)
    sheet = sheet_of(plan, sheet_id)
    yield from bad_labels(sheet.no_go, sheet.rect, style)


def _kerf(plan: Plan, cuts: tuple[Cut, ...]) -> Length:
    """Return the kerf between the parts of a sheet, in ticks: that of the saw on the rail.

    A last cut, behind which no part lies, may be made at the table saw, and blanks may be
    finished with another saw. A plan that names no shop has one saw for all other cuts.
    """
    if plan.shop is not None:
        return plan.shop.kerf
    return max((cut.kerf for cut in cuts if cut.kind is not CutKind.FINISH), default=0)


def _tinted(plan: Plan, sheet: PlanSheet) -> Iterator[tuple[Placement, int | None]]:
    """Yield what lies on a sheet, each with the tint of its rip width."""
    strips, numbers = list(_strips(plan, sheet)), tints(plan)
    for placement in placed_on(plan, sheet.id):
        yield placement, _tint(placement.rect, strips, numbers, sheet)


def _strips(plan: Plan, sheet: PlanSheet) -> Iterator[Rect]:
    kerf = _kerf(plan, cuts_of(plan, sheet.id))
    if sheet.tree is not None:
        yield from (rect for _, rect in strips(sheet.tree, sheet.rect, kerf))


def _tint(
    rect: Rect, strips: list[Rect], numbers: Mapping[Length, int], sheet: PlanSheet
) -> int | None:
    axis = axis_at(1, sheet)
    around = (strip for strip in strips if strip.contains(rect))
    return next((numbers.get(extent(strip, axis)) for strip in around), None)
