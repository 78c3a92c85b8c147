"""The copies of all items in the order in which the compact model numbers them."""

from dataclasses import dataclass

from solver.material.instance import Instance


@dataclass(frozen=True, slots=True, kw_only=True)
class Copy:
    """One copy: its item type, and its extents (along, across) for each way it may lie."""

    item: int
    ways: dict[bool, tuple[int, int]]


def copies_of(instance: Instance) -> tuple[Copy, ...]:
    """Return all copies, largest first, equal ones side by side."""
    order = sorted(
        range(len(instance.items)),
        key=lambda i: (-instance.items[i].length * instance.items[i].width, i),
    )
    return tuple(copy for i in order for copy in [_copy(instance, i)] * instance.items[i].demand)


def _copy(instance: Instance, item: int) -> Copy:
    turns = sorted({turned for kind in instance.kinds for turned in kind.orientations[item]})
    return Copy(item=item, ways={turned: instance.size(item, turned) for turned in turns})
