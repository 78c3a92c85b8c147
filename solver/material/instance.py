"""One material's problem in the solver's own numbers, and solutions of it.

Every size is the sawn size plus one kerf, and every sheet its usable size plus one
kerf, all divided by their common divisor: in these numbers pieces lie side by side
without gaps, and the problem with kerf has the same solutions as this one without.

Solver frame: the first level of cuts runs along x, whatever the maker's first
direction is; a sheet that is crosscut first enters *transposed*, with length and width
exchanged. A rule of "either" gives two kinds for one stock row.
"""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field
from typing import NamedTuple

from shared.plan import Goal


class BlockGrid(NamedTuple):
    """How a match group's block is parted: cut widths of its rows, cut lengths of its columns.

    In ticks, without kerf: only what saws the block needs them.
    """

    widths: tuple[int, ...]
    lengths: tuple[int, ...]

    @property
    def cells(self) -> int:
        """Number of parts in the block."""
        return len(self.widths) * len(self.lengths)


@dataclass(frozen=True, slots=True, kw_only=True)
class ItemType:
    """Equal parts: size plus kerf, and how many are needed.

    ``members`` are the (part id, copy) pairs that this type stands for, in order. With a
    ``grid`` an item is the whole block of a match group: it takes a grid full of members,
    row by row, and parting it costs the same cuts wherever it lies.
    """

    length: int
    width: int
    members: tuple[tuple[str, int], ...]
    grid: BlockGrid | None = None

    @property
    def demand(self) -> int:
        """Number needed."""
        return len(self.members) // self.cells

    @property
    def cells(self) -> int:
        """Number of parts that one item is."""
        return 1 if self.grid is None else self.grid.cells


@dataclass(frozen=True, slots=True, kw_only=True)
class SheetKind:
    """One way to use a sheet of one stock row.

    Attributes
    ----------
    row
        Index of the stock row in `Instance.rows`; kinds of one row share its number.
    transposed
        Crosscut first: solver x is the sheet's y.
    length, width
        Room for pieces along and across the strips, one kerf included.
    exact_length, exact_width
        Whether a run that fills the room needs no last cut (no far trim there).
    strip_trim, sheet_trim
        Whether each strip, or the sheet, costs one more cut for a near trim.
    fixed
        The room is one strip that is ripped already: exactly as wide as the room.
    orientations
        For each item type, how it may lie: ``False`` as it is, ``True`` turned.
    """

    row: int
    transposed: bool = False
    length: int
    width: int
    exact_length: bool = True
    exact_width: bool = True
    strip_trim: bool = False
    sheet_trim: bool = False
    fixed: bool = False
    beyond_length: int = 0
    beyond_width: int = 0
    before_length: int = 0
    before_width: int = 0
    whole: int = 0
    orientations: tuple[tuple[bool, ...], ...]

    @property
    def is_clear(self) -> bool:
        """Whether it begins at a reference edge and end."""
        return not self.before_length and not self.before_width


@dataclass(frozen=True, slots=True, kw_only=True)
class StockRow:
    """A stock row: id, what a sheet costs, and how many are left.

    The price is in units of `shared.costs`, divided by a common divisor where that is no money,
    and 1 where all sheets cost the same. ``rack`` are the square millimetres of a sheet of one's
    own that costs nothing, 0 of any other: at one price less of them is better.
    ``begun`` is room between what is held on one sheet: it is paid for with that sheet and
    counts as none. So does a piece on the sawhorses, which is ``whole``: all of it is free.
    """

    stock: str
    price: int
    at_hand: int | None
    begun: bool = False
    whole: bool = False
    rack: int = 0


@dataclass(frozen=True, slots=True, kw_only=True)
class Weights:
    """Seconds for a cut, for a distinct set-up, and extra for a skim cut.

    Also what a rip costs extra whose size the guide cannot be set to.
    """

    cut_s: int = 60
    setup_s: int = 60
    skim_s: int = 60
    unguided_s: int = 0


class RunLimits(NamedTuple):
    """Those of `ShopLimits` that a run of cuts is held against, in the compiled search too."""

    carry: int
    hold: int
    fence: int


