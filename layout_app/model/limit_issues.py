"""What the shop cannot do of the plan that is shown: one sentence a sheet and limit."""

from collections.abc import Callable, Iterator
from typing import Final

from shared.finding import about, say, warning
from shared.issues import Issue
from shared.job import Job
from shared.lengths import LengthStyle, round_down
from shared.plan import Plan
from shared.saw import BrokenLimit, Limit, beyond_limits

CODE: Final = "sheet-beyond-limit"
REMEDY: Final = "plan the sheet anew, or change the limit in the shop"


def of_plan(plan: Plan | None, job: Job) -> Iterator[Issue]:
    """Yield the first cut of each sheet that breaks a limit, for each limit.

    Planning keeps to the limits, and a sheet laid by hand beyond them has no cuts. So they
    can be broken only on sheets that are begun, which stay as they lie.
    """
    told = set()
    for one in beyond_limits(plan, job.shop) if plan is not None else ():
        place = (one.cut.sheet, one.limit)
        if place not in told:
            told.add(place)
            said = f"Sheet {one.cut.sheet}: {_SAID[one.limit](one, job.style)}; {REMEDY}."
            yield warning(CODE, one.cut.sheet, said)


def _reach(one: BrokenLimit, style: LengthStyle) -> str:
    found, allowed = say(one.found, style), about(round_down(one.allowed, style), style)
    return f"cut {one.cut.number} is {found} long, and the longest rail reaches {allowed}"


def _carry(one: BrokenLimit, style: LengthStyle) -> str:
    found, allowed = say(one.found, style), say(one.allowed, style)
    return f"at cut {one.cut.number} the rail rests on {found}, and {allowed} carries it"


def _hold(one: BrokenLimit, style: LengthStyle) -> str:
    found, allowed = say(one.found, style), say(one.allowed, style)
    return f"at cut {one.cut.number} the piece is {found} long, and {allowed} can be held"


def _fence(one: BrokenLimit, style: LengthStyle) -> str:
    found, allowed = say(one.found, style), say(one.allowed, style)
    return f"cut {one.cut.number} is set to {found}, and the fence of the table saw to {allowed}"


_SAID: Final[dict[Limit, Callable[[BrokenLimit, LengthStyle], str]]] = {
    Limit.REACH: _reach,
    Limit.CARRY: _carry,
    Limit.HOLD: _hold,
    Limit.FENCE: _fence,
}
