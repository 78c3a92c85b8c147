"""The fewest cuts a saw needs for a layout, by trying every cut at every tick.

For tiny sheets, as a second opinion: it knows the saw, and what a shop forbids it, and
nothing of trees, runs or gaps.
"""

from dataclasses import dataclass
from functools import cache
from typing import TypeAlias

from shared.plan import Placement

Area: TypeAlias = tuple[int, int, int, int]
"""Left, top, right, bottom."""

NEVER = 10**9


@dataclass(frozen=True, kw_only=True)
class BruteLimits:
    """The longest cut, what carries the rail, what can be held, and what a fence can be set to."""

    reach: int = 10**6
    carry: int = 0
    hold: int = 0
    fence: range = range(0)

    def allow(self, long: int, near: int, far: int, under: int, *, falls: bool) -> bool:
        """Say whether a cut can be made; ``falls`` if no part is on its far side."""
        if max(long, under) < self.hold:
            return False
        if falls and max(near, far) < self.carry and near in self.fence:
            return True  # at the table saw
        return long <= self.reach and max(near, far) >= self.carry


class BruteSaw:
    """A saw of that kerf, and the trims a sheet must have at its near and start edges."""

    def __init__(
        self, kerf: int, near: int = 0, start: int = 0, limits: BruteLimits | None = None
    ) -> None:
        self._kerf = kerf
        self._trims = (start, near)
        self._limits = limits or BruteLimits()

    def fewest(self, length: int, width: int, lying: tuple[Placement, ...]) -> int:
        """Return the least number of cuts that make all parts, `NEVER` if none do."""
        parts = tuple(_area(one) for one in lying)

        @cache
        def fewest(area: Area) -> int:
            inside = tuple(part for part in parts if _within(part, area))
            if not inside or inside == (area,):
                return 0
            ways = (pieces for axis in (0, 1) for pieces in self._ways(area, axis, inside))
            return min((1 + sum(map(fewest, pieces)) for pieces in ways), default=NEVER)

        return min(fewest((0, 0, length, width)), NEVER)

    def _ways(self, area: Area, axis: int, inside: tuple[Area, ...]) -> list[list[Area]]:
        """Return what pieces each cut across an axis leaves that hits no part."""
        low, high, trim = area[axis], area[axis + 2], self._trims[axis]
        long = area[3 - axis] - area[1 - axis]
        if low == 0 and trim:
            whole = all(part[axis] >= trim for part in inside) and trim < high
            near = max(0, trim - self._kerf)
            whole &= self._limits.allow(long, near, high - trim, high, falls=False)
            return [[_cut(area, axis, trim, high)]] if whole else []
        ways = []
        for at in range(low + 1, high):
            far = at + self._kerf
            falls = all(part[axis + 2] <= at for part in inside)
            rest = max(0, high - far)
            if not self._limits.allow(long, at - low, rest, high - low, falls=falls):
                continue
            if all(part[axis + 2] <= at or part[axis] >= far for part in inside):
                pieces = [_cut(area, axis, low, at)]
                ways.append(pieces + ([_cut(area, axis, far, high)] if far < high else []))
        return ways


def _area(one: Placement) -> Area:
    return one.x, one.y, one.x + one.length, one.y + one.width


def _within(part: Area, area: Area) -> bool:
    return part[0] >= area[0] and part[1] >= area[1] and part[2] <= area[2] and part[3] <= area[3]


def _cut(area: Area, axis: int, low: int, high: int) -> Area:
    left, top, right, bottom = area
    return (low, top, high, bottom) if axis == 0 else (left, low, right, high)
