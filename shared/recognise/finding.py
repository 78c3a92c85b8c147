"""From parts that lie on a sheet to the tree of cuts that yields them, if there is one."""

from collections import Counter
from collections.abc import Sequence

from shared.geometry import Rect
from shared.lengths import Length
from shared.plan import Placement
from shared.recognise.boxes import Box, Ground, boxes_of, stuck
from shared.recognise.keeping import Kept, keep
from shared.recognise.prices import Pace, Prices, guess
from shared.recognise.sawn import Sawn
from shared.recognise.search import Search
from shared.shop import Axis, FirstCut
from shared.stock import Trims
from shared.tree import Piece, Place, Run

AXES = {
    FirstCut.RIP: (Axis.RIP,),
    FirstCut.CROSSCUT: (Axis.CROSSCUT,),
    FirstCut.EITHER: (Axis.RIP, Axis.CROSSCUT),
}
"""First directions to try, the one preferred on ties first."""

QUICK_STATES = 400
"""Bounds a yes or no to a few milliseconds."""

STATES = 2_500
"""Bounds the search for the least sawing to about a tenth of a second."""

ROUNDS = 3
"""How often the search is repeated with new prices of set-ups, at most."""


def is_cuttable(
    sheet: Rect, placements: Sequence[Placement], kerf: Length, trims: Trims | None = None
) -> bool:
    """Say whether parts can be cut edge to edge as they lie; quick enough for a drag.

    Parameters
    ----------
    sheet
        The untrimmed sheet.
    placements
        What lies on it, all lengths in ticks in the sheet's frame.
    kerf
        Width of the slot, in ticks.
    trims
        Stock lost at its edges; none by default.
    """
    ground = Ground.of(sheet, kerf, trims or Trims())
    return can_part(ground, boxes_of(placements))


def find_tree(
    sheet: Rect,
    placements: Sequence[Placement],
    kerf: Length,
    trims: Trims | None = None,
    first: FirstCut = FirstCut.RIP,
    *,
    pace: Pace | None = None,
    before: Run | None = None,
) -> Run | None:
    """Return the tree of cuts that yields exactly these placements, or ``None``.

    The tree with the least sawing time at that pace, as far as found: exact if set-ups
    take no time and the layout leaves no more than some hundred choices; set-ups are
    counted in by improving their prices a few times.

    ``before`` is the tree the sheet had: it is kept as it was if nothing has moved, and
    with gone parts as waste if nothing came; what came is also tried in its free pieces.

    With a first direction of ``EITHER`` both are tried; on ties the tree with fewer levels
    is taken, then rip first. If a layout can only be cut in the other direction first, the
    first run is one whole piece without a cut. The other parameters are those of
    `is_cuttable`, which says whether there is a tree. Without placements there is none.
    """
    ground = Ground.of(sheet, kerf, trims or Trims())
    boxes = boxes_of(placements)
    if not boxes or not can_part(ground, boxes):
        return None
    pace = pace or Pace()
    kept = keep(before, ground, boxes, placements) if before is not None else Kept()
    if kept.same or (kept.sawn is not None and not kept.came):
        return before if kept.same or kept.sawn is None else _run(kept.sawn, placements)
    found = [kept.sawn] if kept.sawn is not None else []
    found += [sawn for axis in AXES[first] for sawn in _candidates(ground, boxes, axis, pace)]
    # What can be parted can be parted by rips first, but a budget may end too soon for others.
    found = found or _candidates(ground, boxes, Axis.RIP, pace)
    best = min(found, key=lambda sawn: (pace.seconds(sawn, kerf), sawn.depth))
    return _run(best, placements)


def can_part(ground: Ground, boxes: list[Box]) -> bool:
    """Say whether all boxes can be sawn out of a sheet."""
    if not boxes:
        return True
    if any(off_usable(ground, box) or in_kerf(ground, box) for box in boxes):
        return False
    if stuck(boxes, ground.kerf):
        return False
    return _first_found(ground, boxes, Axis.RIP) is not None


def off_usable(ground: Ground, box: Box) -> bool:
    """Say whether a part reaches off the sheet or into a trim."""
    left, top, right, bottom = ground.usable
    return box[0] < left or box[1] < top or box[2] > right or box[3] > bottom


def in_kerf(ground: Ground, box: Box) -> bool:
    """Say whether less than a piece and a kerf lie between a part and its reference edge."""
    left, top, _, _ = ground.usable
    return 0 < box[0] - left <= ground.kerf or 0 < box[1] - top <= ground.kerf


def _first_found(ground: Ground, boxes: list[Box], axis: Axis) -> Sawn | None:
    """Return the first tree met; the search cuts at every gap as long as that works."""
    way = Search(ground, None, QUICK_STATES).sheet(boxes, axis)
    return way and way.run


def _candidates(ground: Ground, boxes: list[Box], axis: Axis, pace: Pace) -> list[Sawn]:
    """Return the cheapest trees for several prices of set-ups, and the first one met."""
    first = _first_found(ground, boxes, axis)
    found = [first] if first else []
    uses, states = guess(boxes, axis), STATES
    for _ in range(ROUNDS):
        search = Search(ground, Prices(pace, uses), states)
        way = search.sheet(boxes, axis)
        if way is None or way.run is None or way.run in found:
            break
        found.append(way.run)
        uses, states = Counter(way.run.cuts()), search.ahead
        if states <= 0:
            break
    return found


def _run(sawn: Sawn, placements: Sequence[Placement]) -> Run:
    """Return the run with the parts in it."""
    pieces = tuple(
        Piece(
            size=bit.size,
            run=_run(bit.run, placements) if bit.run else None,
            place=_place(placements[bit.box]) if bit.box >= 0 else None,
        )
        for bit in sawn.bits
    )
    return Run(axis=sawn.axis, trim=sawn.trim, pieces=pieces)


def _place(lies: Placement) -> Place:
    return Place(part=lies.part, copy=lies.copy, turned=lies.turned)
