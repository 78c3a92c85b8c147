"""What the window and the planning process say to each other: versioned lines of JSON.

A request names its run; every answer repeats that number, so that stale answers can be
dropped. Domain values travel as they are; lengths are integers in ticks.
"""

from collections.abc import Callable
from dataclasses import replace
from typing import Final, Literal

import msgspec

from shared.asked import NOTHING_SETTLED, CutsToOrder, Settled
from shared.job import Job
from shared.layout import Hold, LayoutSheet, Waiting
from shared.lengths import Length
from shared.plan import Plan
from shared.progress import NOTHING_MADE, Made
from solver.budget.stop import Budget
from solver.line import Codec
from solver.outcome import (
    Advice,
    AdviceEnded,
    Better,
    Choices,
    Done,
    Event,
    Forcing,
    Ordered,
    RunProgress,
    Suggestion,
)

__all__ = [
    "ANSWERS",
    "REQUESTS",
    "AdviseRequest",
    "Answer",
    "BetterAnswer",
    "Budget",
    "ChoicesAnswer",
    "DoneAnswer",
    "FailedAnswer",
    "ForcingAnswer",
    "LookedAnswer",
    "OrderRequest",
    "OrderedAnswer",
    "PlanRequest",
    "ProgressAnswer",
    "ReadyAnswer",
    "Request",
    "StopRequest",
    "SuggestionAnswer",
    "answer",
]


class PlanRequest(msgspec.Struct, frozen=True, kw_only=True, tag="plan", tag_field="do"):
    """Plan a job; a run that is under way ends first."""

    v: Literal[1] = 1
    run: int
    job: Job
    kept: tuple[LayoutSheet, ...] = ()
    waiting: tuple[Waiting, ...] = ()
    held: tuple[LayoutSheet, ...] = ()
    holds: tuple[Hold, ...] = ()
    made: Made = NOTHING_MADE
    limits: Budget = msgspec.field(default_factory=Budget)

    @property
    def settled(self) -> Settled:
        """What stays as it is."""
        return Settled(
            kept=self.kept,
            waiting=self.waiting,
            held=self.held,
            holds=self.holds,
            made=self.made,
        )


class StopRequest(msgspec.Struct, frozen=True, kw_only=True, tag="stop", tag_field="do"):
    """End a run; a number that is not under way is ignored."""

    v: Literal[1] = 1
    run: int


class AdviseRequest(msgspec.Struct, frozen=True, kw_only=True, tag="advise", tag_field="do"):
    """Say what would save a sheet of a plan; a run that is under way ends first."""

    v: Literal[1] = 1
    run: int
    job: Job
    plan: Plan
    settled: Settled = NOTHING_SETTLED
    shorten_up_to: Length | None = None
    limits: Budget = msgspec.field(default_factory=Budget)


class OrderRequest(msgspec.Struct, frozen=True, kw_only=True, tag="order", tag_field="do"):
    """Put cuts in order for so many seconds at most; a run that is under way ends first."""

    v: Literal[1] = 1
    run: int
    asked: CutsToOrder
    seconds: float


Request = PlanRequest | AdviseRequest | OrderRequest | StopRequest


class ReadyAnswer(msgspec.Struct, frozen=True, kw_only=True, tag="ready", tag_field="say"):
    """The process listens; sent once."""

    v: Literal[1] = 1


class BetterAnswer(msgspec.Struct, frozen=True, kw_only=True, tag="better", tag_field="say"):
    """A better plan."""

    v: Literal[1] = 1
    run: int
    event: Better


class ProgressAnswer(msgspec.Struct, frozen=True, kw_only=True, tag="progress", tag_field="say"):
    """Where one material stands."""

    v: Literal[1] = 1
    run: int
    event: RunProgress


class ChoicesAnswer(msgspec.Struct, frozen=True, kw_only=True, tag="choices", tag_field="say"):
    """Plans to choose from."""

    v: Literal[1] = 1
    run: int
    event: Choices


class DoneAnswer(msgspec.Struct, frozen=True, kw_only=True, tag="done", tag_field="say"):
    """The run is over."""

    v: Literal[1] = 1
    run: int
    event: Done


class FailedAnswer(msgspec.Struct, frozen=True, kw_only=True, tag="failed", tag_field="say"):
    """The run, or (run -1) the line, could not be dealt with; one sentence says why."""

    v: Literal[1] = 1
    run: int
    sentence: str


class OrderedAnswer(msgspec.Struct, frozen=True, kw_only=True, tag="ordered", tag_field="say"):
    """A better order of the cuts, or a better bound on its set-up changes."""

    v: Literal[1] = 1
    run: int
    event: Ordered


class ForcingAnswer(msgspec.Struct, frozen=True, kw_only=True, tag="forcing", tag_field="say"):
    """What forces the last sheet of one material."""

    v: Literal[1] = 1
    run: int
    event: Forcing


class SuggestionAnswer(
    msgspec.Struct, frozen=True, kw_only=True, tag="suggestion", tag_field="say"
):
    """A change that saves something."""

    v: Literal[1] = 1
    run: int
    event: Suggestion


class LookedAnswer(msgspec.Struct, frozen=True, kw_only=True, tag="looked", tag_field="say"):
    """It was looked for what saves a sheet; that run is over."""

    v: Literal[1] = 1
    run: int
    event: AdviceEnded


Answer = (
    ReadyAnswer
    | BetterAnswer
    | ProgressAnswer
    | ChoicesAnswer
    | OrderedAnswer
    | DoneAnswer
    | FailedAnswer
    | ForcingAnswer
    | SuggestionAnswer
    | LookedAnswer
)

REQUESTS: Final = Codec(Request)
ANSWERS: Final = Codec(Answer)

_ANSWER_TO: Final[dict[type, Callable[..., Answer]]] = {
    Better: BetterAnswer,
    RunProgress: ProgressAnswer,
    Choices: ChoicesAnswer,
    Done: DoneAnswer,
    Ordered: OrderedAnswer,
    Forcing: ForcingAnswer,
    Suggestion: SuggestionAnswer,
    AdviceEnded: LookedAnswer,
}


def answer(run: int, event: Event | Ordered | Advice) -> Answer:
    """Wrap what a run says for the line, without statistics."""
    if isinstance(event, Done):
        event = replace(event, statistics=None)
    return _ANSWER_TO[type(event)](run=run, event=event)
