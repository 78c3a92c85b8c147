"""The order of cuts in words: by what, with how many set-up changes, and how good that is."""

from layout_app.model.sawing import Sawn
from layout_app.model.words.wording import at_least_words, counted
from shared.cuts.tally import Tally
from shared.layout import Layout
from shared.shop import SawingOrder

MODES = {
    SawingOrder.BY_SHEET: "sheet by sheet",
    SawingOrder.BY_SETUP: "set-up by set-up",
    SawingOrder.LEAST_WALKING: "least walking",
}


def sequence_words(sawn: Sawn, takes: Tally | None) -> str:
    """Say what the sequence takes, how good its order is, and how much of it is made."""
    if takes is None:
        return ""
    project = sawn.project
    progress, shop = project.progress, project.job.shop
    changes = takes.setup_changes
    order = counted(changes, "set-up change") + claim(project.layout, shop.sawing, changes)
    made, before = len(progress.made), sum(len(past.cuts) for past in progress.past)
    uncut = bool(sawn.problems)
    minutes = at_least_words(takes.minutes) if uncut else f"about {takes.minutes} min"
    words = [counted(takes.cuts, "cut"), minutes, order, MODES[shop.sawing]]
    done = [f"{before} made before"] * bool(before) + [f"{made} made"] * bool(made)
    return ", ".join([*done, *words])


def claim(layout: Layout, mode: SawingOrder, changes: int) -> str:
    """Say how many set-up changes any order of the mode takes, in brackets; ``""`` if unknown."""
    if layout.sawing is not mode or layout.least_s < 0:
        return ""
    by_hand = "; set by hand" if layout.before else ""
    return f" ({verdict(changes, layout.least_s)}{by_hand})"


def verdict(changes: int, least: int) -> str:
    """Say whether there can be fewer set-up changes than these."""
    return "fewest proven" if changes <= least else f"at least {least}"
