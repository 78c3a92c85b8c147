"""Random jobs of a dozen parts at most, for several solvers to agree on.

Half sheets and offcuts, so that few parts fill several of them; prices and none, numbers at hand,
trims, kerfs, parts that turn, both depths and all first directions.
"""

from random import Random

from shared.job import Job
from shared.lengths import MM, Length
from shared.parts import GrainRule, Part
from shared.shop import CutRule, FirstCut, Shop
from shared.stock import SheetGrain, Stock, Trims
from tests.solver.some_jobs import part, sheet

HALF_SHEETS = ((1220 * MM, 610 * MM), (1250 * MM, 833 * MM), (800 * MM, 600 * MM))
KERFS = (0, 22 * MM // 10, 32 * MM // 10, 183 * MM // 100)
PRICES = ((0, 0), (4500, 3100), (2900, 2900), (None, None), (4500, None), (None, 3100))
GRAINS = (SheetGrain.ALONG_L, SheetGrain.ALONG_L, SheetGrain.ALONG_W, SheetGrain.NONE)


def small_list(seed: int, most_copies: int = 12) -> Job:
    """Draw a job of one material; nearly every part fits its first row."""
    rng = Random(seed)
    stock = _stock(rng)
    return Job(
        name=f"Small list {seed}",
        parts=_parts(rng, stock[0], most_copies),
        stock=stock,
        shop=Shop(kerf=rng.choice(KERFS)),
        rule=CutRule(levels=rng.choice((2, 3, 3)), first=rng.choice(tuple(FirstCut))),
    )


def _stock(rng: Random) -> tuple[Stock, ...]:
    """Return half sheets to buy, mostly with another row: dearer or cheaper, some limited."""
    grain, prices = rng.choice(GRAINS), rng.choice(PRICES)
    size, other = rng.sample(HALF_SHEETS, 2)
    limit = rng.choice((None, None, 1, 2))
    rows = [sheet("new", *size, price=prices[0], grain=grain, trims=_trims(rng), at_hand=limit)]
    if rng.random() < 0.6:
        rows.append(
            sheet("other", *other, price=prices[1], grain=grain, at_hand=rng.choice((None, 1)))
        )
    if rng.random() < 0.3:
        rest = (rng.randint(500, 700) * MM, rng.randint(300, 500) * MM)
        price = rng.choice((0, None, None, 700))
        rows.append(sheet("rack", *rest, price=price, grain=grain, at_hand=1))
    return tuple(rows)


def _trims(rng: Random) -> Trims:
    if rng.random() < 0.6:
        return Trims()
    return Trims(**{edge: rng.choice((0, 10 * MM)) for edge in ("near", "far", "start", "end")})


def _parts(rng: Random, row: Stock, most: int) -> tuple[Part, ...]:
    copies = rng.randint(most // 2, most)
    rows: list[Part] = []
    while copies:
        count = min(copies, rng.choice((1, 1, 2, 3)))
        rule = rng.choice((GrainRule.ALONG_LENGTH, GrainRule.ALONG_LENGTH, *GrainRule))
        short, long = sorted((_size(rng, 120, 420), _size(rng, 220, 600)))
        rows.append(part(f"p{len(rows)}", long, short, count, rule=rule))
        copies -= count
    return tuple(rows)


def _size(rng: Random, least: int, most: int) -> Length:
    return rng.randint(least, most) * MM
