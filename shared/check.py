"""What is wrong with a job before it is planned, one sentence for each mistake.

Codes begin with the kind of thing they are about: ``job-``, ``shop-``, ``stock-`` or
``part-``; `check_shop` judges the shop, `check_stock` and `check_parts` the rows.
"""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace
from functools import wraps
from typing import Any, Final, TypeVar

from shared.check_parts import MISFITS, judged_parts
from shared.check_shop import LONGEST_STEP_S, SECONDS, limit_faults, shop_faults
from shared.check_stock import judged_stock
from shared.finding import error, is_sound, sound
from shared.issues import Issue, Severity
from shared.job import Job
from shared.squaring import squared
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


@dataclass(frozen=True, slots=True, kw_only=True)
class Checked:
    """A job that was looked through, once.

    Attributes
    ----------
    issues
        Everything that is wrong with it, rows in the maker's order. An error on a row leaves
        that row out of the plan; one on the job or the shop (its subject is ``""``) leaves
        nothing to plan.
    sound
        The job without the rows that have an error; with an error on the job or the shop
        itself, no part is left.
    """

    issues: tuple[Issue, ...]
    sound: Job


@_lately
def checked(job: Job) -> Checked:
    """Look a job through."""
    stock = judged_stock(job)
    usable = sound(stock)
    parts = judged_parts(job, usable)
    whole = tuple(_whole(job, usable))
    of_rows = (issue for _, issues in (*stock, *parts) for issue in issues)
    left = sound(parts) if is_sound(whole) else ()
    return Checked(issues=(*whole, *of_rows), sound=replace(job, parts=left, stock=usable))


def check_job(job: Job) -> tuple[Issue, ...]:
    """Return everything that is wrong with a job, as `Checked` says."""
    return checked(job).issues


def plannable(job: Job) -> Job:
    """Return the job without the rows that have an error, as `Checked` says."""
    return checked(job).sound


def placeable(job: Job) -> Job:
    """Return the job with no seconds where those of a kind of work make no sense.

    What lies where hangs on no pace: it stays while such a slip is put right.
    """
    slips: dict[str, Any] = {
        field: 0 for field in SECONDS if not 0 <= getattr(job.shop, field) <= LONGEST_STEP_S
    }
    return replace(job, shop=replace(job.shop, **slips)) if slips else job


@_lately
def sawable(job: Job) -> Job:
    """Return the job without rows that make no sense; parts that fit no stock, or find none, stay.

    Sheets out of square have the trims that square them.
    """
    job = squared(job)
    found = checked(job)
    errors = [issue for issue in found.issues if issue.severity is Severity.ERROR]
    whole = {issue.code for issue in errors if issue.subject == ""}
    if whole - {"job-no-stock"}:
        return found.sound
    of_parts = [issue for issue in errors if issue.code.startswith(("part-", "group-"))]
    wrong = {issue.subject for issue in of_parts if issue.code not in MISFITS}
    misfits = {issue.subject for issue in of_parts} - wrong
    described = sound(judged_parts(job, ())) if whole else found.sound.parts
    parts = tuple(part for part in job.parts if part in described or part.id in misfits)
    return replace(found.sound, parts=parts)


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
        yield from limit_faults(job.shop, job.style, usable, job.parts)
