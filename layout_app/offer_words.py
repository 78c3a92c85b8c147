"""What an offered plan saves, in words."""

from collections.abc import Callable, Sequence
from typing import Final

from layout_app.wording import all_of, counted
from shared.amounts import format_price
from shared.job import Job
from shared.plan import Plan
from solver.sequencing.tally import tally


def offer_words(
    job: Job, plan: Plan, now: Plan | None, mine: Sequence[str], *, all_cut: bool
) -> str:
    """Say what a better plan saves, and which sheets laid out by hand it plans again.

    Parameters
    ----------
    job, plan
        The job, and the plan that is offered.
    now
        The plan shown, ``None`` if there is none.
    mine
        Ids of the sheets laid out by hand that take part.
    all_cut
        Whether every sheet shown can be cut; else the counts tell nothing.
    """
    gain = saved(job, plan, now) if now is not None and all_cut else _whole(plan)
    again = f"; replans {all_of('sheet', mine)}, laid out by hand" if mine else ""
    return f"Better plan: {gain}{again}"


def saved(job: Job, plan: Plan, now: Plan) -> str:
    """Say what a plan takes less than another, then what it takes more; only what differs."""
    less = [was - takes for was, takes in zip(_takes(job, now), _takes(job, plan), strict=True)]
    places = sum(row.copies for row in now.unplaced) - sum(row.copies for row in plan.unplaced)
    saves = [words(by) for words, by in zip(_WORDS, less, strict=True) if by > 0]
    costs = [words(-by) for words, by in zip(_WORDS, less, strict=True) if by < 0]
    said = [
        f"places {counted(places, 'more part')}" if places > 0 else "",
        f"saves {', '.join(saves)}" if saves else "",
        f"takes {', '.join(costs)} more" if costs else "",
    ]
    return "; ".join(filter(None, said)) or "keeps to the shop's limits"


def _takes(job: Job, plan: Plan) -> tuple[int, int, int]:
    """Return what a plan takes: price in hundredths, whole sheets, minutes."""
    price = sum(sheet.price for sheet in plan.sheets)
    return price, sum(not sheet.piece for sheet in plan.sheets), tally(plan, job.shop).minutes


_WORDS: Final[tuple[Callable[[int], str], ...]] = (
    format_price,
    lambda sheets: counted(sheets, "sheet"),
    lambda minutes: f"{minutes} min",
)


def _whole(plan: Plan) -> str:
    return f"{counted(sum(not one.piece for one in plan.sheets), 'sheet')}, all can be cut"
