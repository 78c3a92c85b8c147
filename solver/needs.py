"""What a part would need that lies on no sheet: stock, or another limit of the shop."""

from collections.abc import Iterable
from dataclasses import replace

from shared.finding import say, say_size
from shared.job import Job
from shared.lengths import Length
from shared.parts import GrainRule, Part
from shared.reach import first_cut, longer, ways
from shared.shop import Axis
from shared.stock import Stock
from solver.alone import most_carry, most_hold
from solver.clear import rooms_of
from solver.instance import Instance
from solver.rooms import Room


def why(part: Part, job: Job, rows: Iterable[Stock]) -> str:
    """Say what a part needs that fits none of the sheets that are left.

    ``rows`` are those the maker has, ``job`` has only the ones that can be used.
    """
    usable = [row for row in job.stock if row.material == part.material]
    if any(room.lying(part) for row in usable for room in rooms_for(job, row)):
        return more_of(part.material)
    sound = (replace(row, no_go=()) for row in usable)
    if any(room.lying(part) for row in sound for room in rooms_for(job, row)):
        return f"needs a sheet of {part.material} without bad places where it is to lie"
    cut = min(_beyond_reach(part, job, rows), default=None)
    if cut is not None:
        return f"needs a longer rail: {longer(job, *cut)}"
    return need_of(part, job)


def rooms_for(job: Job, row: Stock) -> Iterable[Room]:
    """Return the ways to use a sheet under the job's rule, with its rails."""
    return rooms_of(row, ways(job, row).axes, job.shop.kerf, job.shop.reach)


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
    """Say which sheet a part would need, trims of the largest sheet of its material included."""
    rows = [row for row in job.stock if row.material == part.material and not row.is_piece]
    length, width = part.cut_length, part.cut_width
    if part.grain_rule is GrainRule.ALONG_WIDTH:
        length, width = width, length
    if rows:
        trims = max(rows, key=lambda row: row.length * row.width).trims
        length += trims.start + trims.end
        width += trims.near + trims.far
    return f"needs a sheet of {part.material} of at least {say_size(length, width, job.style)}"


def more_of(material: str) -> str:
    """Say that a part fits the stock, but what is at hand of it is used up."""
    return f"needs one more sheet of {material}: those at hand are used up"


def limit_of(instance: Instance, item: int, job: Job) -> str:
    """Say which limit of the shop would have to give way, and how far, for an item."""
    shop, style = job.shop, job.style
    carry, hold = most_carry(instance, item), most_hold(instance, item)
    if carry is not None:
        able = say(_ticks(instance, carry), style)
        return f"can be cut once {able} is enough to carry the rail, not {say(shop.carry, style)}"
    if hold is not None:
        able = say(_ticks(instance, hold), style)
        return f"can be cut once {able} is enough to hold, not {say(shop.hold, style)}"
    return (
        f"cannot be cut as long as {say(shop.carry, style)} is what carries the rail and"
        f" {say(shop.hold, style)} what can be held"
    )


def of_group(job: Job) -> str:
    """Say that the parts of a match group cannot be parted under the limits."""
    shop, style = job.shop, job.style
    return (
        "cannot be parted from the others of its match group as long as"
        f" {say(shop.carry, style)} is what carries the rail and {say(shop.hold, style)}"
        " what can be held"
    )


def _ticks(instance: Instance, size: int) -> Length:
    return max(0, size * instance.unit - instance.kerf * instance.unit)
