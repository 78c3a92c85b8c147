"""Whether equal parts come off equal settings: ``python -m tests.soak.equal_parts``.

Plans the workshop lists (``--shop usual`` for the limits of common practice), the demo projects and
``--random`` made-up jobs, or reads the plans of a folder (``--plans DIR``), and counts from their
numbered cuts alone, which it saws again by itself:

*sized*
    Sizes of parts that have an equal: a copy of the same row, or a part of the same matched set
    with the same size in that direction.
*remains*
    Those that no cut was set to: the part is the far side of the last cut in that direction.
*stock left*
    Those of these for which there was a kerf more: beyond the run of cuts that ends with it, the
    next wider run of the same direction leaves a fall, or its last cut takes a whole kerf.
*keeps*, *held*
    Of these, where the fall is worth keeping and would not be a kerf narrower, and where part
    and kerf together are too small to be held. The others are *wrong*.

Blanks do not count, as later cuts bring them to size; nor sheets with bad places, where what
lies beyond may be spoiled, nor sheets that stay as they lay.
"""

import argparse
from collections import Counter
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from pathlib import Path
from random import Random
from typing import NamedTuple

from layout_app.store.plan_file import read_plan
from layout_app.store.project_file import read_project
from shared.geometry import Rect
from shared.job import Job, MatchGroup
from shared.lengths import MM, Length
from shared.parts import GrainRule, Part
from shared.plan import Cut, Placement, Plan, PlanSheet
from shared.practice import USUAL_SHOP, USUAL_TABLE
from shared.shop import Axis, Shop
from shared.stock import Stock, Trims
from solver.budget.stop import Budget
from solver.planning.steps import KERNEL, SOLVER
from solver.run import run
from tests.benchmarks.neutral import in_usual_shop, load_folder

ROOT = Path(__file__).parents[2]
LISTS, DEMOS = ROOT / "tests/benchmarks/workshop", ROOT / "assets"


@dataclass(slots=True, eq=False)
class _Run:
    """Cuts in one direction over one piece; ``rest`` is the name of what they leave of it.

    ``within`` is the run of the same direction that sawed the piece off, ``dust`` what the last
    cut took, in ticks.
    """

    axis: Axis
    rect: Rect
    rest: str
    within: "_Run | None"
    dust: Length = 0


class _Lying(NamedTuple):
    """A piece, the run that sized it in each direction, and in which it is what that run left.

    ``open`` is the run whose last cut left it.
    """

    rect: Rect
    sized: dict[Axis, _Run]
    free: frozenset[Axis] = frozenset()
    open: _Run | None = None


class Remaining(NamedTuple):
    """A part that is what remains though stock is left: across which cuts, its size there."""

    part: str
    copy: int
    sheet: str
    axis: Axis
    size: Length
    verdict: str


