"""What a lock costs, in words: beside its sign, and as a sentence with its name."""

from layout_app.model.lock_costs import LockCost
from layout_app.model.words.wording import counted
from shared.amounts import format_price
from shared.holding import said_within
from shared.job import Job


def sign_words(cost: LockCost) -> str:
    """Say beside the sign of a lock what it costs; ``""`` where others have a share in it."""
    if len(cost.holds) > 1:
        return ""
    if cost.certain:
        return f"costs {_takes(cost)[0]}"
    return f"{_takes(cost)[0]} fewer without it"


def lock_sentence(job: Job, cost: LockCost) -> str:
    """Say in a sentence what a lock costs, or what is enough without it."""
    takes = ", ".join(_takes(cost))
    names = [said_within(job, hold) for hold in cost.holds]
    if len(names) == 1:
        lock, costs = f"the lock of {names[0]}", "costs"
    else:
        lock, costs = f"the locks of {_listed(names)}", "together cost"
    if cost.certain:
        return f"T{lock[1:]} {costs} {takes}."
    return f"Without {lock} there is a plan that takes {takes} less."


def _listed(names: list[str]) -> str:
    return f"{', '.join(names[:-1])} and {names[-1]}"


def _takes(cost: LockCost) -> list[str]:
    """Return what is needed more, the stock first."""
    said = [
        counted(cost.sheets, "sheet") if cost.sheets else "",
        format_price(cost.price) if cost.price else "",
        counted(cost.cuts, "cut") if cost.cuts else "",
        f"about {cost.minutes} min" if cost.minutes else "",
    ]
    return list(filter(None, said))
