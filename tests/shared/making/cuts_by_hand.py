"""Single cuts over a piece, written down by their figures."""

from shared.geometry import Rect
from shared.lengths import Length
from shared.making.strokes import Stroke
from shared.plan import Cut, CutKind, Keep, PlanSheet
from shared.shop import Axis
from shared.stock import SheetGrain, Trims

PIECE = Rect(x=300, y=200, length=9_000, width=5_000)
SHEET = PlanSheet(
    id="1",
    stock="s",
    name="sheet",
    material="plywood",
    thickness=100,
    length=20_000,
    width=12_000,
    grain=SheetGrain.ALONG_L,
    trims=Trims(),
)


def cut_over(
    axis: Axis,
    keep: Keep,
    size: Length,
    kerf: Length,
    *,
    piece: Rect = PIECE,
    sheet: PlanSheet = SHEET,
) -> Stroke:
    """Return a cut whose line lies ``size`` from the reference edge or end of the piece.

    The slot lies beyond the line if the near side is kept, before it if the far side is.
    """
    start = size if keep is Keep.NEAR else size - kerf
    if axis is Axis.RIP:
        dust = Rect(x=piece.x, y=piece.y + start, length=piece.length, width=kerf)
        near = Rect(x=piece.x, y=piece.y, length=piece.length, width=start)
        far = Rect(x=piece.x, y=dust.bottom, length=piece.length, width=piece.bottom - dust.bottom)
    else:
        dust = Rect(x=piece.x + start, y=piece.y, length=kerf, width=piece.width)
        near = Rect(x=piece.x, y=piece.y, length=start, width=piece.width)
        far = Rect(x=dust.right, y=piece.y, length=piece.right - dust.right, width=piece.width)
    cut = Cut(
        number=1,
        sheet=SHEET.id,
        kind=CutKind(axis.value) if keep is Keep.NEAR else CutKind.TRIM,
        level=2,
        tool="saw",
        kerf=kerf,
        x=dust.x,
        y=dust.y,
        length=dust.length,
        width=dust.width,
        piece="1a",
        off="1a1",
        setup="",
        running=0,
        size=size,
        keep=keep,
    )
    return Stroke(cut=cut, sheet=SHEET, axis=axis, piece=piece, near=near, far=far)
