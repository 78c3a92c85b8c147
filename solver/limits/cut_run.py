"""What the shop's limits mean for one run of cuts, in any order of its pieces.

Pieces are sawn off one by one from the reference end, so at every cut but the last one the
rest of the piece holds all that comes later. Therefore only the last cut can be beyond the
rail's rest or the maker's hands, unless it is made at the table saw; and an order that is
best for both puts the largest piece last; in a run that ends exactly, one that spares another
size for the end puts the largest second to last, on the other side of the last cut.

All sizes include a kerf. A fall of that extent is a kerf narrower, as a piece is.
"""

from collections import Counter
from collections.abc import Iterator, Sequence
from heapq import nlargest
from typing import NamedTuple, Self

from shared.shop import Limit, Shop
from solver.material.instance import ShopLimits


class _CutRunFields(NamedTuple):
    level: int
    sizes: tuple[int, ...]
    room: int
    across: int
    exact: bool = True
    beyond: int = 0
    trimmed: bool = False
    rip: bool = True
    ends: bool = True


class CutRun(_CutRunFields):
    """Cuts of one piece in one direction.

    Attributes
    ----------
    level
        1 to 4.
    sizes
        Of the pieces along the run.
    room, across
        Extent along the run, and at right angles.
    exact
        Without it a full run still needs its last cut.
    beyond
        Stock behind the room that lies there and is not used.
    trimmed
        Whether the run begins with a trim, which is a cut though nothing else may be.
    rip
        Whether its cuts are rips.
    ends
        Whether its last cut is the last of the piece; not so in a room beside what is held.
    """

    __slots__ = ()

    @property
    def left(self) -> int:
        """What the pieces leave of the room."""
        return self.room - sum(self.sizes)

    @property
    def ends_exactly(self) -> bool:
        """Whether the last piece is what remains, without a cut."""
        return self.exact and self.left == 0

    @property
    def fall(self) -> int:
        """What lies behind the last piece when all are sawn off."""
        return self.left + self.beyond

    @property
    def is_sawn(self) -> bool:
        """Whether any cut is made."""
        return self.trimmed or self.fall > 0 or not self.exact or len(self.sizes) > 1

    def scaled(self, by: int) -> Self:
        """Return the run with all its sizes so many times as large."""
        return self._replace(
            sizes=tuple(size * by for size in self.sizes),
            room=self.room * by,
            across=self.across * by,
            beyond=self.beyond * by,
        )

    def under_last_cut(self) -> int:
        """Return the largest that the piece under the last cut can be along the run."""
        if self.fall or not self.exact:
            return max(self.sizes) + self.fall
        return sum(nlargest(2, self.sizes))


def broken(run: CutRun, limits: ShopLimits) -> list[Limit]:
    """Return the limits that a run breaks in whatever order."""
    return list(_broken(run, limits)) if limits.bind and run.is_sawn else []


def _broken(run: CutRun, limits: ShopLimits) -> Iterator[Limit]:
    if not is_reached(run, limits):
        yield Limit.REACH
    if not _carries(run, limits) and not _at_table(run, max(run.sizes), limits):
        yield Limit.CARRY
    if max(run.across, run.under_last_cut()) < limits.hold:
        yield Limit.HOLD


def is_reached(run: CutRun, limits: ShopLimits) -> bool:
    """Whether rails reach over a run; over the whole sheet is settled by the choice of kinds."""
    return limits.reach is None or run.level == 1 or run.across <= limits.reach


def _carries(run: CutRun, limits: ShopLimits) -> bool:
    """Whether some order of the pieces lets the rail rest on one of two at every cut."""
    return max(*run.sizes, run.fall) >= limits.carry


def _at_table(run: CutRun, last: int, limits: ShopLimits) -> bool:
    """Whether the table saw can take a piece of that size off the fall, last of the run.

    Its kerf is another, so nothing but a fall may lie behind the cut. At the cut before, which
    is made on the rail, piece and fall have to carry it together.
    """
    if not limits.fence or not run.ends or not run.fall or last < limits.fence:
        return False
    first = len(run.sizes) == 1 and not run.trimmed
    return first or last + run.fall >= limits.carry


def last_sizes(run: CutRun, limits: ShopLimits) -> frozenset[int]:
    """Return the sizes that may be left for the end of a run and need no cut.

    None in a run that does not end exactly. Where the guide can be set to some of the sizes
    only, one that it cannot be set to goes last.
    """
    if not run.ends_exactly:
        return frozenset()
    able = frozenset(run.sizes)
    if not limits.bind and limits.guide is None:
        return able
    if limits.bind and len(run.sizes) > 1 and not run.fall:
        able = frozenset(size for size in able if _may_end(run, size, limits))
    free = frozenset(size for size in able if not is_guided(run, size, limits))
    return free or able


def _may_end(run: CutRun, last: int, limits: ShopLimits) -> bool:
    others = (Counter(run.sizes) - Counter([last])).elements()
    return suits(run, [*sorted(others), last], limits)


def suits(run: CutRun, sizes: Sequence[int], limits: ShopLimits) -> bool:
    """Whether the last cut is within the limits when pieces are sawn off in this order.

    All cuts before it are then; how long they are is no matter of the order.
    """
    if run.fall or not run.exact:
        rest, held = max(sizes[-1], run.fall), sizes[-1] + run.fall
    else:
        rest, held = max(sizes[-2:]), sum(sizes[-2:])
    tabled = not _carries(run, limits) and _at_table(run, sizes[-1], limits)
    return (tabled or rest >= limits.carry) and max(run.across, held) >= limits.hold


def within_limits(run: CutRun, wanted: Sequence[int], limits: ShopLimits) -> list[int]:
    """Return pieces, by their places, in the order wanted, or in one that is best for the limits.

    Which piece ends a run that needs no last cut is left as wanted (see `last_sizes`).
    """
    if suits(run, [run.sizes[place] for place in wanted], limits):
        return list(wanted)
    kept = 0 if run.fall or not run.exact else 1
    before, ending = list(wanted[: len(wanted) - kept]), wanted[len(wanted) - kept :]
    largest = max(before, key=lambda place: (run.sizes[place], before.index(place)))
    before.remove(largest)
    return [*before, largest, *ending]


def is_guided(run: CutRun, size: int, limits: ShopLimits) -> bool:
    """Whether the guide can be set to a size, or none is wanted for such cuts."""
    if limits.guide is None or not run.rip:
        return True
    return limits.guide[0] <= size <= limits.guide[1]


def unguided(run: CutRun, limits: ShopLimits) -> int:
    """Count the cuts whose size the guide cannot be set to."""
    if limits.guide is None or not run.rip:
        return 0
    count = sum(not is_guided(run, size, limits) for size in run.sizes)
    spared = any(not is_guided(run, size, limits) for size in last_sizes(run, limits))
    return count - spared


def limits_of(shop: Shop, unit: int = 1) -> ShopLimits:
    """Return the limits of a shop in units of so many ticks, a kerf included in each."""
    kerf, reach, guide = shop.kerf, shop.reach, shop.guide
    table = shop.table
    return ShopLimits(
        fence=0
        if table is None or table.fence.most < shop.carry
        else -(-(max(1, table.fence.least) + kerf) // unit),
        reach=None if reach is None else (reach + kerf) // unit,
        carry=-(-(shop.carry + kerf) // unit) if shop.carry else 0,
        hold=-(-(shop.hold + kerf) // unit) if shop.hold else 0,
        guide=None
        if guide is None
        else (-(-(guide.least + kerf) // unit), (guide.most + kerf) // unit),
    )
