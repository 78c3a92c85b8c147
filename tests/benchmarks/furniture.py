"""Lists of furniture parts of any length, always the same for the same number and seed.

They are ours, made up for measuring how time and gap grow: kitchen-like cabinets of 18 mm
board in steps of 50 mm, a third of them with an odd width as a wall leaves it. Sides, doors
and fronts keep their grain; bottoms, shelves and drawer parts may turn. 500 parts take some
40 sheets of 2440 × 1220 mm; the kerf is 2.2 mm.
"""

from collections import Counter
from collections.abc import Iterator
from random import Random
from typing import NamedTuple

from shared.job import Job
from shared.lengths import MM
from shared.parts import GrainRule, Part
from shared.shop import Shop
from shared.stock import Stock
from tests.benchmarks.neutral import CUT_S, SETUP_S

MATERIAL = "18 mm board"
BOARD = 18
HEIGHTS, DEPTHS = (720, 900, 1200), (350, 450, 560)


class Panel(NamedTuple):
    """One part: its name, size in mm, and whether it may turn."""

    name: str
    length: int
    width: int
    may_turn: bool = False


def furniture(parts: int, seed: int = 0) -> Job:
    """Return a job of just so many parts."""
    panels = _panels(Random(seed))
    counts = Counter(next(panels) for _ in range(parts))
    return Job(
        name=f"{parts} parts of furniture",
        parts=tuple(_part(number, *entry) for number, entry in enumerate(counts.items(), 1)),
        stock=(
            Stock(
                id="s1",
                name="sheet",
                material=MATERIAL,
                length=2440 * MM,
                width=1220 * MM,
                thickness=BOARD * MM,
            ),
        ),
        shop=Shop(kerf=22 * MM // 10, cut_s=CUT_S, setup_s=SETUP_S, skim_s=0),
    )


def _part(number: int, panel: Panel, copies: int) -> Part:
    return Part(
        id=f"p{number}",
        name=panel.name,
        copies=copies,
        length=panel.length * MM,
        width=panel.width * MM,
        material=MATERIAL,
        grain_rule=GrainRule.EITHER if panel.may_turn else GrainRule.ALONG_LENGTH,
    )


def _panels(rng: Random) -> Iterator[Panel]:
    """Yield the panels of one cabinet after the other, without end."""
    while True:
        odd = rng.choice((0, 0, rng.randint(1, 49)))
        width, height, depth = (
            50 * rng.randint(6, 20) + odd,
            rng.choice(HEIGHTS),
            rng.choice(DEPTHS),
        )
        yield from _carcass(rng, width, height, depth)
        yield from _drawers(rng, width, depth) if rng.random() < 0.4 else _doors(width, height)


def _carcass(rng: Random, width: int, height: int, depth: int) -> Iterator[Panel]:
    inside = width - 2 * BOARD
    yield from [Panel("side", height, depth)] * 2
    yield from [Panel("bottom", inside, depth, may_turn=True)] * 2
    yield from [Panel("shelf", inside - 2, depth - 20, may_turn=True)] * rng.randint(1, 3)


def _doors(width: int, height: int) -> Iterator[Panel]:
    doors = 1 if width < 550 else 2
    yield from [Panel("door", height - 4, (width - 3 * doors) // doors)] * doors


def _drawers(rng: Random, width: int, depth: int) -> Iterator[Panel]:
    """Yield three drawers: fronts, sides, and what stands between these."""
    box, length = rng.choice((100, 150)), depth - depth % 50 - 50
    for _ in range(3):
        yield Panel("drawer front", width - 4, 236)
        yield from [Panel("drawer side", length, box, may_turn=True)] * 2
        yield from [Panel("drawer back", width - 2 * BOARD - 50, box, may_turn=True)] * 2
