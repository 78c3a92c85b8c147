"""Looks for what would save a sheet, says what it finds as soon as it is solved."""

import math
import time
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from typing import NamedTuple

from shared.asked import NOTHING_SETTLED, Settled
from shared.changes import Change, ChangeKind, most_shorter
from shared.finding import say as say_length
from shared.job import Job
from shared.lengths import Length
from shared.plan import Plan
from solver.advice.candidates import Ladder, ladders
from solver.advice.ground import PlannedMaterial, grounds
from solver.advice.trial import Trial, TrialResult, attempt, plan_of
from solver.advice.words import caution_of, change_in_words, gain_in_words, how_far
from solver.advice.worths import Worths, forcing, worths
from solver.budget.effort import Effort
from solver.budget.stop import Budget, Stop
from solver.outcome import Advice, AdviceEnded, EndReason, Suggestion
from solver.planning.steps import SOLVER, warm_up
from solver.planning.trouble import RefusedPlan, Trouble, raise_it

TIME_S = 20.0
"""How long it is looked if nobody says."""
WORTHS_SHARE = 0.15
"""Part of the time for what the parts count in the proof."""
TRIALS_S = (0.5, 2.0, 8.0)
"""Time for one trial, round after round; what is decided is not tried again."""
ENOUGH_OF_A_KIND = 4
"""Then further parts are tried only for a smaller change than those found."""


class Found(NamedTuple):
    """A change that saves something; ``smallest`` if the rung below is proven not to."""

    change: Change
    trial: Trial
    smallest: bool


def climb(
    ladder: Ladder, attempt: Callable[[Change], Trial], top: Trial, *, proven: bool
) -> Iterator[Found]:
    """Yield ever smaller changes by bisection below the strongest, which saves.

    Parameters
    ----------
    attempt
        Tries a change.
    top
        The trial of the strongest rung.
    proven
        Whether it is proven that nothing can be saved without any change.
    """
    low, high, is_sure = -1, len(ladder.rungs) - 1, proven
    best = Found(ladder.rungs[high], top, is_sure and high == 0)
    yield best
    while high - low > 1:
        middle = (low + high) // 2
        trial = attempt(ladder.rungs[middle])
        if trial.verdict is TrialResult.SAVES:
            high, best = middle, Found(ladder.rungs[middle], trial, False)
        else:
            low, is_sure = middle, trial.verdict is TrialResult.RULED_OUT
    if len(ladder.rungs) > 1:
        yield best._replace(smallest=is_sure)


def suggestions(
    job: Job,
    plan: Plan,
    budget: Budget,
    say: Callable[[Advice], None],
    *,
    shorten_up_to: Length | None = None,
    settled: Settled = NOTHING_SETTLED,
    stop: Stop | None = None,
    trouble: Trouble = raise_it,
) -> None:
    """Say which parts force the last sheet, and which changes save one, each verified.

    Parameters
    ----------
    job, plan
        The job, and the plan of it that is to be undercut.
    budget
        Time, or work for each trial: then the same seed says the same. One process works.
    say
        Hears one `Forcing` for each material, every `Suggestion` as soon as it is solved, and
        at the end one `AdviceEnded`.
    shorten_up_to
        How much shorter a part may get at most, in ticks; common practice if ``None``.
    settled
        What planning leaves alone: it stays as it is.
    stop
        Asked to end early.
    trouble
        Hears of a plan that the simulated saw refuses; raises by default.
    """
    ending = Stop() if stop is None else stop
    if budget.work is None:
        ending = ending.within(TIME_S if budget.time_s is None else budget.time_s)
    search = _Search(
        job=job,
        budget=budget,
        say=say,
        stop=ending,
        shorten_up_to=most_shorter(job.style, shorten_up_to),
        trouble=trouble,
    )
    search.look(list(grounds(job, plan, settled)))


@dataclass(slots=True)
class _Material:
    """One material while it is looked at."""

    ground: PlannedMaterial
    worths: Worths
    todo: list[Ladder]
    found: dict[ChangeKind, list[Change]] = field(default_factory=dict)
    ruled_out: int = 0


