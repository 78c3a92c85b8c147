"""From parts that lie on a sheet to the tree of cuts that yields them, if there is one."""

from collections import Counter
from collections.abc import Iterator, Sequence

from shared.geometry import Rect
from shared.lengths import Length
from shared.plan import Placement
from shared.recognise.allowed import Allowed
from shared.recognise.boxes import Area, Box, SheetGround, boxes_of, stuck
from shared.recognise.keeping import Kept, keep
from shared.recognise.prices import CutPrices, Pace, SetUps, guess
from shared.recognise.sawn import SawnRun
from shared.recognise.search import DivisionSearch
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

STATES = 2_000
"""Bounds the search for the least sawing to about a tenth of a second."""

ROUNDS = 3
"""How often the search is repeated with new prices of set-ups, at most."""


def is_cuttable(
    sheet: Rect,
    placements: Sequence[Placement],
    kerf: Length,
    trims: Trims | None = None,
    allowed: Allowed | None = None,
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
    allowed
        Limits of the shop that every cut has to keep; none by default.
    """
    ground = SheetGround.of(sheet, kerf, trims, allowed)
    return can_saw(ground, boxes_of(placements))


def find_tree(
    sheet: Rect,
    placements: Sequence[Placement],
    kerf: Length,
    trims: Trims | None = None,
    first: FirstCut = FirstCut.RIP,
    *,
    pace: Pace | None = None,
    allowed: Allowed | None = None,
    before: Run | None = None,
    free: SetUps = frozenset(),
) -> Run | None:
    """Return the tree of cuts that yields exactly these placements, or ``None``.

    The tree with the fewest cuts beyond the limits, then the fewest deeper than the rule has
    them, then the least sawing time at that pace, as far as found: exact if set-ups
    take no time and the layout leaves no more than some hundred choices; set-ups are
    counted in by improving their prices a few times, ``free`` ones not at all.

    ``before`` is the tree the sheet had: it is kept as it was if nothing has moved, and
    with gone parts as waste if nothing came; what came is also tried in its free pieces.

    With a first direction of ``EITHER`` both are tried; on ties the tree with fewer levels
    is taken, then rip first. If a layout can only be cut in the other direction first, the
    first run is one whole piece without a cut. The other parameters are those of
    `is_cuttable`, which says whether there is a tree. Without placements there is none.
    """
    ground = SheetGround.of(sheet, kerf, trims, allowed)
    boxes = boxes_of(placements)
    if not boxes or not can_part(ground, boxes):
        return None
    kept = keep(before, ground, boxes, placements) if before is not None else Kept()
    if kept.same and before is not None and is_allowed(kept.sawn, ground):
        return before
    found = [] if kept.sawn is None else [kept.sawn]
    if kept.came or not is_allowed(kept.sawn, ground):
        found += _found(ground, boxes, first, pace or Pace(), free)
    best = min(found, key=_Worth(ground, pace or Pace(), free))
    return run_of(best, ground, placements)


def _found(
    ground: SheetGround, boxes: list[Box], first: FirstCut, pace: Pace, free: SetUps
) -> list[SawnRun]:
    """Return trees that were looked for anew, rip first before crosscut first."""
    found = [sawn for axis in AXES[first] for sawn in _candidates(ground, boxes, axis, pace, free)]
    # What can be parted can be parted by rips first, but a budget may end too soon for others.
    return found or list(_candidates(ground, boxes, Axis.RIP, pace, free))


class _Worth:
    """Says which of several trees of one sheet is best: the least."""

    def __init__(self, ground: SheetGround, pace: Pace, free: SetUps) -> None:
        self._ground, self._pace, self._free = ground, pace, free

    def __call__(self, sawn: SawnRun) -> tuple[int, int, int, int]:
        ground = self._ground
        beyond = sum(1 for _ in sawn.beyond(ground.area, ground)) if ground.allowed.binds else 0
        deep = sawn.too_deep(ground.allowed) if ground.allowed.levels else 0
        return beyond, deep, self._pace.seconds(sawn, ground.kerf, self._free), sawn.depth


def is_allowed(sawn: SawnRun | None, ground: SheetGround) -> bool:
    """Say whether there is a tree, and none of its cuts is beyond the shop's limits."""
    return sawn is not None and next(sawn.beyond(ground.area, ground), None) is None


def too_deep(tree: Run, ground: SheetGround) -> int:
    """Count the cuts of a tree that lie deeper than the cutting rule has them."""
    return SawnRun.of(tree, ground.area, ground.kerf).too_deep(ground.allowed)


def can_part(ground: SheetGround, boxes: list[Box]) -> bool:
    """Say whether all boxes can be sawn out of a sheet, whatever the shop's limits."""
    return _fits(ground, boxes) and (not boxes or first_met(ground, boxes) is not None)


def can_saw(ground: SheetGround, boxes: list[Box]) -> bool:
    """Say whether all boxes can be sawn out of a sheet within the shop's limits."""
    if not ground.allowed.binds:
        return can_part(ground, boxes)
    return _fits(ground, boxes) and (
        not boxes or first_met(ground, boxes, allowed=True) is not None
    )


def _fits(ground: SheetGround, boxes: list[Box]) -> bool:
    if any(off_usable(ground, box) or in_kerf(ground, box) for box in boxes):
        return False
    return not stuck(boxes, ground.kerf)


def off_usable(ground: SheetGround, box: Box) -> bool:
    """Say whether a part reaches off the sheet or into a trim."""
    left, top, right, bottom = ground.usable
    return box[0] < left or box[1] < top or box[2] > right or box[3] > bottom


def in_kerf(ground: SheetGround, box: Box) -> bool:
    """Say whether less than a piece and a kerf lie between a part and its reference edge."""
    left, top, _, _ = ground.usable
    return 0 < box[0] - left <= ground.kerf or 0 < box[1] - top <= ground.kerf


def first_met(
    ground: SheetGround, boxes: list[Box], axis: Axis = Axis.RIP, *, allowed: bool = False
) -> SawnRun | None:
    """Return the first tree met, within the shop's limits if ``allowed``.

    The search cuts at every gap as long as that works.
    """
    way = DivisionSearch(ground, None, QUICK_STATES, strict=allowed).sheet(boxes, axis)
    return way and way.run


def _candidates(
    ground: SheetGround, boxes: list[Box], axis: Axis, pace: Pace, free: SetUps
) -> Iterator[SawnRun]:
    """Yield the first trees met, and the cheapest for several prices of set-ups."""
    if (first := first_met(ground, boxes, axis)) is not None:
        yield first
    rounds, states = ROUNDS, STATES
    if ground.allowed.binds:
        if (sound := first_met(ground, boxes, axis, allowed=True)) is not None:
            yield sound
        else:  # No plan comes of it: least sawing is no matter.
            rounds, states = 1, QUICK_STATES // 2
    uses, found = guess(boxes, axis), first
    for _ in range(rounds):
        search = DivisionSearch(ground, CutPrices(pace, uses, free), states)
        way = search.sheet(boxes, axis)
        if way is None or way.run is None or way.run == found:
            return
        yield way.run
        found = way.run
        uses, states = Counter(found.cuts()), search.ahead
        if states <= 0:
            return


def run_of(sawn: SawnRun, ground: SheetGround, placements: Sequence[Placement]) -> Run:
    """Return the run with the parts in it."""
    lying = {(one.x, one.y): one for one in placements}
    return _run(sawn, ground.area, ground.kerf, lying)


def _run(
    sawn: SawnRun, area: Area, kerf: Length, lying: dict[tuple[Length, Length], Placement]
) -> Run:
    pieces = tuple(
        Piece(
            size=bit.size,
            run=_run(bit.run, inside, kerf, lying) if bit.run else None,
            place=_place(lying[inside[:2]]) if bit.part else None,
        )
        for bit, inside in sawn.pieces(area, kerf)
    )
    return Run(axis=sawn.axis, trim=sawn.trim, pieces=pieces, kerf=sawn.kerf)


def _place(lies: Placement) -> Place:
    return Place(part=lies.part, copy=lies.copy, turned=lies.turned)
