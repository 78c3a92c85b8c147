"""Which prices a proof rests on, in words."""

from collections.abc import Mapping, Sequence

from shared.amounts import format_price
from shared.costs import Basis, Costs, area_price
from shared.finding import called
from shared.job import Job

NO_PRICES = "by area: no prices given"


def prices_in_words(job: Job, costs: Mapping[str, Costs], materials: Sequence[str]) -> str:
    """Say what counts where the maker gave no price; ``""`` where all prices were given.

    ``materials`` are those of whose sheets not just the number counts.
    """
    said = {name: _of_material(job, name, costs[name]) for name in materials}
    phrases = set(said.values())
    if len(phrases) == 1:
        return phrases.pop()
    return "; ".join(f"{name} {words}" for name, words in said.items() if words)


def _of_material(job: Job, material: str, costs: Costs) -> str:
    given = area_price(job, material)
    if costs.basis is Basis.AREA:
        return NO_PRICES
    if costs.basis is Basis.BY_AREA and given is not None:
        return f"price by area {format_price(given.price)} per {given.per} for {_share(costs)}"
    if costs.basis is Basis.DERIVED and costs.like is not None:
        return f"no price given for {_share(costs)}: by area, as {called(costs.like)} costs"
    return ""


def _share(costs: Costs) -> str:
    every = len(costs.each)
    return f"{len(costs.blank)} of {every} row{'' if every == 1 else 's'}"