@dataclass(frozen=True, slots=True, kw_only=True)
class ShopLimits:
    """What the shop cannot do, a kerf included in every size; see `solver.limits.cut_run`.

    Attributes
    ----------
    reach
        The longest cut; ``None`` for no limit. That first cuts are short enough is the
        choice of kinds.
    carry
        At every cut one of the two pieces is at least so wide; 0 for no limit.
    hold
        Every piece under the saw has a side at least so long; 0 for no limit.
    fence
        What neither carries the rail nor is smaller than this, the table saw takes off a
        fall; 0 without one.
    guide
        From what size to what size rips can be set; ``None`` for any.
    """

    reach: int | None = None
    carry: int = 0
    hold: int = 0
    fence: int = 0
    guide: tuple[int, int] | None = None

    @property
    def bind(self) -> bool:
        """Whether any of them can forbid a cut."""
        return self.reach is not None or self.carry > 0 or self.hold > 0

    @property
    def of_runs(self) -> RunLimits:
        """Those that a run of cuts is held against."""
        return RunLimits(self.carry, self.hold, self.fence)


NO_LIMITS = ShopLimits()


@dataclass(frozen=True, slots=True, kw_only=True)
class Instance:
    """One material: what is needed, from what, under which rule.

    ``kerf`` is the kerf in the same units (0 when there is none). ``levels`` is 3
    (blocks hold a stack of parts, each may get a last trim) or 2 (a block is one part,
    trimmed to its width). ``unit`` is ticks per unit. ``keep`` is the least long and short
    side of a remainder worth keeping, without kerf. ``limits`` are those of the shop. ``goal``
    says what prices are, where rows differ in them.
    """

    material: str
    unit: int
    kerf: int
    items: tuple[ItemType, ...]
    kinds: tuple[SheetKind, ...]
    rows: tuple[StockRow, ...]
    levels: int = 3
    weights: Weights = field(default_factory=Weights)
    keep: tuple[int, int] = (0, 0)
    limits: ShopLimits = NO_LIMITS
    goal: Goal = Goal.LEAST_PRICE

    def size(self, item: int, turned: bool) -> tuple[int, int]:
        """Return (extent along x, extent along y) of an item, kerf included."""
        it = self.items[item]
        return (it.width, it.length) if turned else (it.length, it.width)

    def block(self, stack: Iterable["Lying"]) -> "Block":
        """Return the shortest block that holds a stack."""
        held = tuple(stack)
        return Block(max((self.size(*lying)[0] for lying in held), default=0), held)

    def strip(self, blocks: Iterable["Block"]) -> "Strip":
        """Return the narrowest strip that holds some blocks, as they are."""
        held = tuple(blocks)
        widths = (sum(self.size(*lying)[1] for lying in block.stack) for block in held)
        return Strip(max(widths, default=0), held)

    def is_begun(self, kind: int) -> bool:
        """Whether a kind is room on a sheet that is in use already."""
        return self.rows[self.kinds[kind].row].begun

    def is_room(self, kind: int) -> bool:
        """Whether a kind is room between what is held on a sheet."""
        row = self.rows[self.kinds[kind].row]
        return row.begun and not row.whole


class Lying(NamedTuple):
    """One item of a stack: index of its type, and whether it lies turned."""

    item: int
    turned: bool


class Block(NamedTuple):
    """A crosscut piece of a strip: its length, and items stacked across the strip.

    Items shorter than the block get a last trim; their widths sum to at most the strip's.
    """

    length: int
    stack: tuple[Lying, ...]


class Strip(NamedTuple):
    """A rip: its width, and its blocks in any order; lengths sum to at most the sheet's."""

    width: int
    blocks: tuple[Block, ...]


class Laid(NamedTuple):
    """One sheet of a solution: index of its kind, and strips in any order."""

    kind: int
    strips: tuple[Strip, ...]


class Solution(NamedTuple):
    """Sheets, and for each item type how many copies are on none of them."""

    sheets: tuple[Laid, ...]
    left: tuple[int, ...]

    def lying(self) -> Iterator[Lying]:
        """Yield every placed item."""
        for sheet in self.sheets:
            for strip in sheet.strips:
                for block in strip.blocks:
                    yield from block.stack
