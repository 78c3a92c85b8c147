"""Marks of match groups on a sheet without cuts: where members lie as their grid asks."""

from collections.abc import Iterator
from itertools import combinations

from shared.drawing.records import Tie
from shared.drawing.ties import ties_between
from shared.groups import members
from shared.job import Job
from shared.parts import Copy
from shared.plan import Placement

Cell = tuple[str, int, int]
"""Group, row and column."""


def loose_ties(job: Job, placements: tuple[Placement, ...]) -> tuple[Tie, ...]:
    """Return the marks between neighbours of a grid that lie beside each other by one kerf."""
    return tuple(_ties(job, placements))


def _ties(job: Job, placements: tuple[Placement, ...]) -> Iterator[Tie]:
    cells = _cells(job, placements)
    lying = [one for one in placements if one.key in cells]
    for one, other in combinations(lying, 2):
        cell, beside = cells[one.key], cells[other.key]
        if one.turned is other.turned and _are_neighbours(cell, beside):
            along_x = (cell[1] == beside[1]) is not one.turned
            for tie in ties_between((one, other), job.parts, job.shop.kerf):
                if (tie.start[1] == tie.end[1]) is along_x:
                    yield tie


def _cells(job: Job, placements: tuple[Placement, ...]) -> dict[Copy, Cell]:
    """Return the place in its grid of each member of the groups that lie there."""
    here = {one.part for one in placements}
    found: dict[Copy, Cell] = {}
    for group in dict.fromkeys(part.group for part in job.parts if part.id in here):
        if group:
            columns = max(1, job.columns_of(group))
            for index, (part, copy) in enumerate(members(job, group)):
                found[part.id, copy] = (group, *divmod(index, columns))
    return found


def _are_neighbours(one: Cell, other: Cell) -> bool:
    """Say whether two cells of one grid share an edge."""
    return one[0] == other[0] and abs(one[1] - other[1]) + abs(one[2] - other[2]) == 1
