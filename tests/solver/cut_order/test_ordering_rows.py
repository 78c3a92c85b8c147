"""Sheets in a row, so that most set-ups stay from one to the next: against all rows there are."""

from collections.abc import Sequence
from itertools import pairwise, permutations, product
from random import Random

import pytest

from shared.making.settings import Device
from solver.budget.stop import Stop
from solver.cut_order.beam import ColourBlock
from solver.cut_order.by_sheet import Ends, Option, Setting, best_row, most_kept, shared_ends

SETTINGS: tuple[Setting, ...] = (
    *(("rail", Device.GUIDE, size) for size in (10, 20, 30)),
    ("table", Device.FENCE, 10),
)


def worth(ways: Sequence[Option]) -> int:
    """Count the set-ups that stay in a row, less the blocks that it takes."""
    stays = sum(one.last == other.first and one.last[0] != "" for one, other in pairwise(ways))
    return stays - sum(len(way.blocks) for way in ways)


def best_of(options: Sequence[Sequence[Option]]) -> int:
    """Return the most that any row is worth, with any way for each sheet."""
    rows = permutations(range(len(options)))
    return max(worth(ways) for row in rows for ways in product(*(options[n] for n in row)))


def random_options(random: Random, sheets: int) -> list[list[Option]]:
    """Draw one to three ways for each sheet, some of a block more than the others."""
    return [[_option(random) for _ in range(random.randint(1, 3))] for _ in range(sheets)]


def _option(random: Random) -> Option:
    blocks = (ColourBlock(0, (0,)),) * random.choice((2, 2, 3))
    return Option(random.choice(SETTINGS), random.choice(SETTINGS), blocks)


@pytest.mark.parametrize("seed", range(60))
def test_no_row_keeps_more_set_ups(seed: int) -> None:
    """Of up to five sheets with up to three ways each, the best of all rows is found."""
    random = Random(seed)
    options = random_options(random, random.randint(2, 5))
    row = best_row(options, Stop())
    assert sorted(row.sheets) == list(range(len(options)))
    assert all(way in options[n] for n, way in zip(row.sheets, row.options, strict=True))
    assert worth(row.options) == best_of(options)


@pytest.mark.parametrize("seed", range(10))
def test_no_row_of_six_sheets_keeps_more_set_ups(seed: int) -> None:
    """Six sheets with one or two ways each: 720 rows, with up to 64 choices."""
    random = Random(seed)
    options = [ways[:2] for ways in random_options(random, 6)]
    assert worth(best_row(options, Stop()).options) == best_of(options)


def random_ends(random: Random, sheets: int) -> list[Ends]:
    """Draw what each sheet may begin and end with."""
    return [
        Ends(
            frozenset(random.sample(SETTINGS, random.randint(1, 2))),
            frozenset(random.sample(SETTINGS, random.randint(1, 2))),
        )
        for _ in range(sheets)
    ]


def most_in_any_row(ends: Sequence[Ends]) -> int:
    """Return how many set-ups stay at most: each sheet begins and ends with any of its own."""
    ways = [[Option(a, b) for a in one.firsts for b in one.lasts] for one in ends]
    return best_of(ways)


@pytest.mark.parametrize("seed", range(40))
def test_what_can_be_kept_is_counted(seed: int) -> None:
    """Of up to six sheets just as many set-ups can stay as in the best of all rows."""
    random = Random(seed)
    ends = random_ends(random, random.randint(2, 4) if seed % 4 else 6)
    if len(ends) == 6:
        ends = [
            Ends(frozenset(sorted(one.firsts)[:1]), frozenset(sorted(one.lasts)[:1]))
            for one in ends
        ]
    assert most_kept(ends, Stop()) == most_in_any_row(ends)


def test_the_bound_on_what_is_kept_holds_when_it_is_stopped() -> None:
    """Asked to stop, it says that all but one may stay, which is always true."""
    stop = Stop()
    stop.ask()
    same = Ends(frozenset(SETTINGS[:1]), frozenset(SETTINGS[:1]))
    assert most_kept([same] * 4, stop) == 3
    assert best_row([[Option(*SETTINGS[:2])]] * 3, stop).sheets == (0, 1, 2)


def test_only_ends_that_meet_are_shared() -> None:
    """A sheet shares its first settings with the last ones of others, not with its own."""
    alone = Ends(frozenset(SETTINGS[:1]), frozenset(SETTINGS[:2]))
    other = Ends(frozenset(SETTINGS[1:2]), frozenset(SETTINGS[2:3]))
    assert shared_ends([alone, other], 0) == Ends(frozenset(), frozenset(SETTINGS[1:2]))
    assert shared_ends([alone, other], 1) == Ends(frozenset(SETTINGS[1:2]), frozenset())
    assert most_kept([alone, other], Stop()) == 1
