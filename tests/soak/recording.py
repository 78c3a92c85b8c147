"""Records of random jobs, held against the simulated saw: ``python -m tests.soak.recording``.

Each job has sheets sawn up at random, parts that show a face, are finished or wait, and a shop
with any rails, joined or not, or a saw without a rail, with any guide, stop, base, support and
table saw. What the saw accepts of them gets its records; each record is then read by the
simulated saw. Sheets whose cuts are beyond the limits of the shop stay as they lie. Prints how
many jobs, cuts and records of each kind there were, and each that is refused.
"""

import argparse
from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field, replace
from random import Random

from shared.cuts.sequence import saw_up
from shared.cuts.table_runs import can_be_tabled
from shared.geometry import Rect
from shared.job import Job
from shared.layout import LayoutSheet
from shared.lengths import INCH, MM, Length
from shared.making.record import CutRecord
from shared.making.recording import records
from shared.parts import GrainRule, Part
from shared.plan import Placement, Plan
from shared.saw import verify
from shared.saw.records import wrong_records
from shared.shop import Axis, Hand, Rail, RunsOn, SawBase, Shop, Span, Support, TableSaw
from shared.stock import SheetGrain, Stock, Trims, orientations
from shared.tree import Piece, Place, Run

SIZES = ((2440, 1220), (1525, 1525), (2800, 2070), (1200, 600), (640, 480))
RAILS = (800, 1080, 1400, 1600, 1900, 2700, 3000)
MATERIALS = ("birch ply", "white melamine", "MDF", "oak veneer")


def main() -> None:
    """Write and read records, and print the counts."""
    parser = argparse.ArgumentParser(description="Reads the records of random jobs.")
    parser.add_argument("--n", type=int, default=10_000)
    parser.add_argument("--seed", type=int, default=0)
    asked = parser.parse_args()
    counts, refused = compare(asked.n, asked.seed)
    print(dict(sorted(counts.items())))
    print("\n".join(refused) or "none refused")


def compare(number: int, seed: int = 0) -> tuple[Counter[str], list[str]]:
    """Return what was read of so many jobs, and what the saw refused, in words."""
    counts: Counter[str] = Counter()
    refused: list[str] = []
    for job in range(seed, seed + number):
        rng = Random(job)
        shop = any_shop(rng)
        plan = any_plan(rng, shop)
        if plan is None:
            counts["not accepted"] += 1
            continue
        made = records((plan,), shop)
        counts["jobs"] += 1
        count(counts, made, plan)
        refused += [f"job {job}: {one.sentence}" for one in wrong_records((plan,), shop, made)]
    return counts, refused


def count(counts: Counter[str], made: Sequence[CutRecord], plan: Plan) -> None:
    """Count the records of each kind."""
    counts["cuts"] += len(made)
    counts["jobs within all limits"] += not any(sheet.stays for sheet in plan.sheets)
    for one in made:
        counts[f"led by {one.way}"] += 1
        counts[f"on {one.bed}"] += 1
        counts[f"set by {one.setting.device}"] += 1
        counts["set anew"] += one.anew
        counts["proves"] += one.proves
        counts["turned over"] += one.turn_over
        counts["guarded"] += bool(one.guards)
        counts["sizes to check"] += len(one.checks)
        if one.rail is not None:
            counts["rail changed"] += one.rail.change
            counts["rails joined"] += one.rail.rail.joined > 1
            counts["rails parted"] += one.rail.parted
            counts["rail too short"] += not one.rail.enough


