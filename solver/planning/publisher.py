"""Turns what the incumbents know into plans, sawn and told to whoever listens."""

import threading
import time
from collections.abc import Callable, Sequence

from shared.plan import Plan
from solver.budget.phase import Phase
from solver.budget.stop import Stop
from solver.material.instance import Solution
from solver.outcome import Better, Choice, Choices, Event, RunProgress
from solver.planning.choices import ChoiceMaker
from solver.planning.first_order import in_first_order
from solver.planning.plans import compose
from solver.planning.proof_status import proof_status_of
from solver.planning.trouble import BeyondLimits, RefusedPlan, Trouble
from solver.prepare.instances import Prepared
from solver.solutions.incumbent import Incumbent

CHOICES_PAUSE_S = 1.0
"""Least time between two times that choices are told."""
LEAST_PAUSE_S = 0.1
"""Least time between two plans."""
SHARE = 0.1
"""Part of the time that making plans may take from the search beside it."""
SOON_IN_ORDER = 150
"""Cuts of a plan that are put in order whenever it is told; those of a larger one at the end."""


class Publisher:
    """Publishes the best plan whenever an incumbent has changed, but not too often.

    Plans are made in a thread of their own; all events pass one lock, so they come one
    after the other. What the simulated saw refuses goes to ``trouble`` and to nobody else.
    Once it is time to stop, no more cuts are put in order and no more choices are made.
    """

    def __init__(
        self,
        prepared: Prepared,
        incumbents: Sequence[Incumbent],
        say: Callable[[Event], None],
        trouble: Trouble,
        stop: Stop,
        *,
        trade: bool = False,
    ) -> None:
        self._shown = prepared, incumbents
        self._heard_of: set[int] = set()
        self._say = say
        self._trouble, self._stop = trouble, stop
        self._started = time.monotonic()
        self._changed = threading.Event()
        self._ended = threading.Event()
        self._lock = threading.Lock()
        self._phases = [Phase.START] * len(incumbents)
        self._told: dict[str, tuple[Phase, int, int]] = {}
        self._published: list[tuple[object, ...]] = []
        self._in_order = False
        self._thread = threading.Thread(target=self._work, name="publisher", daemon=True)
        self._fault: BaseException | None = None
        self._chooser = ChoiceMaker(prepared, incumbents, trouble, stop) if trade else None
        self._choices: tuple[Choice, ...] = ()
        self._choices_due = 0.0
        self.plan: Plan | None = None

    def clock(self) -> float:
        """Return the seconds since the run began."""
        return time.monotonic() - self._started

    def start(self) -> None:
        """Publish the first plan now, in no order, and later ones as they are found."""
        self.publish(in_order=False)
        for incumbent in self._incumbents:
            self._listen(incumbent)
        self._thread.start()

    def finish(self) -> None:
        """Publish what is left to publish, in order; raise what went wrong meanwhile."""
        self._ended.set()
        self._changed.set()
        self._thread.join()
        if self._fault is not None:
            raise self._fault
        self.publish(in_order=True)
        self._choices_due = 0.0
        self._publish_choices()

    def enter(self, incumbent: Incumbent, phase: Phase) -> None:
        """Tell that work on a material has come to a phase; of incumbents not shown, nothing."""
        if incumbent in self._incumbents:
            self._phases[self._incumbents.index(incumbent)] = phase
            self._tell(incumbent)

    def turn_to(self, prepared: Prepared, incumbents: Sequence[Incumbent]) -> None:
        """Publish from now on what other incumbents of the same materials know."""
        self._shown = prepared, incumbents
        if self._chooser is not None:
            self._chooser = ChoiceMaker(prepared, incumbents, self._trouble, self._stop)
        for incumbent in incumbents:
            self._listen(incumbent)
        self._changed.set()

    def _listen(self, incumbent: Incumbent) -> None:
        if id(incumbent) not in self._heard_of:
            self._heard_of.add(id(incumbent))
            incumbent.listen(self._heard)
            incumbent.front.listen(self._heard_choice)

    @property
    def _incumbents(self) -> Sequence[Incumbent]:
        return self._shown[1]

    def publish(self, *, in_order: bool | None = None) -> None:
        """Make the plan of the best solutions and tell it, unless it is told already.

        Its cuts are put in order unless that takes long, or as it is said.
        """
        prepared, incumbents = self._shown
        statuses = [proof_status_of(incumbent) for incumbent in incumbents]
        state: list[tuple[object, ...]] = [one[1:] for one in statuses]
        told = self.plan is not None and state == self._published
        if told and (self._in_order or not in_order or self._stop):
            return
        self._published = state
        try:
            plan = compose(prepared, statuses)
        except BeyondLimits:
            return
        except RefusedPlan as refusal:
            self._trouble(refusal)
            return
        wanted = len(plan.cuts) <= SOON_IN_ORDER if in_order is None else in_order
        ordered = in_first_order(prepared, plan, self._stop) if wanted else None
        self._in_order, self.plan = ordered is not None, ordered or plan
        with self._lock:
            self._say(Better(plan=self.plan, elapsed_s=self.clock()))

    def _publish_choices(self) -> None:
        """Tell the choices if they have changed, but not too often."""
        began = time.monotonic()
        if self._chooser is None or self.plan is None or began < self._choices_due:
            return
        choices = self._chooser.choices()
        if choices and choices != self._choices:
            self._choices = choices
            with self._lock:
                self._say(Choices(choices=choices, elapsed_s=self.clock()))
        took = time.monotonic() - began
        self._choices_due = began + max(CHOICES_PAUSE_S, took / SHARE)

    def _heard_choice(self, solution: Solution) -> None:
        del solution
        self._changed.set()

    def _heard(self, incumbent: Incumbent) -> None:
        self._changed.set()
        if incumbent in self._incumbents:
            self._tell(incumbent)

    def _tell(self, incumbent: Incumbent) -> None:
        phase = self._phases[self._incumbents.index(incumbent)]
        value, bound = incumbent.told
        bound = min(bound, value)
        material, told = incumbent.instance.material, (phase, value, bound)
        with self._lock:
            if self._told.get(material) == told:
                return
            self._told[material] = told
            self._say(
                RunProgress(
                    material=material,
                    phase=phase,
                    value=value,
                    bound=bound,
                    elapsed_s=self.clock(),
                )
            )

    def _work(self) -> None:
        try:
            while not self._ended.is_set():
                self._changed.wait()
                self._changed.clear()
                began = time.monotonic()
                self.publish()
                self._publish_choices()
                took = time.monotonic() - began
                self._ended.wait(max(LEAST_PAUSE_S, took / SHARE))
        except BaseException as error:
            self._fault = error
