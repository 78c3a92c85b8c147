"""From the best solutions of all materials to one plan that the simulated saw has accepted."""

from collections import Counter
from collections.abc import Iterator, Sequence
from itertools import count

from shared.cuts.sequence import layout_sheet, saw_up
from shared.layout import LayoutSheet, by_number
from shared.plan import Plan, Unplaced
from shared.saw import verify
from shared.shop import Limit
from shared.tree import Piece, Run
from solver.assemble.table_runs import with_table_runs
from solver.assemble.trees import SheetTree, trees
from solver.material.around import sawn_around
from solver.material.rooms import Room
from solver.material.started_sheets import finished
from solver.planning.proof_status import ProofStatus, proof_of
from solver.planning.trouble import BeyondLimits, RefusedPlan
from solver.prepare.instances import Prepared, merged
from solver.prepare.missing_stock import more_of


def compose(prepared: Prepared, statuses: Sequence[ProofStatus]) -> Plan:
    """Return the plan of all sheets, by number, or raise `RefusedPlan`.

    There is a status for each instance, in their order. The shop's limits are held
    against new sheets; what is kept or begun lies as the maker wants it.
    """
    job, kept = prepared.job, prepared.kept
    cuttable = [sheet for sheet in kept if sheet.tree is not None]
    sheets = by_number([*cuttable, *_planned(prepared, statuses)])
    unplaced = merged([*prepared.unplaced, *_left(statuses, sheets)])
    proof = proof_of(job, cuttable, prepared.begun, statuses, prepared.ground.costs)
    made = prepared.made
    plan = saw_up(
        job,
        sheets,
        proof,
        unplaced,
        order=made.order,
        first=made.first,
        finished=made.finished,
        stays={sheet.id for sheet in kept} | {sheet.sheet for sheet in prepared.begun},
    )
    if wrong := verify(plan):
        only_limits = all(issue.code in set(Limit) for issue in wrong)
        refusal = BeyondLimits if prepared.around and only_limits else RefusedPlan
        raise refusal("; ".join(issue.sentence for issue in wrong[:3]))
    return plan


def _planned(prepared: Prepared, statuses: Sequence[ProofStatus]) -> Iterator[LayoutSheet]:
    """Yield the sheets that are begun, and new ones under numbers that no other has.

    A piece on the sawhorses keeps its name.
    """
    job, contents = prepared.job, {}
    new: list[SheetTree] = []
    for rooms, status in zip(prepared.rooms, statuses, strict=True):
        for sawn in trees(status.instance, status.solution, job):
            place = rooms[sawn.kind].place
            if place is None:
                new.append(sawn)
            else:
                contents[place] = _pieces(rooms[sawn.kind], sawn.tree)
    for begun in prepared.begun:
        yield layout_sheet(begun.sheet, begun.stock, job.shop.kerf, finished(begun, contents))
    taken = {sheet.id for sheet in prepared.kept} | {sheet.sheet for sheet in prepared.begun}
    taken |= {row.piece for row in job.stock} | set(prepared.made.names)
    ids = (str(number) for number in count(1) if str(number) not in taken)
    for sawn in new:
        row = job.stock_row(sawn.stock)
        tabled = with_table_runs(sawn.tree, row, job)
        yield layout_sheet(row.piece or next(ids), row, job.shop.kerf, tabled)
    for sheet in prepared.around:
        tree = sawn_around(sheet, contents)
        if tree is not None:
            row = sheet.stock
            yield layout_sheet(row.piece or next(ids), row, job.shop.kerf, tree)


def _pieces(room: Room, tree: Run) -> tuple[Piece, ...]:
    """Return what lies in a room of a sheet that is begun: strips, or blocks of one strip."""
    (only, *_) = tree.pieces
    return only.run.pieces if room.fixed and only.run is not None else tree.pieces


def _left(statuses: Sequence[ProofStatus], sheets: Sequence[LayoutSheet]) -> Iterator[Unplaced]:
    """Yield what fits the stock, but finds none left at hand."""
    lying = {p.key for sheet in sheets for p in sheet.placements}
    for status in statuses:
        members = (member for item in status.instance.items for member in item.members)
        missing = Counter(part for part, copy in members if (part, copy) not in lying)
        need = more_of(status.instance.material)
        for part, copies in missing.items():
            yield Unplaced(part=part, copies=copies, need=need)
