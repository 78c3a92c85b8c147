"""What is wrong with a job before it is planned, one sentence for each mistake.

Codes begin with the kind of thing they are about: ``job-``, ``shop-``, ``stock-`` or
``part-``; `check_shop` judges the shop, `check_stock` and `check_parts` the rows.
"""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import replace
from functools import wraps
from typing import Final, TypeVar

from shared.check_parts import judged_parts
from shared.check_shop import limit_faults, shop_faults
from shared.check_stock import judged_stock
from shared.finding import error, is_sound, sound
from shared.issues import Issue
from shared.job import Job
from shared.stock import Stock

LEVELS: Final = (2, 3)
Answer = TypeVar("Answer")


def _lately(judge: Callable[[Job], Answer]) -> Callable[[Job], Answer]:
    """Remember the last answer: after one edit many ask about the very same job."""
    known: tuple[Job, Answer] | None = None

    @wraps(judge)
    def ask(job: Job) -> Answer:
        nonlocal known
        last = known
        if last is None or last[0] is not job:
            last = known = (job, judge(job))
        return last[1]

    return ask


@_lately
def check_job(job: Job) -> tuple[Issue, ...]:
    """Return everything that is wrong with a job, rows in the maker's order.

    An error on a row leaves that row out of the plan; one on the job or the shop (its
    subject is ``""``) leaves nothing to plan.
    """
    stock = judged_stock(job)
    parts = judged_parts(job, sound(stock))
    of_rows = [issue for _, issues in (*stock, *parts) for issue in issues]
    return (*_whole(job, sound(stock)), *of_rows)


@_lately
def plannable(job: Job) -> Job:
    """Return the job without the rows that have an error.

    With an error on the job or the shop itself, no part is left.
    """
    stock = sound(judged_stock(job))
    parts = sound(judged_parts(job, stock)) if is_sound(_whole(job, stock)) else ()
    return replace(job, parts=parts, stock=stock)


def _whole(job: Job, usable: Sequence[Stock]) -> Iterator[Issue]:
    if not job.parts:
        yield error("job-no-parts", "", "There are no parts: enter what you need.", "parts")
    if not job.stock:
        yield error("job-no-stock", "", "There are no sheets: enter what you have.", "stock")
    if job.rule.levels not in LEVELS:
        said = f"A sheet is cut 2 or 3 levels deep, not {job.rule.levels}."
        yield error("shop-levels", "", said, "levels")
    shop = list(shop_faults(job.shop, job.style))
    yield from shop
    if is_sound(shop):
        yield from limit_faults(job, usable, job.parts)
