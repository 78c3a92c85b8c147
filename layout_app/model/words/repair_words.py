"""What a repair does, in a few words."""

from collections.abc import Iterator

from layout_app.model.repairing import Repair
from shared.finding import say
from shared.job import Job
from shared.layout import Layout
from shared.lengths import Length, LengthStyle, format_length, with_unit
from shared.plan import Placement

NAMED_AT_MOST = 3


def repair_words(job: Job, layout: Layout, repair: Repair) -> str:
    """Say what a repair does and that the sheet can be cut then.

    Such as ``Move Door 2 right by 25 mm: sheet 2 can be cut.`` Right is away from the left
    end of the sheet, down is away from its reference edge.
    """
    done = "; ".join(_done(job, layout, repair))
    return f"{done[:1].upper()}{done[1:]}: sheet {repair.sheet} can be cut."


def _done(job: Job, layout: Layout, repair: Repair) -> Iterator[str]:
    if repair.moved:
        yield _moves(job, layout, repair.moved)
    if repair.aside:
        yield f"set {_listed([job.named(key) for key in repair.aside])} aside"


def _moves(job: Job, layout: Layout, moved: tuple[Placement, ...]) -> str:
    """Say how parts move: together if all go the same way, else each, but for more than a few."""
    lay = {one.key: one for one in layout.sheet(moved[0].sheet).placements}
    ways = {_way(lay[one.key], one, job.style) for one in moved}
    turned = any(lay[one.key].turned != one.turned for one in moved)
    if len(moved) > NAMED_AT_MOST:
        return f"move {len(moved)} parts{'' if len(ways) > 1 else f' {ways.pop()}'}"
    if len(ways) == 1 and not turned:
        return f"move {_listed([job.named(one.key) for one in moved])} {ways.pop()}"
    return _listed([_each(job, lay[one.key], one) for one in moved])


def _each(job: Job, one: Placement, to: Placement) -> str:
    name, way = job.named(one.key), _way(one, to, job.style)
    if one.turned == to.turned:
        return f"move {name} {way}"
    return f"turn {name}, move it {way}" if way else f"turn {name}"


def _way(one: Placement, to: Placement, style: LengthStyle) -> str:
    """Say how far a part goes along the sheet and across it."""
    along, across = to.x - one.x, to.y - one.y
    said = []
    if along:
        said.append(f"{'right' if along > 0 else 'left'} by {_far(along, style)}")
    if across:
        said.append(f"{'down' if across > 0 else 'up'} by {_far(across, style)}")
    return " and ".join(said)


def _far(by: Length, style: LengthStyle) -> str:
    """Write a distance with its unit, to the step; exactly if it is less than that."""
    written = format_length(abs(by), style)
    return say(abs(by), style) if written == "0" else with_unit(written, style)


def _listed(names: list[str]) -> str:
    return " and ".join(filter(None, (", ".join(names[:-1]), names[-1])))
