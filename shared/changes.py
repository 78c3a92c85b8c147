"""Changes of a job that may save a sheet, and the job they make."""

from dataclasses import dataclass, replace
from enum import StrEnum

from shared.job import Job
from shared.lengths import INCH, MM, Length, LengthStyle, Unit
from shared.parts import GrainRule, Part
from shared.stock import Stock, Trims

SHORTEN_UP_TO = {Unit.MM: 25 * MM, Unit.INCH: INCH}
"""How much shorter a part may get if the maker does not say (common practice: no rule)."""


class ChangeKind(StrEnum):
    """What is changed."""

    SHORTEN = "shorten"
    """One side of a part, all its copies."""
    TURN = "turn"
    """A part's grain may run either way."""
    DROP = "drop"
    """One copy of a part is not made."""
    KERF = "kerf"
    """A thinner blade."""
    TRIM = "trim"
    """Edges of a sheet are not trimmed."""


class PartSide(StrEnum):
    """Which side of a part gets shorter."""

    LENGTH = "length"
    WIDTH = "width"


class SheetEdge(StrEnum):
    """An edge of a sheet, as `shared.stock.Trims` names it."""

    NEAR = "near"
    FAR = "far"
    START = "start"
    END = "end"


@dataclass(frozen=True, slots=True, kw_only=True)
class Change:
    """One change.

    Attributes
    ----------
    kind
        What is changed.
    part
        Id of the part that is shortened, may turn or is dropped.
    side
        Which side is shortened.
    stock
        Id of the row that is not trimmed.
    edges
        Which of its edges are not.
    amount
        Ticks: how much shorter a part gets, or the new kerf, or all the trim given up.
    """

    kind: ChangeKind
    part: str = ""
    side: PartSide | None = None
    stock: str = ""
    edges: tuple[SheetEdge, ...] = ()
    amount: Length = 0

    @property
    def subject(self) -> tuple[str, str, str]:
        """What it is about, whatever the amount: kind, part or stock row, and side."""
        return self.kind, self.part or self.stock, self.side or ""


def changed(job: Job, change: Change) -> Job:
    """Return the job as the change makes it.

    Raises
    ------
    KeyError
        If the job has no such part or stock row.
    """
    if change.kind is ChangeKind.KERF:
        return replace(job, shop=replace(job.shop, kerf=change.amount))
    if change.kind is ChangeKind.TRIM:
        row = untrimmed(job.stock_row(change.stock), change)
        return replace(job, stock=tuple(row if old.id == row.id else old for old in job.stock))
    part = changed_part(job.part(change.part), change)
    parts = (part if old.id == change.part else old for old in job.parts)
    return replace(job, parts=tuple(part for part in parts if part is not None))


def changed_part(part: Part, change: Change) -> Part | None:
    """Return the row of the take-off as the change makes it; ``None`` if it goes."""
    if change.kind is ChangeKind.TURN:
        return replace(part, grain_rule=GrainRule.EITHER)
    if change.kind is ChangeKind.DROP:
        return replace(part, copies=part.copies - 1) if part.copies > 1 else None
    if change.side is PartSide.LENGTH:
        return replace(part, length=part.length - change.amount)
    return replace(part, width=part.width - change.amount)


def untrimmed(row: Stock, change: Change) -> Stock:
    """Return the stock row without the trims that the change gives up."""
    gone = {edge.value: 0 for edge in change.edges}
    own = None if row.own_trims is None else replace(row.own_trims, **gone)
    return replace(row, trims=replace(row.trims, **gone), own_trims=own)


def trim_of(trims: Trims, edge: SheetEdge) -> Length:
    """Return the stock lost at an edge, in ticks."""
    size: Length = getattr(trims, edge.value)
    return size


def step_of(style: LengthStyle) -> Length:
    """Return the step in which parts are shortened: 1 mm, or 1/16 in."""
    return MM if style.unit is Unit.MM else INCH // 16


def most_shorter(style: LengthStyle, shorten_up_to: Length | None) -> Length:
    """Return how much shorter a part may get at most."""
    return SHORTEN_UP_TO[style.unit] if shorten_up_to is None else shorten_up_to
