"""Sheets with bad places: first on clear rectangles of them, then all around the places.

A material is planned as if its sheets had no bad places, which also bounds what is
possible, and its sheets are then arranged so that least lies on the bad places. What has
to give way finds room in the slots that are left, or on another sheet. Of this and the
plan on clear rectangles the better one stands.
"""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, field, replace
from random import Random

from shared.costs import Costs
from shared.plan import Goal, Unplaced
from solver.budget.stop import Budget, Stop
from solver.defects.arranging import Arrangement, Chance, spread
from solver.defects.spoiled import (
    area_of,
    as_if_sound,
    carried_back,
    carried_over,
    completed,
    going_round,
    is_spoiled,
    missing_from,
)
from solver.limits.measure import cost, goal_of
from solver.material.around import SheetAroundDefects
from solver.material.instance import Instance, Solution
from solver.outcome import EndReason
from solver.planning.plans import compose
from solver.planning.proof_status import Over, Spoiled, proof_status_of, unit_of, ways_of
from solver.planning.publisher import Publisher
from solver.planning.trouble import BeyondLimits, RefusedPlan, Trouble
from solver.prepare.instances import Material, Prepared, merged
from solver.prepare.missing_stock import no_more
from solver.search.constructive import first
from solver.solutions.incumbent import Incumbent

SOUND_PART = 0.3
"""Part of a run for planning as if there were no bad places, and on clear rectangles."""
DETOUR_PART = 0.1
"""Part of a run for filling what one arrangement leaves free."""
DETOURS = 4
"""Arrangements that are filled; each has at most that part of the run."""
COUNTED_DETOURS = 2
"""The same where work is counted: each does all the work that is asked for."""
AGAIN = 4
"""Times that sheets which go round already are arranged anew."""
MOST_MET = 8
"""Solutions as if there were no bad places of which the one is taken that loses least."""
FEW = 12
"""Of so few parts the proof on clear rectangles is looked for: it may solve the job whole."""
LONGEST_S = 12.0
"""Runs longer than this, or without an end, count as so long."""

Work = Callable[[Sequence[Incumbent], Budget, Stop], EndReason]
"""Has everybody work on some incumbents."""


def incumbents_of(prepared: Prepared) -> list[Incumbent]:
    """Return an incumbent for each material, with a first solution on clear rectangles."""
    return [_incumbent(prepared, instance) for instance in prepared.instances]


def _incumbent(prepared: Prepared, instance: Instance) -> Incumbent:
    if not is_spoiled(prepared.job.stock, instance):
        return Incumbent(instance, first(instance))
    made = as_if_sound(prepared, instance)
    whole = made.instance or instance
    sound = _Sound(whole, first(whole))
    sound.provable = made.instance is not None
    rooms = prepared.rooms[prepared.instances.index(instance)]
    costs = prepared.ground.costs[instance.material]
    over = _over(costs, Material(instance, rooms, []), sound.instance, ())
    return _Clear(instance, sound, over, made)


class _Sound(Incumbent):
    """An incumbent of a material as if it had no bad places: nobody saws what it knows.

    It keeps the last of its solutions, which differ in how they can be arranged; once it is
    ``settled`` less sawing is of no use.
    """

    def __init__(self, instance: Instance, solution: Solution) -> None:
        super().__init__(instance, solution)
        self.settled = False
        self._met = [solution]
        self.listen(self._keep)

    def _keep(self, incumbent: Incumbent) -> None:
        if incumbent.solution is not self._met[-1]:
            self._met = [*self._met[1 - MOST_MET :], incumbent.solution]

    def met(self) -> list[Solution]:
        """Return solutions that take no more of the stock than the best."""
        worth = self._stock_of(self.cost)
        return [one for one in self._met if self._stock_of(cost(self.instance, one)) == worth]

    def is_finished(self) -> bool:
        """Whether nothing can get better that is of use."""
        return self.settled and self.is_proven()


class _Clear(Spoiled):
    """An incumbent on clear rectangles, with what is prepared as if there were no bad places."""

    def __init__(self, instance: Instance, sound: _Sound, over: Over, made: Material) -> None:
        super().__init__(instance, first(instance), sound, over)
        self.provable = sum(item.demand for item in instance.items) <= FEW
        self.made = made
        self.guide = sound
        if instance.rows == sound.instance.rows:
            sound.listen(lambda incumbent: self._take_bound(incumbent.bound))
            self._take_bound(sound.bound)

    def _take_bound(self, bound: int) -> None:
        """Take the bound of sheets without bad places, which can only hold more."""
        self.raise_bound(bound)


