"""Matched sets as they lie: which members lie beside their neighbours, and which together."""

from collections.abc import Sequence

from shared.geometry import Rect
from shared.groups import blocks_of, names, neighbours
from shared.job import Job
from shared.lengths import Length
from shared.parts import Copy
from shared.plan import Placement


class MatchedSets:
    """Knows the neighbours of each member of the match groups of a job without errors."""

    def __init__(self, job: Job) -> None:
        self._kerf = job.shop.kerf
        self._groups = {part.id: part.group for part in job.parts}
        self._beside: dict[Copy, dict[Copy, bool]] = {}
        for group in names(job):
            for block in blocks_of(job, group):
                for one, other, in_row in neighbours(block.rows):
                    self._beside.setdefault(one, {})[other] = in_row
                    self._beside.setdefault(other, {})[one] = in_row

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

    def _fits(self, one: Placement, other: Placement, beside: dict[Copy, bool]) -> bool:
        """Say whether another part is a neighbour of one, and lies on the right side of it."""
        in_row = beside.get(other.key)
        if in_row is None or one.turned != other.turned:
            return False
        along_x = in_row != one.turned
        return _adjoin(one.rect, other.rect, self._kerf, along_x=along_x)


def _adjoin(one: Rect, other: Rect, kerf: Length, *, along_x: bool) -> bool:
    """Say whether just a kerf lies between two parts, all along their edges."""
    if along_x:
        gap = max(one.x, other.x) - min(one.right, other.right)
        return gap == kerf and (one.y, one.width) == (other.y, other.width)
    gap = max(one.y, other.y) - min(one.bottom, other.bottom)
    return gap == kerf and (one.x, one.length) == (other.x, other.length)
