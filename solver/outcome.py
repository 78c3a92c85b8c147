"""What a planning run says while it runs."""

from dataclasses import dataclass
from enum import StrEnum

from shared.costs import NOTHING_SPENT, Spent
from shared.plan import Plan
from solver.budget.phase import Phase
from solver.budget.statistics import Statistics


class Reason(StrEnum):
    """Why a run ended."""

    PROVEN = "proven"
    """Nothing costs less, and sawing has stopped getting less."""
    TIME = "time"
    WORK = "work"
    PATIENCE = "patience"
    """No better plan or bound for as long as the maker waits."""
    STOPPED = "stopped"
    EMPTY = "empty"
    """There was nothing to plan."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Better:
    """A plan that beats the one before; the simulated saw has sawn it."""

    plan: Plan
    elapsed_s: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Progress:
    """Where one material stands: value reached and bound proven, in units of its goal."""

    material: str
    phase: Phase
    value: int
    bound: int
    elapsed_s: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Choice:
    """A plan that the simulated saw has sawn, and its figures.

    Attributes
    ----------
    price
        Hundredths for all sheets, as far as they have prices.
    spent
        What they count, those without a price included; pieces on the sawhorses nothing.
    sheets, cuts, setups
        Sheets, passes of the saw, and distinct set-ups.
    seconds
        At the saw, by the shop's pace.
    """

    plan: Plan
    price: int
    sheets: int
    seconds: int
    cuts: int
    setups: int
    spent: Spent = NOTHING_SPENT

    @property
    def known_price(self) -> int:
        """Price if every sheet that counts has one; 0 where that would be part of it only."""
        return self.price if self.price == self.spent.money else 0

    @property
    def minutes(self) -> int:
        """Time at the saw in full minutes, rounded up."""
        return -(-self.seconds // 60)


@dataclass(frozen=True, slots=True, kw_only=True)
class Choices:
    """Plans to choose from, least stock first: each next one is dearer and saves sawing.

    The first one is the best plan; it is alone when nothing dearer takes less sawing.
    """

    choices: tuple[Choice, ...]
    elapsed_s: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Done:
    """The run is over; the last `Better` stands.

    ``statistics`` say what was done; the line to the window leaves them out.
    """

    reason: Reason
    elapsed_s: float
    statistics: Statistics | None = None


Event = Better | Progress | Choices | Done
