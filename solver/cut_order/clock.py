"""What an order of passes takes, kept in step with the records of the cuts it becomes.

`shared.making.recording` says how each cut of a plan is made, from the plan as it is sawn. Here
the same is worked out pass by pass while an order is sought, from what a pass finds: which rail
is in hand, what is set, what lies on the support, and how much of its run is sawn off. Only
turning pieces over is left out: which face must be up can hang on what comes to lie beside it.
"""

from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass
from typing import Final, NamedTuple

from shared.cuts.forest import Forest, Pass, PieceRun
from shared.cuts.order_problem import Problem
from shared.job import Job
from shared.layout import LayoutSheet
from shared.lengths import Length
from shared.making.aim import Aim
from shared.making.devices import bed_of, device_of, loses
from shared.making.lifting import Moved
from shared.making.rail_choice import RailChoice, Rails
from shared.making.record import Bed
from shared.making.settings import LETTERS, Device
from shared.making.timing import cutting_s, lifting_s
from shared.plan import CutKind, Keep
from shared.shop import Axis, Shop, Support
from shared.stock import Stock
from shared.tree import extent, left_over, span
from shared.weighing import grams

MOST_WAYS: Final = 1_000
"""Lengths of a run that may be gone before one of its passes, as far as these are told apart."""
NOTHING: Final = -1
"""Stands for no setting, and no piece."""


class Doing(NamedTuple):
    """How a pass is made once so much of its run is sawn off.

    ``fixed_s`` is what it takes whatever came before: cutting, marking, skimming; ``laid_s`` and
    ``turned_s`` what laying its piece down and turning it take. ``colour`` is what is set for it,
    or `NOTHING`; ``bed`` what its rail lies on.
    """

    fixed_s: int
    laid_s: int
    turned_s: int
    colour: int
    device: Device
    bed: Bed
    long: Length


class Standing(NamedTuple):
    """What one pass leaves to the next.

    ``since`` passes are set for what stands, counted up to 2. ``pieces`` lie on the support, by
    number, as the saw went over them along ``axis``.
    """

    rails: Rails = Rails()
    colour: int = NOTHING
    device: Device | None = None
    since: int = 0
    pieces: tuple[int, int] = (NOTHING, NOTHING)
    axis: Axis = Axis.RIP


START: Final = Standing()
"""Nothing is in hand, set or on the support."""


@dataclass(frozen=True, slots=True)
class Step:
    """What a pass takes after others, in seconds, and what it leaves."""

    seconds: int
    standing: Standing
    lifts: bool


