"""Which way a sheet can be cut first with the rails of a shop, and what would change that.

A cut of the first level runs over the whole untrimmed sheet: a rip is as long as its L, a
crosscut as its W. A rail has to be longer than its cut by the shop's overhang.
"""

from dataclasses import dataclass

from shared.check_shop import leader
from shared.finding import about
from shared.job import Job
from shared.lengths import Length, round_down, round_up
from shared.shop import Axis, CutRule, FirstCut, RunsOn
from shared.stock import Stock


@dataclass(frozen=True, slots=True, kw_only=True)
class Ways:
    """How a sheet of a stock row can be cut first.

    Attributes
    ----------
    axes
        Directions in which it is planned; empty when no rail takes any first cut.
    switched
        The rule asks for another direction, and no rail is long enough for that.
    sentence
        Which limit rules a direction of the rule out, and what would change it; ``""`` when
        none is ruled out.
    """

    axes: tuple[Axis, ...]
    switched: bool = False
    sentence: str = ""


WANTED = {
    FirstCut.RIP: (Axis.RIP,),
    FirstCut.CROSSCUT: (Axis.CROSSCUT,),
    FirstCut.EITHER: (Axis.RIP, Axis.CROSSCUT),
}
"""The directions a rule asks for."""


def first_axes(rule: CutRule, reach: Length | None, row: Stock) -> tuple[Axis, ...]:
    """Return the directions in which a sheet of that row is planned; none without a long rail."""
    possible = tuple(axis for axis in Axis if reach is None or first_cut(row, axis) <= reach)
    return tuple(axis for axis in WANTED[rule.first] if axis in possible) or possible


def ways(job: Job, row: Stock) -> Ways:
    """Return how a sheet of that row can be cut first under the job's rule and with its rails."""
    wanted, axes = WANTED[job.rule.first], first_axes(job.rule, job.shop.reach, row)
    if axes == wanted:
        return Ways(axes=axes)
    if axes:
        sentence = _why(job, row, next(axis for axis in wanted if axis not in axes))
        return Ways(axes=axes, switched=not set(axes) & set(wanted), sentence=sentence)
    return Ways(axes=(), sentence=_impossible(job, row))


def first_cut(row: Stock, axis: Axis) -> Length:
    """Return how long a cut of the first level is, in ticks."""
    return row.length if axis is Axis.RIP else row.width


def _why(job: Job, row: Stock, axis: Axis) -> str:
    """Say why a sheet is not cut that way first, and is the other way."""
    long, style = first_cut(row, axis), job.style
    return (
        f"{axis.other.capitalize()} first, because a {axis} of {about(long, style)} is more than"
        f" {_reached(job)}; {longer(job, long, f'{axis} it')}."
    )


def _impossible(job: Job, row: Stock) -> str:
    """Say that no rail takes any first cut of a sheet."""
    style = job.style
    axis = min(Axis, key=lambda one: first_cut(row, one))
    return (
        f"Neither a rip of {about(row.length, style)} nor a crosscut of"
        f" {about(row.width, style)} is within {_reached(job)};"
        f" {longer(job, first_cut(row, axis), f'{axis} it')}."
    )


def _reached(job: Job) -> str:
    """Say how far the longest rail reaches; never more than it does."""
    reach = round_down(job.shop.reach or 0, job.style)
    return f"the reach of the {leader(job.shop)}s, {about(reach, job.style)}"


def longer(job: Job, cut: Length, deed: str) -> str:
    """Say which rail or straightedge would make a cut of that length."""
    least = about(round_up(cut + job.shop.beyond, job.style), job.style)
    joined = ", or two joined to that length," if job.shop.runs_on is RunsOn.RAIL else ""
    return f"a {leader(job.shop)} of at least {least}{joined} would {deed}"
