"""When a search has to end: time, work, a word from outside, or nothing gained."""

import time
from collections.abc import Callable
from dataclasses import dataclass, field, replace


@dataclass(frozen=True, slots=True, kw_only=True)
class Budget:
    """How long one planning run may take.

    Attributes
    ----------
    time_s
        Wall time, or ``None``.
    patience_s
        Ends the run after so long without a better plan or bound, a third of it once no
        cheaper stock is possible; or ``None``.
    work
        Units of work per stage (iterations of the search) instead of seconds: the same
        seed and work give the same plan; or ``None``.
    workers
        Processes to use, at least 1.
    seed
        Start of all random numbers.
    trade
        Whether part of the time goes to dearer plans that take less sawing.
    """

    time_s: float | None = 10.0
    patience_s: float | None = None
    work: int | None = None
    workers: int = 1
    seed: int = 0
    trade: bool = False


@dataclass(slots=True)
class _Word:
    """Whether somebody asked. No lock: a signal may come while one is held by its own thread."""

    is_given: bool = False


@dataclass(slots=True)
class Stop:
    """Asked often by every loop; true once the run has to end.

    Safe to ask from any thread and from a signal handler.

    ``deadline`` is in `time.monotonic` seconds, or ``None``.
    """

    deadline: float | None = None
    _asked: _Word = field(default_factory=_Word)
    _conditions: tuple[Callable[[], bool], ...] = ()

    def ask(self) -> None:
        """End the run as soon as its loops look."""
        self._asked.is_given = True

    @property
    def asked(self) -> bool:
        """Whether somebody asked, whatever the clock says."""
        return self._asked.is_given

    @property
    def late(self) -> bool:
        """Whether the deadline has passed."""
        return self.deadline is not None and time.monotonic() >= self.deadline

    def __bool__(self) -> bool:
        """Say whether to stop."""
        return self.asked or self.late or any(condition() for condition in self._conditions)

    def within(self, seconds: float) -> "Stop":
        """Return a stop that also ends after so many seconds from now."""
        deadline = time.monotonic() + max(0.0, seconds)
        if self.deadline is not None:
            deadline = min(deadline, self.deadline)
        return Stop(deadline, self._asked, self._conditions)

    def without_deadline(self) -> "Stop":
        """Return a stop for what is done even when time is up, unless somebody asks."""
        return replace(self, deadline=None)

    def when(self, condition: Callable[[], bool]) -> "Stop":
        """Return a stop that also ends once the condition holds; it must be quick to ask."""
        return replace(self, _conditions=(*self._conditions, condition))

    @property
    def remaining_s(self) -> float:
        """Seconds to the deadline; 0 if asked to stop, infinite without a deadline."""
        if self:
            return 0.0
        return float("inf") if self.deadline is None else self.deadline - time.monotonic()
