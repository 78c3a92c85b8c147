"""The simulated saw: it cuts every plan, cut by cut, before anybody sees it.

The saw is the judge of all plans, whoever made them. It believes nothing but the list of
sheets: it lays them on the sawhorses, makes the numbered cuts in order, and compares what
lies there with what was promised. It does not look at the tree of cuts, and shares no
arithmetic with what makes plans.

`sawhorses` holds the pieces and makes a cut; `cards` reads what is written on the cuts;
`promises` compares pieces with parts and offcuts; `books` counts copies and checks where
they may lie; `claims` checks the proof. What a plan says of its shop is held against it too:
`limits` of each pass, `shop` its saws and rule, `keys` what each cut saws off (`contents`), and
`matched` where the figures of its sets run on. `passes` goes through all cuts; `apart` knows the
sheets that were sawn before just as they are.
"""

from collections.abc import Iterable, Iterator

from shared.issues import Issue
from shared.plan import Cut, Plan, PlanSheet
from shared.saw.apart import sound_apart
from shared.saw.books import wrong_books, wrong_count, wrong_rows
from shared.saw.claims import wrong_claims
from shared.saw.matched import wrong_matches
from shared.saw.passes import sawn
from shared.saw.sawhorses import PieceOnHand, Sawhorses
from shared.saw.shop import BrokenLimit, broken, refused, wrong_shop
from shared.shop import Shop

__all__ = [
    "BrokenLimit",
    "PieceOnHand",
    "after",
    "beyond_limits",
    "lying",
    "refused",
    "verify",
]


def verify(plan: Plan, shop: Shop | None = None) -> tuple[Issue, ...]:
    """Saw a plan and say what is wrong with it.

    Parameters
    ----------
    plan
        From anywhere.
    shop
        Whose limits every cut is to keep; with ``None`` those of the shop the plan says it was
        made for, but for sheets that stay as they lay. Of a plan that names no shop any cut is
        possible, and nothing is asked of saws, rule, keys and matched sets.

    Returns
    -------
    tuple[Issue, ...]
        Empty when the plan is accepted. Else one issue for each thing found, the first
        impossible cut among them: sawing ends there. Subjects are cut numbers, part ids,
        sheet ids or piece names; lengths in sentences are ticks.
    """
    beyond = () if shop is None else (refused(one, shop) for one in beyond_limits(plan, shop))
    keyed = any(cut.key for cut in plan.cuts)
    limited = shop is None
    if sound_apart(plan, limited=limited, keyed=keyed):
        cuts: Iterable[Issue] = ()
        books: Iterable[Issue] = (*wrong_rows(plan), *wrong_count(plan))
    else:
        cuts = sawn(plan, limited=limited, keyed=keyed)
        books = wrong_books(plan)
    return (*books, *wrong_claims(plan), *wrong_shop(plan), *wrong_matches(plan), *cuts, *beyond)


def beyond_limits(plan: Plan, shop: Shop) -> Iterator[BrokenLimit]:
    """Yield what a shop cannot do of a plan, up to the first cut that no saw could make."""
    if not shop.limits_cuts and shop.table is None:
        return
    horses = Sawhorses(plan.sheets)
    for cut in plan.cuts:
        done = horses.saw(cut)
        if isinstance(done, Issue):
            return
        yield from broken(cut, done, shop)


def lying(plan: Plan, before: int) -> tuple[PieceOnHand, ...]:
    """Return the pieces on the sawhorses just before cut number ``before``.

    One more than the last number gives what lies there at the end. The rectangles are in
    the frame of the sheet each piece comes from, in ticks.

    Raises
    ------
    ValueError
        If a cut before that one is impossible, which `verify` would have said.
    """
    return after(plan.sheets, (cut for cut in plan.cuts if cut.number < before))


def after(sheets: Iterable[PlanSheet], cuts: Iterable[Cut]) -> tuple[PieceOnHand, ...]:
    """Return the pieces on the sawhorses when these cuts are made, of these sheets, in order.

    Raises
    ------
    ValueError
        If one of the cuts is impossible then.
    """
    horses = Sawhorses(sheets)
    for cut in cuts:
        done = horses.saw(cut)
        if isinstance(done, Issue):
            raise ValueError(done.sentence)
    return horses.pieces