def _over(
    costs: Costs, material: Material, sound: Instance, around: Sequence[SheetAroundDefects]
) -> Over:
    """Return what a material is held against, its bound left out."""
    instance = material.instance
    assert instance is not None
    goal, unit = goal_of(sound), unit_of(sound, costs)
    counted = goal is Goal.FEWEST_SHEETS
    worth = {row: 1 if counted else cost // unit for row, cost in costs.each.items()}
    numbers = {room.place: n for n, sheet in enumerate(around) for room in sheet.rooms}
    return Over(
        goal=goal,
        unit=unit,
        bound=0,
        worths=tuple(worth.get(row.stock, 0) for row in instance.rows),
        sheets=tuple(numbers.get(room.place, -1) for room in material.rooms),
        paid=tuple(worth.get(sheet.stock.id, 0) for sheet in around),
        ways=ways_of(sound),
        missing=area_of(sound, missing_from(instance, sound)),
    )


@dataclass(slots=True)
class Detours:
    """One run of a job with bad places."""

    prepared: Prepared
    incumbents: list[Incumbent]
    budget: Budget
    stop: Stop
    publisher: Publisher
    work: Work
    trouble: Trouble
    _unplaced: tuple[Unplaced, ...] = field(init=False)
    _ways_shown: dict[int, "_Way"] = field(default_factory=dict)

    def __post_init__(self) -> None:
        """Remember what lies on no sheet whichever way is taken."""
        self._unplaced = self.prepared.unplaced

    def run(self) -> EndReason:
        """Plan on clear rectangles, then around the bad places, then the better way on."""
        clear = list(self.incumbents)
        sounds = [incumbent.guide for incumbent in clear if isinstance(incumbent, _Clear)]
        met = self.stop.when(
            lambda: (
                all(sound.is_proven() for sound in sounds)
                and not any(map(self._is_open, range(len(clear))))
            )
        )
        reason = self.work([*sounds, *clear], self._part(SOUND_PART), met)
        for sound in sounds:
            sound.settled = True
        for number in range(COUNTED_DETOURS if self.budget.work is not None else DETOURS):
            open_ = [n for n in range(len(clear)) if self._is_open(n)]
            if self.stop or not open_:
                break
            self._detour(clear, open_, number)
        if self.budget.work is None and not self.stop:
            unproven = [sound for sound in sounds if not sound.is_proven()]
            reason = self.work([*self.incumbents, *unproven], self._rest(), self.stop)
        return self._reason(reason)

    def _is_open(self, number: int) -> bool:
        """Whether a material takes more than it may without its bad places."""
        shown = self.incumbents[number]
        return isinstance(shown, Spoiled) and not shown.meets

    def _part(self, part: float) -> Budget:
        """Return the budget of a part of the run."""
        seconds = min(LONGEST_S, self.budget.time_s or LONGEST_S)
        return replace(self.budget, time_s=part * seconds, patience_s=None, trade=False)

    def _rest(self) -> Budget:
        if self.budget.time_s is None:
            return self.budget
        return replace(self.budget, time_s=min(self.budget.time_s, self.stop.remaining_s))

    def _detour(self, clear: Sequence[Incumbent], open_: Sequence[int], turn: int) -> None:
        """Arrange some materials around their bad places, and fill what is free."""
        made = [(n, way) for n in open_ for way in self._ways(n, clear[n], turn)]
        if not made:
            return
        incumbents = [way.incumbent for _, way in made]
        for number, way in made:
            self._adopt(number, way)
        met = self.stop.when(lambda: all(incumbent.meets for incumbent in incumbents))
        self.work(incumbents, self._part(DETOUR_PART), met)
        for number, way in made:
            self._adopt(number, way)

    def _ways(self, number: int, clear: Incumbent, turn: int) -> Iterator["_Way"]:
        """Yield the best of some arrangements of a material, the next best at the next turn."""
        chance = Chance(Random(self.budget.seed + turn), self.stop)
        assert isinstance(clear, _Clear)
        if clear.made.instance is None:
            return
        instance, rooms = clear.made.instance, clear.made.rooms
        spreads: list[Arrangement] = []
        for solution in self._patterns(number, clear):
            spreads.append(spread(instance, rooms, solution, chance, f"around {number + 1}"))
            if (not spreads[-1].lost and not turn) or self.stop:
                break
        best = sorted(spreads, key=lambda one: one.lost)[min(turn, len(spreads) - 1)]
        way = self._way(clear, best)
        if way is not None:
            yield way

    def _patterns(self, number: int, clear: "_Clear") -> Sequence[Solution]:
        """Return sheets to arrange: those of the way that is shown less one, or sound ones."""
        shown = self._ways_shown.get(number)
        if shown is None or self.incumbents[number] is not shown.incumbent:
            return clear.guide.met()[::-1] * 2
        solution = shown.incumbent.solution
        back = carried_back(shown.material, shown.around, solution, clear.made)
        return clear.guide.met()[::-1] if back is None else [back] * AGAIN

    def _way(self, clear: "_Clear", best: Arrangement) -> "_Way | None":
        around = tuple(one.sheet for one in best.arranged)
        material = going_round(self.prepared, clear.instance, around)
        solution = carried_over(clear.made, best, material)
        if solution is None or material.instance is None:
            return None
        costs = self.prepared.ground.costs[material.instance.material]
        over = _over(costs, material, clear.sound.instance, around)
        whole = completed(material.instance, solution)
        return _Way(around, material, Spoiled(material.instance, whole, clear.sound, over))

    def _adopt(self, number: int, way: "_Way") -> None:
        """Show a way from now on if it takes less than what is shown, and can be sawn."""
        shown = self.incumbents[number]
        if (
            shown is way.incumbent
            or not isinstance(shown, Spoiled)
            or way.incumbent.rank >= shown.rank
        ):
            return
        incumbents = [*self.incumbents]
        incumbents[number] = way.incumbent
        prepared = _with(self.prepared, number, way)
        own = [one for n, one in self._ways_shown.items() if n != number]
        left = [entry for one in [*own, way] for entry in one.unplaced(prepared)]
        prepared = replace(prepared, unplaced=merged([*self._unplaced, *left]))
        try:
            compose(prepared, [proof_status_of(incumbent) for incumbent in incumbents])
        except BeyondLimits:
            return
        except RefusedPlan as refusal:
            self.trouble(refusal)
            return
        self.prepared, self.incumbents = prepared, incumbents
        self._ways_shown[number] = way
        self.publisher.turn_to(prepared, incumbents)

    def _reason(self, reason: EndReason) -> EndReason:
        """Return why the run ended; proven is only what is so around the bad places."""
        told = [incumbent.told for incumbent in self.incumbents]
        proven = all(bound >= value for value, bound in told)
        complete = all(_lays_all(incumbent) for incumbent in self.incumbents)
        if reason is EndReason.PROVEN and proven and complete:
            return reason
        if reason not in (EndReason.PROVEN, EndReason.PATIENCE):
            return reason
        if self.budget.work is not None:
            return EndReason.WORK
        return EndReason.TIME if self.budget.patience_s is None else EndReason.PATIENCE


def _lays_all(incumbent: Incumbent) -> bool:
    return incumbent.lays_all if isinstance(incumbent, Spoiled) else incumbent.complete


@dataclass(frozen=True, slots=True)
class _Way:
    """A material with sheets that go round their bad places, and its incumbent."""

    around: tuple[SheetAroundDefects, ...]
    material: Material
    incumbent: Spoiled

    def unplaced(self, prepared: Prepared) -> list[Unplaced]:
        """Return what it has no room for at all."""
        job, rows = prepared.job, prepared.ground.rows
        missing = missing_from(self.incumbent.instance, self.incumbent.sound.instance)
        return [
            Unplaced(part=part, copies=1, need=no_more(job.part(part), job, rows))
            for part, _ in missing
        ]


def _with(prepared: Prepared, number: int, way: _Way) -> Prepared:
    """Return what is prepared with one material as it goes round its bad places."""
    assert way.material.instance is not None
    instances, rooms = list(prepared.instances), list(prepared.rooms)
    instances[number], rooms[number] = way.material.instance, way.material.rooms
    name = way.material.instance.material
    others = (sheet for sheet in prepared.around if sheet.stock.material != name)
    return replace(
        prepared,
        instances=tuple(instances),
        rooms=tuple(rooms),
        around=(*others, *way.around),
    )
