"""Shops in files from before a figure was asked for: what they do not say is common practice.

So an old project gets cuts as safe as a new one. Only figures are filled in that say how a cut
is made; none that decides which plan is best: no run goes to a table saw for which no largest
piece is given.
"""

from collections.abc import Mapping
from typing import Final

import msgspec

from shared.lengths import Unit
from shared.practice import usual

_ASKED_LATER: Final = ("rail_width", "stop", "square", "turn_g")


def with_usual_figures(shop: object, unit: Unit) -> object:
    """Return the raw fields of a shop with the figures it does not give; anything else as it is.

    Rails of one length were listed once for each number of them that is joined: there are as many
    as the most that are.
    """
    if not isinstance(shop, Mapping):
        return shop
    practice = msgspec.to_builtins(usual(unit))
    missing = {name: practice[name] for name in _ASKED_LATER if name not in shop}
    filled = {**missing, **shop}
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
