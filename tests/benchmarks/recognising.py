"""How quick cuts are found for a layout by hand: ``python -m tests.benchmarks.recognising``.

Prints medians, 95 of 100 and the worst, in milliseconds, over random sheets of 40 and of 100
parts: the yes or no while a part is dragged, one frame after the other; and what is asked
when it is let go: the tree of least sawing, or the parts that lock each other and which of
them to move. Once without limits, and once in the shop of common practice.
"""

import argparse
import random
import time
from collections.abc import Callable
from dataclasses import replace
from statistics import median, quantiles

from shared.geometry import Rect
from shared.lengths import MM, Length, Unit
from shared.plan import Placement
from shared.practice import usual
from shared.recognise import Allowed, find_tree, is_cuttable, problems
from shared.shop import CutRule

SHEET = Rect(x=0, y=0, length=2440 * MM, width=1220 * MM)
KERF = 3 * MM
USUAL = Allowed.of(usual(Unit.MM), CutRule())
PINWHEEL = [(0, 0, 2, 1), (2, 0, 1, 2), (1, 2, 2, 1), (0, 1, 1, 2), (1, 1, 1, 1)]


def main() -> None:
    """Measure and print one line for each question."""
    parser = argparse.ArgumentParser(description="Measures recognition.")
    parser.add_argument("--sheets", type=int, default=60)
    arguments = parser.parse_args()
    for number in (40, 100):
        for name, allowed in (("no limits", None), ("usual shop", USUAL)):
            measure(number, name, allowed, arguments.sheets)


def measure(number: int, name: str, allowed: Allowed | None, sheets: int) -> None:
    """Print the figures of sheets with so many parts."""
    chance = random.Random(5)
    for kind, layouts in kinds(number, sheets, chance).items():
        yes, no, tree, why = [], [], [], []
        for lying in layouts:
            spent, good = timed(lambda lying=lying: is_cuttable(SHEET, lying, KERF, None, allowed))
            (yes if good else no).append(spent)
            if good:
                tree.append(
                    timed(lambda lying=lying: find_tree(SHEET, lying, KERF, allowed=allowed))[0]
                )
            else:
                why.append(
                    timed(lambda lying=lying: problems(SHEET, lying, KERF, allowed=allowed))[0]
                )
        where = f"{number} parts, {name}, {kind}"
        say(f"{where}: yes", yes)
        say(f"{where}: no", no)
        say(f"{where}: tree", tree)
        say(f"{where}: why not", why)


def timed(work: Callable[[], object]) -> tuple[float, object]:
    """Return milliseconds, and what came of it."""
    begun = time.perf_counter()
    found = work()
    return 1000 * (time.perf_counter() - begun), found


def say(what: str, spent: list[float]) -> None:
    """Print one line."""
    if not spent:
        return
    p95 = quantiles(spent, n=20)[-1] if len(spent) > 1 else spent[0]
    print(
        f"{what:58} median {median(spent):7.2f}  p95 {p95:7.2f}  worst {max(spent):7.2f}  ({len(spent)})",
        flush=True,
    )


def kinds(number: int, sheets: int, chance: random.Random) -> dict[str, list[list[Placement]]]:
    """Return layouts of several kinds."""
    tight = [sawn(chance, number) for _ in range(sheets)]
    return {
        "tight": tight,
        "loose": [loosened(chance, lying) for lying in tight],
        "pinwheel": [with_pinwheel(chance, number) for _ in range(sheets // 3)],
        "grid": [grid(number) for _ in range(3)],
        "moved": [moved(chance, lying) for lying in tight for _ in range(4)],
    }


def sawn(chance: random.Random, number: int, top: Length = 0) -> list[Placement]:
    """Return parts that fill a sheet below some line, cut out at random."""
    cells = [(0, top, SHEET.length, SHEET.width - top)]
    while len(cells) < number:
        cells.sort(key=lambda cell: -cell[2] * cell[3])
        x, y, length, width = cells.pop(chance.randrange(min(3, len(cells))))
        if (length > width) == (chance.random() < 0.8):
            at = int(length * chance.uniform(0.3, 0.7))
            cells += [(x, y, at, width), (x + at + KERF, y, length - at - KERF, width)]
        else:
            at = int(width * chance.uniform(0.3, 0.7))
            cells += [(x, y, length, at), (x, y + at + KERF, length, width - at - KERF)]
    return [lies(f"p{index}", *cell) for index, cell in enumerate(cells)]


def lies(part: str, x: Length, y: Length, length: Length, width: Length) -> Placement:
    """Return a part that lies there."""
    return Placement(part=part, copy=1, sheet="1", x=x, y=y, length=length, width=width)


def loosened(chance: random.Random, lying: list[Placement]) -> list[Placement]:
    """Make parts smaller, so that gaps come about."""
    return [
        replace(
            one,
            length=int(one.length * chance.uniform(0.8, 1)),
            width=int(one.width * chance.uniform(0.8, 1)),
        )
        for one in lying
    ]


def moved(chance: random.Random, lying: list[Placement]) -> list[Placement]:
    """Leave out a tenth of the parts, and lay one of them into one of the gaps."""
    rest = list(lying)
    chance.shuffle(rest)
    out, rest = rest[: len(rest) // 10], rest[len(rest) // 10 :]
    hole, one = out[0], out[-1]
    x = hole.x + chance.choice((0, 0, 10 * MM))
    new = replace(one, x=x, y=hole.y, length=hole.length * 2 // 3, width=hole.width * 2 // 3)
    return [*rest, new]


def with_pinwheel(chance: random.Random, number: int) -> list[Placement]:
    """Return a full sheet with five parts in a corner that lock each other."""
    pitch = 120 * MM + KERF
    rest = sawn(chance, number - len(PINWHEEL), 3 * pitch)
    knot = [
        lies(f"w{index}", x * pitch, y * pitch, length * pitch - KERF, width * pitch - KERF)
        for index, (x, y, length, width) in enumerate(PINWHEEL)
    ]
    return rest + knot


def grid(number: int) -> list[Placement]:
    """Return parts that are all alike, in rows."""
    columns, rows = (8, 5) if number == 40 else (number // 10, 10)
    length = (SHEET.length - (columns - 1) * KERF) // columns * 9 // 10
    width = (SHEET.width - (rows - 1) * KERF) // rows * 9 // 10
    return [
        lies(f"g{column}-{row}", column * (length + KERF), row * (width + KERF), length, width)
        for column in range(columns)
        for row in range(rows)
    ]


if __name__ == "__main__":
    main()
