"""Matched sets that lie in more blocks than they have to: their figure breaks needlessly."""

from collections.abc import Iterator, Mapping
from typing import NamedTuple

from layout_app.model.words.wording import counted
from shared.check import plannable
from shared.groups import blocks_of, members, names, without
from shared.job import Job
from shared.plan import MatchedSet, Plan


class Broken(NamedTuple):
    """A matched set as it lies, and in how many blocks it could lie; always fewer than it does."""

    told: MatchedSet
    fewest: int

    @property
    def over(self) -> int:
        """How many blocks there are more than there have to be."""
        return len(self.told.blocks) - self.fewest


def broken_sets(job: Job, plan: Plan) -> tuple[Broken, ...]:
    """Return the matched sets of a plan of a job that lie in more blocks than they have to.

    What lies on sheets that stay as they lie, since cuts are made on them, has to lie so. Of a
    set of which members lie nowhere the others are counted.
    """
    if all(len(told.blocks) == 1 for told in plan.matches):
        return ()
    sound = plannable(job)
    known = names(sound)
    found = (
        Broken(told, _fewest(sound, plan, told)) for told in plan.matches if told.name in known
    )
    return tuple(one for one in found if one.over > 0)


def breaks(job: Job, plan: Plan) -> int:
    """Count the blocks of all matched sets of a plan beyond the fewest there have to be."""
    return sum(one.over for one in broken_sets(job, plan))


def figure_sentence(told: MatchedSet) -> str:
    """Say of a matched set that its figure runs on, or into how many blocks it breaks."""
    there = counted(sum(len(block.copies) for block in told.blocks), "part")
    if len(told.blocks) == 1:
        return f"Matched set {told.name}: the figure runs on across {there}."
    sheets = len({block.sheet for block in told.blocks})
    where = f"on {sheets} sheets" if sheets > 1 else f"on sheet {told.blocks[0].sheet}"
    blocks = counted(len(told.blocks), "block")
    return f"Matched set {told.name}: the figure breaks, {there} lie in {blocks} {where}."


def sheets_of_broken(job: Job, plan: Plan | None) -> frozenset[str]:
    """Return the sheets on which sets lie in more blocks than they have to."""
    found = () if plan is None else broken_sets(job, plan)
    return frozenset(block.sheet for one in found for block in one.told.blocks)


def change_words(job: Job, plan: Plan, now: Plan) -> Iterator[str]:
    """Say of which matched sets the figure runs on in a plan, and breaks in the one there is now.

    And the other way round. A figure that has to break anyway breaks less, or more.
    """
    before, after = _by_name(job, now), _by_name(job, plan)
    lying = {told.name: len(told.blocks) for told in plan.matches}
    for name in dict.fromkeys((*before, *after)):
        was, takes = (sets[name].over if name in sets else 0 for sets in (before, after))
        if takes < was:
            does = "runs on" if lying.get(name) == 1 else "breaks less"
        elif takes > was:
            does = "breaks more" if was else "breaks"
        else:
            continue
        yield f"the figure of {name} {does}"


def _by_name(job: Job, plan: Plan) -> Mapping[str, Broken]:
    return {one.told.name: one for one in broken_sets(job, plan)}


def _fewest(job: Job, plan: Plan, told: MatchedSet) -> int:
    """Return in how few blocks a set can lie around what stays as it lies."""
    stay = {sheet.id for sheet in plan.sheets if sheet.stays}
    there = [block for block in told.blocks if block.sheet not in stay]
    free = {one.key for block in there for one in block.copies}
    settled = {(part.id, copy) for part, copy in members(job, told.name)} - free
    loose = sum(len(without(block, settled)) for block in blocks_of(job, told.name))
    return len(told.blocks) - len(there) + loose
