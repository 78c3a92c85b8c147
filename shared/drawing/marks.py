"""Where the saw enters, where the keep sides run, and which edge is the reference."""

from shared.drawing.records import CutTag, Point, RunningMark, cut_key
from shared.geometry import Rect
from shared.lengths import Length, LengthStyle, format_length
from shared.plan import Cut, CutKind, Keep, PlanSheet
from shared.shop import Axis
from shared.tree import extent, span


def axis_at(level: int, sheet: PlanSheet) -> Axis:
    """Return the direction of the cuts of a level: they alternate from the sheet's first run."""
    first = sheet.tree.axis if sheet.tree is not None else Axis.RIP
    return first if level % 2 else first.other


def top_level(sheet: PlanSheet) -> int:
    """Return the level of the first cuts that are made.

    It is 2 when the first run is one whole piece without a cut, as on a sheet laid out by
    hand that can only be cut in the other direction first.
    """
    tree = sheet.tree
    if tree is None or tree.trim or len(tree.pieces) != 1:
        return 1
    whole = tree.pieces[0].run is not None and tree.pieces[0].size == extent(sheet.rect, tree.axis)
    return 2 if whole else 1


def cut_tags(
    sheet: PlanSheet, cuts: tuple[Cut, ...], current: int | None = None
) -> tuple[CutTag, ...]:
    """Return a tag for each cut; cuts before ``current`` are marked as done."""
    return tuple(_tag(sheet, cut, current) for cut in cuts)


def running_marks(
    sheet: PlanSheet, cuts: tuple[Cut, ...], style: LengthStyle
) -> tuple[RunningMark, ...]:
    """Return the scale of the first-level cuts, its zero first."""
    top = top_level(sheet)
    axis = axis_at(top, sheet)
    zero = sheet.trims.near if axis is Axis.RIP else sheet.trims.start
    barred = {CutKind.TRIM, CutKind.FINISH}
    first = [cut for cut in cuts if cut.level == top and cut.kind not in barred]
    start = RunningMark(number=0, key="zero", axis=axis, at=zero, text="0")
    return (start, *(_mark(cut, axis, style) for cut in first))


def face_mark(sheet: PlanSheet) -> Point:
    """Return where the V of the face edge stands: near the reference corner, beside no tag."""
    tree = sheet.tree.pieces[0].run if sheet.tree and top_level(sheet) == 2 else sheet.tree
    if tree is None or tree.axis is Axis.RIP or not tree.pieces:
        return sheet.length * 6 // 100, 0
    widest = max(tree.pieces, key=lambda piece: piece.size)
    before = tree.pieces[: tree.pieces.index(widest)]
    start = tree.trim + sum(piece.size for piece in before)
    return min(sheet.length, start + widest.size // 2), 0


def _tag(sheet: PlanSheet, cut: Cut, current: int | None) -> CutTag:
    axis = axis_at(cut.level, sheet)
    x, y = _entry(cut.rect, axis)
    return CutTag(
        number=cut.number,
        key=cut_key(cut.number),
        x=x,
        y=y,
        axis=axis,
        reach=span(cut.rect, axis),
        level=cut.level,
        outside=cut.level == top_level(sheet) and cut.kind is not CutKind.FINISH,
        done=current is not None and cut.number < current,
        current=cut.number == current,
    )


def _entry(dust: Rect, axis: Axis) -> Point:
    if axis is Axis.RIP:
        return dust.x, dust.y + dust.width // 2
    return dust.x + dust.length // 2, dust.y


def _mark(cut: Cut, axis: Axis, style: LengthStyle) -> RunningMark:
    return RunningMark(
        number=cut.number,
        key=cut_key(cut.number),
        axis=axis,
        at=_keep_side(cut, axis),
        text=format_length(cut.running, style),
    )


def _keep_side(cut: Cut, axis: Axis) -> Length:
    dust = cut.rect
    if axis is Axis.RIP:
        return dust.y if cut.keep is Keep.NEAR else dust.bottom
    return dust.x if cut.keep is Keep.NEAR else dust.right


def sides(dust: Rect, piece: Rect, axis: Axis) -> tuple[Rect, Rect]:
    """Return what a cut saws off a piece and what stays of it; empty rectangles are possible.

    What is sawn off lies nearer the reference end.
    """
    if axis is Axis.RIP:
        near = Rect(x=piece.x, y=piece.y, length=piece.length, width=dust.y - piece.y)
        far = Rect(x=piece.x, y=dust.bottom, length=piece.length, width=piece.bottom - dust.bottom)
    else:
        near = Rect(x=piece.x, y=piece.y, length=dust.x - piece.x, width=piece.width)
        far = Rect(x=dust.right, y=piece.y, length=piece.right - dust.right, width=piece.width)
    return near, far