class Sawing:
    """The cuts of a plan, sawn again."""

    def __init__(self, plan: Plan) -> None:
        self._plan, self._shop = plan, plan.shop or Shop()
        self._sheets = {sheet.id: sheet for sheet in plan.sheets}
        self._parts = {part.id: part for part in plan.parts}
        self._lying = {sheet.id: _Lying(sheet.rect, {}) for sheet in plan.sheets}
        self._placed = {(one.sheet, one.rect) for one in plan.placements}
        self._home = {sheet.id: sheet.id for sheet in plan.sheets}
        for cut in plan.cuts:
            self._saw(cut)
        self._at = {(self._home[name], one.rect): one for name, one in self._lying.items()}

    def _saw(self, cut: Cut) -> None:
        piece, dust = self._lying.pop(cut.piece), cut.rect
        whole = piece.rect
        axis = Axis.RIP if dust.length == whole.length else Axis.CROSSCUT
        run = piece.open
        if run is None or run.axis is not axis:
            run = _Run(axis, whole, cut.piece, piece.sized.get(axis))
        near, far = _sides(whole, dust, axis)
        run.dust = _across(dust, axis)
        sized = {**piece.sized, axis: run}
        if cut.off:
            self._lying[cut.off] = _Lying(near, sized, piece.free - {axis})
            self._home[cut.off] = cut.sheet
        if far.length and far.width:
            self._lying[cut.piece] = _Lying(far, sized, piece.free | {axis}, run)

    def remaining(self, count: Counter[str]) -> Iterator[Remaining]:
        """Count the sizes of parts that have an equal; yield what remains with stock left."""
        for one, axis in self._with_equals():
            count["sized"] += 1
            piece = self._at[one.sheet, one.rect]
            if axis not in piece.free:
                continue
            count["remains"] += 1
            verdict = self._verdict(self._sheets[one.sheet], piece, axis)
            if verdict:
                count["stock left"] += 1
                count[verdict] += 1
                size = _across(one.rect, axis)
                yield Remaining(one.part, one.copy, one.sheet, axis, size, verdict)

    def _with_equals(self) -> Iterator[tuple[Placement, Axis]]:
        """Yield each part that has an equal, with the direction of the cuts that size it."""
        found = [
            (one, axis, key)
            for one in self._plan.placements
            if not self._sheets[one.sheet].stays and not self._parts[one.part].is_blank
            for axis in Axis
            for key in self._keys(one, axis)
        ]
        counts = Counter(key for _, _, key in found)
        seen = set()
        for one, axis, key in found:
            alike = self._parts[one.part].copies > 1 or counts[key] > 1
            if alike and (one.key, axis) not in seen:
                seen.add((one.key, axis))
                yield one, axis

    def _keys(self, one: Placement, axis: Axis) -> Iterator[tuple[object, ...]]:
        """Yield what parts have in common that have to be alike: row, or set and size."""
        wide = (axis is Axis.RIP) is not one.turned
        yield one.part, wide
        for made in self._plan.matches:
            if any(member.key == one.key for block in made.blocks for member in block.copies):
                yield made.name, wide, _across(one.rect, axis)

    def _verdict(self, sheet: PlanSheet, piece: _Lying, axis: Axis) -> str:
        """Say what speaks against a kerf more; ``""`` where there is none."""
        kerf, run = max(1, self._shop.kerf), piece.sized[axis].within
        while run is not None and (fall := self._spare(sheet, run)) < kerf:
            run = run.within
        if run is None or sheet.no_go:
            return ""
        long = _across(run.rect, Axis.CROSSCUT if axis is Axis.RIP else Axis.RIP)
        beyond = fall - kerf + self._trim(sheet, run)
        if self._shop.keeps(beyond, long) and not self._shop.keeps(beyond - kerf, long):
            return "keeps"
        return "held" if any(map(self._is_small, self._sized_anew(sheet, piece, axis))) else "wrong"

    def _is_small(self, rect: Rect) -> bool:
        """Whether a part and a kerf together cannot be held."""
        return max(rect.length, rect.width) + self._shop.kerf < self._shop.hold

    def _sized_anew(self, sheet: PlanSheet, piece: _Lying, axis: Axis) -> Iterator[Rect]:
        """Yield the parts that a kerf more would have a cut of their own for, the part too."""
        block, beyond = piece.sized[axis].rect, piece.sized[axis].within
        assert beyond is not None
        end = block.bottom if axis is Axis.RIP else block.right
        for home, rect in self._placed:
            ends = rect.bottom if axis is Axis.RIP else rect.right
            if home == sheet.id and ends == end and beyond.rect.contains(rect):
                yield rect

    def _spare(self, sheet: PlanSheet, run: _Run) -> Length:
        """Return how much more could be made of the pieces of a run, in ticks."""
        rest = self._lying.get(run.rest)
        if rest is None:
            return run.dust - self._trim(sheet, run) if self._is_gone(sheet, run) else 0
        if rest.open is not run or (sheet.id, rest.rect) in self._placed:
            return 0
        return _across(rest.rect, run.axis) + run.dust - self._trim(sheet, run)

    def _is_gone(self, sheet: PlanSheet, run: _Run) -> bool:
        """Whether the last cut of a run took all that was left of its piece."""
        last = [cut for cut in self._plan.cuts if cut.sheet == sheet.id and cut.piece == run.rest]
        return (
            bool(last)
            and _across(last[-1].rect, run.axis) == run.dust
            and ((last[-1].rect.length == run.rect.length) is (run.axis is Axis.RIP))
        )

    def _trim(self, sheet: PlanSheet, run: _Run) -> Length:
        """Return what a run must not use because it reaches the far edge or end of the sheet."""
        if run.axis is Axis.RIP:
            return sheet.trims.far if run.rect.bottom == sheet.width else 0
        return sheet.trims.end if run.rect.right == sheet.length else 0


def _sides(whole: Rect, dust: Rect, axis: Axis) -> tuple[Rect, Rect]:
    """Return what lies before and behind the dust of a cut."""
    if axis is Axis.RIP:
        near = Rect(x=whole.x, y=whole.y, length=whole.length, width=dust.y - whole.y)
        rest = whole.bottom - dust.bottom
        return near, Rect(x=whole.x, y=dust.bottom, length=whole.length, width=rest)
    near = Rect(x=whole.x, y=whole.y, length=dust.x - whole.x, width=whole.width)
    return near, Rect(x=dust.right, y=whole.y, length=whole.right - dust.right, width=whole.width)


