"""Random sheets with a handful of cuts that share sizes, so that their order matters."""

from dataclasses import dataclass, field
from random import Random

from shared.cuts.growing import grow
from shared.cuts.sequence import layout_sheet
from shared.geometry import Rect
from shared.job import Job
from shared.layout import LayoutSheet
from shared.lengths import MM, Length
from shared.parts import Part
from shared.shop import Axis, SawingOrder, Shop, Span, TableSaw
from shared.stock import Stock, Trims
from shared.tree import Piece, Place, Run, extent, slice_of

SIDE = 400 * MM
SIZES = tuple(size * MM for size in (60, 90, 120))
TABLE = TableSaw(kerf=3 * MM, fence=Span(most=600 * MM))


@dataclass(frozen=True, slots=True, kw_only=True)
class FewCuts:
    """A job whose sheets take few cuts."""

    job: Job
    sheets: tuple[LayoutSheet, ...]
    cuts: int


def few_cuts(seed: int, most: int, *, blanks: bool = False, fewest: int = 4) -> FewCuts:
    """Return sheets with so many cuts; with ``blanks`` some parts are finished at the table saw.

    Seed after seed may be by sheet or by set-up, with little or much room for loose pieces.
    """
    random = Random(seed)
    while True:
        shop = Shop(
            kerf=random.choice((0, 2 * MM)),
            table=TABLE if blanks else None,
            loose=random.choice((1, 2, 3, 12)),
            sawing=random.choice(list(SawingOrder)),
        )
        made = _sheets(random, shop, blanks)
        if fewest <= made.cuts <= most:
            return made


def _sheets(random: Random, shop: Shop, blanks: bool) -> FewCuts:
    row = _row(random)
    growing = _Growing(random, row, shop.kerf, blanks)
    trees = [growing.tree() for _ in range(random.randint(1, 3))]
    job = Job(name="Few cuts", parts=growing.parts(), stock=(row,), shop=shop)
    sheets = tuple(layout_sheet(str(n), row, shop.kerf, tree) for n, tree in enumerate(trees, 1))
    return FewCuts(job=job, sheets=sheets, cuts=sum(1 for _ in grow(job, sheets).passes()))


def _row(random: Random) -> Stock:
    near, start = (random.choice((0, 0, 0, 10 * MM)) for _ in range(2))
    return Stock(
        id="s",
        name="s",
        material="ply",
        length=SIDE,
        width=SIDE,
        thickness=18 * MM,
        trims=Trims(near=near, start=start),
    )


@dataclass(slots=True)
class _Growing:
    """Draws trees of cuts; every part has a size of its own, or shares it as a copy."""

    random: Random
    row: Stock
    kerf: Length
    blanks: bool
    copies: dict[tuple[Length, Length], int] = field(default_factory=dict)

    def tree(self) -> Run:
        """Draw the tree of a sheet."""
        axis = self.random.choice(list(Axis))
        return self._run(axis, Rect(x=0, y=0, length=SIDE, width=SIDE), 1)

    def _run(self, axis: Axis, rect: Rect, level: int) -> Run:
        trims = self.row.trims
        trim = (trims.near if axis is Axis.RIP else trims.start) if level < 3 else 0
        start, end = trim, extent(rect, axis)
        pieces: list[Piece] = []
        while not pieces or (len(pieces) < 3 and self.random.random() < 0.5):
            room = end - start
            fitting = [size for size in SIZES if size <= room]
            if not fitting:
                break
            exact = pieces and self.random.random() < 0.2
            size = room if exact else self.random.choice(fitting)
            pieces.append(self._piece(axis, slice_of(rect, axis, start, size), size, level))
            start += size + self.kerf
        return Run(axis=axis, trim=trim, pieces=tuple(pieces))

    def _piece(self, axis: Axis, rect: Rect, size: Length, level: int) -> Piece:
        if level < 4 and min(rect.length, rect.width) > min(SIZES) and self.random.random() < 0.5:
            return Piece(size=size, run=self._run(axis.other, rect, level + 1))
        trims = self.row.trims
        in_trim = rect.x < trims.start or rect.y < trims.near
        if in_trim or self.random.random() < 0.2:
            return Piece(size=size)
        kind = (rect.length, rect.width)
        self.copies[kind] = self.copies.get(kind, 0) + 1
        name = f"p{list(self.copies).index(kind)}"
        return Piece(size=size, place=Place(part=name, copy=self.copies[kind]))

    def parts(self) -> tuple[Part, ...]:
        """Return the take-off; a blank is larger both ways than what it becomes."""
        return tuple(
            self._part(f"p{number}", length, width, copies)
            for number, ((length, width), copies) in enumerate(self.copies.items())
        )

    def _part(self, name: str, length: Length, width: Length, copies: int) -> Part:
        over = self.random.choice((0, 6 * MM)) if self.blanks else 0
        return Part(
            id=name,
            name=name,
            copies=copies,
            length=length - over,
            width=width - over,
            material="ply",
            oversize=over,
        )
