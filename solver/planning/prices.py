"""Which prices a proof rests on, in words."""

from collections.abc import Mapping, Sequence

from shared.amounts import format_price
from shared.costs import Basis, Costs, area_price
from shared.finding import called
from shared.job import Job

MOST_NAMED = 3
"""More rows than this are counted, not named."""
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
        return f"price by area {format_price(given.price)} per {given.per}{_those(job, costs)}"
    if costs.basis is Basis.DERIVED and costs.like is not None:
        names = _those(job, costs)
        return f"no price given{names}: by area, as {called(costs.like)} costs"
    return ""


def _those(job: Job, costs: Costs) -> str:
    """Name the rows that count by area; ``""`` if they are all that have to be bought."""
    rows = [row for row in job.stock if row.id in costs.each and row.at_hand is None]
    if len(rows) == len(costs.blank):
        return ""
    names = [called(row) for row in rows if row.id in costs.blank]
    if len(names) > MOST_NAMED:
        return f" for {len(names)} of {len(rows)} rows to buy"
    return f" for {' and '.join(filter(None, [', '.join(names[:-1]), names[-1]]))}"
