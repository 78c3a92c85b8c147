"""Where the minutes at the saw go, by kinds of work, and whose seconds they rest on."""

from collections.abc import Iterable, Iterator
from dataclasses import asdict
from typing import Final

from layout_app.model.words.wording import at_least_words, full_minutes
from shared.cuts.tally import Tally
from shared.making.timing import Seconds
from shared.practice import USUAL_SHOP
from shared.shop import Shop

KINDS: Final = {
    "cutting": "cutting",
    "setting": "set-ups",
    "measuring": "measuring first pieces",
    "marking": "marking at both ends",
    "rails": "rails",
    "lifting": "lifting and turning",
    "skimming": "skim cuts",
}
"""How each kind of `Seconds` is called."""
PACE: Final = {
    "cut_s": "a cut",
    "metre_s": "a metre of it",
    "setup_s": "a set-up",
    "measure_s": "its first piece",
    "unguided_s": "marking both ends",
    "rail_s": "another rail",
    "join_s": "joining rails",
    "lift_s": "a lift",
    "turn_s": "a turn",
    "heavy_s": "a heavy piece",
    "skim_s": "a skim cut",
}
"""How each figure of the pace is called, by its field of `Shop`."""
CHANGED_AT: Final = "Change them in the tab Shop, under “Pace and order”."
HEADING: Final = "Where the minutes go"


def shares(took: Seconds) -> Iterator[tuple[str, int]]:
    """Yield each kind of work with its whole minutes, which add up to the minutes of all.

    All are rounded up together; what that leaves goes to those with the largest rest. A kind that
    takes no whole minute is left out.
    """
    each = asdict(took)
    whole = {kind: seconds // 60 for kind, seconds in each.items()}
    left = -(-took.total // 60) - sum(whole.values())
    for kind in sorted(each, key=lambda one: -(each[one] % 60))[:left]:
        whole[kind] += 1
    yield from ((KINDS[kind], minutes) for kind, minutes in whole.items() if minutes)


def where_they_go(took: Seconds) -> str:
    """Say how many minutes each kind of work takes; ``""`` where nothing takes any."""
    said = ", ".join(f"{kind} {minutes}" for kind, minutes in shares(took))
    return f"{said} min" if said else ""


def whose_seconds(shop: Shop) -> str:
    """Say which seconds for each kind of work are the maker's, and where they are changed."""
    own = [field for field in PACE if getattr(shop, field) != getattr(USUAL_SHOP, field)]
    if not own:
        return f"The seconds behind them are common practice, estimates. {CHANGED_AT}"
    if len(own) == len(PACE):
        return f"The seconds behind them are your own. {CHANGED_AT}"
    return (
        f"The seconds for {_listed(PACE[field] for field in own)} are your own, the others are"
        f" common practice, estimates. {CHANGED_AT}"
    )


def minutes_tip(
    takes: Tally | None, shop: Shop, *, whole: bool = True, left_s: int | None = None
) -> str:
    """Say in lines what sawing takes, where that goes, and whose seconds it rests on.

    Not ``whole`` while some sheets can't be cut yet. ``left_s`` is what cuts that are not ticked
    take, in seconds, where some are: that comes first.
    """
    if takes is None or not takes.seconds:
        return ""
    all_of_it = f"about {takes.minutes} min" if whole else at_least_words(takes.minutes)
    to_go = "" if left_s is None else f"To go: about {full_minutes(left_s)} min.\n"
    return f"{to_go}{HEADING}, {all_of_it}: {where_they_go(takes.took)}.\n{whose_seconds(shop)}"


def _listed(names: Iterable[str]) -> str:
    *others, last = names
    return f"{', '.join(others)} and {last}" if others else last
