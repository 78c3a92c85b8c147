"""What a planning run says while it runs."""

from dataclasses import dataclass
from enum import StrEnum

from shared.changes import Change
from shared.costs import NOTHING_SPENT, Spent, spent
from shared.cuts.tally import Tally, tally
from shared.job import Job
from shared.layout import LayoutSheet
from shared.plan import Goal, Plan
from shared.shop import SawingOrder
from solver.budget.phase import Phase
from solver.budget.statistics import (
    MaterialStatistics,
    Solve,
    Statistics,
    Stretch,
    TracePoint,
    WorkDone,
)

__all__ = [
    "Advice",
    "AdviceEnded",
    "Better",
    "Choice",
    "Choices",
    "Done",
    "EndReason",
    "Event",
    "Force",
    "Forcing",
    "MaterialStatistics",
    "Ordered",
    "RunProgress",
    "Solve",
    "Statistics",
    "Stretch",
    "Suggestion",
    "TracePoint",
    "WorkDone",
    "by_stock",
    "choice_of",
]


class EndReason(StrEnum):
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
class RunProgress:
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
    sheets, cuts, setup_changes
        Sheets, passes of the saw, and how often something is set after the first time.
    seconds
        At the saw, by the shop's pace, in the order of the plan.
    """

    plan: Plan
    price: int
    sheets: int
    seconds: int
    cuts: int
    setup_changes: int
    spent: Spent = NOTHING_SPENT

    @property
    def known_price(self) -> int:
        """Price if every sheet that counts has one; 0 where that would be part of it only."""
        return self.price if self.price == self.spent.money else 0

    @property
    def mode(self) -> SawingOrder | None:
        """By what its cuts are in order; ``None`` if its plan names no shop."""
        return None if self.plan.shop is None else self.plan.shop.sawing

    @property
    def minutes(self) -> int:
        """Time at the saw in full minutes, rounded up."""
        return -(-self.seconds // 60)


def choice_of(plan: Plan, job: Job, counts: Tally | None = None) -> Choice:
    """Return a plan with its figures; ``counts`` are those of the sawing, if they are known."""
    counts = counts or tally(plan, job.shop)
    return Choice(
        plan=plan,
        price=sum(sheet.price for sheet in plan.sheets),
        spent=spent(job, (sheet.stock for sheet in plan.sheets)),
        sheets=sum(not sheet.piece for sheet in plan.sheets),
        seconds=counts.seconds,
        cuts=counts.cuts,
        setup_changes=counts.setup_changes,
    )


def by_stock(choice: Choice) -> tuple[Spent, int, int]:
    """Return what choices are put in order by: least stock first, then least sawing."""
    return choice.spent, choice.sheets, choice.seconds


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

    reason: EndReason
    elapsed_s: float
    statistics: Statistics | None = None


Event = Better | RunProgress | Choices | Done


@dataclass(frozen=True, slots=True, kw_only=True)
class Force:
    """How much one part counts in the proof of its material.

    Attributes
    ----------
    part, copies
        Id and number of what is planned of it.
    worth
        What one copy counts in the proof, in thousandths of the dearest sheet.
    area
        Its share of the area of the largest sheet, kerf included, in thousandths.
    releases
        Whether the proof no longer holds with one copy fewer.
    """

    part: str
    copies: int
    worth: int
    area: int
    releases: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Forcing:
    """Why one material takes what it takes.

    Attributes
    ----------
    material, goal, value
        What the plan takes, in units of the goal.
    need
        What all parts need at least before it is rounded up to whole sheets, in thousandths
        of a unit of the goal.
    parts
        Those that force the last sheet, the telling ones first.
    sentence
        The same in words.
    """

    material: str
    goal: Goal
    value: int
    need: int
    parts: tuple[Force, ...]
    sentence: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Suggestion:
    """A change that was solved: it takes less of the stock.

    One with the same `Change.subject` and material as an earlier one takes its place.

    Attributes
    ----------
    change
        What to change.
    material
        Whose sheets it saves.
    goal
        Whether sheets are saved, or money.
    sheets_before, sheets, price_before, price
        What the material takes, your own sheets left out; prices in units of the goal.
    smallest
        Whether the next smaller amount is proven not to suffice.
    plan
        The changed job, this material alone, accepted by the simulated saw.
    sentence, caution
        In words of the trade; a caution may be empty.
    """

    change: Change
    material: str
    goal: Goal
    sheets_before: int
    sheets: int
    price_before: int
    price: int
    smallest: bool
    plan: Plan
    sentence: str
    caution: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class AdviceEnded:
    """It is over: how far it looked.

    ``found`` changes save something, ``ruled_out`` are proven not to, ``open`` ones were
    neither in the time there was.
    """

    reason: EndReason
    found: int
    ruled_out: int
    open: int
    elapsed_s: float
    sentence: str


Advice = Forcing | Suggestion | AdviceEnded


@dataclass(frozen=True, slots=True, kw_only=True)
class Ordered:
    """Sheets and the order of their cuts.

    Attributes
    ----------
    sheets
        With their pieces in the order in which they are sawn off.
    order
        Keys of all passes, in sawing order.
    seconds, least_s
        What the cuts take in this order, and what they take at least in any order of this mode.
    """

    sheets: tuple[LayoutSheet, ...]
    order: tuple[str, ...]
    seconds: int
    least_s: int

    @property
    def proven(self) -> bool:
        """Whether no order of this mode takes less time."""
        return self.seconds <= self.least_s
