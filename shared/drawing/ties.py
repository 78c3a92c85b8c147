"""Marks over the kerfs between parts of a match group, as a joiner pencils over a joint.

Two short lines cross the kerf from one part into its neighbour: these belong together, in
this order. They stand towards the far end of the edge, where words seldom are.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import permutations

from shared.drawing.records import Tie
from shared.geometry import Rect
from shared.lengths import MM, Length
from shared.parts import Part
from shared.plan import Placement, PlanPart

REACH: Length = 14 * MM
"""How far a mark reaches into each part, at most."""
APART: Length = 6 * MM
"""Between the two lines of a mark, at most."""


@dataclass(frozen=True, slots=True)
class _Member:
    group: str
    rect: Rect


def ties_between(
    placements: Sequence[Placement], parts: Sequence[PlanPart | Part], kerf: Length
) -> tuple[Tie, ...]:
    """Return the marks of one sheet: a pair for each two members with just a kerf between."""
    groups = {part.id: part.group for part in parts}
    members = [_Member(groups[one.part], one.rect) for one in placements if groups[one.part]]
    found: list[Tie] = []
    for one, other in permutations(members, 2):
        if one.group == other.group:
            found += _across(one, other, kerf)
            found += map(_flip, _across(_flipped(one), _flipped(other), kerf))
    return tuple(found)


def _across(left: _Member, right: _Member, kerf: Length) -> Iterator[Tie]:
    """Yield the marks over a kerf along y, if there is one between these two."""
    near, far = left.rect, right.rect
    if far.x - near.right != kerf or (near.y, near.width) != (far.y, far.width):
        return
    reach = min(REACH, near.length // 4, far.length // 4)
    apart = min(APART, near.width // 8)
    y = near.bottom - near.width // 4
    for at in (y, y + apart):
        yield Tie(group=left.group, start=(near.right - reach, at), end=(far.x + reach, at))


def _flipped(member: _Member) -> _Member:
    rect = member.rect
    turned = Rect(x=rect.y, y=rect.x, length=rect.width, width=rect.length)
    return replace(member, rect=turned)


def _flip(tie: Tie) -> Tie:
    return replace(tie, start=tie.start[::-1], end=tie.end[::-1])
