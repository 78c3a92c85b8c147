"""One pass through all cuts of a plan, in order, and then a look at what lies there."""

from collections.abc import Iterator

from shared.issues import Issue
from shared.plan import Cut, Plan
from shared.saw.cards import Cards
from shared.saw.contents import Contents, Parted
from shared.saw.keys import Keys
from shared.saw.promises import broken_promises, unbalanced
from shared.saw.sawhorses import Sawhorses, SawPass
from shared.saw.shop import SawsUsed, broken, refused
from shared.shop import Shop


def sawn(plan: Plan, *, limited: bool, keyed: bool) -> Iterator[Issue]:
    """Yield what the cuts do not bear out.

    ``limited`` by the shop the plan names; ``keyed`` if any cut has a key, so that all must.
    """
    blanks = [part.id for part in plan.parts if part.is_blank]
    horses = Sawhorses(plan.sheets)
    cards = Cards(plan.sheets, blanks=blanks, first=plan.first)
    contents = Contents(plan.sheets, plan.placements)
    shopped = None if plan.shop is None else _Shopped(plan, plan.shop, limited=limited, keyed=keyed)
    for cut in plan.cuts:
        done = horses.saw(cut)
        if isinstance(done, Issue):
            yield done
            return
        parted = contents.saw(cut, done)
        yield from cards.faults(cut, done, parted)
        if shopped is not None:
            yield from shopped.faults(cut, done, parted)
    yield from broken_promises(plan, horses.pieces)
    yield from unbalanced(plan, horses.swept)
    if shopped is not None:
        yield from shopped.tools.off_rule(plan)


class _Shopped:
    """Reads the cuts of a plan that names its shop."""

    def __init__(self, plan: Plan, shop: Shop, *, limited: bool, keyed: bool) -> None:
        self.tools = SawsUsed(plan, shop)
        self._shop = shop
        self._keys = Keys(plan.sheets, keyed=keyed)
        stay = {sheet.id for sheet in plan.sheets if sheet.stays}
        self._limited = {sheet.id for sheet in plan.sheets} - stay if limited else set[str]()

    def faults(self, cut: Cut, done: SawPass, parted: Parted) -> Iterator[Issue]:
        yield from self._keys.faults(cut, done, parted)
        yield from self.tools.faults(cut, done, parted)
        if cut.sheet in self._limited:
            yield from (refused(one, self._shop) for one in broken(cut, done, self._shop))
