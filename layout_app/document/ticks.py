"""Ticking cuts off and taking ticks back: what it takes, and what is said of it."""

from collections.abc import Sequence
from typing import Final

from layout_app.document.document import Document
from layout_app.model.words import wording
from shared.plan import Plan
from shared.progress import Progress, coming_of, needed_for

HISTORY: Final = "was made before the rest was planned anew: it stays ticked."


def missing_before(doc: Document, number: int) -> tuple[int, ...]:
    """Return the cuts that are not ticked and have to be made before another, ascending."""
    cuts = doc.plan.cuts if doc.plan is not None else ()
    return tuple(n for n in needed_for(cuts, number) if n not in doc.progress.made)


def ticked_after(doc: Document, number: int) -> tuple[int, ...]:
    """Return the cuts that are ticked and could not have been made without another."""
    return tuple(n for n in coming_of(doc.progress.ticked, number) if n in doc.progress.made)


def tick(doc: Document, numbers: Sequence[int], took: int | None = None) -> bool:
    """Tick cuts of the plan; say whether anything was to be ticked.

    ``took`` is the time in seconds that a cut ticked alone took, where it is known.
    """
    new = [number for number in numbers if is_open(doc.plan, number)]
    new = [number for number in new if number not in doc.progress.made]
    if not new or doc.plan is None:
        return False
    progress = doc.progress.with_ticks(doc.plan, new)
    if took is not None:
        progress = progress.timed(new[0], took)
    doc.set_progress(progress)
    doc.ticks_set.emit(tuple(new), True)
    return True


def untick(doc: Document, numbers: Sequence[int]) -> bool:
    """Take ticks away; say whether there were any."""
    gone = set(numbers) & set(doc.progress.made)
    if gone:
        doc.set_progress(doc.progress.without_ticks(gone))
        doc.ticks_set.emit(tuple(sorted(gone)), False)
    return bool(gone)


def next_open(plan: Plan | None, progress: Progress) -> int | None:
    """Return the first cut of a plan that is not ticked."""
    cuts = plan.cuts if plan is not None else ()
    return next((cut.number for cut in cuts if cut.number not in progress.made), None)


def is_open(plan: Plan | None, number: int) -> bool:
    """Say whether a cut is one of the plan, not of what was sawn before it."""
    return plan is not None and plan.has_cut(number)


def all_of(numbers: Sequence[int]) -> str:
    """Name cuts in a sentence, such as ``cut 2`` or ``cuts 2, 3 and 5``."""
    return wording.all_of("cut", [str(number) for number in numbers])
