"""Matched sets as they lie: which members lie beside their neighbours, and which together."""

from collections.abc import Collection, Iterable, Iterator, Sequence
from typing import TypeAlias

from layout_app.model.stops import Way, high, low, moved, size
from shared.geometry import Rect
from shared.groups import PartGrid, blocks_of, names, neighbours
from shared.job import Job
from shared.lengths import Length
from shared.parts import Copy
from shared.plan import Placement

SetCorners: TypeAlias = dict[Copy, tuple[Length, Length]]
"""Copies of a block, and where the corner of each lies in it, in ticks."""


def alone(copies: Iterable[Copy]) -> list[SetCorners]:
    """Return copies as blocks by themselves."""
    return [{key: (0, 0)} for key in copies]


class MatchedSets:
    """Knows the neighbours of each member of the match groups of a job without errors."""

    def __init__(self, job: Job) -> None:
        self._kerf = job.shop.kerf
        self._groups = {part.id: part.group for part in job.parts}
        self._beside: dict[Copy, dict[Copy, bool]] = {}
        self._blocks = [block for group in names(job) for block in blocks_of(job, group)]
        self._behind: set[tuple[Copy, Copy]] = set()
        """Neighbours, the one nearer the reference corner first."""
        for block in self._blocks:
            for one, other, in_row in neighbours(block.rows):
                self._beside.setdefault(one, {})[other] = in_row
                self._beside.setdefault(other, {})[one] = in_row
                self._behind.add((one, other))

    def left(self, lying: Sequence[Placement], one: Placement) -> str:
        """Name the group that a part has left: none of its neighbours lies beside it."""
        beside = self._beside.get(one.key)
        if not beside or any(self._fits(one, other, beside) for other in lying):
            return ""
        return self._groups[one.part]

    def together(self, lying: Sequence[Placement]) -> list[list[Placement]]:
        """Return parts in the blocks that they make with their neighbours; others alone."""
        here = {one.key: one for one in lying if one.key in self._beside}
        blocks = [[one] for one in lying if one.key not in here]
        while here:
            _, first = here.popitem()
            block = [first]
            for one in block:  # it grows by the neighbours of what is in it already
                beside = self._beside[one.key]
                found = [
                    key for key in beside if key in here and self._fits(one, here[key], beside)
                ]
                block += [here.pop(key) for key in found]
            blocks.append(block)
        return blocks

    def spots(self, one: Placement, lying: Sequence[Placement]) -> Iterator[tuple[Rect, Placement]]:
        """Yield where a part of that size and turn lies beside a neighbour, and which that is."""
        for other in lying:
            in_row = self._beside.get(one.key, {}).get(other.key)
            if in_row is None or one.turned != other.turned:
                continue
            way = Way.X if in_row != one.turned else Way.Y
            start = high(other.rect, way) + self._kerf
            if (one.key, other.key) in self._behind:
                start = low(other.rect, way) - self._kerf - size(one.rect, way)
            level = moved(one.rect, way.other, low(other.rect, way.other))
            yield moved(level, way, start), other

    def blocks(self, copies: Collection[Copy]) -> list[SetCorners]:
        """Return copies by the blocks they lie in together: where each lies in its block, in ticks.

        Parts that are in no set are blocks by themselves.
        """
        found: list[SetCorners] = []
        wanted = set(copies)
        for block in self._blocks:
            corners = dict(zip(block.copies, _corners(block), strict=True))
            here = {key: corners[key] for key in block.copies if key in wanted}
            if here:
                x, y = (min(at[way] for at in here.values()) for way in (0, 1))
                found.append({key: (at[0] - x, at[1] - y) for key, at in here.items()})
                wanted -= here.keys()
        return [*found, *alone(key for key in copies if key in wanted)]

    def _fits(self, one: Placement, other: Placement, beside: dict[Copy, bool]) -> bool:
        """Say whether another part is a neighbour of one, and lies on the right side of it."""
        in_row = beside.get(other.key)
        if in_row is None or one.turned != other.turned:
            return False
        along_x = in_row != one.turned
        return _adjoin(one.rect, other.rect, self._kerf, along_x=along_x)


def _corners(block: PartGrid) -> Iterator[tuple[Length, Length]]:
    """Yield where the cells of a block lie in it, row by row."""
    y = 0
    for row, width in zip(block.rows, block.widths, strict=True):
        x = 0
        for _, length in zip(row, block.lengths, strict=False):
            yield x, y
            x += length + block.kerf
        y += width + block.kerf


def _adjoin(one: Rect, other: Rect, kerf: Length, *, along_x: bool) -> bool:
    """Say whether just a kerf lies between two parts, all along their edges."""
    if along_x:
        gap = max(one.x, other.x) - min(one.right, other.right)
        return gap == kerf and (one.y, one.width) == (other.y, other.width)
    gap = max(one.y, other.y) - min(one.bottom, other.bottom)
    return gap == kerf and (one.x, one.length) == (other.x, other.length)
