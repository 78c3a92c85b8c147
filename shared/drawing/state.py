"""A sheet just before one of its cuts: what lies there, which side is kept, what is left."""

from collections.abc import Iterator
from dataclasses import replace

from shared.drawing.bad_places import bad_boxes, bad_labels
from shared.drawing.grain import figure, grain_lines
from shared.drawing.marks import axis_at, cut_tags, sides
from shared.drawing.records import Box, RectLabel, Role, SheetDrawing, Weight, cut_key, part_key
from shared.drawing.sheet import (
    blank_boxes,
    blank_label,
    cuts_of,
    draw_bare,
    keeper_label,
    kerf_box,
    offcut_box,
    part_boxes,
    part_label,
    placed_on,
    sheet_of,
    signs_of,
    trim_box,
)
from shared.drawing.words import fall_label, piece_label
from shared.geometry import Rect
from shared.lengths import LengthStyle
from shared.plan import Cut, Keep, Offcut, Plan, PlanSheet
from shared.saw import PieceOnHand, after


def draw_state(plan: Plan, sheet_id: str, style: LengthStyle, upto: int) -> SheetDrawing:
    """Draw a sheet as it lies just before cut ``upto``, which may be a cut of another sheet."""
    sheet, cuts = sheet_of(plan, sheet_id), cuts_of(plan, sheet_id)
    pieces = list(after([sheet], (cut for cut in cuts if cut.number < upto)))
    boxes = tuple(_boxes(plan, sheet, cuts, pieces, upto))
    seen = tuple(_labels(plan, sheet, pieces, style, upto))
    return replace(
        draw_bare(sheet, cuts, style),
        boxes=boxes,
        grain=grain_lines(boxes, figure(sheet.id, sheet.rect, sheet.grain)),
        tags=cut_tags(sheet, cuts, upto),
        labels=seen,
        signs=signs_of(plan, sheet, boxes),
    )


def _boxes(
    plan: Plan, sheet: PlanSheet, cuts: tuple[Cut, ...], pieces: list[PieceOnHand], upto: int
) -> Iterator[Box]:
    made = [cut for cut in cuts if cut.number < upto]
    yield Box(role=Role.SHEET, rect=sheet.rect, key=f"sheet:{sheet.id}")
    yield from filter(None, (trim_box(cut, axis_at(cut.level, sheet)) for cut in made))
    yield from _lying_boxes(plan, sheet, pieces, upto)
    yield from bad_boxes(sheet.no_go)
    yield from (kerf_box(cut) for cut in made)
    yield from (
        Box(role=Role.CUT, rect=cut.rect, key=cut_key(cut.number))
        for cut in cuts
        if cut.number == upto
    )


def _lying_boxes(
    plan: Plan, sheet: PlanSheet, pieces: list[PieceOnHand], upto: int
) -> Iterator[Box]:
    free = {piece.rect for piece in pieces}
    known = _known(plan, sheet)
    for piece in pieces:
        if piece.rect in known and _cut_of(plan, piece, upto) is None:
            yield known[piece.rect]
        else:
            yield from _piece_boxes(plan, sheet, piece, upto)
    for box, blank in _coming(plan, sheet):
        if box.rect not in free:
            begun = any(blank.contains(rect) for rect in free)
            yield replace(box, role=Role.COMING, rect=box.rect if begun else blank)


def _known(plan: Plan, sheet: PlanSheet) -> dict[Rect, Box]:
    """Return the boxes of falls, parts and blanks, by where they lie once they are free."""
    falls = (offcut_box(fall) for fall in plan.offcuts if fall.sheet == sheet.id)
    blanks = (
        replace(box, role=Role.PART, key=part_key(box.part, box.copy))
        for box in blank_boxes(plan, sheet)
    )
    return {box.rect: box for box in (*falls, *blanks, *part_boxes(plan, sheet))}


def _coming(plan: Plan, sheet: PlanSheet) -> Iterator[tuple[Box, Rect]]:
    """Yield the box of each part at its final size, with what is sawn from the sheet for it."""
    blanks = {box.copy_key: box.rect for box in blank_boxes(plan, sheet)}
    for box in part_boxes(plan, sheet):
        yield box, blanks.get(box.copy_key, box.rect)


