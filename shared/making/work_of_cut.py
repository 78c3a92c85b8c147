"""The work in each interval between ticks, counted by kinds as the time model counts it.

An interval goes from one tick to that of the next cut, so it is the work of that cut: the sum of
its kinds, as in `shared.making.timing`.
"""

from dataclasses import replace
from functools import lru_cache
from typing import Any, Final, NamedTuple

from shared.check_shop import SECONDS
from shared.making.record import CutRecord
from shared.making.timing import seconds_of
from shared.shop import Shop

BASE: Final = "cut_s"
METRE: Final = "metre_s"
FIGURES: Final = (BASE, METRE, *(field for field in SECONDS if field not in {BASE, METRE}))
"""Fields of the shop that say what each kind of work takes, in seconds."""
PER_MICROMETRE: Final = 1_000_000
SECOND: Final = 1_000
"""Seconds of the second kind of work that is told in one sum; no cut has the first so often."""


class Interval(NamedTuple):
    """The time to one cut from the one before it, in seconds, and the work that was in it.

    ``work`` says how often each of `FIGURES` is in it; of the share for length, how many metres.
    """

    number: int
    seconds: float
    work: tuple[float, ...]


def interval_of(record: CutRecord, seconds: float, shop: Shop) -> Interval | None:
    """Return the interval of a cut made in a shop; ``None`` if it holds work without a figure.

    Before the first cut of a sheet that sheet is checked, which no figure is for.
    """
    if record.sheet_check is not None:
        return None
    return Interval(record.number, seconds, work_of(record, shop))


def work_of(record: CutRecord, shop: Shop) -> tuple[float, ...]:
    """Return how often each kind of work is in a cut; of length, how many metres.

    Counted by the time model itself, in a shop whose seconds of each kind cannot be mistaken for
    those of another.
    """
    told = seconds_of(record, _telling_shop(shop.lift_g, shop.turn_g))
    joins, rails = divmod(told.rails, SECOND)
    more, lifts = divmod(told.lifting, SECOND)
    heavy, turns = divmod(more, SECOND)
    often = {
        BASE: 1,
        METRE: told.cutting / PER_MICROMETRE,
        "setup_s": told.setting,
        "measure_s": told.measuring,
        "unguided_s": told.marking,
        "rail_s": rails,
        "join_s": joins,
        "lift_s": lifts,
        "turn_s": turns,
        "heavy_s": heavy,
        "skim_s": told.skimming,
    }
    return tuple(float(often[figure]) for figure in FIGURES)


@lru_cache(4)
def _telling_shop(lift_g: int, turn_g: int) -> Shop:
    """Return a shop in which a sum of seconds says how often each kind of work is in it."""
    first: dict[str, Any] = dict.fromkeys(FIGURES, 1)
    others = {"join_s": SECOND, "turn_s": SECOND, "heavy_s": SECOND**2}
    weights = {"lift_g": lift_g, "turn_g": turn_g}
    return replace(Shop(), **first | others | {BASE: 0, METRE: PER_MICROMETRE} | weights)
