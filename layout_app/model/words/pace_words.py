"""The pace heard at the saw, in words."""

from typing import Final

from layout_app.model.pace_offers import PaceOffer
from layout_app.model.words.wording import counted, unbroken
from shared.check_shop import SECONDS
from shared.making.pace_from_ticks import Told
from shared.shop import Shop

NAMED: Final = 3
"""So many figures are named at the end of the walk; the shop names all."""


def rests_on(offer: PaceOffer) -> str:
    """Say how many cuts an offer rests on, and what was left out; the figures follow."""
    heard = offer.heard
    left = [counted(heard.pauses, "long pause")] * bool(heard.pauses)
    left += [f"{counted(heard.quick, 'cut')} ticked together"] * bool(heard.quick)
    out = f" ({' and '.join(left)} left out)" if left else ""
    return f"From {counted(heard.count, 'cut')} at the saw{out} you take"


def told_words(told: Told, shop: Shop) -> str:
    """Say what one kind of work takes at the saw, what the shop says, and on how many it rests."""
    own = getattr(shop, told.figure)
    return unbroken(f"{_seconds(told)}, not {own} ({told.count} of them)")


def _seconds(told: Told) -> str:
    takes = f"about {told.rounded} s" if told.rounded else "no time"
    return f"{takes} {SECONDS[told.figure]}"


def end_words(offer: PaceOffer, shop: Shop) -> str:
    """Say at the end of the sawing what differs, and where it is taken over; ``""`` for nothing."""
    if not offer.figures:
        return ""
    named = [f"{_seconds(one)}, not {getattr(shop, one.figure)}" for one in offer.figures]
    more = [f"and {len(named) - NAMED} more"] if len(named) > NAMED else []
    said = "; ".join((*named[:NAMED], *more))
    return unbroken(f"{rests_on(offer)} {said}. See the tab Shop, under “Pace and order”.")