@dataclass(slots=True, kw_only=True)
class _Search:
    """One run."""

    job: Job
    budget: Budget
    say: Callable[[Advice], None]
    stop: Stop
    shorten_up_to: Length
    trouble: Trouble
    began: float = field(default_factory=time.monotonic)

    def look(self, found: Sequence[PlannedMaterial]) -> None:
        """Look at every material, and say when it is over."""
        warm_up()
        materials = [self._material(ground, len(found)) for ground in found]
        for seconds in self._rounds():
            for material in materials:
                self._round(material, seconds)
        self.say(self._looked(materials))

    def _rounds(self) -> Iterator[float]:
        yield from TRIALS_S if self.budget.work is None else (math.inf,)

    def _material(self, ground: PlannedMaterial, of: int) -> _Material:
        SOLVER.wait()
        share = math.inf
        if self.budget.time_s is not None and self.budget.work is None:
            share = WORTHS_SHARE * self.budget.time_s / of
        worth = worths(ground, self.stop.within(share), self.budget.work, self.budget.seed)
        self.say(forcing(ground, worth))
        every = ladders(ground, worth, self.shorten_up_to)
        todo = [ladder for ladder in every if not worth.holds_without(ground, ladder.most)]
        return _Material(ground, worth, todo, ruled_out=len(every) - len(todo))

    def _round(self, material: _Material, seconds: float) -> None:
        """Try what is not decided yet; keep what stays open for a longer try."""
        todo, material.todo = material.todo, []
        for index, ladder in enumerate(todo):
            if self.stop:
                material.todo += todo[index:]
                return
            smaller = _smaller(ladder, material.found)
            if smaller is not None:
                self._try(material, smaller, seconds)

    def _try(self, material: _Material, ladder: Ladder, seconds: float) -> None:
        def tried(change: Change) -> Trial:
            effort = Effort(seconds, self.budget.seed, self.budget.work)
            return attempt(material.ground, change, material.worths, effort, self.stop)

        top = tried(ladder.rungs[-1])
        if top.verdict is TrialResult.RULED_OUT:
            material.ruled_out += 1
        elif top.verdict is TrialResult.OPEN:
            material.todo.append(ladder)
        else:
            self._tell_all(
                material, ladder, climb(ladder, tried, top, proven=material.ground.proven)
            )

    def _tell_all(self, material: _Material, ladder: Ladder, steps: Iterator[Found]) -> None:
        """Say what was found, and again whenever a smaller change is."""
        change = None
        for found in steps:
            try:
                self.say(self._suggestion(material.ground, ladder, found))
                change = found.change
            except RefusedPlan as refusal:
                self.trouble(refusal)
        if change is not None:
            material.found.setdefault(change.kind, []).append(change)

    def _suggestion(self, ground: PlannedMaterial, ladder: Ladder, found: Found) -> Suggestion:
        plan = plan_of(ground, found.trial)
        sheets, price = ground.bought(plan)
        said = change_in_words(ground.job, found.change, found.smallest, ladder.step)
        before, after = (ground.sheets, ground.price), (sheets, price)
        return Suggestion(
            change=found.change,
            material=ground.material,
            goal=ground.goal,
            sheets_before=ground.sheets,
            sheets=sheets,
            price_before=ground.price,
            price=price,
            smallest=found.smallest,
            plan=plan,
            sentence=f"{said}. {ground.material}: {gain_in_words(ground.goal, before, after)}.",
            caution=caution_of(found.change),
        )

    def _looked(self, materials: Sequence[_Material]) -> AdviceEnded:
        found = sum(len(changes) for one in materials for changes in one.found.values())
        ruled_out = sum(one.ruled_out for one in materials)
        left = sum(len(one.todo) for one in materials)
        reason = (
            EndReason.STOPPED if self.stop.asked else EndReason.TIME if left else EndReason.PROVEN
        )
        if not materials:
            reason = EndReason.EMPTY
        return AdviceEnded(
            reason=reason,
            found=found,
            ruled_out=ruled_out,
            open=left,
            elapsed_s=time.monotonic() - self.began,
            sentence=self._how_far(materials, found, ruled_out, left),
        )

    def _how_far(
        self, materials: Sequence[_Material], found: int, ruled_out: int, left: int
    ) -> str:
        if not materials:
            return "There is no material that takes more than a sheet and has all its parts laid."
        most = say_length(self.shorten_up_to, self.job.style)
        return how_far(found, ruled_out, left, most)


def _smaller(ladder: Ladder, found: Mapping[ChangeKind, Sequence[Change]]) -> Ladder | None:
    """Return the rungs of a ladder that would say something new; ``None`` if none does."""
    kind, subject = ladder.rungs[0].kind, ladder.rungs[0].subject
    known = found.get(kind, ())
    if any(change.subject == subject for change in known):
        return None
    if len(known) < ENOUGH_OF_A_KIND:
        return ladder
    worst = max(change.amount for change in known)
    rungs = tuple(rung for rung in ladder.rungs if rung.amount < worst)
    return replace(ladder, rungs=rungs) if rungs else None
