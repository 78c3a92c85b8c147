"""What an offered plan saves, in words."""

from collections.abc import Callable, Sequence
from typing import Final

from layout_app.model.broken_sets import change_words
from layout_app.model.words.wording import all_of, counted
from shared.amounts import format_price
from shared.costs import spent
from shared.cuts.tally import tally
from shared.job import Job
from shared.plan import Plan


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
    """Say what a plan takes less than another, then what it takes more; only what differs.

    Of matched sets it is said whose figure runs on now, or breaks.
    """
    less = [
        was - takes
        for was, takes in zip(_takes(job, now, plan), _takes(job, plan, now), strict=True)
    ]
    places = sum(row.copies for row in now.unplaced) - sum(row.copies for row in plan.unplaced)
    saves = [words(by) for words, by in zip(_WORDS, less, strict=True) if by > 0]
    costs = [words(-by) for words, by in zip(_WORDS, less, strict=True) if by < 0]
    said = [
        f"places {counted(places, 'more part')}" if places > 0 else "",
        f"saves {', '.join(saves)}" if saves else "",
        f"takes {', '.join(costs)} more" if costs else "",
        *change_words(job, plan, now),
    ]
    return "; ".join(filter(None, said)) or _unsaid(job, plan, now)


def _unsaid(job: Job, plan: Plan, now: Plan) -> str:
    """Say what is better where neither money, sheets nor minutes tell it."""
    takes, was = (spent(job, (one.stock for one in each.sheets)) for each in (plan, now))
    if takes.bought < was.bought:
        return "buys less by area"
    return "takes less from the rack" if takes < was else "keeps to the shop's limits"


def _takes(job: Job, plan: Plan, other: Plan) -> tuple[int, int, int]:
    """Return what a plan takes: price in hundredths, whole sheets, minutes.

    No price where one of the two takes sheets that nobody priced: it would tell half of it.
    """
    price = _price(plan) if _is_priced(job, plan) and _is_priced(job, other) else 0
    return price, sum(not sheet.piece for sheet in plan.sheets), tally(plan, job.shop).minutes


def _price(plan: Plan) -> int:
    return sum(sheet.price for sheet in plan.sheets)


def _is_priced(job: Job, plan: Plan) -> bool:
    return _price(plan) == spent(job, (sheet.stock for sheet in plan.sheets)).money


_WORDS: Final[tuple[Callable[[int], str], ...]] = (
    format_price,
    lambda sheets: counted(sheets, "sheet"),
    lambda minutes: f"{minutes} min",
)


def _whole(plan: Plan) -> str:
    return f"{counted(sum(not one.piece for one in plan.sheets), 'sheet')}, all can be cut"
