"""The order of cuts in words: by what, with how many set-up changes, and how good that is."""

from collections.abc import Iterator
from typing import Final

from layout_app.model.sawing import Sawn
from layout_app.model.words.wording import counted, full_minutes
from shared.cuts.tally import Tally, tally
from shared.layout import EARLIER_PACE
from shared.making.timing import ahead
from shared.shop import SawingOrder

MODES: Final = {
    SawingOrder.BY_SHEET: "sheet by sheet",
    SawingOrder.BY_SETUP: "set-up by set-up",
    SawingOrder.LEAST_WALKING: "least walking",
}
WHAT_FOR: Final = {
    SawingOrder.BY_SHEET: "finish each sheet before the next is begun",
    SawingOrder.BY_SETUP: "let one set-up serve all sheets, within your limit of begun pieces",
    SawingOrder.LEAST_WALKING: "sheet by sheet, pieces lifted and turned as seldom as can be",
}
"""What each order does, the end of a sentence."""
NONE_WALKS_LESS: Final = "no order has fewer lifts and turns"
OF_ANOTHER_PACE: Final = "order found for the earlier pace"


def to_go_s(sawn: Sawn) -> int | None:
    """Return the seconds that cuts which are not ticked take; ``None`` if none is ticked."""
    made = sawn.project.progress.made
    if sawn.plan is None or not made:
        return None
    return ahead(sawn.plan, sawn.project.job.shop, frozenset(made)).total


def sequence_words(sawn: Sawn, takes: Tally | None) -> str:
    """Say what the sequence takes, how good its order is, and how much of it is made."""
    return next(sequence_versions(sawn, takes), "")


def sequence_versions(sawn: Sawn, takes: Tally | None) -> Iterator[str]:
    """Yield that, then what says ever less of it, for where there is no room.

    What can be read elsewhere goes first. With ticks what is to go stays to the last, and else
    how good the order is.
    """
    if takes is None:
        return
    progress, left_s = sawn.project.progress, to_go_s(sawn)
    made, before = len(progress.made), sum(len(past.cuts) for past in progress.past)
    cuts, minutes = counted(takes.cuts, "cut"), f"{takes.minutes} min"
    if left_s is not None and made < takes.cuts:
        cuts = f"{made} made, {takes.cuts - made} to go"
        minutes = f"{full_minutes(left_s)} of {minutes}"
    elif left_s is not None:
        cuts = f"all {cuts} made"
    minutes = f"{'at least' if sawn.problems else 'about'} {minutes}"
    changes, how = counted(takes.setup_changes, "set-up change"), _how(sawn, takes.seconds)
    done = f"{before} made before, " if before else ""
    mine = ", with your changes" if sawn.project.layout.before else ""
    yield f"{done}{cuts}, {minutes}, {changes}; {how}{mine}"
    yield f"{done}{cuts}, {minutes}; {how}{mine}"
    yield f"{cuts}, {minutes}; {how}"
    if left_s is None:
        yield f"{minutes}; {how}"
    else:
        yield f"{cuts}, {minutes}; {MODES[sawn.project.job.shop.sawing]}"
        yield f"{cuts}, {minutes}"


def order_words(sawn: Sawn) -> str:
    """Say by what the cuts are in order, and how good that is; ``""`` if they are in none."""
    layout, shop = sawn.project.layout, sawn.project.job.shop
    if sawn.plan is None or layout.sawing is not shop.sawing:
        return ""
    takes = tally(sawn.plan, shop)
    said = [counted(takes.setup_changes, "set-up change"), _how(sawn, takes.seconds)]
    said += ["with your changes"] * bool(layout.before)
    return ", ".join(said)


def already_words(mode: SawingOrder) -> str:
    """Say that the order by a mode that was chosen is the one there was."""
    return f"{MODES[mode].capitalize()}: the cuts were in that order already."


def _how(sawn: Sawn, seconds: int) -> str:
    """Return the mode the cuts are in order by, and how good an order of so many seconds is.

    Of a few sheets, while others can't be cut yet, nothing is claimed.
    """
    layout, mode = sawn.project.layout, sawn.project.job.shop.sawing
    if layout.sawing is not mode:
        return MODES[mode]
    if layout.least_s == EARLIER_PACE:
        return f"{MODES[mode]}, {OF_ANOTHER_PACE}"
    known = layout.least_s >= 0 and not sawn.problems
    return verdict(mode, seconds, layout.least_s) if known else MODES[mode]


def verdict(mode: SawingOrder, seconds: int, least: int) -> str:
    """Say whether the same cuts can take less time than they do in a mode, by how much at most.

    It holds for the layout they are of and for that mode, which is named. Walking least, minutes
    come after what is lifted and turned: only the best there is says so.
    """
    if mode is SawingOrder.LEAST_WALKING:
        return f"{MODES[mode]}: {NONE_WALKS_LESS}" if seconds <= least else MODES[mode]
    if seconds <= least:
        return f"no {MODES[mode].replace(' ', '-')} order takes fewer minutes"
    return f"at most {full_minutes(seconds - least)} min could be saved, {MODES[mode]}"