class Clock:
    """Tells what passes of one problem take, in the order in which they are made.

    ``shop`` is whose figures they take their seconds from, ``choice`` chooses its rails.
    """

    def __init__(
        self, job: Job, sheets: Iterable[LayoutSheet], forest: Forest, problem: Problem
    ) -> None:
        """Take the problem, whose pieces count here by their place, with all it comes from."""
        rows = {row.id: row for row in job.stock}
        self._stock = {sheet.id: rows[sheet.stock] for sheet in sheets}
        self.shop, self._forest, self.problem = job.shop, forest, problem
        self.choice = RailChoice(job.shop)
        self._turns = job.shop.support is Support.HORSES
        self._colours: dict[tuple[str, Device, Length], int] = {}
        self._known: dict[tuple[int, Length, bool], Doing] = {}
        self._taken: dict[tuple[Rails, Length], tuple[Rails, int, bool]] = {}
        self._runs = [forest.runs[one.run] for one in problem.made]
        self._lasts = [_last_of(run, job.shop) for run in self._runs]
        self._axes = [one.axis for one in problem.made]
        self._room = [_room(run, place, problem) for place, run in enumerate(self._runs)]

    def doing(self, number: int, done: int) -> Doing:
        """Return how a pass is made when others are: a set of passes, one bit for each."""
        begun, last = self._begun(number, done)
        return self._way(number, begun, last=last)

    def ways(self, number: int, first: int, never: int, most: int = MOST_WAYS) -> set[Doing] | None:
        """Return all ways in which a pass may come to be made; ``None`` if they may be too many.

        Passes ``first`` are made before it in every order, and those of ``never`` after it.
        """
        room = self._room[number]
        if room is None:
            return {self.doing(number, 0)}
        counts = Counter(takes for other, takes in room.others if not (first | never) >> other & 1)
        base = room.trim + sum(takes for other, takes in room.others if first >> other & 1)
        begun = {base}
        for takes, count in counts.items():
            begun = {one + takes * times for one in begun for times in range(count + 1)}
            if len(begun) > most:
                return None
        whole = base + sum(takes * count for takes, count in counts.items())
        ends = room.ends and not any(never >> other & 1 for other, _ in room.others)
        return {self._way(number, one, last=ends and one == whole) for one in begun}

    def _way(self, number: int, begun: Length, *, last: bool) -> Doing:
        key = (number, begun, last)
        found = self._known.get(key)
        if found is None:
            found = self._known[key] = self._work_out(number, begun, last=last)
        return found

    def step(self, standing: Standing, number: int, done: int) -> Step:
        """Make a pass when others are made."""
        doing = self.doing(number, done)
        rails, seconds, change = standing.rails, doing.fixed_s, False
        if doing.bed is not Bed.NONE and self.choice.ways:
            rails, took, change = self._take(rails, doing.long)
            seconds += took
        colour, device, since = standing.colour, standing.device, standing.since
        if loses(device, doing.bed, self.shop, change=change):
            colour, device = NOTHING, None
        sets = doing.colour not in {NOTHING, colour}
        if sets:
            seconds += self.shop.setup_s
            colour, device, since = doing.colour, doing.device, 1
        elif doing.colour != NOTHING:
            seconds += self.shop.measure_s if since == 1 else 0
            since = 2
        piece, axis = self.problem.piece_of[number], self._axes[number]
        lifts = True
        if piece not in standing.pieces:
            seconds += doing.laid_s
        elif axis is not standing.axis and self._turns:
            seconds += doing.turned_s
        else:
            lifts = False
        lies = (piece, self.problem.opens[number])
        return Step(seconds, Standing(rails, colour, device, since, lies, axis), lifts)

    def seconds(
        self, order: Iterable[int], standing: Standing = START, done: int | None = None
    ) -> int:
        """Return what passes take in an order; those made before are the problem's own start."""
        return self.run(order, standing, done)[0]

    def run(
        self, order: Iterable[int], standing: Standing = START, done: int | None = None
    ) -> tuple[int, Standing]:
        """Return what passes take in an order, and what they leave."""
        done = self.problem.start if done is None else done
        total = 0
        for number in order:
            step = self.step(standing, number, done)
            total += step.seconds
            standing, done = step.standing, done | 1 << number
        return total, standing

    def _take(self, rails: Rails, long: Length) -> tuple[Rails, int, bool]:
        found = self._taken.get((rails, long))
        if found is None:
            taken, shop = self.choice.take(rails, long), self.shop
            took = shop.rail_s * taken.change + shop.join_s * (taken.joins or taken.parted)
            found = self._taken[rails, long] = taken.rails, took, taken.change
        return found

    def _begun(self, number: int, done: int) -> tuple[Length, bool]:
        """Return how much of its run is gone before a pass, and whether it saws off the last."""
        room = self._room[number]
        if room is None:
            return 0, False
        begun, others = room.trim, 0
        for other, takes in room.others:
            if done >> other & 1:
                begun += takes
                others += 1
        return begun, room.ends and others == len(room.others)

    def _work_out(self, number: int, begun: Length, *, last: bool) -> Doing:
        one, run = self.problem.made[number], self._runs[number]
        shop, row = self.shop, self._stock[run.sheet]
        tool, kerf = one.tool, one.kerf
        if self._room[number] is not None:
            tool, kerf = self._lasts[number].saw(one.size) if last else self._lasts[number].usual
        aim = _aim(one, run, row, _Lies(begun, kerf, last=last))
        aim = aim._replace(fenced=shop.table is not None and tool == shop.table.tool)
        device = device_of(aim, shop)
        colour = NOTHING
        if device in LETTERS:
            setting = (tool, device, one.size)
            colour = self._colours.setdefault(setting, len(self._colours))
        skims = last and aim.other == 0 and one.kind is not CutKind.TRIM
        fixed = cutting_s(aim.long, shop) + shop.unguided_s * (device is Device.BOTH_ENDS)
        return Doing(
            fixed_s=fixed + shop.skim_s * skims,
            laid_s=lifting_s(Moved.LAID, aim.grams, shop, turn_over=False),
            turned_s=lifting_s(Moved.TURNED, aim.grams, shop, turn_over=False),
            colour=colour,
            device=device,
            bed=bed_of(aim, shop),
            long=aim.long,
        )


