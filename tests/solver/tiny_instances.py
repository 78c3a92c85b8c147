"""Tiny instances for hypothesis: few copies, one or two stock rows, every rule."""

from dataclasses import replace

from hypothesis import strategies as st

from solver.material.instance import Instance, SheetKind, ShopLimits, StockRow, Weights
from tests.solver.some_instances import items_of

Way = tuple[bool, ...]
WAYS: tuple[Way, ...] = ((False,), (True,), (False, True))


@st.composite
def tiny(draw: st.DrawFn, copies: int = 5, most: int = 30) -> Instance:
    """Draw an instance of at most so many copies; every item fits the first kind."""
    length, width = draw(st.integers(8, most)), draw(st.integers(8, most))
    sizes = draw(_sizes(length, width, copies))
    ways = [draw(st.sampled_from(WAYS)) for _ in sizes]
    kinds = [_kind(sizes, ways, 0, (length, width), draw(st.booleans()))]
    rows = [StockRow(stock="new", price=draw(st.integers(1, 9)), at_hand=draw(_at_hand()))]
    if draw(st.booleans()):
        kinds.append(_kind(sizes, ways, 0, (length, width), not kinds[0].transposed))
    if draw(st.booleans()):
        small = (draw(st.integers(5, length)), draw(st.integers(5, width)))
        kinds.append(_kind(sizes, ways, 1, small, draw(st.booleans())))
        rows.append(StockRow(stock="rack", price=draw(st.integers(0, 9)), at_hand=draw(_at_hand())))
    return Instance(
        material="oak",
        unit=1,
        kerf=draw(st.integers(0, 3)),
        items=items_of(sizes),
        kinds=tuple(kinds),
        rows=tuple(rows),
        levels=draw(st.sampled_from((2, 3))),
        weights=Weights(cut_s=draw(st.integers(0, 60)), setup_s=draw(st.integers(0, 60)), skim_s=5),
    )


def _at_hand() -> st.SearchStrategy[int | None]:
    return st.sampled_from((None, None, 1, 2))


@st.composite
def _sizes(draw: st.DrawFn, length: int, width: int, copies: int) -> list[tuple[int, int, int]]:
    sizes = []
    while copies > 0 and (not sizes or draw(st.integers(0, 3))):
        count = draw(st.integers(1, min(3, copies)))
        sizes.append((draw(st.integers(2, length)), draw(st.integers(2, width)), count))
        copies -= count
    return sizes


def _kind(
    sizes: list[tuple[int, int, int]],
    ways: list[Way],
    row: int,
    sheet: tuple[int, int],
    transposed: bool,
) -> SheetKind:
    """Return a way to use a sheet; items may lie there only as they fit."""
    length, width = (sheet[1], sheet[0]) if transposed else sheet
    turns = tuple(
        tuple(
            turned
            for turned in sorted({way is not transposed for way in allowed})
            if (y if turned else x) <= length and (x if turned else y) <= width
        )
        for (x, y, _), allowed in zip(sizes, ways, strict=True)
    )
    return SheetKind(row=row, transposed=transposed, length=length, width=width, orientations=turns)


@st.composite
def trimmed(draw: st.DrawFn, copies: int, most: int = 30) -> Instance:
    """Draw an instance whose kinds have trims at any edge."""
    instance = draw(tiny(copies, most))
    kinds = tuple(
        replace(
            kind,
            exact_length=draw(st.booleans()),
            exact_width=draw(st.booleans()),
            strip_trim=draw(st.booleans()),
            sheet_trim=draw(st.booleans()),
        )
        for kind in instance.kinds
    )
    return replace(instance, kinds=kinds)


@st.composite
def limited(draw: st.DrawFn, copies: int) -> Instance:
    """Draw an instance of a shop with limits; sheets are small enough to try everything."""
    instance = draw(trimmed(copies, 15))
    kinds = tuple(_in_a_shop(draw, kind) for kind in instance.kinds)
    limits = ShopLimits(
        reach=draw(st.none() | st.integers(4, 14)),
        carry=draw(st.sampled_from((0, 4, 6, 8))),
        hold=draw(st.sampled_from((0, 7, 10, 13))),
        fence=draw(st.sampled_from((0, 3, 5))),
    )
    return replace(instance, kinds=kinds, limits=limits)


def _in_a_shop(draw: st.DrawFn, kind: SheetKind) -> SheetKind:
    """Return a kind with stock beyond its room, if a last cut is needed there."""
    return replace(
        kind,
        beyond_length=0 if kind.exact_length else draw(st.integers(1, 6)),
        beyond_width=0 if kind.exact_width else draw(st.integers(1, 6)),
        whole=kind.length + draw(st.integers(0, 4)),
    )
