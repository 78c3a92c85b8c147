"""Part what overlaps on a sheet: those in front are laid anew, and what lies behind gives way."""

from collections.abc import Collection, Sequence
from dataclasses import replace
from itertools import combinations

from layout_app.model.pushing import Pushed, Pusher, first_way
from layout_app.model.stops import low
from shared.geometry import Rect
from shared.job import Job
from shared.layout import LayoutSheet
from shared.lengths import Length
from shared.parts import Copy
from shared.plan import Placement


def too_near(one: Rect, other: Rect, kerf: Length) -> bool:
    """Say whether two parts overlap, or lie nearer than a kerf."""
    return (
        one.x < other.right + kerf
        and other.x < one.right + kerf
        and one.y < other.bottom + kerf
        and other.y < one.bottom + kerf
    )


def parted(
    job: Job,
    sheet: LayoutSheet,
    *,
    fixed: Collection[Copy] = (),
    walls: Sequence[Rect] = (),
    begun: bool = False,
) -> Pushed | None:
    """Return where parts of a sheet lie once none is nearer to another than a kerf.

    What begins first stays, and what it lies on gives way to it; ``fixed`` copies, ``walls`` and
    ``begun`` as in `Pusher`. ``None`` if no part is in the way of another, or off the sheet.
    """
    first = first_way(job, sheet)
    stock, kerf = job.stock_row(sheet.stock), job.shop.kerf

    def order(one: Placement) -> tuple[Length, Length]:
        return low(one.rect, first), low(one.rect, first.other)

    lying = sorted(sheet.placements, key=order)
    off = {one.key for one in lying if not stock.usable.contains(one.rect)}
    front = set(off)
    for one, other in combinations(lying, 2):
        if too_near(one.rect, other.rect, kerf) and not front & {one.key, other.key}:
            front.add(other.key if one.key in fixed else one.key)
    if not front:
        return None
    bare = replace(sheet, tree=None)
    for taken in front, front | _met(lying, front, kerf), {one.key for one in lying}:
        loose = [one for one in lying if one.key in taken and one.key not in fixed]
        keys = [one.key for one in loose]
        pusher = Pusher(job, bare, keys, fixed=fixed, walls=walls, begun=begun)
        found = pusher.lay_each(loose, least=True)
        if not found.why:
            break
    return found


def _met(lying: Sequence[Placement], front: Collection[Copy], kerf: Length) -> set[Copy]:
    """Return which parts lie in the way of some."""
    taken = [one for one in lying if one.key in front]
    return {
        one.key for one in lying if any(too_near(one.rect, other.rect, kerf) for other in taken)
    }
