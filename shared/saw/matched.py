"""Matched sets: whether the figure runs on and breaks where a plan says it does.

The grid of a set is filled with all its copies, row by row, in the order of the parts. What
lies on the sheets is looked at from above: two neighbours of the grid belong together where
one kerf and nothing else lies between them, on the side where the figure goes on.
"""

from collections import Counter
from collections.abc import Iterator, Mapping, Set
from typing import Final, NamedTuple

from shared.issues import Issue
from shared.lengths import Length
from shared.parts import Copy
from shared.plan import BlockTurn, MatchedSet, Placement, Plan
from shared.saw.refusal import refusal

_Block = tuple[str, BlockTurn, tuple[Copy, ...]]

_ONWARDS: Final = {
    BlockTurn.STRAIGHT: ((1, 0), (0, 1)),
    BlockTurn.LEFT: ((0, -1), (1, 0)),
    BlockTurn.RIGHT: ((0, 1), (-1, 0)),
}
"""Where the next member of a row lies in x and y, and where the next row lies; a turn by a
quarter takes one to the other, and never mirrors."""


class _Cell(NamedTuple):
    """A member of a set in its grid, and where it lies."""

    copy: Copy
    row: int
    column: int
    lies: Placement


def wrong_matches(plan: Plan) -> Iterator[Issue]:
    """Yield every matched set that lies otherwise than the plan says."""
    if plan.shop is None or not (plan.matches or any(part.group for part in plan.parts)):
        return
    there = _lying_members(plan)
    for name, times in Counter(one.name for one in plan.matches).items():
        if times > 1 or name not in there:
            said = f"Matched set {name} is told {times} times, but is no set that lies there once."
            yield refusal("match-unknown", name, said, "name")
    told = {one.name: one for one in plan.matches}
    for name, members in there.items():
        if name not in told:
            said = f"Matched set {name} lies there, but nothing is said of its figure."
            yield refusal("match-missing", name, said)
        else:
            yield from _wrong_set(told[name], members, plan.shop.kerf)


def _lying_members(plan: Plan) -> dict[str, list[tuple[int, Placement]]]:
    """Return what lies of each group that has more than one member, by its place in the grid.

    Places count from 0, in the order of the parts and their copies.
    """
    before: dict[str, int] = {}
    total: Counter[str] = Counter()
    group_of = {part.id: part.group for part in plan.parts if part.group}
    for part in plan.parts:
        if part.group:
            before[part.id] = total[part.group]
            total[part.group] += max(0, part.copies)
    found: dict[str, list[tuple[int, Placement]]] = {}
    for one in plan.placements:
        group = group_of.get(one.part, "")
        if total[group] > 1:
            found.setdefault(group, []).append((before[one.part] + one.copy - 1, one))
    return found


def _wrong_set(
    told: MatchedSet, members: list[tuple[int, Placement]], kerf: Length
) -> Iterator[Issue]:
    if told.columns < 1:
        said = f"Matched set {told.name} cannot have {told.columns} in a row."
        yield refusal("match-columns", told.name, said, "columns")
        return
    cells = [
        _Cell(lies.key, *divmod(place, told.columns), lies)
        for place, lies in sorted(members, key=lambda one: one[0])
    ]
    said_blocks = [
        (block.sheet, block.way, tuple(one.key for one in block.copies)) for block in told.blocks
    ]
    for said, found in _differences(said_blocks, list(_blocks(cells, kerf))):
        what = f"Matched set {told.name}: its figure runs {said}, but {found} on the sheets."
        yield refusal("match-broken", told.name, what, "blocks")
        return


def _differences(said: list[_Block], found: list[_Block]) -> Iterator[tuple[str, str]]:
    for place in range(max(len(said), len(found))):
        one = said[place] if place < len(said) else None
        other = found[place] if place < len(found) else None
        if one != other:
            yield _in_words(one), _in_words(other)


def _in_words(block: _Block | None) -> str:
    if block is None:
        return "no further"
    sheet, way, copies = block
    names = [f"{part} {copy}" for part, copy in copies]
    shown = " – ".join([names[0], names[-1]] if len(names) > 1 else names or ["nothing"])
    return f"{way} over {shown} ({len(names)}) on sheet {sheet}"


def _blocks(cells: list[_Cell], kerf: Length) -> Iterator[_Block]:
    """Yield the blocks in the order of their first members; the turn to the left goes first."""
    block_of: dict[Copy, tuple[BlockTurn, int]] = {}
    for way in BlockTurn:
        free = {(one.row, one.column): one for one in cells if one.copy not in block_of}
        for number, start in enumerate(list(free.values())):
            if start.copy not in block_of:
                inside = _reached(start, free, way, kerf)
                if len(inside) > 1:
                    block_of |= dict.fromkeys(inside, (way, number))
    members: dict[tuple[BlockTurn, int] | Copy, list[_Cell]] = {}
    for one in cells:
        members.setdefault(block_of.get(one.copy, one.copy), []).append(one)
    for key, inside_cells in members.items():
        first = inside_cells[0].lies
        alone = BlockTurn.LEFT if first.turned else BlockTurn.STRAIGHT
        way = key[0] if isinstance(key[0], BlockTurn) else alone
        yield first.sheet, way, tuple(one.copy for one in inside_cells)


def _reached(
    start: _Cell, free: Mapping[tuple[int, int], _Cell], way: BlockTurn, kerf: Length
) -> Set[Copy]:
    """Return what can be reached from a member by going on along the figure, or back."""
    found, ahead = {start.copy}, [start]
    while ahead:
        one = ahead.pop()
        for row, column in ((0, 1), (1, 0), (0, -1), (-1, 0)):
            other = free.get((one.row + row, one.column + column))
            if other is None or other.copy in found:
                continue
            pair = (one, other) if row + column > 0 else (other, one)
            step = _ONWARDS[way][abs(row)]
            if _follows(pair[0].lies, pair[1].lies, step, way, kerf):
                found.add(other.copy)
                ahead.append(other)
    return found


def _follows(
    one: Placement, other: Placement, step: tuple[int, int], way: BlockTurn, kerf: Length
) -> bool:
    turned = way is not BlockTurn.STRAIGHT
    if one.sheet != other.sheet or one.turned is not turned or other.turned is not turned:
        return False
    along_x, along_y = step
    if along_x:
        gap = other.x - one.x - one.length if along_x > 0 else one.x - other.x - other.length
        return gap == kerf and (one.y, one.width) == (other.y, other.width)
    gap = other.y - one.y - one.width if along_y > 0 else one.y - other.y - other.width
    return gap == kerf and (one.x, one.length) == (other.x, other.length)
