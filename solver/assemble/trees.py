"""From a solution in the solver's numbers to trees of cuts in the frame of the sheets.

Sizes become ticks without kerf again, kinds that are crosscut first are turned back,
trims and last trims are added, pieces are put in order, and copies of parts get their
places in reading order.
"""

from collections import defaultdict
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import islice
from typing import NamedTuple

from shared.geometry import Rect
from shared.job import Job
from shared.lengths import Length
from shared.parts import Copy
from shared.shop import Axis
from shared.stock import Stock
from shared.tree import Piece, Place, Run, left_over
from solver.assemble.block_parting import parted
from solver.assemble.grid_room import room_of
from solver.assemble.piece_order import Sizes, places, spared
from solver.limits.cut_run import CutRun as Limited
from solver.limits.cut_run import last_sizes, limits_of
from solver.limits.measure import sawn_sheet
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


class Draft(NamedTuple):
    """A piece in the making: its size in ticks, and what becomes of it.

    By how much it is ``larger`` than the block of a match group that it is, along and across
    the run it comes from.
    """

    size: Length
    run: "DraftRun | None" = None
    lying: Lying | None = None
    larger: tuple[Length, Length] = (0, 0)


class DraftRun(NamedTuple):
    """A run in the making: level, trim, pieces in any order, and whether they fill it.

    ``limited`` is the run as the shop's limits see it, a kerf in every size; ``before`` is
    waste that is sawn off first, a kerf included.
    """

    level: int
    trim: Length
    exact: bool
    pieces: tuple[Draft, ...]
    limited: Limited
    before: Length = 0


class SheetTree(NamedTuple):
    """A sheet of a solution: index of its kind, stock id and tree of cuts."""

    kind: int
    stock: str
    tree: Run


def trees(
    instance: Instance, solution: Solution, job: Job, equals: frozenset[int] = frozenset()
) -> list[SheetTree]:
    """Return the stock id and the tree of cuts of each sheet of a solution.

    Parameters
    ----------
    instance, solution
        One material and a sound solution of it.
    job
        Whose stock rows and kerf the instance was made from.
    equals
        Items of which others should come out alike.

    Notes
    -----
    In a run the largest pieces come first and equal ones lie together; in an exactly
    filled run the piece goes last whose size then needs no set-up in the whole solution.
    A piece that leaves nothing which has equals as what remains goes there first of all. Where
    the shop's limits demand it, the largest piece is kept for the end.
    """
    benches = [_Sheet.of(instance, sheet, job, equals) for sheet in solution.sheets]
    drafts = [bench.draft(sheet) for bench, sheet in zip(benches, solution.sheets, strict=True)]
    order = _Order(drafts, limits_of(job.shop), job.shop.kerf, equals)
    copies = [iter(item.members) for item in instance.items]
    return [
        SheetTree(laid.kind, bench.stock.id, bench.tree(order.arranged(draft), copies))
        for bench, draft, laid in zip(benches, drafts, solution.sheets, strict=True)
    ]


