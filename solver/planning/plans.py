"""From the best solutions of all materials to one plan that the simulated saw has accepted."""

from collections import Counter
from collections.abc import Iterator, Sequence
from itertools import count

from shared.job import Job
from shared.layout import LayoutSheet
from shared.plan import Plan, Unplaced
from shared.saw import verify
from solver.planning.standing import Standing, proof_of
from solver.planning.trouble import RefusedPlan
from solver.prepare import Prepared, merged, more_of
from solver.sequencing.assemble import trees
from solver.sequencing.sequence import layout_sheet, saw_up


def compose(prepared: Prepared, kept: Sequence[LayoutSheet], standings: Sequence[Standing]) -> Plan:
    """Return the plan of all sheets, kept ones first, or raise `RefusedPlan`."""
    job = prepared.job
    cuttable = [sheet for sheet in kept if sheet.tree is not None]
    sheets = [*cuttable, *_new_sheets(job, kept, standings)]
    unplaced = merged([*prepared.unplaced, *_left(standings, sheets)])
    plan = saw_up(job, sheets, proof_of(job, kept, standings), unplaced)
    issues = verify(plan)
    if issues:
        raise RefusedPlan("; ".join(issue.sentence for issue in issues[:3]))
    return plan


def _new_sheets(
    job: Job, kept: Sequence[LayoutSheet], standings: Sequence[Standing]
) -> Iterator[LayoutSheet]:
    """Yield the planned sheets under numbers that no kept sheet has."""
    taken = {sheet.id for sheet in kept}
    ids = (str(number) for number in count(1) if str(number) not in taken)
    for standing in standings:
        for stock, tree in trees(standing.instance, standing.solution, job):
            yield layout_sheet(next(ids), job.stock_row(stock), job.shop.kerf, tree)


def _left(standings: Sequence[Standing], sheets: Sequence[LayoutSheet]) -> Iterator[Unplaced]:
    """Yield what fits the stock, but finds none left at hand."""
    lying = {(p.part, p.copy) for sheet in sheets for p in sheet.placements}
    for standing in standings:
        members = (member for item in standing.instance.items for member in item.members)
        missing = Counter(part for part, copy in members if (part, copy) not in lying)
        need = more_of(standing.instance.material)
        for part, copies in missing.items():
            yield Unplaced(part=part, copies=copies, need=need)
