"""What the shop cannot saw: of sheets as they lie, and of cuts of the plan that is shown."""

from collections.abc import Iterator
from dataclasses import replace
from typing import Final

from shared.check_shop import leader
from shared.finding import about, say, warning
from shared.issues import Issue
from shared.job import Job
from shared.lengths import LengthStyle, round_down
from shared.plan import Plan
from shared.recognise import Beyond
from shared.saw import BrokenLimit, beyond_limits
from shared.shop import Limit, Shop

CODE: Final = "sheet-beyond-limit"
REMEDY: Final = "plan the sheet anew, or change the limit in the shop"

_WORDS = {
    Limit.REACH: (
        "is {found} long, more than the reach of the {leader}s, {allowed}",
        "cut {number} is {found} long, and the longest {leader} reaches {allowed}",
    ),
    Limit.CARRY: (
        "leaves no piece to carry the {leader}: the wider one is {found}, not {allowed}",
        "at cut {number} the {leader} rests on {found}, and {allowed} carries it",
    ),
    Limit.HOLD: (
        "leaves nothing to hold: the piece under the saw is {found} long, not {allowed}",
        "at cut {number} the piece is {found} long, and {allowed} can be held",
    ),
    Limit.FENCE: (
        "is set to {found}, and the fence of the table saw to {allowed}",
        "cut {number} is set to {found}, and the fence of the table saw to {allowed}",
    ),
}
"""Of a sheet as it lies, and of a cut of a plan."""


def beyond_shop(plan: Plan, shop: Shop, style: LengthStyle) -> dict[str, str]:
    """Say of each sheet with a cut beyond the shop's limits what is wrong with the first one."""
    found: dict[str, str] = {}
    for one in beyond_limits(plan, shop):
        cut, what = one.cut, _excess(one, shop, style)
        sentence = f"Sheet {cut.sheet}: the {cut.kind} set to {say(cut.size, style)} {what}."
        found.setdefault(cut.sheet, sentence)
    return found


def excess_words(one: Beyond, shop: Shop, style: LengthStyle) -> str:
    """Say which cut of a sheet as it lies is beyond which limit, and by how much."""
    return f"the {one.axis} set to {say(one.size, style)} {_excess(one, shop, style)}"


def _excess(one: BrokenLimit | Beyond, shop: Shop, style: LengthStyle) -> str:
    found, allowed = say(one.found, style), say(one.allowed, style)
    return _WORDS[one.limit][0].format(found=found, allowed=allowed, leader=leader(shop))


def issues_of(plan: Plan | None, job: Job) -> Iterator[Issue]:
    """Yield the first cut of each sheet that breaks a limit, for each limit.

    Planning keeps to the limits, and a sheet laid by hand beyond them has no cuts. So they
    can be broken only on sheets that are begun, which stay as they lie.
    """
    style, told = job.style, set()
    for one in _broken(plan, job.shop) if plan is not None else ():
        place = (one.cut.sheet, one.limit)
        if place in told:
            continue
        told.add(place)
        allowed = say(one.allowed, style)
        if one.limit is Limit.REACH:
            allowed = about(round_down(one.allowed, style), style)
        said = _WORDS[one.limit][1].format(
            number=one.cut.number,
            found=say(one.found, style),
            allowed=allowed,
            leader=leader(job.shop),
        )
        yield warning(CODE, one.cut.sheet, f"Sheet {one.cut.sheet}: {said}; {REMEDY}.")


def _broken(plan: Plan, shop: Shop) -> Iterator[BrokenLimit]:
    """Yield what a shop cannot do of a plan; of one made for it the saw has judged the rest."""
    if plan.shop == shop:
        begun = {sheet.id for sheet in plan.sheets if sheet.stays}
        sheets = tuple(sheet for sheet in plan.sheets if sheet.id in begun)
        plan = replace(plan, sheets=sheets, cuts=tuple(c for c in plan.cuts if c.sheet in begun))
    return beyond_limits(plan, shop)