def _piece_boxes(plan: Plan, sheet: PlanSheet, piece: PieceOnHand, upto: int) -> Iterator[Box]:
    cut = _cut_of(plan, piece, upto)
    if cut is None:
        yield Box(role=Role.PIECE, rect=piece.rect, key=f"piece:{piece.name}")
        return
    near, far = sides(cut.rect, piece.rect, axis_at(cut.level, sheet))
    for rect, name, side in ((near, cut.off, Keep.NEAR), (far, cut.piece, Keep.FAR)):
        if rect.area:
            role = Role.KEPT if cut.keep is side else Role.LEFT
            yield Box(role=role, rect=rect, key=f"piece:{name or 'trim'}")


def _cut_of(plan: Plan, piece: PieceOnHand, upto: int) -> Cut | None:
    """Return the selected cut if it cuts this piece."""
    cut = plan.cut(upto) if plan.has_cut(upto) else None
    return cut if cut is not None and cut.piece == piece.name else None


def _labels(
    plan: Plan, sheet: PlanSheet, pieces: list[PieceOnHand], style: LengthStyle, upto: int
) -> Iterator[RectLabel]:
    named = _part_labels(plan, sheet, style)
    falls = _falls(plan, sheet)
    for piece in pieces:
        if piece.rect in named and _cut_of(plan, piece, upto) is None:
            yield named[piece.rect]
        elif piece.rect not in falls:
            yield from _piece_labels(plan, sheet, piece, style, upto)
        elif falls[piece.rect].keep:
            yield keeper_label(falls[piece.rect], plan, style)
    yield from _coming_labels(plan, sheet, pieces, style)
    yield from bad_labels(sheet.no_go, sheet.rect, style)


def _coming_labels(
    plan: Plan, sheet: PlanSheet, pieces: list[PieceOnHand], style: LengthStyle
) -> Iterator[RectLabel]:
    """Name each part where it will be inside a piece that is not cut yet."""
    free = {piece.rect for piece in pieces}
    parts = {part.id: part for part in plan.parts}
    blanks = {box.copy_key: box.rect for box in blank_boxes(plan, sheet)}
    for placement in placed_on(plan, sheet.id):
        label = part_label(placement, parts[placement.part], style)
        blank = blanks.get(placement.key, label.rect)
        if label.rect not in free and blank not in free:
            yield replace(label, weight=Weight.COMING)


def _falls(plan: Plan, sheet: PlanSheet) -> dict[Rect, Offcut]:
    """Return the falls of a sheet by where they lie."""
    return {fall.rect: fall for fall in plan.offcuts if fall.sheet == sheet.id}


def _part_labels(plan: Plan, sheet: PlanSheet, style: LengthStyle) -> dict[Rect, RectLabel]:
    """Return the labels of parts and of blanks to be finished, by where they lie."""
    parts = {part.id: part for part in plan.parts}
    named: dict[Rect, RectLabel] = {}
    for placement in placed_on(plan, sheet.id):
        part = parts[placement.part]
        named[placement.rect] = blank_label(placement, part, style)
        done = part_label(placement, part, style)
        named[done.rect] = done
    return named


def _piece_labels(
    plan: Plan, sheet: PlanSheet, piece: PieceOnHand, style: LengthStyle, upto: int
) -> Iterator[RectLabel]:
    cut = _cut_of(plan, piece, upto)
    if cut is None:
        words = f"piece {piece.name}"
        yield piece_label(f"piece:{piece.name}", piece.rect, words, style)
        return
    near, far = sides(cut.rect, piece.rect, axis_at(cut.level, sheet))
    falls = _falls(plan, sheet)
    for rect, name, side in ((near, cut.off, Keep.NEAR), (far, cut.piece, Keep.FAR)):
        said = f"{'keep' if cut.keep is side else 'left'}: {name or 'waste'}"
        if rect in falls:
            yield fall_label(f"piece:{name or 'trim'}", rect, said, style, Weight.PIECE)
        elif rect.area:
            yield piece_label(f"piece:{name or 'trim'}", rect, said, style)
