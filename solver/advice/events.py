"""What is said while it is looked for what would save a sheet."""

from dataclasses import dataclass

from shared.plan import Goal, Plan
from solver.advice.changes import Change
from solver.outcome import Reason


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
class Looked:
    """It is over: how far it looked.

    ``found`` changes save something, ``ruled_out`` are proven not to, ``open`` ones were
    neither in the time there was.
    """

    reason: Reason
    found: int
    ruled_out: int
    open: int
    elapsed_s: float
    sentence: str


Advice = Forcing | Suggestion | Looked
