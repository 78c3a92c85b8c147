"""Small instances for the tests of the search: by hand, at random, and from the benchmarks."""

from collections.abc import Iterator
from math import gcd
from random import Random

from shared.job import Job
from shared.stock import orientations
from solver.material.instance import Instance, ItemType, SheetKind, StockRow, Weights

EITHER_WAY = (False, True)
AS_IT_IS = (False,)


def items_of(sizes: list[tuple[int, int, int]]) -> tuple[ItemType, ...]:
    """Make item types of (length, width, count), kerf included."""
    return tuple(
        ItemType(length=x, width=y, members=tuple((f"p{n}", c) for c in range(1, count + 1)))
        for n, (x, y, count) in enumerate(sizes, 1)
    )


def plain(
    sizes: list[tuple[int, int, int]],
    sheet: tuple[int, int],
    *,
    kerf: int = 0,
    turning: bool = False,
    levels: int = 3,
    weights: Weights | None = None,
) -> Instance:
    """Make an instance with one kind of sheet, all sizes with kerf."""
    ways = EITHER_WAY if turning else AS_IT_IS
    kind = SheetKind(row=0, length=sheet[0], width=sheet[1], orientations=(ways,) * len(sizes))
    return Instance(
        material="oak",
        unit=1,
        kerf=kerf,
        items=items_of(sizes),
        kinds=(kind,),
        rows=(StockRow(stock="s1", price=0, at_hand=None),),
        levels=levels,
        weights=weights or Weights(),
    )


def anything(seed: int) -> Instance:
    """Draw an instance: kerf, trims, prices, limits, kinds and rules all at random."""
    rng = Random(seed)
    sizes = [
        (rng.randint(3, 60), rng.randint(3, 40), rng.randint(1, 4))
        for _ in range(rng.randint(1, 8))
    ]
    ways: list[tuple[bool, ...]] = [rng.choice((AS_IT_IS, (True,), EITHER_WAY)) for _ in sizes]
    rows = [_row(rng, number) for number in range(rng.randint(1, 3))]
    kinds = [kind for number in range(len(rows)) for kind in _kinds(rng, number, ways)]
    for _ in range(rng.choice((0, 0, 1, 2))):
        kinds.append(_begun_kind(rng, len(rows), ways))
        rows.append(StockRow(stock="s0", price=0, at_hand=1, begun=True))
    return Instance(
        material="oak",
        unit=1,
        kerf=rng.choice((0, 1, 3)),
        items=items_of(sizes),
        kinds=tuple(kinds),
        rows=tuple(rows),
        levels=rng.choice((2, 3)),
        weights=Weights(cut_s=rng.choice((0, 1, 60)), setup_s=rng.choice((0, 1, 60)), skim_s=20),
    )


def _row(rng: Random, number: int) -> StockRow:
    at_hand = rng.choice((None, 1, 2))
    return StockRow(stock=f"s{number}", price=rng.choice((0, 100, 250)), at_hand=at_hand)


def _kinds(rng: Random, row: int, ways: list[tuple[bool, ...]]) -> Iterator[SheetKind]:
    """Yield one or both ways to use the sheets of a row."""
    length, width = rng.randint(40, 90), rng.randint(30, 60)
    exact = rng.random() < 0.7
    trim = rng.random() < 0.3
    turned = tuple(tuple(not way for way in each) for each in ways)
    for transposed in rng.choice(((False,), (True,), (False, True))):
        yield SheetKind(
            row=row,
            transposed=transposed,
            length=width if transposed else length,
            width=length if transposed else width,
            exact_length=exact,
            exact_width=exact,
            strip_trim=trim,
            sheet_trim=trim,
            orientations=turned if transposed else tuple(ways),
        )


def _begun_kind(rng: Random, row: int, ways: list[tuple[bool, ...]]) -> SheetKind:
    """Return a room between holds, or behind what is held of a strip."""
    return SheetKind(
        row=row,
        length=rng.randint(10, 90),
        width=rng.randint(10, 60),
        exact_length=rng.random() < 0.7,
        fixed=rng.random() < 0.5,
        orientations=tuple(ways),
    )


def of_job(job: Job) -> Instance:
    """Make the instance of a job with one material and one row without trims."""
    kerf, sheet = job.shop.kerf, job.stock[0]
    sizes = [(p.cut_length + kerf, p.cut_width + kerf, p.copies) for p in job.parts]
    room = (sheet.length + kerf, sheet.width + kerf)
    unit = gcd(kerf, *room, *(size for part in sizes for size in part[:2]))
    ways = tuple(orientations(p.grain_rule, sheet.grain) for p in job.parts)
    shop = job.shop
    return Instance(
        material=sheet.material,
        unit=unit,
        kerf=kerf // unit,
        items=items_of([(x // unit, y // unit, count) for x, y, count in sizes]),
        kinds=(SheetKind(row=0, length=room[0] // unit, width=room[1] // unit, orientations=ways),),
        rows=(StockRow(stock=sheet.id, price=0, at_hand=None),),
        levels=job.rule.levels,
        weights=Weights(cut_s=shop.cut_s, setup_s=shop.setup_s, skim_s=shop.skim_s),
    )