def any_shop(rng: Random) -> Shop:
    """Return a shop such as somebody might have."""
    lengths = rng.sample(RAILS, rng.randint(0, 3))
    rails = tuple(
        Rail(length=mm * MM, joined=rng.choice((1, 1, 2, 3)), count=rng.choice((1, 2, 3)))
        for mm in lengths
    )
    edge = rng.random() < 0.3
    kerf = rng.choice((0, 18 * MM // 10, 22 * MM // 10, INCH // 8))
    base = _base(rng, kerf)
    span = Span(least=rng.choice((0, 150)) * MM, most=rng.choice((200, 610, 760)) * MM)
    return Shop(
        kerf=kerf,
        runs_on=RunsOn.STRAIGHTEDGE if edge else RunsOn.RAIL,
        base=base if edge else None,
        rails=tuple(replace(one, count=max(one.count, one.joined)) for one in rails),
        rail_width=rng.choice((0, 100, 180, 190)) * MM,
        rail_side=rng.choice(tuple(Hand)),
        splinter_guard=rng.random() < 0.3,
        overhang=rng.choice((0, 250, 254)) * MM,
        guide=rng.choice((None, span)),
        stop=rng.choice((None, Span(most=1200 * MM))),
        square=rng.choice((0, 600 * MM)),
        support=rng.choice(tuple(Support)),
        carry=rng.choice((0, 0, 60, 100)) * MM,
        hold=rng.choice((0, 0, 300)) * MM,
        table=rng.choice((None, _table(rng))),
        lift_g=rng.choice((0, 5_000, 23_000)),
        turn_g=rng.choice((0, 46_000)),
    )


def _base(rng: Random, kerf: Length) -> SawBase:
    """Return a base whose figures agree: from either edge the blade is a kerf thick."""
    left, right = rng.randint(30, 60) * MM, rng.randint(90, 130) * MM
    return SawBase(
        left_near=left,
        left_far=left + kerf,
        right_near=right,
        right_far=right + kerf,
        length=rng.choice((250, 300)) * MM,
    )


def _table(rng: Random) -> TableSaw:
    return TableSaw(
        kerf=rng.choice((24 * MM // 10, 32 * MM // 10)),
        fence=Span(least=rng.choice((0, 25)) * MM, most=rng.choice((300, 610)) * MM),
        longest=rng.choice((0, 1200)) * MM,
        widest=600 * MM,
        heaviest_g=15_000,
    )


def any_plan(rng: Random, shop: Shop) -> Plan | None:
    """Return a plan of sheets sawn up at random; ``None`` if the saw does not accept it."""
    job, sheets = any_job(rng, shop)
    order = [cut.key for cut in saw_up(job, sheets).cuts]
    if rng.random() < 0.3:
        rng.shuffle(order)
    plan = saw_up(job, sheets, order=order, first=rng.choice((1, 1, 41)))
    if verify(plan):
        plan = saw_up(job, sheets, order=order, stays=[one.id for one in sheets])
    return None if verify(plan) else plan


def any_job(rng: Random, shop: Shop) -> tuple[Job, list[LayoutSheet]]:
    """Return a job, and sheets sawn up at random that yield its parts."""
    rows = [_row(rng, number) for number in (1, 2)]
    grower = _Grower(rng, shop)
    sheets = []
    for number in range(1, rng.randint(1, 3) + 1):
        row = rng.choice(rows)
        sheets.append(grower.sheet(str(number), row))
    parts = tuple(grower.parts.values())
    return Job(name="Any", parts=parts, stock=tuple(rows), shop=shop), sheets


def _row(rng: Random, number: int) -> Stock:
    length, width = rng.choice(SIZES)
    trims = [rng.choice((0, 0, 2, 10)) * MM for _ in range(4)]
    return Stock(
        id=f"s{number}",
        name=f"Sheet {number}",
        material=rng.choice(MATERIALS),
        length=length * MM,
        width=width * MM,
        thickness=rng.choice((6, 18)) * MM,
        grain=rng.choice(tuple(SheetGrain)),
        density=rng.choice((0, 590, 680, 769)),
        trims=Trims(near=trims[0], far=trims[1], start=trims[2], end=trims[3]),
    )


@dataclass(slots=True)
class _Grower:
    """Saws sheets up at random, and takes what comes of it for parts."""

    rng: Random
    shop: Shop
    parts: dict[tuple[object, ...], Part] = field(default_factory=dict)
    row: Stock = field(init=False)
    id: str = ""
    lying: list[Placement] = field(default_factory=list)

    def sheet(self, name: str, row: Stock) -> LayoutSheet:
        """Return a sheet of a row with its tree and what lies on it."""
        self.id, self.row, self.lying = name, row, []
        tree = self._run(self.rng.choice(tuple(Axis)), row.whole, 1)
        return LayoutSheet(id=name, stock=row.id, placements=tuple(self.lying), tree=tree)

    def _run(self, axis: Axis, rect: Rect, level: int) -> Run | None:
        trims = self.row.trims
        trim = (trims.near if axis is Axis.RIP else trims.start) if level <= 2 else 0
        room = (rect.width if axis is Axis.RIP else rect.length) - trim
        kerf = self._kerf(axis, rect, trim)
        sizes = tuple(self._sizes(room, max(kerf, self.shop.kerf)))
        if not sizes:
            return None
        bare = Run(axis=axis, trim=trim, pieces=tuple(Piece(size=one) for one in sizes), kerf=kerf)
        if kerf and not can_be_tabled(bare, rect, self.row, self.shop):
            bare = replace(bare, kerf=0)
        pieces, start = [], trim
        for size in sizes:
            if axis is Axis.RIP:
                box = Rect(x=rect.x, y=rect.y + start, length=rect.length, width=size)
            else:
                box = Rect(x=rect.x + start, y=rect.y, length=size, width=rect.width)
            pieces.append(self._piece(axis, box, size, level))
            start += size + bare.kerf_or(self.shop.kerf)
        return replace(bare, pieces=tuple(pieces))

    def _kerf(self, axis: Axis, rect: Rect, trim: Length) -> Length:
        table = self.shop.table
        able = table is not None and axis is Axis.RIP and rect.y + trim > 0
        return table.kerf if able and table is not None and self.rng.random() < 0.5 else 0

    def _sizes(self, room: Length, kerf: Length) -> Iterator[Length]:
        rng, last, count = self.rng, 0, 0
        while room > 20 * MM and count < 5 and (not count or rng.random() < 0.7):
            skim, chance = room - max(kerf // 2, 1), rng.random()
            if chance < 0.15:
                size = rng.choice((room, skim))
            elif chance < 0.5 and 0 < last <= room:
                size = last
            else:
                size = rng.randint(10, room // MM) * MM
            yield size
            last, room, count = size, room - size - kerf, count + 1

    def _piece(self, axis: Axis, rect: Rect, size: Length, level: int) -> Piece:
        chance, trims, row = self.rng.random(), self.row.trims, self.row
        if chance < 0.55 and level < 4:
            return Piece(size=size, run=self._run(axis.other, rect, level + 1))
        usable = (
            rect.x >= trims.start
            and rect.y >= trims.near
            and rect.right <= row.length - trims.end
            and rect.bottom <= row.width - trims.far
        )
        return Piece(size=size, place=self._place(rect) if usable and chance < 0.9 else None)

    def _place(self, rect: Rect) -> Place:
        rng, row = self.rng, self.row
        rule = rng.choice(tuple(GrainRule))
        turned = rng.choice(orientations(rule, row.grain))
        sides = (rect.width, rect.length) if turned else (rect.length, rect.width)
        large = min(sides) > 100 * MM
        show, oversize = rng.random() < 0.5, 6 * MM if large and rng.random() < 0.1 else 0
        fit = 5 * MM if large and not oversize and rng.random() < 0.1 else 0
        done = fit > 0 and rng.random() < 0.5
        kind = (*sides, row.material, rule, show, oversize, fit, done)
        known = self.parts.get(kind)
        part = Part(
            id=f"p{len(self.parts) + 1}" if known is None else known.id,
            name=f"Part {len(self.parts) + 1}" if known is None else known.name,
            copies=1 if known is None else known.copies + 1,
            length=sides[0] - oversize - fit,
            width=sides[1] - oversize - fit,
            material=row.material,
            grain_rule=rule,
            oversize=oversize,
            fit_allowance=fit,
            measured_length=sides[0] - 7 * MM if done else 0,
            measured_width=sides[1] - 7 * MM if done else 0,
            show=show,
        )
        self.parts[kind] = part
        self.lying.append(
            Placement(
                part=part.id,
                copy=part.copies,
                sheet=self.id,
                x=rect.x,
                y=rect.y,
                length=rect.length,
                width=rect.width,
                turned=turned,
            )
        )
        return Place(part=part.id, copy=part.copies, turned=turned)


if __name__ == "__main__":
    main()
