"""Between which parts of a sheet the slot of the table saw lies, instead of the other saw's."""

from shared.geometry import Rect
from shared.lengths import Length
from shared.tree import Run, piece_rects, places, runs


def table_slots(
    tree: Run | None, rect: Rect, kerf: Length
) -> tuple[frozenset[Rect], frozenset[Rect]]:
    """Return the parts before which that slot lies, and those behind which it does.

    Parameters
    ----------
    tree, rect, kerf
        Cuts and rectangle of the sheet, and the kerf of its saw in ticks.
    """
    before: set[Rect] = set()
    behind: set[Rect] = set()
    for _, run, inside in runs(tree, rect, kerf):
        for number, (piece, box) in enumerate(piece_rects(run, inside, kerf) if run.kerf else ()):
            its = (
                {box}
                if piece.place is not None
                else {one for _, one in places(piece.run, box, kerf)}
            )
            behind |= {one for one in its if one.bottom == box.bottom}
            before |= {one for one in its if number and one.y == box.y}
    return frozenset(before), frozenset(behind)