@dataclass(frozen=True, slots=True, kw_only=True)
class _Sheet:
    """A sheet of a kind, and the way from the solver's numbers to its frame."""

    instance: Instance
    kind: SheetKind
    stock: Stock
    kerf: Length
    number: int
    roomy: ShopLimits | None

    @classmethod
    def of(cls, instance: Instance, sheet: Laid, job: Job, equals: frozenset[int]) -> "_Sheet":
        """Return the sheet that a laid one stands for."""
        kind = instance.kinds[sheet.kind]
        return cls(
            instance=instance,
            kind=kind,
            stock=job.stock_row(instance.rows[kind.row].stock),
            kerf=job.shop.kerf,
            number=sheet.kind,
            roomy=limits_of(job.shop) if equals else None,
        )

    @property
    def transposed(self) -> bool:
        """Whether it is crosscut first."""
        return self.kind.transposed

    def draft(self, sheet: Laid) -> DraftRun:
        """Return the sheet's cuts in ticks, pieces in the solution's order.

        Of a room on a sheet that is begun only the pieces count: what comes before and
        behind them is held.
        """
        trims = self.stock.trims
        first, second = (trims.start, trims.near) if self.transposed else (trims.near, trims.start)
        if self.kind.fixed:
            strips = tuple(self._behind(strip) for strip in sheet.strips)
            return self._in_room(sheet, strips)
        strips = tuple(self._strip(strip, second) for strip in sheet.strips)
        if self.instance.is_room(sheet.kind):
            return self._in_room(sheet, strips)
        before = self.kind.before_width * self.instance.unit
        return self._run(1, self._extents, strips, _Ahead(first, before))

    def _in_room(self, sheet: Laid, strips: tuple[Draft, ...]) -> DraftRun:
        """Return the strips of a room on a sheet that is begun, which is not cut off there."""
        limited = next(sawn_sheet(self.instance, sheet)).scaled(self.instance.unit)
        return DraftRun(1, 0, False, strips, limited)

    def tree(self, draft: DraftRun, copies: Sequence[Iterator[Copy]]) -> Run:
        """Return the finished run; each part takes the next copy of its type."""
        axis = Axis.CROSSCUT if (draft.level % 2 == 0) is not self.transposed else Axis.RIP
        pieces = tuple(self._piece(piece, axis, copies) for piece in draft.pieces)
        return Run(axis=axis, trim=draft.trim, pieces=pieces)

    def _piece(self, draft: Draft, axis: Axis, copies: Sequence[Iterator[Copy]]) -> Piece:
        """Return a finished piece of a run whose cuts have that direction."""
        if draft.lying is None:
            run = None if draft.run is None else self.tree(draft.run, copies)
            return Piece(size=draft.size, run=run)
        turned = draft.lying.turned is not self.transposed
        grid = self.instance.items[draft.lying.item].grid
        if grid is not None:
            members = tuple(islice(copies[draft.lying.item], grid.cells))
            return parted(grid, members, axis, turned=turned, kerf=self.kerf, larger=draft.larger)
        part, copy = next(copies[draft.lying.item])
        return Piece(size=draft.size, place=Place(part=part, copy=copy, turned=turned))

    @property
    def _extents(self) -> tuple[Length, Length]:
        """The whole sheet along and across its strips, in ticks."""
        length, width = self.stock.length, self.stock.width
        return (width, length) if self.transposed else (length, width)

    def _ticks(self, size: int) -> Length:
        return size * self.instance.unit - self.kerf

    def _strip(self, strip: Strip, trim: Length) -> Draft:
        blocks = tuple(self._block(block, strip) for block in strip.blocks)
        width = self._ticks(strip.width)
        ahead = _Ahead(trim, self.kind.before_length * self.instance.unit)
        return Draft(width, self._run(2, (width, self._extents[0]), blocks, ahead))

    def _behind(self, strip: Strip) -> Draft:
        """Return blocks behind those that stay of a strip, as a strip of their own."""
        blocks = tuple(self._block(block, strip) for block in strip.blocks)
        width, unit = self._ticks(strip.width), self.instance.unit
        run = self._run(2, (width, self._ticks(self.kind.length)), blocks)
        exact = run.exact and self.kind.exact_length
        limited = run.limited._replace(
            exact=self.kind.exact_length, beyond=self.kind.beyond_length * unit
        )
        return Draft(width, run._replace(exact=exact, limited=limited))

    def _block(self, block: Block, strip: Strip) -> Draft:
        """Return a block; what fills it exactly needs no cuts of its own."""
        length, width = self._ticks(block.length), self._ticks(strip.width)
        more = self._more(block, strip)
        if len(block.stack) == 1:
            (lying,), ((longer, wider),) = block.stack, more
            size = self.instance.size(*lying)
            if (size[0] + longer, size[1] + wider) == (block.length, strip.width):
                return Draft(length, lying=lying, larger=self._scaled(longer, wider))
        parts = tuple(
            self._part(lying, block, larger)
            for lying, larger in zip(block.stack, more, strict=True)
        )
        return Draft(length, self._run(3, (length, width), parts))

    def _more(self, block: Block, strip: Strip) -> tuple[tuple[int, int], ...]:
        """Return by how much the blocks of match groups in a block are larger, in units."""
        if self.roomy is None:
            return ((0, 0),) * len(block.stack)
        return room_of(self.instance, self.number, block, strip.width, self.roomy)

    def _scaled(self, along: int, across: int) -> tuple[Length, Length]:
        return along * self.instance.unit, across * self.instance.unit

    def _part(self, lying: Lying, block: Block, larger: tuple[int, int]) -> Draft:
        """Return a part in a block, with a last trim if it is shorter."""
        longer, wider = larger
        length, width = self.instance.size(*lying)
        length, width = length + longer, width + wider
        across = self._ticks(width)
        if length == block.length:
            return Draft(across, lying=lying, larger=self._scaled(wider, longer))
        whole = self._ticks(length)
        trimmed = (Draft(whole, lying=lying, larger=self._scaled(longer, wider)),)
        return Draft(across, self._run(4, (across, self._ticks(block.length)), trimmed))

    def _run(
        self,
        level: int,
        piece: tuple[Length, Length],
        pieces: tuple[Draft, ...],
        ahead: "_Ahead | None" = None,
    ) -> DraftRun:
        """Return a run over a piece: its extents across and along the run, trim included."""
        trim, before = ahead or _Ahead()
        across, room = piece
        sizes = tuple(Piece(size=piece.size) for piece in pieces)
        whole = Rect(x=0, y=0, length=0, width=room - before)
        left = left_over(Run(axis=Axis.RIP, trim=trim, pieces=sizes), whole, self.kerf)
        limited = Limited(
            level,
            tuple(piece.size + self.kerf for piece in pieces),
            room - before - trim + self.kerf,
            across + self.kerf,
            trimmed=trim > 0 or before > 0,
            rip=(level % 2 == 1) is not self.transposed,
        )
        return DraftRun(level, trim, left == 0, pieces, limited, before)


