"""The time from one tick at the sawhorses to the next, where nothing came between."""

import time
from collections.abc import Callable
from dataclasses import replace
from typing import Any, Final, NamedTuple

from shared.making.work_of_cut import FIGURES
from shared.plan import Cut, Plan
from shared.progress import LONGEST_S
from shared.shop import Shop

Clock = Callable[[], float]
"""Returns seconds from some moment on."""

ADRIFT_S: Final = 2.0
"""When the time of day differs from the steady clock by more, it was set or the machine slept."""
AWAY_S: Final = 30.0
"""Out of sight for longer, nobody was walking through the cuts."""


class _Begun(NamedTuple):
    """An interval that was begun by a tick: the cut to come, as it was then, and both clocks."""

    cut: Cut
    shop: Shop
    steady: float
    day: float


class BetweenTicks:
    """Takes the time from one tick to that of the next cut in order.

    Ticks that are set another way, taken back, or set for several cuts at once end an interval
    without a time; so does whatever makes the next cut another one, a clock that was set, a
    machine that slept, and a window that was away.

    Parameters
    ----------
    steady
        A clock that never goes back.
    day
        The time of day, which goes on while the machine sleeps.
    """

    def __init__(self, steady: Clock = time.monotonic, day: Clock = time.time) -> None:
        self._steady, self._day = steady, day
        self._begun: _Begun | None = None
        self._away_since: float | None = None

    def begin(self, number: int, plan: Plan, shop: Shop, made: frozenset[int]) -> None:
        """Hear that a cut was ticked here alone: from now on it is about the next one."""
        self.forget()
        cut = next((cut for cut in plan.cuts if cut.number == number + 1), None)
        if cut is not None and cut.number not in made:
            self._begun = _Begun(cut, _without_pace(shop), self._steady(), self._day())

    def forget(self) -> None:
        """Begin no time, and end the one that was begun."""
        self._begun = None

    def took(self, number: int, plan: Plan, shop: Shop) -> int | None:
        """Return the whole seconds since the tick before; ``None`` if they say nothing."""
        begun = self._begun
        if begun is None or number != begun.cut.number or begun.cut not in plan.cuts:
            return None
        steady, day = self._steady() - begun.steady, self._day() - begun.day
        adrift = abs(day - steady) > ADRIFT_S
        if adrift or steady > LONGEST_S or begun.shop != _without_pace(shop):
            return None
        return round(steady)

    def go_away(self) -> None:
        """Hear that the window is out of sight."""
        if self._away_since is None:
            self._away_since = self._steady()

    def come_back(self) -> None:
        """Hear that the window is in sight."""
        if self._away_since is not None and self._steady() - self._away_since > AWAY_S:
            self.forget()
        self._away_since = None


def _without_pace(shop: Shop) -> Shop:
    """Return what of a shop says how a cut is made."""
    no_time: dict[str, Any] = dict.fromkeys(FIGURES, 0)
    return replace(shop, **no_time)
