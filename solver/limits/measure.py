"""What a solution costs, and whether it may be sawn at all; from first principles.

Nothing here is shared with the search, whose running totals are tested against it. The
block of a match group counts as one item: the cuts that part it, one fewer than it has
parts, are the same wherever it lies, and decide nothing.
"""

from collections import Counter, defaultdict
from collections.abc import Iterator
from dataclasses import dataclass, field

from shared.plan import Goal
from solver.limits.cut_run import CutRun, broken, last_sizes, unguided
from solver.material.instance import (
    Block,
    Instance,
    Laid,
    Lying,
    SheetKind,
    ShopLimits,
    Solution,
    Strip,
)


@dataclass(frozen=True, slots=True, kw_only=True, order=True)
class Cost:
    """Cost of a solution; less is better, compared field by field in this order.

    Attributes
    ----------
    unplaced
        Area of what is on no sheet, in the instance's units, kerf included.
    price
        What all sheets cost, in the units of `Row`.
    rack
        Square millimetres taken from the rack that cost nothing.
    sheets
        Number of sheets.
    seconds
        Sawing time by the instance's weights.
    spare
        Minus the area of the largest single remainder worth keeping.
    cuts, setups, skims, unguided
        What the seconds are made of; not compared.
    """

    unplaced: int
    price: int
    rack: int = 0
    sheets: int
    seconds: int
    spare: int
    cuts: int = field(compare=False)
    setups: int = field(compare=False)
    skims: int = field(compare=False)
    unguided: int = field(compare=False, default=0)


class CountedRun(CutRun):
    """Cuts of one piece in one direction, and what they take."""

    __slots__ = ()

    @property
    def cuts(self) -> int:
        """Number of cuts."""
        return len(self.sizes) - self.ends_exactly

    def is_skim(self, kerf: int) -> bool:
        """Whether the last cut takes less than a kerf and leaves no offcut."""
        return self.exact and 0 < self.left <= kerf

    def remainder(self, kerf: int, keep: tuple[int, int] = (0, 0)) -> int:
        """Area of the fall beyond the last cut, 0 if it is not worth keeping."""
        short, long = sorted((max(0, self.left - kerf), self.across - kerf))
        return short * long if long >= keep[0] and short >= keep[1] else 0


def cost(instance: Instance, solution: Solution) -> Cost:
    """Measure a solution."""
    runs = list(sawn(instance, solution))
    trims = _trims(instance, solution)
    cuts = sum(run.cuts for run in runs) + trims.total()
    forced = _forced(runs, instance.limits)
    setups = len(forced) + _unforced(runs, forced) + len(trims)
    skims = sum(run.is_skim(instance.kerf) for run in runs)
    measured = sum(unguided(run, instance.limits) for run in runs)
    weights = instance.weights
    return Cost(
        unplaced=unplaced_area(instance, solution),
        price=price(instance, solution),
        rack=rack(instance, solution),
        sheets=sheets(instance, solution),
        seconds=weights.cut_s * cuts
        + weights.setup_s * setups
        + weights.skim_s * skims
        + weights.unguided_s * measured,
        spare=-max((run.remainder(instance.kerf, instance.keep) for run in runs), default=0),
        cuts=cuts,
        setups=setups,
        skims=skims,
        unguided=measured,
    )


def unplaced_area(instance: Instance, solution: Solution) -> int:
    """Return the area of what lies on no sheet, kerf included."""
    items = instance.items
    return sum(n * it.length * it.width for n, it in zip(solution.left, items, strict=True))


def price(instance: Instance, solution: Solution) -> int:
    """Return the price of all sheets, in the units of `Row`."""
    return sum(instance.rows[instance.kinds[s.kind].row].price for s in solution.sheets)


def rack(instance: Instance, solution: Solution) -> int:
    """Return the square millimetres taken from the rack that cost nothing."""
    return sum(instance.rows[instance.kinds[s.kind].row].rack for s in solution.sheets)


def sheets(instance: Instance, solution: Solution) -> int:
    """Count the sheets that are not begun already."""
    return sum(not instance.is_begun(sheet.kind) for sheet in solution.sheets)


def counts_sheets(instance: Instance) -> bool:
    """Whether the goal is fewest sheets: all usable rows have one price."""
    rows = (instance.rows[kind.row] for kind in instance.kinds)
    return len({row.price for row in rows if not row.begun}) <= 1


def goal_of(instance: Instance) -> Goal:
    """Return what is made least."""
    return Goal.FEWEST_SHEETS if counts_sheets(instance) else instance.goal


def goal_value(instance: Instance, solution: Solution) -> int:
    """Return what a bound is compared with: number of sheets, or their price."""
    counted = sheets if counts_sheets(instance) else price
    return counted(instance, solution)


def sawn(instance: Instance, solution: Solution) -> Iterator[CountedRun]:
    """Yield every run of cuts of a solution, trims of reference edges left out."""
    for sheet in solution.sheets:
        yield from sawn_sheet(instance, sheet)


def sawn_sheet(instance: Instance, sheet: Laid) -> Iterator[CountedRun]:
    """Yield every run of cuts of one sheet."""
    kind = instance.kinds[sheet.kind]
    yield CountedRun(
        1,
        tuple(strip.width for strip in sheet.strips),
        kind.width,
        kind.whole or kind.length,
        kind.exact_width,
        kind.beyond_width,
        kind.sheet_trim,
        not kind.transposed,
        not instance.is_room(sheet.kind),
    )
    for strip in sheet.strips:
        yield from sawn_strip(instance, sheet.kind, strip)


