"""Where the minutes at the saw go, by kinds of work, and whose seconds they rest on."""

from collections.abc import Iterable, Iterator
from dataclasses import asdict
from typing import Final, NamedTuple

from layout_app.model.words.wording import at_least_words, counted, full_minutes
from shared.cuts.tally import Tally
from shared.lengths import METRE
from shared.making.timing import Counts, Seconds
from shared.practice import USUAL_SHOP
from shared.shop import Shop

KINDS: Final = {
    "cutting": "cutting",
    "setting": "set-ups",
    "measuring": "measuring first pieces",
    "marking": "marking sizes",
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
    takes no time is left out; one may be rounded to no minute.
    """
    each = asdict(took)
    whole = {kind: seconds // 60 for kind, seconds in each.items()}
    left = -(-took.total // 60) - sum(whole.values())
    for kind in sorted(each, key=lambda one: -(each[one] % 60))[:left]:
        whole[kind] += 1
    yield from ((KINDS[kind], minutes) for kind, minutes in whole.items() if each[kind])


class Share(NamedTuple):
    """A kind of work, its whole minutes, and how often it is done with the seconds for it."""

    kind: str
    minutes: int
    counted: str


def where_they_go(took: Seconds, its: Counts, shop: Shop) -> tuple[Share, ...]:
    """Say of each kind of work how many minutes it takes, how often it is done, and how long."""
    said = _counted(its, shop)
    return tuple(Share(kind, minutes, said[kind]) for kind, minutes in shares(took))


def _counted(its: Counts, shop: Shop) -> dict[str, str]:
    changes = its.settings - 1
    setting = counted(changes, "set-up change") if changes > 0 else "no set-up change"
    each = {
        "cutting": (
            _each(counted(its.cuts, "cut"), its.cuts, "cut_s", shop),
            f"{_seconds('metre_s', shop)} a metre (39 in) over {its.sawn / METRE:.1f} m",
        ),
        "setting": (
            _each(f"set {_times(its.settings)}", its.settings, "setup_s", shop),
            f"{setting}, as the first is none",
        ),
        "measuring": (_each(counted(its.proven, "first piece"), its.proven, "measure_s", shop),),
        "marking": (_each(counted(its.marked, "cut"), its.marked, "unguided_s", shop),),
        "rails": (
            _each(f"another in hand {_times(its.exchanged)}", its.exchanged, "rail_s", shop),
            _each(f"joined or parted {_times(its.joined)}", its.joined, "join_s", shop),
        ),
        "lifting": (
            _each(counted(its.lifts, "lift"), its.lifts, "lift_s", shop),
            _each(counted(its.turns, "turn"), its.turns, "turn_s", shop),
            _each(f"{its.heavy} heavy", its.heavy, "heavy_s", shop, more=True),
        ),
        "skimming": (_each(counted(its.skims, "cut"), its.skims, "skim_s", shop, more=True),),
    }
    return {KINDS[kind]: "; ".join(filter(None, said)) for kind, said in each.items()}


def _each(what: str, number: int, field: str, shop: Shop, *, more: bool = False) -> str:
    """Say how often and how long; ``""`` for what is never done."""
    if not number:
        return ""
    return f"{what}, {_seconds(field, shop)}{' more' if more else ''}{' each' * (number > 1)}"


def _times(number: int) -> str:
    return {1: "once", 2: "twice"}.get(number, f"{number} times")


def _seconds(field: str, shop: Shop) -> str:
    """Write a figure of the pace, and that it is the maker's while others are not."""
    own = _own(shop)
    return f"{'your ' if field in own and len(own) < len(PACE) else ''}{getattr(shop, field)} s"


def _own(shop: Shop) -> list[str]:
    return [field for field in PACE if getattr(shop, field) != getattr(USUAL_SHOP, field)]


def whose_seconds(shop: Shop) -> str:
    """Say which seconds for each kind of work are the maker's, and where they are changed."""
    own = _own(shop)
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
    """Say in lines what sawing takes, kind by kind of work, and whose seconds it rests on.

    Not ``whole`` while some sheets can't be cut yet. ``left_s`` is what cuts that are not ticked
    take, in seconds, where some are: that comes first.
    """
    if takes is None or not takes.seconds:
        return ""
    all_of_it = f"about {takes.minutes} min" if whole else at_least_words(takes.minutes)
    to_go = () if left_s is None else (f"To go: about {full_minutes(left_s)} min.",)
    lines = [
        f"{share.kind} {share.minutes} min: {share.counted}"
        for share in where_they_go(takes.took, takes.counts, shop)
    ]
    return "\n".join((*to_go, f"{HEADING}, {all_of_it}:", *lines, whose_seconds(shop)))


def _listed(names: Iterable[str]) -> str:
    *others, last = names
    return f"{', '.join(others)} and {last}" if others else last
