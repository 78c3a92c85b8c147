"""What the planning process and its workers say to each other: lines of JSON on pipes.

A worker is a second process that works on one material at a time. Both sides keep the best
solution and the best bound, and tell each other what is better.
"""

from typing import Final

import msgspec

from solver.budget.phase import Method, Phase
from solver.budget.statistics import WorkDone
from solver.line import Codec
from solver.material.instance import Instance, Solution


class Task(msgspec.Struct, frozen=True, kw_only=True, tag="task", tag_field="say"):
    """Work on an instance for so many seconds, from the best known so far."""

    task: int
    phase: Phase
    instance: Instance
    solution: Solution
    bound: int
    cuts_bound: int = 0
    seconds: float
    seed: int


class News(msgspec.Struct, frozen=True, kw_only=True, tag="news", tag_field="say"):
    """Something better than before: a solution, a bound, or that no less sawing is possible.

    A worker also says by which ``method``, and how much ``work`` it has done so far.
    """

    task: int
    solution: Solution | None = None
    bound: int = 0
    cuts_bound: int = 0
    least_sawing: bool = False
    best_remainder: bool = False
    method: Method | None = None
    work: WorkDone | None = None


class Halt(msgspec.Struct, frozen=True, kw_only=True, tag="halt", tag_field="say"):
    """End the task."""

    task: int


class TaskFinished(msgspec.Struct, frozen=True, kw_only=True, tag="finished", tag_field="say"):
    """The task is over after so much work; ``fault`` says for the log what broke."""

    task: int
    fault: str = ""
    work: WorkDone


class Warm(msgspec.Struct, frozen=True, kw_only=True, tag="warm", tag_field="say"):
    """Everything slow is loaded; sent once."""


Message = Task | News | Halt | TaskFinished | Warm
MESSAGES: Final = Codec(Message)