def _across(rect: Rect, axis: Axis) -> Length:
    return rect.width if axis is Axis.RIP else rect.length


def counted(plans: Iterable[tuple[str, Plan]], *, told: bool = True) -> Counter[str]:
    """Return the counts over some plans; ``told`` prints what is wrong, one by one."""
    total: Counter[str] = Counter()
    for name, plan in plans:
        count: Counter[str] = Counter(plans=1, sheets=len(plan.sheets), cuts=len(plan.cuts))
        for one in Sawing(plan).remaining(count):
            if told and one.verdict == "wrong":
                print(f"{name}: {one.part}:{one.copy} on sheet {one.sheet}, {one.axis}, {one.size}")
        total += count
        print(name, dict(count), flush=True)
    return total


def saved(folder: Path) -> Iterator[tuple[str, Plan]]:
    """Yield the plans in a folder."""
    for path in sorted(folder.glob("*.json")):
        yield path.stem, read_plan(path)


def made(jobs: Iterable[Job], work: int) -> Iterator[tuple[str, Plan]]:
    """Yield the plan of each job, made with so many tries a step."""
    for job in jobs:
        plan = run(job, Budget(time_s=None, work=work, seed=0), lambda event: None)
        if plan is not None:
            yield job.name, plan


def demos() -> Iterator[Job]:
    """Yield the jobs of the demo projects."""
    for path in sorted(DEMOS.glob("*.ripfirst.json")):
        yield read_project(path).job


def some_job(seed: int) -> Job:
    """Return a made-up job: rows of equal parts, half of the jobs with limits, some with a set."""
    rng = Random(seed)
    parts = tuple(_some_part(rng, number) for number in range(1, rng.randint(3, 8)))
    groups: tuple[MatchGroup, ...] = ()
    if rng.random() < 0.4:
        parts = (*(replace(p, copies=min(p.copies, 4)) for p in parts[:-1]), _in_set(parts[-1]))
        groups = (MatchGroup(name="fronts", columns=rng.randint(1, 3)),)
    trims = rng.choice([0, 0, 10 * MM])
    stock = Stock(
        id="s1",
        name="sheet",
        material="ply",
        length=2440 * MM,
        width=1220 * MM,
        thickness=18 * MM,
        trims=Trims(near=trims, far=rng.choice([0, trims]), start=trims),
    )
    return Job(
        name=f"made up {seed}",
        parts=parts,
        stock=(stock,),
        shop=_some_shop(rng),
        groups=groups,
    )


def _some_part(rng: Random, number: int) -> Part:
    return Part(
        id=f"p{number}",
        name=f"p{number}",
        copies=rng.choice([1, 1, 2, 2, 3, 4, 6, 8]),
        length=rng.randint(8, 80) * 10 * MM + rng.choice([0, 0, 5 * MM]),
        width=rng.randint(8, 50) * 10 * MM + rng.choice([0, 0, 7 * MM]),
        material="ply",
        grain_rule=rng.choice([GrainRule.ALONG_LENGTH, GrainRule.EITHER]),
    )


def _in_set(part: Part) -> Part:
    return replace(part, copies=max(2, min(part.copies, 6)), group="fronts")


def _some_shop(rng: Random) -> Shop:
    kerf = rng.choice([0, 22, 32]) * MM // 10
    if rng.random() < 0.5:
        return Shop(kerf=kerf)
    table = rng.choice([None, USUAL_TABLE])
    return replace(USUAL_SHOP, kerf=kerf or 22 * MM // 10, table=table)


def main() -> None:
    """Count and print."""
    parser = argparse.ArgumentParser(description="Counts equal parts that are what remains.")
    parser.add_argument("--plans", type=Path, metavar="DIR")
    parser.add_argument("--shop", choices=("any", "usual"), default="any")
    parser.add_argument("--random", type=int, default=0, metavar="N")
    parser.add_argument("--first", type=int, default=0, metavar="SEED")
    parser.add_argument("--work", type=int, default=200, metavar="N")
    asked = parser.parse_args()
    if asked.plans is not None:
        print(dict(counted(saved(asked.plans))))
        return
    KERNEL.wait()
    SOLVER.wait()
    if asked.random:
        jobs: Iterable[Job] = map(some_job, range(asked.first, asked.first + asked.random))
    else:
        lists = load_folder(LISTS)
        usual = asked.shop == "usual"
        jobs = [*((in_usual_shop(one) if usual else one).job for one in lists), *demos()]
    print(dict(counted(made(jobs, asked.work))))


if __name__ == "__main__":
    main()