class _Ahead(NamedTuple):
    """What comes off before the first piece: a trim, and waste; a kerf included in each."""

    trim: Length = 0
    before: Length = 0


class _Order:
    """Puts the pieces of every run in order, with all runs of all sheets in view."""

    def __init__(
        self,
        drafts: Sequence[DraftRun],
        limits: ShopLimits,
        kerf: Length,
        equals: frozenset[int],
    ) -> None:
        self._limits, self._kerf, self._equals = limits, kerf, equals
        levels: defaultdict[int, list[Sizes]] = defaultdict(list)
        for draft in drafts:
            for run in _runs(draft):
                levels[run.level].append(self._sizes(run))
        self._spared = {level: spared(runs) for level, runs in levels.items()}

    def _sizes(self, run: DraftRun) -> Sizes:
        sizes = tuple(piece.size for piece in run.pieces)
        if not run.exact:
            return Sizes(sizes, exact=False)
        return Sizes(sizes, True, self._ending(run))

    def _ending(self, run: DraftRun) -> frozenset[Length]:
        """Return the sizes that may go last: where there are any, of what leaves equals alone."""
        able = {size - self._kerf for size in last_sizes(run.limited, self._limits)}
        alone = {one.size for one in run.pieces if self._equals and not self._leaves_equal(one)}
        return frozenset(able & alone or able)

    def _leaves_equal(self, piece: Draft) -> bool:
        """Whether a part that has equals is only what remains, if the piece is."""
        if piece.lying is not None:
            return piece.lying.item in self._equals and not piece.larger[0]
        return any(self._remains_equal(one) for one in piece.run.pieces) if piece.run else False

    def _remains_equal(self, across: Draft) -> bool:
        """Whether that is so of a piece of a run at right angles."""
        if across.run is None:
            return across.lying is not None and (
                across.lying.item in self._equals and not across.larger[1]
            )
        if not across.run.exact:
            return False
        return all(self._leaves_equal(one) for one in across.run.pieces)

    def arranged(self, draft: DraftRun) -> DraftRun:
        """Return the run with its pieces, and theirs, in order."""
        spare = self._spared[draft.level] if draft.exact else frozenset()
        ending = self._ending(draft) if draft.exact and self._equals else frozenset()
        pieces = [
            piece if piece.run is None else piece._replace(run=self.arranged(piece.run))
            for piece in draft.pieces
        ]
        pieces.sort(key=lambda piece: (*self._rank(piece, spare, ending), *_largest_first(piece)))
        run = draft.limited._replace(sizes=tuple(piece.size + self._kerf for piece in pieces))
        order = places(run, self._limits)
        waste = (Draft(draft.before - self._kerf),) if draft.before else ()
        return draft._replace(pieces=(*waste, *(pieces[place] for place in order)))

    def _rank(
        self, piece: Draft, spare: frozenset[Length], ending: frozenset[Length]
    ) -> tuple[bool, bool]:
        """Say whether a piece is to go last because of its size, and because it is alone."""
        alone = piece.size in ending and not self._leaves_equal(piece)
        return piece.size in spare, alone


def _runs(draft: DraftRun) -> Iterator[DraftRun]:
    yield draft
    for piece in draft.pieces:
        if piece.run is not None:
            yield from _runs(piece.run)


def _largest_first(piece: Draft) -> tuple[Length, list[Length], int]:
    """Sort by size, then by what comes of it, so that equal strips lie together."""
    inner = [] if piece.run is None else [-block.size for block in piece.run.pieces] + [0]
    return -piece.size, inner, -1 if piece.lying is None else piece.lying.item
