"""Lists whose parts are all as wide as the sheet, against the textbook cutting-stock optimum."""

from random import Random

import pytest

from shared.job import Job
from shared.lengths import MM
from shared.plan import MaterialProof
from shared.shop import Axis
from tests.solver.cutting_stock import Order, fewest_rolls
from tests.solver.some_jobs import job, part, sheet
from tests.solver.until_proven import until_proven

WORK = 400
ACROSS = 600 * MM

REELS = [Order(75, 8), Order(55, 10), Order(50, 24), Order(45, 35), Order(20, 48)]
"""Orders of a paper mill from rolls of 110: the cutting-stock example of R. Fourer, D. M. Gay,
B. W. Kernighan, "AMPL: A Modeling Language for Mathematical Programming" (also among the
examples of GLPK). Figures from memory: 47 rolls, and 46.25 by the linear program."""
ROLLS = [
    Order(size, count)
    for size, count in [
        (1380, 22), (1520, 25), (1560, 12), (1710, 14), (1820, 18), (1880, 18), (1930, 20),
        (2000, 10), (2050, 12), (2100, 14), (2140, 16), (2150, 18), (2200, 20),
    ]
]  # fmt: skip
"""Rolls of paper from master rolls of 5600: the worked example of the encyclopaedia article
"Cutting stock problem", which gives 73 as proven fewest. Figures from memory."""


def one_dimensional(orders: list[Order], room: int, kerf: int, along: Axis, unit: int = MM) -> Job:
    """Return the job whose parts fill the sheet in one direction, and share the other."""
    rip = along is Axis.RIP
    rows = [
        part(f"p{number}", *_turned(size * unit, ACROSS, rip), count)
        for number, (size, count) in enumerate(orders)
    ]
    return job(*rows, sheet("s", *_turned(room * unit, ACROSS, rip)), kerf=kerf * unit)


def _turned(x: int, y: int, turn: bool) -> tuple[int, int]:
    return (y, x) if turn else (x, y)


def proof(what: Job) -> MaterialProof:
    """Return what the planner proves; it must prove it."""
    plan = until_proven(what, WORK)
    assert plan.proof.proven
    return plan.proof.materials[0]


@pytest.mark.parametrize(
    ("orders", "room", "known"), [(REELS, 110, 47), (ROLLS, 5600, 73)], ids=["reels", "rolls"]
)
def test_published_orders_take_the_published_rolls(
    orders: list[Order], room: int, known: int
) -> None:
    """Textbook and planner both find the published number, and the planner proves it."""
    assert fewest_rolls(room, orders) == known
    assert proof(one_dimensional(orders, room, 0, Axis.CROSSCUT)).value == known


@pytest.mark.parametrize("seed", range(12))
def test_random_orders_take_the_fewest_rolls(seed: int) -> None:
    """With a kerf, and cut in either direction, the planner proves the textbook's number.

    A kerf between neighbours is a kerf more on every piece and on the roll.
    """
    rng = Random(seed)
    room, kerf = rng.randint(900, 2500), rng.choice((0, 2, 3))
    sizes = rng.sample(range(room // 8, room // 2 + 60), rng.randint(3, 7))
    orders = [Order(size, rng.randint(1, 9)) for size in sizes]
    widened = [Order(size + kerf, count) for size, count in orders]
    along = rng.choice(tuple(Axis))
    found = proof(one_dimensional(orders, room, kerf, along))
    assert found.value == fewest_rolls(room + kerf, widened)
