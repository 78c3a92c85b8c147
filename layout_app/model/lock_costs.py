"""What a lock costs: what could be saved without it, counted from the cuts or found by planning."""

from collections.abc import Collection, Sequence
from dataclasses import dataclass, replace

from layout_app.model import layout_edits, locks
from layout_app.model.cost import Cost, Costing
from layout_app.model.merge_plan import after_hands, with_layout
from layout_app.model.project import Project
from layout_app.model.sawing import Sawn
from shared.cuts.pass_keys import copies_in
from shared.layout import Hold, Scope
from shared.plan import Plan
from shared.tree import Piece, Run


@dataclass(frozen=True, slots=True, kw_only=True)
class LockCost:
    """What is needed more with a lock than without it.

    Attributes
    ----------
    holds
        The lock; several where only all of them together cost it.
    sheets, price
        Sheets of stock, and money in hundredths.
    cuts, minutes
        At the saw, before the cuts are put in order anew; where sheets are saved nothing is said
        of it.
    certain
        Whether it is known that no plan with the lock does with less. Else one without it was
        found that does, and there may be one with it.
    """

    holds: tuple[Hold, ...]
    sheets: int = 0
    price: int = 0
    cuts: int = 0
    minutes: int = 0
    certain: bool = True


def matters(project: Project, holds: Sequence[Hold]) -> bool:
    """Say whether planning would go around anything else without some locks."""
    return locks.asked(project) != locks.asked(without(project, holds))


def without(project: Project, holds: Collection[Hold]) -> Project:
    """Return a project without some of its locks."""
    return after_hands(replace(project, layout=locks.without_holds(project.layout, holds)))


def counted(costing: Costing, hold: Hold) -> LockCost | None:
    """Return the cuts that a lock alone forces, ``None`` if there are none.

    Those are cuts of waste right before what is locked, or between its parts: without the lock
    all goes up to what lies before it.
    """
    sawn = costing.sawn
    after = None if sawn.problems else _closed_up(sawn.project, hold)
    cost = None if after is None else costing.of(after)
    if cost is None or not _saves(cost):
        return None
    return LockCost(holds=(hold,), cuts=-cost.cuts, minutes=max(0, -cost.minutes))


def _saves(cost: Cost) -> bool:
    return cost.cuts < 0 and cost.minutes <= 0 and cost.price <= 0


def _closed_up(project: Project, hold: Hold) -> Project | None:
    """Return a project without a lock, and without the waste before what it locks."""
    sheet = project.layout.sheet(hold.sheet)
    if sheet.tree is None or not matters(project, [hold]):
        return None
    tree = _without_waste(sheet.tree, hold)
    if tree == sheet.tree:
        return None
    others = frozenset(locks.Held(project).in_force) - {hold}
    layout = layout_edits.with_tree(project.job, project.layout, sheet.id, tree)
    layout = locks.without_holds(layout, [hold])
    after = with_layout(project, layout)
    return after if others <= set(locks.Held(after).in_force) else None


def _without_waste(run: Run, hold: Hold) -> Run:
    """Return the cuts of a sheet without the waste that only a locked strip or part needs.

    That is what lies right before its strip, and between the parts of what is locked.
    """
    if hold.scope is Scope.SHEET:
        return _pushed_up(Piece(size=0, run=run)).run or run
    index = next((i for i, piece in enumerate(run.pieces) if hold.key in copies_in(piece)), None)
    if index is None:
        return run
    start = index
    while start and _is_waste(run.pieces[start - 1]):
        start -= 1
    strip = _pushed_up(run.pieces[index], hold if hold.scope is Scope.PART else None)
    return replace(run, pieces=(*run.pieces[:start], strip, *run.pieces[index + 1 :]))


def _pushed_up(piece: Piece, hold: Hold | None = None) -> Piece:
    """Return a piece whose parts lie as near to its reference end as its cuts let them.

    With a hold no further than the block that its part lies in.
    """
    run = piece.run
    if run is None:
        return piece
    filled = [i for i, one in enumerate(run.pieces) if not _is_waste(one)]
    if hold is not None:
        filled = [i for i in filled if hold.key in copies_in(run.pieces[i])]
    last = filled[-1] if filled else -1
    before = (_pushed_up(one) for one in run.pieces[: last + 1] if not _is_waste(one))
    return replace(piece, run=replace(run, pieces=(*before, *run.pieces[last + 1 :])))


def _is_waste(piece: Piece) -> bool:
    return next(copies_in(piece), None) is None


def planned(sawn: Sawn, holds: tuple[Hold, ...], other: Sawn | None) -> LockCost | None:
    """Return how much stock a plan without some locks saves, ``None`` if it saves none.

    ``other`` is that plan: all of it has to be cut, all parts placed that are placed now, and
    every other lock kept.
    """
    if sawn.plan is None or other is None or other.plan is None or other.problems:
        return None
    stays = set(locks.Held(sawn.project).in_force) - set(holds)
    if not stays <= set(locks.Held(other.project).in_force) or _left(other.plan) > _left(sawn.plan):
        return None
    sheets = _sheets(sawn.plan) - _sheets(other.plan)
    price = _price(sawn.plan) - _price(other.plan)
    if price < 0 or (price, sheets) <= (0, 0):
        return None
    certain = sawn.project.proof.proven
    return LockCost(holds=holds, sheets=max(0, sheets), price=price, certain=certain)


def _left(plan: Plan) -> int:
    return sum(row.copies for row in plan.unplaced)


def _sheets(plan: Plan) -> int:
    return sum(not sheet.piece for sheet in plan.sheets)


def _price(plan: Plan) -> int:
    return sum(sheet.price for sheet in plan.sheets)
