"""What a change had to let go, in words."""

from collections.abc import Iterable, Sequence

from shared.holding import says
from shared.job import Job
from shared.layout import Hold
from shared.parts import Copy
from shared.plan import Placement


def left_words(job: Job, placements: Iterable[Placement]) -> str:
    """Name what no longer fits on the maker's own sheets or where it was locked; ``""`` if none."""
    names = [job.named(one.key) for one in placements]
    if not names:
        return ""
    one = len(names) == 1
    verb = "is not placed: it no longer fits" if one else "are not placed: they no longer fit"
    it = "it" if one else "they"
    return f"{', '.join(names)} {verb} where {it} lay."


def gave_way_words(job: Job, copies: Sequence[Copy]) -> str:
    """Say which parts gave way to larger ones; ``""`` if none did."""
    if not copies:
        return ""
    names = [job.named(copy) for copy in copies[:2]]
    if len(copies) > 2:
        names = [names[0], f"{len(copies) - 1} more"]
    return f"{' and '.join(names)} gave way."


def aside_words(copies: int) -> str:
    """Say that planning leaves so many parts aside; ``""`` if none is."""
    if copies <= 0:
        return ""
    if copies == 1:
        return "1 part is set aside: Plan leaves it."
    return f"{copies} parts are set aside: Plan leaves them."


def let_go_words(job: Job, holds: Iterable[Hold]) -> str:
    """Name the holds that went with the rows of their parts; ``""`` if none did."""
    names = [says(job, hold) for hold in holds]
    if not names:
        return ""
    one = "is not locked any more: its row is gone"
    verb = one if len(names) == 1 else "are not locked any more: their rows are gone"
    return f"{', '.join(names)} {verb}."


def dropped_words(wishes: int) -> str:
    """Say that so many orders set by hand are kept no more; ``""`` if all are."""
    if wishes <= 0:
        return ""
    if wishes == 1:
        return "An order of two cuts set by hand is dropped: one of the cuts is not there any more."
    return (
        f"{wishes} orders of two cuts set by hand are dropped: a cut of each is not there any more."
    )
