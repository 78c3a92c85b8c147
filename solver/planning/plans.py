"""From the best solutions of all materials to one plan that the simulated saw has accepted."""

from collections import Counter
from collections.abc import Iterator, Sequence
from itertools import count
from typing import NamedTuple

from shared.cuts.sequence import layout_sheet, saw_up
from shared.job import Job
from shared.layout import LayoutSheet, by_number
from shared.lengths import Length
from shared.plan import Plan, Unplaced
from shared.saw import verify
from shared.shop import Limit
from shared.tree import Piece, Run, left_over, runs
from solver.assemble.equal_parts import equalised, with_equals
from solver.assemble.halving import halved
from solver.assemble.table_runs import may_have_table_runs, with_table_runs
from solver.assemble.trees import SheetTree, trees
from solver.limits.measure import cost
from solver.material.around import sawn_around
from solver.material.rooms import Room
from solver.material.started_sheets import finished
from solver.planning.proof_status import ProofStatus, proof_of
from solver.planning.trouble import BeyondLimits, RefusedPlan
from solver.prepare.instances import Prepared, merged
from solver.prepare.missing_stock import no_more


def compose(prepared: Prepared, statuses: Sequence[ProofStatus]) -> Plan:
    """Return the plan of all sheets, by number, or raise `RefusedPlan`.

    There is a status for each instance, in their order. The shop's limits are held
    against new sheets; what is kept or begun lies as the maker wants it. Equal parts come off
    equal settings where stock is left over; what is claimed of the sawing is dropped where that
    takes more of it.
    """
    job, kept = prepared.job, prepared.kept
    cuttable = [sheet for sheet in kept if sheet.tree is not None]
    assembled = [_assembled(status, job) for status in statuses]
    statuses = [one.status for one in assembled]
    made = [one.sheets for one in assembled]
    sheets = by_number([*cuttable, *_planned(prepared, made)])
    unplaced = merged([*prepared.unplaced, *_left(prepared, statuses, sheets)])
    proof = proof_of(job, cuttable, prepared.begun, statuses, prepared.ground.costs)
    before = prepared.made
    plan = saw_up(
        job,
        sheets,
        proof,
        unplaced,
        order=before.order,
        first=before.first,
        finished=before.finished,
        stays={sheet.id for sheet in kept} | {sheet.sheet for sheet in prepared.begun},
    )
    if wrong := verify(plan):
        only_limits = all(issue.code in set(Limit) for issue in wrong)
        refusal = BeyondLimits if prepared.around and only_limits else RefusedPlan
        raise refusal("; ".join(issue.sentence for issue in wrong[:3]))
    return plan


class _Assembled(NamedTuple):
    """The sheets of one material, and what is known of them as they are sawn."""

    status: ProofStatus
    sheets: list[SheetTree]


def _assembled(status: ProofStatus, job: Job) -> _Assembled:
    """Return the sheets of a solution, with equal parts at equal settings where they can be."""
    instance, before = status.instance, status.solution
    equals = with_equals(instance, job)
    solution = equalised(instance, before, job, equals)
    sheets = trees(instance, solution, job, equals)
    least = status.least_sawing and solution is before
    least = least and not may_have_table_runs(job, instance.material)
    if least and _setups(sheets, job) > cost(instance, before).setups:
        least = False
    best = status.best_remainder and least
    known = status._replace(solution=solution, least_sawing=least, best_remainder=best)
    return _Assembled(known, sheets)


def _setups(sheets: Sequence[SheetTree], job: Job) -> int:
    """Count the distinct set-ups of the cuts that saw some sheets up, trims among them."""
    found: set[tuple[int, bool, Length]] = set()
    for sheet in sheets:
        whole = job.stock_row(sheet.stock).whole
        for level, run, rect in runs(sheet.tree, whole, job.shop.kerf):
            exact = left_over(run, rect, job.shop.kerf) <= 0
            sizes = run.pieces[: len(run.pieces) - exact]
            found |= {(level, False, piece.size) for piece in sizes}
            found |= {(level, True, run.trim)} if run.trim else set()
    return len(found)


def _planned(prepared: Prepared, made: Sequence[Sequence[SheetTree]]) -> Iterator[LayoutSheet]:
    """Yield the sheets that are begun, and new ones under numbers that no other has.

    A piece on the sawhorses keeps its name.
    """
    job, contents = prepared.job, {}
    new: list[SheetTree] = []
    for rooms, trees_of_material in zip(prepared.rooms, made, strict=True):
        for sawn in trees_of_material:
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
        tabled = halved(with_table_runs(sawn.tree, row, job), row, job)
        yield layout_sheet(row.piece or next(ids), row, job.shop.kerf, tabled)
    for sheet in prepared.around:
        tree = sawn_around(sheet, contents)
        if tree is not None:
            row = sheet.stock
            tabled = with_table_runs(tree, row, job)
            yield layout_sheet(row.piece or next(ids), row, job.shop.kerf, tabled)


def _pieces(room: Room, tree: Run) -> tuple[Piece, ...]:
    """Return what lies in a room of a sheet that is begun: strips, or blocks of one strip."""
    (only, *_) = tree.pieces
    return only.run.pieces if room.fixed and only.run is not None else tree.pieces


def _left(
    prepared: Prepared, statuses: Sequence[ProofStatus], sheets: Sequence[LayoutSheet]
) -> Iterator[Unplaced]:
    """Yield what fits the stock, but finds none left at hand."""
    lying = {p.key for sheet in sheets for p in sheet.placements}
    for status in statuses:
        members = (member for item in status.instance.items for member in item.members)
        missing = Counter(part for part, copy in members if (part, copy) not in lying)
        for part, copies in missing.items():
            need = no_more(prepared.job.part(part), prepared.job, prepared.ground.rows)
            yield Unplaced(part=part, copies=copies, need=need)
