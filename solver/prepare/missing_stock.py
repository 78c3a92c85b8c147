"""What a part would need that lies on no sheet: stock, or another limit of the shop."""

from collections.abc import Iterable
from dataclasses import replace
from typing import Final, NamedTuple

from shared.check_shop import leader
from shared.finding import say, say_at_most, say_size
from shared.job import Job
from shared.lengths import Length, LengthStyle, round_up
from shared.making.straightedge import least_carry
from shared.parts import GrainRule, Part
from shared.reach import first_axes, first_cut, longer
from shared.shop import Axis, CutRule, Shop
from shared.stock import SheetGrain, Stock, Trims, orientations
from solver.limits.single_item import most
from solver.material.clear_rectangles import rooms_of
from solver.material.instance import Instance
from solver.material.rooms import Room


def why(part: Part, job: Job, rows: Iterable[Stock]) -> str:
    """Say what a part needs that fits none of the sheets that are left.

    ``rows`` are those the maker has, ``job`` has only the ones that can be used.
    """
    usable = [row for row in job.stock if row.material == part.material]
    if any(room.lying(part) for row in usable for room in rooms_for(job.rule, job.shop, row)):
        return no_more(part, job, rows)
    sound = (replace(row, no_go=()) for row in usable)
    if any(room.lying(part) for row in sound for room in rooms_for(job.rule, job.shop, row)):
        return f"needs a sheet of {part.material} without bad places where it is to lie"
    cut = min(_beyond_reach(part, job, rows), default=None)
    if cut is not None:
        return f"needs a longer {leader(job.shop)}: {longer(job, *cut)}"
    return need_of(part, job)


def rooms_for(rule: CutRule, shop: Shop, row: Stock) -> Iterable[Room]:
    """Return the ways to use a sheet under a job's rule, with its rails."""
    return rooms_of(row, first_axes(rule, shop.reach, row), shop.kerf, shop.reach)


def _beyond_reach(part: Part, job: Job, rows: Iterable[Stock]) -> Iterable[tuple[Length, str]]:
    """Yield the longest cut that each way takes in which rails alone are what is lacking."""
    if job.shop.reach is None:
        return
    for row in rows:
        for axis in Axis if row.material == part.material else ():
            rooms = rooms_of(row, [axis], job.shop.kerf)
            for turned in {turned for room in rooms for turned in room.lying(part)}:
                strip = part.cut_length if turned else part.cut_width
                first = first_cut(row, axis)
                whole, part_of = (first, f"{axis} its sheet"), (strip, f"{axis.other} its strip")
                yield whole if first >= strip else part_of


def need_of(part: Part, job: Job) -> str:
    """Say which sheet a part would need, trims included; no sheet of its material is as large.

    The trims are those of the largest sheet, or the widest of all if another sheet would be
    large enough with those.
    """
    rows = [row for row in job.stock if row.material == part.material and not row.is_piece]
    largest = max(rows, key=lambda row: row.length * row.width, default=None)
    along_w = largest is not None and largest.grain is SheetGrain.ALONG_W
    grain = SheetGrain.ALONG_W if along_w else SheetGrain.ALONG_L
    turned = orientations(part.grain_rule, grain)[0]
    each = [Trims()] if largest is None else [largest.trims, _widest(rows)]
    sizes = [_with_trims(part, turned, trims, job.style) for trims in each]
    length, width = next((size for size in sizes if not _has_one(rows, size)), sizes[-1])
    need = f"needs a sheet of {part.material} of at least {say_size(length, width, job.style)}"
    ruled = part.grain_rule is not GrainRule.EITHER
    if ruled and any(row.grain is SheetGrain.ALONG_W for row in rows):
        return f"{need}, grain {grain}"
    return need


def _widest(rows: Iterable[Stock]) -> Trims:
    """Return trims that cover those of all rows."""
    near, far, start, end = (
        max(sides)
        for sides in zip(
            *((t.near, t.far, t.start, t.end) for t in (row.trims for row in rows)), strict=True
        )
    )
    return Trims(near=near, far=far, start=start, end=end)


def _with_trims(
    part: Part, turned: bool, trims: Trims, style: LengthStyle
) -> tuple[Length, Length]:
    """Return the least size of a sheet for a part, rounded up to what the style shows."""
    length, width = part.cut_length, part.cut_width
    if turned:
        length, width = width, length
    return (
        round_up(length + trims.start + trims.end, style),
        round_up(width + trims.near + trims.far, style),
    )


def _has_one(rows: Iterable[Stock], size: tuple[Length, Length]) -> bool:
    return any(row.length >= size[0] and row.width >= size[1] for row in rows)


def no_more(part: Part, job: Job, rows: Iterable[Stock]) -> str:
    """Say why nothing is left of the stock that a part fits: no rail reaches it, or it is used up.

    ``rows`` are those the maker has, ``job`` has only the ones that can be used.
    """
    used = {row.id for row in job.stock}
    others = [row for row in rows if row.id not in used and row.at_hand != 0]
    beyond = [row for row in others if not first_axes(job.rule, job.shop.reach, row)]
    cut = min(_beyond_reach(part, job, beyond), default=None)
    if cut is not None:
        return f"needs a longer {leader(job.shop)}: {longer(job, *cut)}"
    return f"needs one more sheet of {part.material}: those at hand are used up"


class _GivesWay(NamedTuple):
    """A limit that could give way for a part: its field in `Shop` and in `ShopLimits`, in words."""

    field: str
    once: str
    as_long_as: str

    def figure(self, job: Job) -> str:
        """Return what the shop has it set to."""
        return say(getattr(job.shop, self.field), job.style)

    def least(self, job: Job) -> Length:
        """Return how far it can give way at most, in ticks: a straightedge has to be clamped."""
        return least_carry(job.shop) if self.field == "carry" else 0

    def put(self, words: str, job: Job) -> str:
        """Put what leads the saw into words that have a place for it."""
        return words.format(leader(job.shop))


_GIVE_WAY: Final = (
    _GivesWay("carry", "enough to carry the {}", "what carries the {}"),
    _GivesWay("hold", "enough to hold", "what can be held"),
)
"""In the order in which they are tried: the first that helps is named."""


def limit_of(instance: Instance, item: int, job: Job) -> str:
    """Say which limit of the shop would have to give way, and how far, for an item."""
    for limit in _GIVE_WAY:
        able = most(instance, item, limit.field)
        if able is not None and _ticks(instance, able) >= limit.least(job):
            said = say_at_most(_ticks(instance, able), job.style)
            return (
                f"can be cut once {said} is {limit.put(limit.once, job)}, not {limit.figure(job)}"
            )
    return f"cannot be cut as long as {_limits(job)}"


def of_group(job: Job) -> str:
    """Say that the parts of a match group cannot be parted under the limits."""
    return f"cannot be parted from the others of its match group as long as {_limits(job)}"


def _limits(job: Job) -> str:
    first, *others = _GIVE_WAY
    said = [f"{limit.figure(job)} {limit.put(limit.as_long_as, job)}" for limit in others]
    return " and ".join([f"{first.figure(job)} is {first.put(first.as_long_as, job)}", *said])


def _ticks(instance: Instance, size: int) -> Length:
    return max(0, size * instance.unit - instance.kerf * instance.unit)
