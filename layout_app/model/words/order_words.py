"""The order of cuts in words: by what, with how many set-up changes, and how good that is."""

from typing import Final

from layout_app.model.sawing import Sawn
from layout_app.model.words.wording import at_least_words, counted
from shared.cuts.tally import Tally, tally
from shared.shop import SawingOrder

MODES: Final = {
    SawingOrder.BY_SHEET: "sheet by sheet",
    SawingOrder.BY_SETUP: "set-up by set-up",
    SawingOrder.LEAST_WALKING: "least walking",
}
WHAT_FOR: Final = {
    SawingOrder.BY_SHEET: "finish each sheet before the next is begun",
    SawingOrder.BY_SETUP: "let one set-up serve all sheets, as far as pieces may lie about",
    SawingOrder.LEAST_WALKING: "sheet by sheet, pieces lifted and turned as seldom as can be",
}
"""What each order does, the end of a sentence."""
NONE_WALKS_LESS: Final = "no order lifts or turns less, nor as little in fewer minutes"


def sequence_words(sawn: Sawn, takes: Tally | None) -> str:
    """Say what the sequence takes, how good its order is, and how much of it is made."""
    if takes is None:
        return ""
    project = sawn.project
    progress, shop = project.progress, project.job.shop
    made, before = len(progress.made), sum(len(past.cuts) for past in progress.past)
    uncut = bool(sawn.problems)
    minutes = at_least_words(takes.minutes) if uncut else f"about {takes.minutes} min"
    words = [counted(takes.cuts, "cut"), minutes, counted(takes.setup_changes, "set-up change")]
    done = [f"{before} made before"] * bool(before) + [f"{made} made"] * bool(made)
    how = [MODES[shop.sawing], *_claims(sawn, takes.seconds)]
    return f"{', '.join([*done, *words])}; {', '.join(how)}"


def order_words(sawn: Sawn) -> str:
    """Say by what the cuts are in order, and how good that is; ``""`` if they are in none."""
    layout, shop = sawn.project.layout, sawn.project.job.shop
    if sawn.plan is None or layout.sawing is not shop.sawing:
        return ""
    takes = tally(sawn.plan, shop)
    said = [counted(takes.setup_changes, "set-up change")]
    said += _claims(sawn, takes.seconds)
    return f"{MODES[shop.sawing].capitalize()}: {', '.join(said)}"


def _claims(sawn: Sawn, seconds: int) -> list[str]:
    """Return how good an order of so many seconds is, and whether the maker has a part in it.

    Of a few sheets, while others can't be cut yet, nothing is claimed.
    """
    layout, mode = sawn.project.layout, sawn.project.job.shop.sawing
    if layout.sawing is not mode:
        return []
    known = layout.least_s >= 0 and not sawn.problems
    said = verdict(mode, seconds, layout.least_s) if known else ""
    return [*filter(None, [said]), *["with your changes"] * bool(layout.before)]


def verdict(mode: SawingOrder, seconds: int, least: int) -> str:
    """Say whether the same cuts can take less time than they do in a mode, by how much at most.

    Walking least, minutes come after what is lifted and turned: only the best there is says so.
    """
    if mode is SawingOrder.LEAST_WALKING:
        return NONE_WALKS_LESS if seconds <= least else ""
    if seconds <= least:
        return "no order takes fewer minutes"
    return f"at most {-((least - seconds) // 60)} min could be saved"
