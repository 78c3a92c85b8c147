"""Equal parts come off equal settings, where stock is left over for it.

What ends a run that is filled exactly is only what remains: no cut is set to it, and the errors
of all cuts before land in it. So where the sheet leaves a fall, a strip with such an end is made a
kerf and a little wider, or two strips are made of it, whichever takes fewer cuts; the block of a
match group is made longer and wider in the same way. Where a part without equals can end the
run it does (see `solver.assemble.trees`), and the strip stays as it is.

A sheet's largest offcut worth keeping stays so, and all limits of the shop are kept to.
"""

from collections.abc import Iterator
from fractions import Fraction
from itertools import islice
from typing import Final, TypeAlias

from shared.job import Job
from shared.lengths import INCH, MM
from shared.squaring import BEYOND_KERF
from solver.assemble.grid_room import grows
from solver.limits.cut_run import broken, last_sizes, limits_of
from solver.limits.measure import CountedRun, sawn_sheet, sawn_strip
from solver.material.instance import Block, Instance, Laid, Lying, Solution, Strip

ROUND: Final = (MM, INCH // 32)
"""To a multiple of these a size is rounded up: where sheets are so many millimetres, and else."""
MOST_WAYS: Final = 60
"""Ways tried for one strip."""
STAYS: Final = Fraction(9, 10)
"""So much of a sheet's largest offcut stays at least where a strip is parted."""

Strips: TypeAlias = tuple[Strip, ...]


def with_equals(instance: Instance, job: Job) -> frozenset[int]:
    """Return the items of which another copy should come out alike: of a row, or of a set."""
    copies = {part.id: part.copies for part in job.parts}
    groups = {part.id: part.group for part in job.parts}
    return frozenset(
        number
        for number, item in enumerate(instance.items)
        if any(copies[part] > 1 or groups[part] for part, _ in item.members)
    )


def equalised(instance: Instance, solution: Solution, job: Job, equals: frozenset[int]) -> Solution:
    """Return a solution whose equal parts come off equal settings where stock is left over.

    Every part stays on its sheet; some sheets take more cuts. ``equals`` are the items that
    `with_equals` tells.
    """
    sheets = tuple(_Sheet(instance, laid, job, equals).equalised() for laid in solution.sheets)
    return solution if sheets == solution.sheets else solution._replace(sheets=sheets)


class _Sheet:
    """One sheet, whose blocks and strips are made larger, or parted, one after the other."""

    def __init__(self, instance: Instance, laid: Laid, job: Job, equals: frozenset[int]) -> None:
        self._instance, self._laid, self._equals = instance, laid, equals
        self._kind = instance.kinds[laid.kind]
        self._limits = limits_of(job.shop)
        self._kerf = max(instance.kerf, 1)
        self._offcut = self._largest_offcut(laid)
        metric = job.stock_row(instance.rows[self._kind.row].stock).length % MM == 0
        self._round = ROUND[0] if metric else ROUND[1]

    def equalised(self) -> Laid:
        """Return the sheet as its equal parts want it."""
        for at in range(len(self._laid.strips)):
            self._lengthen(at)
        if not self._kind.fixed:
            self._widen()
        return self._laid

    def _take(self, laid: Laid, stays: Fraction = Fraction(0)) -> bool:
        """Take a sheet instead, if it keeps to the limits and leaves the offcut that is kept."""
        limits = self._instance.limits
        if limits.bind and any(broken(run, limits) for run in sawn_sheet(self._instance, laid)):
            return False
        offcut = self._largest_offcut(laid)
        if self._offcut and not (offcut and offcut >= stays * self._offcut):
            return False
        self._laid = laid
        return True

    def _largest_offcut(self, laid: Laid) -> int:
        return max(self._kept_of(run) for run in sawn_sheet(self._instance, laid))

    def _kept_of(self, run: CountedRun) -> int:
        """Return the area of what a run leaves, 0 if it is not worth keeping."""
        return run.remainder(self._instance.kerf, self._instance.keep)

    def _rounded(self, size: int, need: int, left: int) -> int:
        """Return by how much a size grows, at least by so much: to a round one if there is room."""
        unit, kerf = self._instance.unit, self._instance.kerf
        least = need + -(-BEYOND_KERF // unit)
        sizes = range(size + least, size + min(least + self._round // unit, left) + 1)
        round_ones = (one for one in sizes if (one - kerf) * unit % self._round == 0)
        grown = next(round_ones, size + least) - size
        return grown if grown <= left else need

    def _lengthen(self, at: int) -> None:
        """Make the blocks of match groups in a strip longer than their parts."""
        longer = None
        for place, block in enumerate(self._laid.strips[at].blocks):
            need, left = self._wants_length(block), self._along(at).left
            if need and left >= need:
                by = self._rounded(block.length, need, left)
                longer = place if self._take(self._with_longer(at, place, by)) else longer
        run = self._along(at)
        if longer is not None and run.exact and run.left and not self._kept_of(run):
            self._take(self._with_longer(at, longer, run.left))

    def _along(self, at: int) -> CountedRun:
        """Return the run that saws a strip into blocks."""
        return next(sawn_strip(self._instance, self._laid.kind, self._laid.strips[at]))

    def _with_longer(self, at: int, place: int, by: int) -> Laid:
        strips = list(self._laid.strips)
        blocks = list(strips[at].blocks)
        blocks[place] = blocks[place]._replace(length=blocks[place].length + by)
        strips[at] = strips[at]._replace(blocks=tuple(blocks))
        return self._laid._replace(strips=tuple(strips))

    def _grows(self, lying: Lying) -> tuple[bool, bool]:
        return grows(self._instance, self._laid.kind, lying, self._limits)

    def _wants_length(self, block: Block) -> int:
        """Return how much longer a block wants to be, so that rows of its sets end with a cut."""
        sets = [one for one in block.stack if self._grows(one)[0]]
        over = [block.length - self._instance.size(*one)[0] for one in sets]
        return max((self._kerf - one for one in over if one < self._kerf), default=0)

    def _wants_width(self, strip: Strip) -> int:
        """Return how much wider a strip wants to be."""
        return max((self._block_wants(block, strip.width) for block in strip.blocks), default=0)

    def _block_wants(self, block: Block, width: int) -> int:
        sizes = [self._instance.size(*lying)[1] for lying in block.stack]
        spare = width - sum(sizes)
        sets = sum(self._grows(lying)[1] for lying in block.stack)
        if sets:
            return max(0, sets * self._kerf - spare)
        if spare or len(sizes) == 1:
            return 0
        run = CountedRun(3, tuple(sizes), width, block.length, rip=not self._kind.transposed)
        able = last_sizes(run, self._instance.limits)
        alone = (one for one in block.stack if one.item not in self._equals)
        ends = any(self._instance.size(*one)[1] in able for one in alone)
        return 0 if ends else self._kerf

    def _widen(self) -> None:
        """Make strips wider, or two of one; what is left then goes to the last of them."""
        wider: list[Strip] = []
        for strip in self._laid.strips:
            if self._wants_width(strip):
                wider += self._instead_of(strip)
        (run, *_) = sawn_sheet(self._instance, self._laid)
        last = next((strip for strip in reversed(wider) if strip in self._laid.strips), None)
        if last is not None and run.exact and run.left and not self._kept_of(run):
            grown = last._replace(width=last.width + run.left)
            self._take(self._with_strips(last, (grown,)))

    def _instead_of(self, strip: Strip) -> Strips:
        """Put the best of all ways in place of a strip; return those of them that are wider."""
        left = self._kind.width - sum(one.width for one in self._laid.strips)
        ways = sorted(islice(self._ways(strip, left), MOST_WAYS), key=self._seconds)
        for way in ways:
            stays = STAYS if len(way) > 1 else Fraction(0)
            if self._take(self._with_strips(strip, way), stays):
                return tuple(one for one in way if self._is_wider(one))
        return ()

    def _with_strips(self, strip: Strip, way: Strips) -> Laid:
        strips = list(self._laid.strips)
        at = strips.index(strip)
        strips[at : at + 1] = way
        return self._laid._replace(strips=tuple(strips))

    def _is_wider(self, strip: Strip) -> bool:
        """Whether every block leaves something of the strip's width."""
        size = self._instance.size
        return all(sum(size(*one)[1] for one in b.stack) < strip.width for b in strip.blocks)

    def _seconds(self, way: Strips) -> int:
        """Return what the cuts of strips take, with those that rip them, set-ups left out."""
        weights, kerf = self._instance.weights, self._instance.kerf
        runs = [run for one in way for run in sawn_strip(self._instance, self._laid.kind, one)]
        cuts = sum(run.cuts for run in runs) + len(way) * (1 + self._kind.strip_trim)
        return weights.cut_s * cuts + weights.skim_s * sum(run.is_skim(kerf) for run in runs)

    def _ways(self, strip: Strip, left: int) -> Iterator[Strips]:
        """Yield strips that can be made of one when so much is left; none of them wants more."""
        need = self._wants_width(strip)
        if not need:
            yield (strip,)
            return
        if need <= left:
            yield (strip._replace(width=strip.width + self._rounded(strip.width, need, left)),)
        for near, far in self._parted(strip):
            for one in self._ways(near, left):
                taken = sum(made.width for made in one) - near.width
                for other in self._ways(far, left - taken):
                    yield (*one, *other)

    def _parted(self, strip: Strip) -> Iterator[tuple[Strip, Strip]]:
        """Yield pairs of strips into which one can be ripped from end to end."""
        if any(self._instance.items[one.item].grid for b in strip.blocks for one in b.stack):
            return
        size = self._instance.size
        for width in sorted({size(*one)[1] for b in strip.blocks for one in b.stack}):
            pairs = [self._divided(block.stack, width, strip.width) for block in strip.blocks]
            near = tuple(self._instance.block(one) for one, _ in filter(None, pairs) if one)
            far = tuple(self._instance.block(one) for _, one in filter(None, pairs) if one)
            if all(pairs) and near and far:
                yield Strip(width, near), Strip(strip.width - width, far)

    def _divided(
        self, stack: tuple[Lying, ...], width: int, whole: int
    ) -> tuple[tuple[Lying, ...], tuple[Lying, ...]] | None:
        """Return what of a stack comes into a strip of that width, and what beyond; ``None``."""
        size = self._instance.size
        if sum(size(*one)[1] for one in stack) <= whole - width:
            return (), stack
        for at, one in enumerate(stack):
            rest = (*stack[:at], *stack[at + 1 :])
            fits = sum(size(*other)[1] for other in rest) <= whole - width
            if size(*one)[1] == width and fits:
                return (one,), rest
        return None
