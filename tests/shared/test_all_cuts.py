"""Tiny layouts at random: yes or no as by trying every cut at every tick, limits and all."""

from collections import Counter
from dataclasses import dataclass
from random import Random

import pytest

from shared.geometry import Rect
from shared.plan import Placement
from shared.recognise import Allowed, is_cuttable
from shared.shop import Span, TableSaw
from shared.stock import Trims
from tests.brute_cuts import NEVER, BruteLimits, BruteSaw

CASES = 2_000
SEED = 20251125


@dataclass(frozen=True, kw_only=True)
class Case:
    """Up to six parts on a sheet of a few ticks, most of them against something."""

    sheet: Rect
    kerf: int
    trims: Trims
    lying: tuple[Placement, ...]

    def brute(self, limits: BruteLimits | None = None) -> bool:
        """Say whether any way to cut it makes all parts."""
        saw = BruteSaw(self.kerf, self.trims.near, self.trims.start, limits)
        return saw.fewest(self.sheet.length, self.sheet.width, self.lying) < NEVER

    def recognised(self, allowed: Allowed | None = None) -> bool:
        """Say whether it is recognised as cuttable."""
        return is_cuttable(self.sheet, self.lying, self.kerf, self.trims, allowed)


def case(chance: Random) -> Case:
    """Make up a layout."""
    kerf = chance.choice((0, 1, 1, 2))
    trims = Trims(near=chance.choice((0, 0, 3)), start=chance.choice((0, 0, 3)))
    sheet = Rect(x=0, y=0, length=chance.randint(4, 12), width=chance.randint(4, 12))
    lying: list[Placement] = []
    for number in range(chance.randint(1, 6)):
        x = chance.choice((trims.start, *(one.rect.right + kerf for one in lying)))
        y = chance.choice((trims.near, *(one.rect.bottom + kerf for one in lying)))
        one = Placement(
            part=f"p{number}",
            copy=1,
            sheet="1",
            x=x + chance.choice((0, 0, 0, 1, 2, 3)),
            y=y + chance.choice((0, 0, 0, 1, 2, 3)),
            length=chance.randint(1, 5),
            width=chance.randint(1, 5),
        )
        about = Rect(
            x=one.x - kerf,
            y=one.y - kerf,
            length=one.length + 2 * kerf,
            width=one.width + 2 * kerf,
        )
        if sheet.contains(one.rect) and not any(about.overlaps(other.rect) for other in lying):
            lying.append(one)
    return Case(sheet=sheet, kerf=kerf, trims=trims, lying=tuple(lying))


def limited(chance: Random, *, rails: bool) -> tuple[Allowed, BruteLimits]:
    """Make up the limits of a shop, told twice."""
    reach = chance.choice((None, 8, 6)) if rails else None
    carry, hold = chance.choice((0, 2, 3, 4)), chance.choice((0, 0, 4, 6))
    least, most = chance.choice(((0, 2), (1, 3)))
    table = chance.random() < 0.5
    allowed = Allowed(
        reach=reach,
        carry=carry,
        hold=hold,
        table=TableSaw(kerf=1, fence=Span(least=least, most=most)) if table else None,
    )
    brute = BruteLimits(carry=carry, hold=hold, fence=range(least, most + 1) if table else range(0))
    return allowed, brute if reach is None else BruteLimits(
        reach=reach, carry=carry, hold=hold, fence=brute.fence
    )


def compare_without_limits(cases: int) -> None:
    """Hold the yes or no of so many cases against all ways to cut them."""
    chance, said = Random(SEED), Counter[bool]()
    for _ in range(cases):
        one = case(chance)
        assert one.recognised() == one.brute(), one
        said[one.recognised()] += 1
    assert min(said[True], said[False]) > cases // 10


def compare_with_limits(cases: int, *, rails: bool) -> Counter[tuple[bool, bool]]:
    """Return how often what was recognised, and can be done, was yes or no."""
    chance, said = Random(SEED), Counter[tuple[bool, bool]]()
    for _ in range(cases):
        one, (allowed, limits) = case(chance), limited(chance, rails=rails)
        said[one.recognised(allowed), one.brute(limits)] += 1
    return said


def check_with_limits(cases: int) -> None:
    """Never a yes that cannot be sawn; all that can be is found, but for rails that are short.

    A rail that does not reach over the sheet may want a piece cut in the middle of its waste,
    so that what is left can be held: where the saw would stop is known to the brute saw only.
    """
    long_rails = compare_with_limits(cases, rails=False)
    assert long_rails[True, False] == long_rails[False, True] == 0
    assert min(long_rails[True, True], long_rails[False, False]) > cases // 10
    short_rails = compare_with_limits(cases, rails=True)
    assert short_rails[True, False] == 0
    assert short_rails[False, True] <= cases // 1_000


def test_yes_or_no_as_by_trying_every_cut() -> None:
    """Without limits both agree in every case."""
    compare_without_limits(CASES)


def test_yes_or_no_in_a_shop_with_limits() -> None:
    """A brute saw that asks the limits at every cut."""
    check_with_limits(CASES // 2)


@pytest.mark.soak
@pytest.mark.timeout(600)
def test_yes_or_no_at_length() -> None:
    """The same of many more cases."""
    compare_without_limits(50_000)
    check_with_limits(50_000)