class _Room(NamedTuple):
    """What a pass finds in its run: what is trimmed, and the other passes with what they take.

    ``ends`` says that the one which is made last leaves a fall, or all of it to the blade.
    """

    trim: Length
    others: tuple[tuple[int, Length], ...]
    ends: bool


def _room(run: PieceRun, number: int, problem: Problem) -> _Room | None:
    """Return the room of a pass, ``None`` for a trim."""
    if problem.made[number].kind is CutKind.TRIM:
        return None
    its = problem.made[number].run
    exact = run.goes_on is not None or len(run.run.pieces) > sum(
        one.kind is not CutKind.TRIM for one in run.passes
    )
    kerf = run.passes[0].kerf if exact else _usual_kerf(run)
    others = tuple(
        (place, one.size + kerf)
        for place, one in enumerate(problem.made)
        if one.run == its and place != number and one.kind is not CutKind.TRIM
    )
    return _Room(run.run.trim, others, not exact)


def _usual_kerf(run: PieceRun) -> Length:
    saws = [one.kerf for one in run.passes if one.kind is not CutKind.TRIM]
    return saws[0]


class _Last(NamedTuple):
    """The saw of a run, and that of its last pass, which may be another."""

    usual: tuple[str, Length]
    table: tuple[str, Length] | None
    left: Length
    shop: Shop

    def saw(self, size: Length) -> tuple[str, Length]:
        """Return what saws off the last piece of a run, of such a size."""
        if self.table is None or not self.shop.goes_to_table(
            size, max(0, self.left - self.usual[1])
        ):
            return self.usual
        return self.table


def _last_of(run: PieceRun, shop: Shop) -> _Last:
    saws = [(one.tool, one.kerf) for one in run.passes if one.kind is not CutKind.TRIM]
    many = len(saws) > 1 or not run.passes
    usual = saws[0] if many and saws else (shop.tool, shop.kerf)
    if run.finishes or run.run.kerf:
        usual = saws[0] if saws else usual
        return _Last(usual, None, 0, shop)
    left = left_over(run.run, run.rect, usual[1])
    table = None if shop.table is None or left <= 0 else (shop.table.tool, shop.table.kerf)
    return _Last(usual, table, left, shop)


class _Lies(NamedTuple):
    """How much of a run is sawn off, the kerf, and whether its last piece is sawn off now."""

    begun: Length
    kerf: Length
    last: bool


def _aim(one: Pass, run: PieceRun, row: Stock, lies: _Lies) -> Aim:
    """Return what decides how a pass is made, over what earlier passes leave of its run."""
    begun, kerf, last = lies
    size, kind, keep = one.size, one.kind, one.keep
    rect, axis = run.rect, run.run.axis
    whole, long = extent(rect, axis), span(rect, axis)
    if kind is CutKind.TRIM:
        dust = min(kerf, size)
        near, far = size - dust, whole - size
    else:
        dust = min(kerf, whole - begun - size) if last else kerf
        near, far = size, whole - begun - size - dust
    return Aim(
        kind=kind,
        axis=axis,
        size=size,
        kept=near if keep is Keep.NEAR else far,
        other=far if keep is Keep.NEAR else near,
        long=long,
        grams=grams(long, whole - begun, row.thickness, row.density),
        sawn=begun + (rect.y if axis is Axis.RIP else rect.x) > 0 and not row.is_piece,
        fenced=False,
    )