def sawn_strip(instance: Instance, number: int, strip: Strip) -> Iterator[CountedRun]:
    """Yield every run of cuts of one strip on a kind of sheet."""
    kind = instance.kinds[number]
    yield CountedRun(
        2,
        tuple(block.length for block in strip.blocks),
        kind.length,
        strip.width,
        kind.exact_length,
        kind.beyond_length,
        kind.strip_trim,
        kind.transposed,
        not instance.is_room(number),
    )
    for block in strip.blocks:
        sizes = [instance.size(*lying) for lying in block.stack]
        widths = tuple(width for _, width in sizes)
        yield CountedRun(3, widths, strip.width, block.length, rip=not kind.transposed)
        for length, width in sizes:
            yield CountedRun(4, (length,), block.length, width, rip=kind.transposed)


def _trims(instance: Instance, solution: Solution) -> Counter[str]:
    """Count the cuts that make reference edges; each kind of them is one set-up."""
    trims: Counter[str] = Counter()
    for sheet in solution.sheets:
        kind = instance.kinds[sheet.kind]
        trims["sheet"] += kind.sheet_trim
        trims["strip"] += kind.strip_trim * len(sheet.strips)
    return +trims


def _forced(runs: list[CountedRun], limits: ShopLimits) -> set[tuple[int, int]]:
    """Set-ups that some run needs whatever piece it leaves for the end."""
    forced: set[tuple[int, int]] = set()
    for run in runs:
        sizes, last = run.sizes, last_sizes(run, limits)
        for size in sizes:
            if size not in last or (len(sizes) > 1 and sizes.count(size) > 1):
                forced.add((run.level, size))
    return forced


def _unforced(runs: list[CountedRun], forced: set[tuple[int, int]]) -> int:
    """Count set-ups of exact runs still needed after each left out one size.

    A set-up is saved if every run that has the size leaves it out. Sets of runs are packed
    greedily, smallest first: the count is never too small, and seldom one too large.
    """
    users: defaultdict[tuple[int, int], list[int]] = defaultdict(list)
    for number, run in enumerate(runs):
        for size in {*run.sizes}:
            if (run.level, size) not in forced:
                users[run.level, size].append(number)
    free = set(range(len(runs)))
    saved = 0
    for numbers in sorted(users.values(), key=len):
        if free.issuperset(numbers):
            free.difference_update(numbers)
            saved += 1
    return len(users) - saved


def problems(instance: Instance, solution: Solution) -> list[str]:
    """Name everything that makes a solution unfit to saw; empty when it is sound."""
    return [
        *_wrong_counts(instance, solution),
        *_wrong_stock(instance, solution),
        *(text for sheet in solution.sheets for text in wrong_sheet(instance, sheet)),
    ]


def breaks_limits(instance: Instance, solution: Solution) -> bool:
    """Whether the shop's limits forbid a cut of a solution."""
    return instance.limits.bind and any(
        broken(run, instance.limits) for run in sawn(instance, solution)
    )


def _wrong_counts(instance: Instance, solution: Solution) -> Iterator[str]:
    laid = Counter(lying.item for lying in solution.lying())
    for index, item in enumerate(instance.items):
        left = solution.left[index]
        if left < 0 or laid[index] + left != item.demand:
            yield f"item {index}: {laid[index]} laid and {left} left of {item.demand}"


def _wrong_stock(instance: Instance, solution: Solution) -> Iterator[str]:
    used = Counter(instance.kinds[sheet.kind].row for sheet in solution.sheets)
    for index, row in enumerate(instance.rows):
        if row.at_hand is not None and used[index] > row.at_hand:
            yield f"row {row.stock}: {used[index]} sheets used of {row.at_hand}"


def wrong_sheet(instance: Instance, sheet: Laid) -> Iterator[str]:
    """Name everything that makes one sheet unfit to saw, by itself."""
    kind = instance.kinds[sheet.kind]
    if not sheet.strips:
        yield "a sheet without strips"
    if sum(strip.width for strip in sheet.strips) > kind.width:
        yield f"strips wider than a sheet of {kind.width}"
    for strip in sheet.strips:
        if kind.fixed and strip.width != kind.width:
            yield f"a strip of {strip.width} where one of {kind.width} is ripped"
        yield from _wrong_strip(instance, kind, strip)
    for run in sawn_sheet(instance, sheet) if instance.limits.bind else ():
        for limit in broken(run, instance.limits):
            yield f"a cut of level {run.level} is beyond the shop's {limit.name.lower()}"


def _wrong_strip(instance: Instance, kind: SheetKind, strip: Strip) -> Iterator[str]:
    if not strip.blocks:
        yield "a strip without blocks"
    if sum(block.length for block in strip.blocks) > kind.length:
        yield f"blocks longer than a sheet of {kind.length}"
    for block in strip.blocks:
        yield from _wrong_block(instance, kind, strip, block)


def _wrong_block(instance: Instance, kind: SheetKind, strip: Strip, block: Block) -> Iterator[str]:
    if not block.stack or (instance.levels < 3 and len(block.stack) > 1):
        yield f"a block of {len(block.stack)} items under {instance.levels} levels"
    if sum(instance.size(*lying)[1] for lying in block.stack) > strip.width:
        yield f"items wider than a strip of {strip.width}"
    for lying in block.stack:
        yield from _wrong_item(instance, kind, block, lying)


def _wrong_item(instance: Instance, kind: SheetKind, block: Block, lying: Lying) -> Iterator[str]:
    if lying.turned not in kind.orientations[lying.item]:
        yield f"item {lying.item} lies as it may not"
    length = instance.size(*lying)[0]
    if length > block.length or (instance.levels < 3 and length != block.length):
        yield f"item {lying.item} in a block of {block.length}"
