"""What is wrong with the match groups of the take-off, and where a figure has to break."""

from collections.abc import Callable, Collection, Iterable, Iterator, Sequence
from dataclasses import replace
from typing import Final, NamedTuple

from shared.finding import Judged, called, error, is_sound, warning
from shared.groups import Cells, PartGrid, blocks_of, cell_called, members, names, rows_of
from shared.issues import Issue
from shared.job import Job
from shared.parts import Part
from shared.stock import Stock

MOST_PLACES: Final = 12
"""So many places where a figure breaks are named in one sentence."""


class _Group(NamedTuple):
    """A group under judgement."""

    name: str
    cells: Cells
    columns: int

    @property
    def parts(self) -> tuple[Part, ...]:
        return tuple(dict.fromkeys(part for part, _ in self.cells))


def with_groups(job: Job, usable: Sequence[Stock], judged: Judged[Part]) -> Judged[Part]:
    """Return judged parts with what is wrong with the groups they belong to.

    Parameters
    ----------
    job
        The whole job.
    usable
        Its stock rows without errors: they decide where a group has to be split.
    judged
        Each part with what is wrong with it alone; an error stops its whole group.
    """
    wrong = {part.id for part, issues in judged if not is_sound(issues)}
    found: dict[str, list[Issue]] = {}
    for name in names(job):
        for issue in _judged(job, usable, name, wrong):
            found.setdefault(issue.subject, []).append(issue)
    return [(part, [*issues, *found.get(part.id, ())]) for part, issues in judged]


def _judged(
    job: Job, usable: Sequence[Stock], name: str, wrong: Collection[str]
) -> Iterable[Issue]:
    """Say what is wrong with a group; while a member is wrong, nothing is counted."""
    parts = [part for part in job.parts if part.group == name]
    if any(part.id in wrong for part in parts):
        return _incomplete(name, parts, wrong)
    group = _Group(name, members(job, name), job.columns_of(name))
    return _faults(group) or _breaks(job, usable, group)


def _incomplete(name: str, parts: Sequence[Part], wrong: Collection[str]) -> Iterator[Issue]:
    """Yield an error for each sound part of a group that lacks a member."""
    lacking = next(called(part) for part in parts if part.id in wrong)
    for part in parts:
        if part.id not in wrong:
            said = f"{called(part)}: its match group {name} waits until {lacking} is mended."
            yield error("group-incomplete", part.id, said, "group")


def _faults(group: _Group) -> list[Issue]:
    """Return an error for each part of a group that cannot be laid in a grid."""
    for code, field, look in _LOOKS:
        if reason := look(group):
            return [
                error(code, part.id, f"{called(part)}: its match group {reason}.", field)
                for part in group.parts
            ]
    return []


def _materials(group: _Group) -> str:
    found = dict.fromkeys(part.material or "no material" for part in group.parts)
    more = len(found) > 1
    return f"{group.name} is of more than one material: {', '.join(found)}" if more else ""


def _grain(group: _Group) -> str:
    found = dict.fromkeys(str(part.grain_rule) for part in group.parts)
    more = len(found) > 1
    return f"{group.name} has more than one grain rule: {', '.join(found)}" if more else ""


def _columns(group: _Group) -> str:
    if group.columns < 1:
        return f"{group.name} cannot have {group.columns} parts in a row"
    if len(group.cells) % group.columns:
        return f"{group.name} has {len(group.cells)} parts; rows of {group.columns} leave a gap"
    return ""


def _uneven(group: _Group) -> str:
    rows = rows_of(group.cells, group.columns)
    for row in rows:
        for above, cell in zip(rows[0], row, strict=True):
            if cell[0].cut_width != row[0][0].cut_width:
                return f"is uneven: {cell_called(cell)} is not as wide as {cell_called(row[0])}"
            if cell[0].cut_length != above[0].cut_length:
                return f"is uneven: {cell_called(cell)} is not as long as {cell_called(above)}"
    return ""


_LOOKS: Final[tuple[tuple[str, str, Callable[[_Group], str]], ...]] = (
    ("group-mixed-material", "material", _materials),
    ("group-mixed-grain", "grain_rule", _grain),
    ("group-uneven", "group", _columns),
    ("group-uneven", "group", _uneven),
)


def _breaks(job: Job, usable: Sequence[Stock], group: _Group) -> Iterator[Issue]:
    """Name the places where a group too large for every sheet is split."""
    material = group.parts[0].material
    blocks = blocks_of(replace(job, stock=tuple(usable)), group.name)
    if len(blocks) > 1:
        said = (
            f"{group.name} is larger than every sheet of {material}: the figure breaks"
            f" {' and '.join(_places(group, blocks))}."
        )
        yield warning("group-too-long", group.parts[0].id, said, "group")


def _places(group: _Group, blocks: Sequence[PartGrid]) -> Iterator[str]:
    """Say after which parts a figure breaks; a break that all rows have is said once."""
    one_row = len(group.cells) == group.columns
    at = {cell: number for number, cell in enumerate(group.cells, 1)}
    ends = [block.cells[-1] for block in blocks[:-1]]
    after = [cell for cell in ends if one_row or at[cell] % group.columns == 0]
    within = dict.fromkeys(at[cell] % group.columns for cell in ends if cell not in after)
    if after:
        yield f"after {_listed([cell_called(cell) for cell in after])}"
    if within:
        yield f"in every row after part {_listed([str(place) for place in within])}"


def _listed(places: Sequence[str]) -> str:
    shown, more = places[:MOST_PLACES], len(places) - MOST_PLACES
    if more > 0:
        return f"{', '.join(shown)} and {more} more"
    *before, last = shown
    return f"{', '.join(before)} and {last}" if before else last
