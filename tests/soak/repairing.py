"""Sheets spoiled at random and repaired: ``python -m tests.soak.repairing --n 300``.

Each sheet is sawn up at random, within a shop's limits or none, with or without a lock; then a
hand that aims badly moves parts until the sheet can't be cut. Every repair that is offered is
taken and sawn by the simulated saw, and no lock may have moved. Prints how many sheets get a
repair, how many parts it touches, and how long it takes until the first is known.
"""

import argparse
import random
import time
from collections.abc import Iterator
from dataclasses import dataclass, field, replace
from itertools import count, islice
from statistics import median

from layout_app.document.document import Document
from layout_app.document.edit_repair import repair_sheet
from layout_app.model import layout_edits
from layout_app.model.carry_over import with_waiting
from layout_app.model.locks import made, with_holds
from layout_app.model.merge_plan import with_layout
from layout_app.model.project import Project
from layout_app.model.repairing import Repair, repaired, repairs
from layout_app.model.sawing import saw
from layout_app.model.staying_locked import StayingLocked
from shared.holding import standing
from shared.job import Job
from shared.layout import Layout, LayoutSheet, Scope
from shared.lengths import MM, Length
from shared.parts import GrainRule, Part
from shared.plan import Placement
from shared.saw import verify
from shared.shop import Axis, Shop
from shared.stock import Stock, Trims
from shared.tree import Piece, Place, Run, places

LENGTH, WIDTH = 2440 * MM, 1220 * MM
LOOKED_AT = 3
"""Repairs taken of each sheet."""


@dataclass(slots=True)
class Count:
    """What was seen; ``false``, ``unlocked`` and ``not_undone`` ought to be 0."""

    sheets: int = 0
    repaired: int = 0
    without_aside: int = 0
    offered: int = 0
    false: int = 0
    unlocked: int = 0
    not_undone: int = 0
    touched: list[int] = field(default_factory=list)
    first_s: list[float] = field(default_factory=list)
    first_cpu_s: list[float] = field(default_factory=list)
    longest_bit_s: list[float] = field(default_factory=list)

    def told(self) -> str:
        """Return the figures on one line."""
        return (
            f"sheets={self.sheets}, repaired={self.repaired}, without setting aside="
            f"{self.without_aside}, offered={self.offered}, false={self.false},"
            f" unlocked={self.unlocked}, not_undone={self.not_undone},"
            f" touched median={median(self.touched or [0])} most={max(self.touched or [0])},"
            f" first ms p50={1000 * _at(self.first_s, 0.5):.0f}"
            f" p95={1000 * _at(self.first_s, 0.95):.0f} most={1000 * _at(self.first_s, 1):.0f},"
            f" of the processor p50={1000 * _at(self.first_cpu_s, 0.5):.0f}"
            f" p95={1000 * _at(self.first_cpu_s, 0.95):.0f},"
            f" bit ms p95={1000 * _at(self.longest_bit_s, 0.95):.0f}"
        )


def _at(values: list[float], share: float) -> float:
    return sorted(values)[min(len(values) - 1, int(share * len(values)))] if values else 0.0


def sawn_up(chance: random.Random, *, most: int = 20) -> Project:
    """Return a project with one sheet, sawn up at random into strips and parts."""
    kerf = chance.choice((3, 4)) * MM
    trims = chance.choice((Trims(), Trims(near=6 * MM, far=6 * MM, start=6 * MM, end=6 * MM)))
    limits = chance.choice(({}, {}, {"carry": 60 * MM, "hold": 90 * MM}))
    shop = Shop(kerf=kerf, **limits)
    strips, parts, y, names = [], [], trims.near, count(1)
    room = WIDTH - trims.far
    while room - y >= 80 * MM and len(parts) < most:
        width = min(chance.randrange(80, 500) * MM, room - y)
        pieces, x = [], trims.start
        end = LENGTH - trims.end - chance.choice((0, 0, 300, 700)) * MM
        while end - x >= 150 * MM and len(parts) < most:
            length = min(chance.randrange(150, 1000) * MM, end - x)
            name = f"p{next(names)}"
            rule = chance.choice(tuple(GrainRule))
            rule = GrainRule.ALONG_LENGTH if rule is GrainRule.ALONG_WIDTH else rule
            parts.append(
                Part(
                    id=name,
                    name=f"Part {name[1:]}",
                    copies=1,
                    length=length,
                    width=width,
                    material="ply",
                    grain_rule=rule,
                )
            )
            pieces.append(Piece(size=length, place=Place(part=name, copy=1)))
            x += length + kerf
        strip = Run(axis=Axis.CROSSCUT, trim=trims.start, pieces=tuple(pieces))
        strips.append(Piece(size=width, run=strip))
        y += width + kerf
        if chance.random() < 0.15:
            break
    stock = Stock(
        id="s", name="sheet", material="ply", length=LENGTH, width=WIDTH, thickness=18 * MM,
        trims=trims,
    )  # fmt: skip
    job = Job(name="Spoiled", parts=tuple(parts), stock=(stock,), shop=shop)
    tree = Run(axis=Axis.RIP, trim=trims.near, pieces=tuple(strips))
    lying = tuple(
        Placement(
            part=at.part, copy=at.copy, sheet="1", x=rect.x, y=rect.y, length=rect.length,
            width=rect.width,
        )
        for at, rect in places(tree, stock.whole, kerf)
    )  # fmt: skip
    sheet = LayoutSheet(id="1", stock="s", placements=lying, tree=tree, yours=True)
    return Project(job=job, layout=with_waiting(job, (sheet,), Layout()))


