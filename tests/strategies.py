"""Random jobs and layouts for every property test: small, but as a workshop has them.

Lengths, shops and rules are those of `tests.shop_strategies`.
"""

from collections import Counter
from dataclasses import dataclass, field, replace
from functools import cache

from hypothesis import strategies as st

from shared.geometry import Rect
from shared.job import Job, MatchGroup
from shared.layout import Hold, LayoutSheet, Scope
from shared.lengths import INCH, MM, Length
from shared.parts import Bands, GrainRule, Part
from shared.plan import Placement
from shared.shop import Axis
from shared.stock import NoGo, SheetGrain, Stock, Trims, orientations
from shared.tree import Piece, Place, Run
from tests.shop_strategies import (
    BOOLEANS,
    IN_TEN,
    STEPS,
    any_of,
    lengths,
    rules,
    shops,
    styles,
)

MATERIALS = ("birch ply", "oak board")
SHEETS: tuple[tuple[Length, Length], ...] = (
    (96 * INCH, 48 * INCH),
    (60 * INCH, 60 * INCH),
    (2440 * MM, 1220 * MM),
    (1250 * MM, 2500 * MM),
)


@cache
def trims() -> st.SearchStrategy[Trims]:
    """No trims, or up to four of them, thin ones among them."""
    one = st.sampled_from((0, 0, 2 * MM, 10 * MM, INCH // 4, INCH // 2))
    return st.one_of(st.just(Trims()), st.builds(Trims, near=one, far=one, start=one, end=one))


@cache
def bands() -> st.SearchStrategy[Bands]:
    """Mostly bare edges, else bands of up to 2 mm."""
    one = st.sampled_from((0, MM // 2, MM, 2 * MM))
    return st.one_of(st.just(Bands()), st.builds(Bands, top=one, bottom=one, left=one, right=one))


@cache
def stock_rows(number: int, material: str | None = None) -> st.SearchStrategy[Stock]:
    """Full sheets, and offcuts of the rack."""
    full = st.sampled_from(SHEETS)
    rest = st.tuples(lengths(300 * MM, 1500 * MM), lengths(200 * MM, 800 * MM))

    def row(size: tuple[Length, Length]) -> st.SearchStrategy[Stock]:
        return st.builds(
            Stock,
            id=st.just(f"s{number}"),
            name=st.just(f"Sheet {number}"),
            material=st.just(material) if material else st.sampled_from(MATERIALS),
            length=st.just(size[0]),
            width=st.just(size[1]),
            thickness=st.sampled_from((18 * MM, 3 * INCH // 4)),
            grain=st.sampled_from(SheetGrain),
            trims=trims(),
            price=st.sampled_from((0, 0, 4500, 5999)),
            at_hand=st.sampled_from((None, None, 1, 3)) if size in SHEETS else st.just(1),
        )

    return st.one_of(full, rest).flatmap(row)


def bad_places(length: Length, width: Length) -> st.SearchStrategy[NoGo]:
    """Damaged corners, knots and larger flaws inside a sheet of that size."""

    def place(size: tuple[Length, Length]) -> st.SearchStrategy[NoGo]:
        room = length - size[0], width - size[1]
        return st.builds(
            NoGo,
            x=st.one_of(st.sampled_from((0, room[0])), st.integers(0, room[0])),
            y=st.one_of(st.sampled_from((0, room[1])), st.integers(0, room[1])),
            length=st.just(size[0]),
            width=st.just(size[1]),
            show_only=st.booleans(),
        )

    sizes = st.tuples(lengths(MM, length // 3), lengths(MM, width // 3))
    return sizes.flatmap(place)


@cache
def parts(number: int, most: Length = 900 * MM) -> st.SearchStrategy[Part]:
    """Parts of furniture; nearly all fit a full sheet."""
    return st.builds(
        Part,
        id=st.just(f"p{number}"),
        name=st.just(f"Part {number}"),
        copies=st.integers(1, 4),
        length=lengths(40 * MM, most),
        width=lengths(20 * MM, most // 2),
        material=st.sampled_from(MATERIALS),
        grain_rule=st.sampled_from(GrainRule),
        bands=bands(),
        fit_allowance=st.sampled_from((0, 0, 0, 3 * MM, INCH // 4)),
    )


@st.composite
def matched(
    draw: st.DrawFn, name: str = "Fronts", most_rows: int = 4, most: Length = 400 * MM
) -> tuple[tuple[Part, ...], MatchGroup]:
    """Parts that fill the grid of a match group; where all are equal they may be one row."""
    columns, rows = draw(st.integers(1, 3)), draw(st.integers(1, most_rows))
    across = [draw(lengths(60 * MM, most)) for _ in range(columns)]
    down = [draw(lengths(40 * MM, most // 2)) for _ in range(rows)]
    alike = Part(
        id=name,
        name=name,
        copies=rows * columns,
        length=across[0],
        width=down[0],
        material=draw(any_of(MATERIALS)),
        grain_rule=draw(any_of(GrainRule)),
        group=name,
        fit_allowance=draw(any_of((0, INCH // 4))),
    )
    group = MatchGroup(name=name, columns=columns)
    if draw(BOOLEANS):
        return (alike,), group
    parts = tuple(
        replace(alike, id=f"{name}{n}", name=f"{name} {n}", copies=1, length=size[0], width=size[1])
        for n, size in enumerate([(x, y) for y in down for x in across], 1)
    )
    return parts, group


@st.composite
def jobs(draw: st.DrawFn, most_parts: int = 6) -> Job:
    """Jobs of one or two materials; each has at least one row of full sheets or an offcut."""
    stock = [draw(stock_rows(n, material)) for n, material in enumerate(MATERIALS, 1)]
    if draw(BOOLEANS):
        stock.append(draw(stock_rows(3)))
    rows = draw(st.integers(1, most_parts))
    single = tuple(draw(parts(n)) for n in range(1, rows + 1))
    fronts, group = draw(matched()) if draw(st.integers(0, 2)) == 0 else ((), None)
    return Job(
        name="Random job",
        parts=(*single, *fronts),
        stock=tuple(stock),
        groups=() if group is None else (group,),
        shop=draw(shops()),
        rule=draw(rules()),
        style=draw(styles()),
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class LaidOut:
    """A job and sheets that hold its parts, each with the tree of cuts that makes them."""

    job: Job
    sheets: tuple[LayoutSheet, ...]


@st.composite
def laid_out(draw: st.DrawFn, most_sheets: int = 3, deepest: int = 4) -> LaidOut:
    """Sheets sawn up at random, and the job whose parts are just the pieces.

    Runs end exactly, in a skim or in an offcut; pieces are parts, waste or sawn further.
    What reaches into a far or end trim is never a part. No row has fewer sheets at hand than are
    used.
    """
    shop, rule = draw(shops()), draw(rules())
    stock = tuple(draw(stock_rows(n, MATERIALS[n - 1])) for n in (1, 2))
    takeoff = _TakeOff()
    sheets = []
    for number in range(1, draw(st.integers(1, most_sheets)) + 1):
        row = draw(st.sampled_from(stock))
        axis = draw(any_of(Axis))
        growing = _Growing(draw, takeoff, row, shop.kerf, str(number), deepest)
        tree = growing.run(axis, Rect(x=0, y=0, length=row.length, width=row.width), 1)
        sheets.append(
            LayoutSheet(
                id=str(number), stock=row.id, placements=tuple(growing.placements), tree=tree
            )
        )
    used = Counter(sheet.stock for sheet in sheets)
    there = tuple(
        row if row.at_hand is None else replace(row, at_hand=max(row.at_hand, used[row.id]))
        for row in stock
    )
    job = Job(name="Laid out", parts=takeoff.parts(), stock=there, shop=shop, rule=rule)
    return LaidOut(job=job, sheets=tuple(sheets))


@st.composite
def holds(draw: st.DrawFn, sheets: tuple[LayoutSheet, ...], most: int = 3) -> tuple[Hold, ...]:
    """Holds of any scope on what lies on these sheets; some remember how their part lay."""
    lying = [one for sheet in sheets for one in sheet.placements]
    held = []
    for one in draw(st.lists(st.sampled_from(lying), max_size=most)) if lying else ():
        scope = draw(any_of(Scope))
        if scope is Scope.SHEET:
            held.append(Hold(scope=scope, sheet=one.sheet))
        else:
            lies = draw(st.sampled_from((None, one)))
            held.append(Hold(scope=scope, sheet=one.sheet, part=one.part, copy=one.copy, lies=lies))
    return tuple(dict.fromkeys(held))


_Kind = tuple[Length, Length, str, GrainRule]


@dataclass(slots=True)
class _TakeOff:
    """Counts pieces of one size, material and grain rule as copies of one part."""

    copies: dict[_Kind, int] = field(default_factory=dict)

    def add(self, kind: _Kind) -> tuple[str, int]:
        """Return part id and copy of one more piece."""
        self.copies[kind] = self.copies.get(kind, 0) + 1
        return f"p{list(self.copies).index(kind) + 1}", self.copies[kind]

    def parts(self) -> tuple[Part, ...]:
        """Return the take-off."""
        return tuple(
            Part(
                id=f"p{number}",
                name=f"Part {number}",
                copies=copies,
                length=length,
                width=width,
                material=material,
                grain_rule=rule,
            )
            for number, ((length, width, material, rule), copies) in enumerate(
                self.copies.items(), 1
            )
        )


@dataclass(slots=True)
class _Growing:
    """Grows the tree of one sheet downwards, drawing each choice."""

    draw: st.DrawFn
    takeoff: _TakeOff
    row: Stock
    kerf: Length
    sheet: str
    deepest: int
    placements: list[Placement] = field(default_factory=list)

    def run(self, axis: Axis, rect: Rect, level: int) -> Run | None:
        """Saw a piece in one direction; ``None`` where there is no room for a cut."""
        trim = self._trim(axis) if level <= 2 else 0
        start, end = (rect.y, rect.bottom) if axis is Axis.RIP else (rect.x, rect.right)
        start += trim
        sizes = self._sizes(end - start)
        if not sizes:
            return None
        pieces = []
        for size in sizes:
            pieces.append(self._piece(axis, self._slice(axis, rect, start, size), size, level))
            start += size + self.kerf
        return Run(axis=axis, trim=trim, pieces=tuple(pieces))

    def _trim(self, axis: Axis) -> Length:
        return self.row.trims.near if axis is Axis.RIP else self.row.trims.start

    def _sizes(self, room: Length) -> list[Length]:
        """Draw sizes of pieces, one kerf between them, that fill the room or less."""
        sizes: list[Length] = []
        while room > 20 * MM and len(sizes) < 4 and (not sizes or self.draw(BOOLEANS)):
            skim = room - max(self.kerf // 2, 1)
            size = self._size(room, skim)
            sizes.append(size)
            room -= size + self.kerf
        return sizes

    def _size(self, room: Length, skim: Length) -> Length:
        """Draw a length, or all that is left, or so much that a skim is.

        As ``st.one_of`` of `lengths` and both would, without making a strategy of each.
        """
        step = self.draw(STEPS)
        if not step:
            return self.draw(st.sampled_from((room, skim)))
        return self.draw(st.integers(-(-10 * MM // step), room // step)) * step

    def _slice(self, axis: Axis, rect: Rect, start: Length, size: Length) -> Rect:
        if axis is Axis.RIP:
            return Rect(x=rect.x, y=start, length=rect.length, width=size)
        return Rect(x=start, y=rect.y, length=size, width=rect.width)

    def _piece(self, axis: Axis, rect: Rect, size: Length, level: int) -> Piece:
        """Make the piece a part, saw it further, or leave it."""
        choice = self.draw(IN_TEN)
        if 2 < choice < 9 and level < self.deepest:
            return Piece(size=size, run=self.run(axis.other, rect, level + 1))
        if choice < 9 and self._is_usable(rect):
            return Piece(size=size, place=self._place(rect))
        return Piece(size=size)

    def _is_usable(self, rect: Rect) -> bool:
        trims = self.row.trims
        return (
            rect.x >= trims.start
            and rect.y >= trims.near
            and rect.right <= self.row.length - trims.end
            and rect.bottom <= self.row.width - trims.far
        )

    def _place(self, rect: Rect) -> Place:
        """Put a part there whose grain rule allows how it lies."""
        rule = self.draw(any_of(GrainRule))
        turned = self.draw(st.sampled_from(orientations(rule, self.row.grain)))
        sides = (rect.width, rect.length) if turned else (rect.length, rect.width)
        part, copy = self.takeoff.add((*sides, self.row.material, rule))
        self.placements.append(
            Placement(
                part=part,
                copy=copy,
                sheet=self.sheet,
                x=rect.x,
                y=rect.y,
                length=rect.length,
                width=rect.width,
                turned=turned,
            )
        )
        return Place(part=part, copy=copy, turned=turned)
