"""Plans in words: the figures of choices, how one differs from another, what an offer saves."""

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from typing import Final

from layout_app.model.broken_sets import change_words
from layout_app.model.words.order_words import MODES
from layout_app.model.words.wording import all_of, counted
from shared.amounts import format_price
from shared.costs import spent
from shared.cuts.tally import tally
from shared.job import Job
from shared.plan import Plan
from solver.outcome import Choice

WRITTEN = ">"
"""Stands before the choice that is written."""


def choices_table(choices: Mapping[int, Choice], written: int) -> Iterator[str]:
    """Yield the lines of a table, one choice a line; ``written`` is the number of one of them."""
    priced = any(choice.known_price for choice in choices.values())
    rows = {0: _heads(priced), **{n: _cells(one, priced) for n, one in choices.items()}}
    widths = [max(map(len, column)) for column in zip(*rows.values(), strict=True)]
    for number, row in rows.items():
        mark = WRITTEN if number == written else " "
        cells = (cell.rjust(width) for cell, width in zip(row, widths, strict=True))
        yield f"{mark} {number or ' '}  {'  '.join(cells)}"


def _heads(priced: bool) -> tuple[str, ...]:
    price = ("price",) if priced else ()
    return ("sheets", *price, "minutes", "cuts", "set-up changes")


def _cells(choice: Choice, priced: bool) -> tuple[str, ...]:
    known = format_price(choice.known_price) if choice.known_price else ""
    price = (known,) if priced else ()
    figures = (choice.minutes, choice.cuts, choice.setup_changes)
    return (str(choice.sheets), *price, *map(str, figures))


def figures_of(choice: Choice) -> tuple[str, str]:
    """Return what a choice takes of the stock, and at the saw."""
    stock = [counted(choice.sheets, "sheet")]
    if choice.known_price:
        stock.append(format_price(choice.known_price))
    cuts = counted(choice.cuts, "cut"), counted(choice.setup_changes, "set-up change")
    return ", ".join(stock), f"about {choice.minutes} min: {', '.join(cuts)}"


def order_of_choices(choices: Iterable[Choice]) -> str:
    """Say of which order the minutes of choices are that are not shown."""
    modes = dict.fromkeys(MODES[one.mode] for one in choices if one.mode is not None)
    how = f", {' or '.join(modes)}" if modes else ""
    return f"minutes are of a first order{how}; it gets better once it is shown"


def difference(choice: Choice, shown: Choice) -> str:
    """Say how a choice differs from the one that is shown, the stock first.

    Minutes and set-up changes of different modes of order are not compared.
    """
    alike = choice.mode is shown.mode
    words = [
        _more(choice.sheets - shown.sheets, "sheet"),
        _dearer(choice, shown),
        _minutes(choice.minutes - shown.minutes) if alike else "",
        _more(choice.cuts - shown.cuts, "cut"),
        _more(choice.setup_changes - shown.setup_changes, "set-up change") if alike else "",
    ]
    return ", ".join(filter(None, words)) or "takes the same"


def _more(by: int, one: str) -> str:
    if not by:
        return ""
    return f"{counted(abs(by), one)} {'more' if by > 0 else 'fewer'}"


def _dearer(choice: Choice, shown: Choice) -> str:
    """Say what it costs more or less, as far as that is money somebody gave."""
    by = choice.price - shown.price
    if not by or by != choice.spent.money - shown.spent.money:
        return ""
    return f"costs {format_price(abs(by))} {'more' if by > 0 else 'less'}"


def _minutes(by: int) -> str:
    if not by:
        return ""
    return f"about {abs(by)} min {'more' if by > 0 else 'less'} sawing"


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
    """Return what a plan takes: price in hundredths, whole sheets, minutes in its order.

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
    lambda minutes: f"about {minutes} min",
)


def _whole(plan: Plan) -> str:
    return f"{counted(sum(not one.piece for one in plan.sheets), 'sheet')}, all can be cut"