def spoiled(project: Project, chance: random.Random) -> Project:
    """Return a project whose sheet a bad aim has spoiled; one part or strip may be locked."""
    sheet = project.layout.sheets[0]
    if chance.random() < 0.4:
        scope = chance.choice((Scope.PART, Scope.STRIP))
        holds = made(project, scope, [chance.choice(sheet.placements).key])
        project = replace(project, layout=with_holds(project.layout, holds))
    fast = StayingLocked(project, "1").copies
    free = [one for one in sheet.placements if one.key not in fast] or [sheet.placements[0]]
    for _ in range(8):
        one = project.layout.find(chance.choice(free).key)
        assert one is not None
        new = replace(one, x=max(0, one.x + by) if (by := _aim(chance)) else one.x)
        new = replace(new, y=max(0, new.y + _aim(chance)))
        if chance.random() < 0.3:
            new = replace(
                new, x=chance.randrange(0, LENGTH - one.length + 1),
                y=chance.randrange(0, WIDTH - one.width + 1),
            )  # fmt: skip
        project = with_layout(project, layout_edits.place(project.job, project.layout, new))
        if project.layout.sheets[0].tree is None and chance.random() < 0.6:
            break
    return project


def _aim(chance: random.Random) -> Length:
    """Return how far off a drop is: some pixels on the screen are some ten millimetres."""
    return chance.randrange(-60, 61) * MM // 2


def try_repairs(number: int, seed: int = 0, most: int = 20) -> Count:
    """Spoil and repair so many sheets; raise nothing, count what is wrong."""
    chance, seen = random.Random(seed), Count()
    while seen.sheets < number:
        project = spoiled(sawn_up(chance, most=most), chance)
        if not saw(project).problems:
            continue
        seen.sheets += 1
        offered = list(islice(_timed(project, seen), LOOKED_AT))
        seen.repaired += bool(offered)
        for one in offered:
            _judge(project, one, seen)
            _take_back(project, one, seen)
        if offered:
            seen.touched.append(offered[0].touched)
            seen.without_aside += not offered[0].aside
    return seen


def _timed(project: Project, seen: Count) -> Iterator[Repair]:
    start = before = time.perf_counter()
    busy = time.process_time()
    longest, known = 0.0, False
    for one in repairs(project, "1"):
        now = time.perf_counter()
        longest, before = max(longest, now - before), now
        if one is not None:
            if not known:
                seen.first_s.append(now - start)
                seen.first_cpu_s.append(time.process_time() - busy)
                seen.longest_bit_s.append(longest)
            known = True
            yield one
            before = time.perf_counter()


def _judge(project: Project, repair: Repair, seen: Count) -> None:
    """Take a repair: the saw has to accept it, and locks have to be where they were."""
    after = repaired(project, repair)
    sawn = saw(after)
    seen.offered += 1
    empty = not after.layout.sheets or not after.layout.sheets[0].placements
    good = not sawn.problems and (empty or (sawn.plan is not None and not verify(sawn.plan)))
    seen.false += not good
    if project.layout.holds:
        locked = StayingLocked(project, "1")
        stay = {one for one in project.layout.sheet("1").placements if one.key in locked.copies}
        in_force, _ = standing(after.job, after.layout)
        kept = locked.are_kept(after) and stay <= set(after.layout.sheet("1").placements)
        seen.unlocked += not (kept and (not stay or bool(in_force)))


def _take_back(project: Project, repair: Repair, seen: Count) -> None:
    """Take a repair in a document and undo it: all has to be as it was, last cuts included."""
    document = Document(project)
    before = document.sawn
    last = [one.last for one in document.layout.sheets]
    taken = repair_sheet(document, repair)
    steps = document.undo_stack.index()
    document.undo()
    same = document.sawn == before and [one.last for one in document.layout.sheets] == last
    seen.not_undone += not (taken and steps == 1 and same)


def main() -> None:
    """Spoil and repair."""
    words = argparse.ArgumentParser(description=__doc__)
    words.add_argument("--n", type=int, default=300)
    words.add_argument("--seed", type=int, default=0)
    words.add_argument("--most", type=int, default=20, help="parts of a sheet")
    given = words.parse_args()
    print(try_repairs(given.n, given.seed, given.most).told())


if __name__ == "__main__":
    main()
