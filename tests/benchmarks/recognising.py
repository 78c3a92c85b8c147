"""How quick cuts are found for a layout by hand: ``python -m tests.benchmarks.recognising``.

Prints medians, 95 of 100 and the worst, in milliseconds, over random sheets of 40 and of 100
parts. While a part is dragged: whether the sheet can be cut with it there, frame after frame
along a way over the sheet, the first frame of a gesture apart. As the window does it, so many
pieces of the sheet are looked at in a frame and the rest in the frames after it: ``frame`` is one
of these, ``yes`` and ``no`` all of them together that it took. Python's collector of garbage
rests, as it does while the hand holds something. When it is let go: the tree of
least sawing, and why there is none: the parts that lock each other, and which of them to move.
Once without limits, and once in the shop of common practice. On a busy machine ``--cpu`` counts
the time of the processor only.
"""

import argparse
import gc
import random
import time
from collections.abc import Callable
from dataclasses import replace
from statistics import median, quantiles

from layout_app.bench.carrying import AT_ONCE
from shared.geometry import Rect
from shared.lengths import MM, Length, Unit
from shared.plan import Placement
from shared.practice import usual
from shared.recognise import Allowed, SheetGround, Watch, find_tree, is_cuttable, problems
from shared.shop import CutRule

SHEET = Rect(x=0, y=0, length=2440 * MM, width=1220 * MM)
KERF = 3 * MM
USUAL = Allowed.of(usual(Unit.MM), CutRule())
PINWHEEL = [(0, 0, 2, 1), (2, 0, 1, 2), (1, 2, 2, 1), (0, 1, 1, 2), (1, 1, 1, 1)]

CLOCK = [time.perf_counter]


def main() -> None:
    """Measure and print one line for each question."""
    parser = argparse.ArgumentParser(description="Measures recognition.")
    parser.add_argument("--sheets", type=int, default=60)
    parser.add_argument("--cpu", action="store_true")
    arguments = parser.parse_args()
    gc.disable()
    CLOCK[:] = [time.process_time] if arguments.cpu else [time.perf_counter]
    for number in (40, 100):
        for name, allowed in (("no limits", None), ("usual shop", USUAL)):
            measure(number, name, allowed, arguments.sheets)


def measure(number: int, name: str, allowed: Allowed | None, sheets: int) -> None:
    """Print the figures of sheets with so many parts."""
    chance = random.Random(5)
    ground = SheetGround.of(SHEET, KERF, None, allowed)
    for kind, layouts in kinds(number, sheets, chance).items():
        spent: dict[str, list[float]] = {}
        for lying in layouts:
            drop(ground, lying, spent)
            if kind in {"strips", "tight"}:
                drag(ground, lying, spent, chance)
        for what, figures in spent.items():
            say(f"{number} parts, {name}, {kind}: {what}", figures)


def drop(ground: SheetGround, lying: list[Placement], spent: dict[str, list[float]]) -> None:
    """Note how long a tree takes, or the reason why there is none."""
    good = is_cuttable(SHEET, lying, KERF, None, ground.allowed)
    took, tree = timed(lambda: find_tree(SHEET, lying, KERF, allowed=ground.allowed))
    spent.setdefault("tree" if good else "no good tree", []).append(took)
    if tree is None:
        spent.setdefault("locking set", []).append(timed(lambda: problems(SHEET, lying, KERF))[0])


def drag(
    ground: SheetGround,
    lying: list[Placement],
    spent: dict[str, list[float]],
    chance: random.Random,
) -> None:
    """Note how long each frame takes while one part goes over the sheet, by corners of others."""
    held = chance.choice(lying)
    others = [one for one in lying if one is not held]
    watch = Watch(ground, others, find_tree(SHEET, lying, KERF, allowed=ground.allowed))
    small = replace(held, length=held.length // 2, width=held.width // 2)
    took, _ = timed(lambda: watch.is_good([held]))
    spent.setdefault("first frame", []).append(took)
    for frame in range(60):
        x, y = held.x, held.y
        if frame % 2:  # half of the frames round the free place, half anywhere
            x, y = chance.randrange(SHEET.length), chance.randrange(SHEET.width)
        at = replace(small, x=x + chance.randrange(20 * MM), y=y + chance.randrange(20 * MM))
        took, good = frames(watch, at)
        spent.setdefault("frame", []).extend(took)
        spent.setdefault("yes" if good else "no", []).append(sum(took))
        spent.setdefault("frames for a no", []).extend([] if good else [float(len(took))])


def frames(watch: Watch, at: Placement) -> tuple[list[float], bool]:
    """Return milliseconds of each frame until it is known whether a part may lie there."""
    took: list[float] = []
    states = AT_ONCE
    while True:
        ms, good = timed(lambda states=states: watch.look([at], states))
        took.append(ms)
        if good is not None:
            return took, bool(good)
        states *= 2


def timed(work: Callable[[], object]) -> tuple[float, object]:
    """Return milliseconds, and what came of it."""
    begun = CLOCK[0]()
    found = work()
    return 1000 * (CLOCK[0]() - begun), found


def say(what: str, spent: list[float]) -> None:
    """Print one line."""
    if not spent:
        return
    p95 = quantiles(spent, n=20)[-1] if len(spent) > 1 else spent[0]
    figures = f"median {median(spent):7.2f}  p95 {p95:7.2f}  worst {max(spent):7.2f}"
    print(f"{what:48} {figures}  ({len(spent)})", flush=True)


def kinds(number: int, sheets: int, chance: random.Random) -> dict[str, list[list[Placement]]]:
    """Return layouts of several kinds."""
    tight = [sawn(chance, number) for _ in range(sheets)]
    return {
        "strips": [strips(chance, number) for _ in range(sheets)],
        "tight": tight,
        "loose": [loosened(chance, lying) for lying in tight],
        "pinwheel": [with_pinwheel(chance, number) for _ in range(sheets // 3)],
        "grid": [grid(number) for _ in range(3)],
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


def strips(chance: random.Random, number: int) -> list[Placement]:
    """Return parts in strips, as they are planned: some of them lower than their strip."""
    lying: list[Placement] = []
    rows = 10
    high = (SHEET.width - (rows - 1) * KERF) // rows
    for row in range(rows):
        x, columns = 0, number // rows
        for column in range(columns):
            length = int(SHEET.length / columns * chance.uniform(0.7, 0.97))
            width = high - chance.choice((0, 0, 0, 10 * MM))
            lying.append(lies(f"p{row}-{column}", x, row * (high + KERF), length, width))
            x += length + KERF
    return lying


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
