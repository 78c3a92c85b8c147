"""The matched sets of a plan: which members lie so that the figure runs on from one to the next.

In a plan made from blocks each block is whole. A layout by hand may lay members apart, and
a block that is begun may have lost some: the figure breaks there, and the plan says so.
"""

from collections.abc import Collection, Mapping, Sequence

from shared.groups import Cells, members, names, neighbours, rows_of
from shared.job import Job
from shared.lengths import Length
from shared.parts import Copy
from shared.plan import BlockTurn, MatchedBlock, MatchedCopy, MatchedSet, Placement


def matched_sets(job: Job, placements: Collection[Placement]) -> tuple[MatchedSet, ...]:
    """Return the match groups of a job of which members lie on sheets, in order of first mention.

    A group is one that has more than one member. Where neighbours could belong to blocks
    turned either way, the turn to the left goes first.
    """
    groups = names(job)
    if not groups:
        return ()
    lying = {one.key: one for one in placements}
    found = []
    for group in groups:
        columns = max(1, job.columns_of(group))
        blocks = _blocks(members(job, group), columns, lying, job.shop.kerf)
        if blocks:
            found.append(MatchedSet(name=group, columns=columns, blocks=blocks))
    return tuple(found)


def _blocks(
    cells: Cells, columns: int, lying: Mapping[Copy, Placement], kerf: Length
) -> tuple[MatchedBlock, ...]:
    pairs = tuple(neighbours(rows_of(cells, columns)))
    free = [(part.id, copy) for part, copy in cells if (part.id, copy) in lying]
    order = {copy: place for place, copy in enumerate(free)}
    found: list[tuple[BlockTurn, list[Copy]]] = []
    for way in BlockTurn:
        left = dict.fromkeys(free)
        ties = [
            (one, other)
            for one, other, in_row in pairs
            if {one, other} <= left.keys() and _runs_on(lying[one], lying[other], way, in_row, kerf)
        ]
        blocks = _tied(free, ties)
        found += [(way, block) for block in blocks if len(block) > 1]
        free = [block[0] for block in blocks if len(block) == 1]
    found += [(BlockTurn.LEFT if lying[one].turned else BlockTurn.STRAIGHT, [one]) for one in free]
    found.sort(key=lambda block: order[block[1][0]])
    return tuple(
        MatchedBlock(
            sheet=lying[block[0]].sheet,
            way=way,
            copies=tuple(MatchedCopy(part=part, copy=copy) for part, copy in block),
        )
        for way, block in found
    )


def _runs_on(one: Placement, other: Placement, way: BlockTurn, in_row: bool, kerf: Length) -> bool:
    """Say whether a figure that lies this way runs on from one member into its neighbour."""
    turned = way is not BlockTurn.STRAIGHT
    if one.sheet != other.sheet or {one.turned, other.turned} != {turned}:
        return False
    # Along a row the figure goes on towards +x, -y or +y, down the rows towards +y, +x or -x.
    forwards = way is BlockTurn.STRAIGHT or in_row is (way is BlockTurn.RIGHT)
    first, second = (one.rect, other.rect) if forwards else (other.rect, one.rect)
    if in_row is not turned:
        beside = (second.x - kerf, second.y, second.width)
        return beside == (first.right, first.y, first.width)
    return (second.y - kerf, second.x, second.length) == (first.bottom, first.x, first.length)


def _tied(copies: Sequence[Copy], ties: Sequence[tuple[Copy, Copy]]) -> list[list[Copy]]:
    """Return the copies that ties hold together, each block and all of them in their order."""
    block_of = {copy: [copy] for copy in copies}
    for one, other in ties:
        first, second = block_of[one], block_of[other]
        if first is not second:
            first += second
            block_of |= dict.fromkeys(second, first)
    order = {copy: place for place, copy in enumerate(copies)}
    blocks = {id(block): block for block in block_of.values()}
    return [sorted(block, key=order.__getitem__) for block in blocks.values()]
