"""The pace heard at the saw, in words."""

from collections.abc import Collection
from typing import Final

from layout_app.model.pace_offers import PaceOffer
from layout_app.model.words.wording import counted, unbroken
from shared.making.pace_from_ticks import LEAST, Told
from shared.shop import Shop

NAMED: Final = 3
"""So many figures are named at the end of the walk; the shop names all."""
ONE: Final = {
    "cut_s": "a cut",
    "metre_s": "each metre of cut",
    "setup_s": "a set-up",
    "measure_s": "a first piece",
    "unguided_s": "marking both ends",
    "rail_s": "another rail",
    "join_s": "joining rails",
    "lift_s": "a lift",
    "turn_s": "a turn",
    "heavy_s": "help with a heavy piece",
    "skim_s": "a skim cut's slow feed",
}
"""What one of each kind of work is called, by field of the shop."""
KINDS: Final = {
    "cut_s": "nothing but cutting",
    "setup_s": "set-ups",
    "measure_s": "first pieces",
    "unguided_s": "marking both ends",
    "rail_s": "other rails",
    "join_s": "joined rails",
    "lift_s": "lifts",
    "turn_s": "turns",
    "heavy_s": "heavy pieces",
    "skim_s": "skim cuts",
}
"""What each kind of work is called as one of several."""
NOT_TAKEN: Final = "offered again after eight more cuts."


def rests_on(offer: PaceOffer) -> str:
    """Say how many cuts an offer rests on, and what was left out; the figures follow."""
    heard = offer.heard
    left = [counted(heard.pauses, "long pause")] * bool(heard.pauses)
    left += [_in_one_go(heard.quick)] * bool(heard.quick)
    out = f" ({' and '.join(left)} left out)" if left else ""
    return f"Your pace, from {counted(heard.count, 'cut')} timed at the saw{out}:"


def _in_one_go(count: int) -> str:
    return f"{counted(count, 'cut')} ticked with {'another' if count == 1 else 'others'}"


def all_made_words(offer: PaceOffer) -> str:
    """Say of all cuts that are made which of them count, and why the others do not."""
    heard = offer.heard
    untimed = offer.made - offer.timed - offer.firsts
    older = offer.timed - heard.count - heard.pauses - heard.quick
    left = (
        (untimed, "without a time, as no cut was ticked right before in the walk"),
        (offer.firsts, "first on a sheet, which is checked before"),
        (heard.pauses, "with a long pause"),
        (heard.quick, "ticked with others"),
        (older, "from long ago"),
    )
    rest = "; ".join(f"{count} {why}" for count, why in left if count)
    return f"{counted(offer.made, 'cut')} made, {heard.count} count" + (f"; {rest}." * bool(rest))


def told_words(told: Told, shop: Shop) -> str:
    """Say what one kind of work takes at the saw, what the shop says, and on how many it rests."""
    alone = " with nothing else" * told.alone
    return unbroken(f"{_seconds(told, shop)} ({counted(told.count, 'cut')}{alone})")


def _seconds(told: Told, shop: Shop) -> str:
    return f"{ONE[told.figure]} about {told.rounded} s, not {getattr(shop, told.figure)}"


def not_told_words(offer: PaceOffer) -> str:
    """Say which kinds of work are not told yet, and what they wait for; ``""`` for none."""
    few = [(KINDS[one], count) for one, count in offer.heard.waiting if count < LEAST]
    mixed = [KINDS[one] for one, count in offer.heard.waiting if count >= LEAST]
    said = []
    if few:
        (name, count), *others = sorted(few, key=lambda one: -one[1])
        more = "".join(f"; {other} {so_far}" for other, so_far in others)
        said.append(f"{name}: {counted(count, 'cut')} so far, {LEAST} are needed{more}.")
    if mixed:
        said.append(f"not yet apart from other work: {', '.join(mixed)}.")
    return unbroken(" ".join(one[0].upper() + one[1:] for one in said))


def answered_words(offer: PaceOffer, taken: Collection[str]) -> str:
    """Say what became of an offer, some of its figures taken over."""
    left = [ONE[one.figure] for one in offer.figures if one.figure not in taken]
    if not taken:
        return f"Not taken: {NOT_TAKEN}"
    rest = f" Not taken: {', '.join(left)}; {NOT_TAKEN}" if left else ""
    return f"Pace taken over; Ctrl+Z takes it back.{rest}"


def end_words(offer: PaceOffer, shop: Shop) -> str:
    """Say at the end of the sawing what differs, and where it is taken over; ``""`` for nothing."""
    if not offer.figures:
        return ""
    named = [_seconds(one, shop) for one in offer.figures]
    more = [f"and {len(named) - NAMED} more"] if len(named) > NAMED else []
    said = "; ".join((*named[:NAMED], *more))
    return unbroken(f"{rests_on(offer)} {said}. See the tab Shop, under “Pace and order”.")
