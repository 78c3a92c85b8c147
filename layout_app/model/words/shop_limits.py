"""Sheets as they lie that the shop cannot saw: which cut is beyond which limit."""

from shared.finding import say
from shared.lengths import LengthStyle
from shared.plan import Plan
from shared.recognise import Beyond
from shared.saw import BrokenLimit, Limit, beyond_limits
from shared.shop import Shop

_WHAT = {
    Limit.REACH: "is {found} long, more than the reach of the rails, {allowed}",
    Limit.CARRY: "leaves no piece to carry the rail: the wider one is {found}, not {allowed}",
    Limit.HOLD: "leaves nothing to hold: the piece under the saw is {found} long, not {allowed}",
    Limit.FENCE: "is set to {found}, and the fence of the table saw to {allowed}",
}


def beyond_shop(plan: Plan, shop: Shop, style: LengthStyle) -> dict[str, str]:
    """Say of each sheet with a cut beyond the shop's limits what is wrong with the first one."""
    found: dict[str, str] = {}
    for one in beyond_limits(plan, shop):
        found.setdefault(one.cut.sheet, _sentence(one, style))
    return found


def _sentence(one: BrokenLimit, style: LengthStyle) -> str:
    cut = one.cut
    what = _WHAT[one.limit].format(found=say(one.found, style), allowed=say(one.allowed, style))
    return f"Sheet {cut.sheet}: the {cut.kind} set to {say(cut.size, style)} {what}."


def excess_words(one: Beyond, style: LengthStyle) -> str:
    """Say which cut of a sheet as it lies is beyond which limit, and by how much."""
    what = _WHAT[one.limit].format(found=say(one.found, style), allowed=say(one.allowed, style))
    return f"the {one.axis} set to {say(one.size, style)} {what}"
