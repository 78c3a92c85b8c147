"""What a change had to let go, in words."""

from collections.abc import Iterable, Sequence

from layout_app.model.words.wording import MOST_NAMED
from shared.holding import says
from shared.job import Job
from shared.layout import Hold, Layout
from shared.parts import Copy


def left_words(job: Job, copies: Sequence[Copy]) -> str:
    """Name what no longer fits on the maker's own sheets or where it was locked; ``""`` if none.

    True as soon as it has left; `where_words` says what became of it once it is planned.
    """
    if not copies:
        return ""
    one = len(copies) == 1
    fit = "fits where it lay: it is" if one else "fit where they lay: they are"
    return f"{_listed(job, copies)} no longer {fit} planned anew."


def where_words(job: Job, layout: Layout, copies: Iterable[Copy]) -> str:
    """Say where planning has laid what no longer fitted where it lay, or that it is not placed."""
    lying: dict[str, list[Copy]] = {}
    for key in copies:
        lies = layout.find(key)
        lying.setdefault("" if lies is None else lies.sheet, []).append(key)
    return " ".join(_where(job, sheet, here) for sheet, here in sorted(lying.items()))


def _where(job: Job, sheet: str, copies: Sequence[Copy]) -> str:
    one = len(copies) == 1
    are = "is" if one else "are"
    what = f"moved to sheet {sheet}" if sheet else f"{are} not placed"
    why = "it no longer fits where it lay" if one else "they no longer fit where they lay"
    return f"{_listed(job, copies)} {what}: {why}."


def _listed(job: Job, copies: Sequence[Copy]) -> str:
    """Name the first few copies."""
    names = ", ".join(job.named(key) for key in copies[:MOST_NAMED])
    more = len(copies) - MOST_NAMED
    return f"{names} and {more} more" if more > 0 else names


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
