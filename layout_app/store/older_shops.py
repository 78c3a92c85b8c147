"""Shops in files from before a figure was asked for: what they do not say is common practice.

So an old project gets cuts as safe as a new one, and minutes by the same kinds of work. No run
goes to a table saw for which no largest piece is given.
"""

from collections.abc import Mapping
from typing import Final

import msgspec

from shared.lengths import Unit
from shared.practice import usual

_ASKED_LATER: Final = ("rail_width", "stop", "square", "turn_g")
_PACE_LATER: Final = ("measure_s", "rail_s", "join_s", "lift_s", "turn_s", "heavy_s")
_ONCE_CUT_S: Final = 60
"""What a cut of any length took by common practice, until each metre of it was counted."""


def with_usual_figures(shop: object, unit: Unit) -> object:
    """Return the raw fields of a shop with the figures it does not give; anything else as it is.

    Where the maker's own seconds for a cut stand, they are for a cut of any length.
    Rails of one length were listed once for each number of them that is joined: there are as many
    as the most that are.
    """
    if not isinstance(shop, Mapping):
        return shop
    practice = msgspec.to_builtins(usual(unit))
    later = (*_ASKED_LATER, *_PACE_LATER)
    missing = {name: practice[name] for name in later if name not in shop}
    filled = {**missing, **shop}
    if "metre_s" not in shop and shop.get("cut_s", _ONCE_CUT_S) == _ONCE_CUT_S:
        filled |= {name: practice[name] for name in ("cut_s", "metre_s")}
    rails = shop.get("rails")
    if isinstance(rails, list) and not any(
        isinstance(one, Mapping) and "count" in one for one in rails
    ):
        filled["rails"] = _counted(rails)
    return filled


def _counted(rails: list[object]) -> list[object]:
    """Return rails that each say how many of them there are; what does not fit stays as it is."""
    most: dict[object, int] = {}
    for rail in rails:
        if not isinstance(rail, Mapping) or not {"length"} <= set(rail) <= {"length", "joined"}:
            return rails
        length, joined = rail["length"], rail.get("joined", 1)
        if not isinstance(length, int | str) or not isinstance(joined, int):
            return rails
        most[length] = max(joined, most.get(length, joined))
    return [{"length": length, "joined": count, "count": count} for length, count in most.items()]
