"""What there is to place of one material: parts, and blocks that match groups are cut from."""

from collections.abc import Collection, Iterator
from typing import NamedTuple

from shared.groups import PartGrid, blocks_of, names, without
from shared.job import Job
from shared.parts import Copy, Part
from solver.material.instance import BlockGrid


class Wanted(NamedTuple):
    """Copies that are placed alike.

    Attributes
    ----------
    part
        A part, or the block of a match group described as one.
    copies
        Each a part by itself; with a grid, all of them together are one block.
    grid
        How the block is parted, or ``None`` for parts.
    """

    part: Part
    copies: tuple[Copy, ...]
    grid: BlockGrid | None = None


def wanted(job: Job, material: str, settled: Collection[Copy]) -> list[Wanted]:
    """Return what is to be placed of a material, in the order of the take-off.

    Parameters
    ----------
    job
        Without rows that make no sense; its groups are sound.
    material
        Of that material only.
    settled
        Copies that lie somewhere or wait already. A block that lacks some of its members
        falls into what is left of it.
    """
    matched = set(names(job))
    found: list[Wanted] = []
    for part in job.parts:
        if part.material != material:
            continue
        if part.group not in matched:
            copies = (*(copy for copy in _copies(part) if copy not in settled),)
            found += [Wanted(part, copies)] if copies else []
        elif not _follows(job, part):
            for block in blocks_of(job, part.group):
                found += [_wanted(rest) for rest in without(block, settled)]
    return found


def _copies(part: Part) -> Iterator[Copy]:
    return ((part.id, copy) for copy in range(1, part.copies + 1))


def _follows(job: Job, part: Part) -> bool:
    """Whether an earlier row has brought in the part's group."""
    first = next(other for other in job.parts if other.group == part.group)
    return first.id != part.id


def _wanted(block: PartGrid) -> Wanted:
    if len(block.copies) == 1:
        return Wanted(block.cells[0][0], block.copies)
    return Wanted(block.as_part(), block.copies, BlockGrid(block.widths, block.lengths))
