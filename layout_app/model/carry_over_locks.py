"""What becomes of held things when the job under them changes.

A held part that changed stays if it fits the strip it lies in; free parts make way for it.
Otherwise it waits and its hold is suspended, and when it fits again it is put back.
"""

from collections.abc import Iterator, Sequence
from dataclasses import replace

from layout_app.model.sawing import resized, tree_of
from shared.check import plannable
from shared.holding import follows, frozen, frozen_areas, standing
from shared.job import Job
from shared.layout import Hold, Layout, LayoutSheet, Scope
from shared.parts import Copy
from shared.plan import Placement
from shared.stock import Stock


def frozen_keys(job: Job, sheet: LayoutSheet, holds: Sequence[Hold]) -> list[Copy]:
    """Return which copies the holds freeze on a sheet, in the order of its placements."""
    stock = next((row for row in job.stock if row.id == sheet.stock), None)
    if stock is None:
        return []
    return [one.key for one in frozen(sheet, stock, job.shop.kerf, holds)]


def recut_held(
    job: Job, sheet: LayoutSheet, kept: Sequence[Placement], holds: Sequence[Hold]
) -> LayoutSheet | None:
    """Find cuts for a sheet on which held parts have changed.

    Parameters
    ----------
    job
        As it is now.
    sheet
        As it lay, its tree slid to the kerf and trims there are now.
    kept
        What may stay on it, with the sizes of now.
    holds
        Those in force on it until now.

    Returns
    -------
    LayoutSheet or None
        With every part that stays, or else the held ones alone. ``None`` when no held part
        changed, or one that did cannot stay.
    """
    stock = job.stock_row(sheet.stock)
    fast = set(frozen_keys(job, sheet, holds))
    kept = [one for one in kept if one.key not in fast or _fits(job, sheet, one, holds)]
    held = [one for one in kept if one.key in fast]
    if all(one in sheet.placements for one in held):
        return None
    mine = [hold for hold in holds if hold.sheet == sheet.id]
    return _cut(job, stock, sheet, (kept, held), mine)


def _fits(job: Job, sheet: LayoutSheet, one: Placement, holds: Sequence[Hold]) -> bool:
    """Say whether a part of some size fits a held strip of its sheet, where its corner is."""
    strips = [replace(h, scope=Scope.STRIP) if h.scope is Scope.PART else h for h in holds]
    areas = frozen_areas(sheet, job.stock_row(sheet.stock), job.shop.kerf, strips)
    return any(area.contains(one.rect) for area in areas)


def _cut(
    job: Job,
    stock: Stock,
    sheet: LayoutSheet,
    choices: Sequence[Sequence[Placement]],
    holds: Sequence[Hold],
) -> LayoutSheet | None:
    """Return the sheet with the first choice of parts that can be cut.

    With held strips it has to be cut in the direction of the rule, or their holds would be
    suspended.
    """
    asked = not sheet.yours and any(hold.scope is not Scope.SHEET for hold in holds)
    for placements in map(tuple, choices):
        tree = tree_of(job, stock, placements)
        if tree is not None and (not asked or follows(tree, job.rule)):
            return replace(sheet, placements=placements, tree=tree)
    return None


def carried(before: Job, old: Layout, new: Layout) -> Layout:
    """Let the holds of a layout that were in force remember how their parts lie in a new one."""
    in_force, _ = standing(before, old)
    sheets = {sheet.id: sheet for sheet in new.sheets}
    lay = {sheet.id: sheet for sheet in old.sheets}
    holds = tuple(
        _reminded(hold, frozen_keys(before, lay[hold.sheet], [hold]), sheets.get(hold.sheet))
        if hold in in_force
        else hold
        for hold in old.holds
    )
    return replace(new, holds=tuple(dict.fromkeys(holds)))


def _reminded(hold: Hold, fast: Sequence[Copy], sheet: LayoutSheet | None) -> Hold:
    """Name how the held part lies now; for a strip, or a sheet, another of its parts if need be."""
    lying = {one.key: one for one in sheet.placements} if sheet is not None else {}
    own = hold.key
    keys = [own] if hold.scope is Scope.PART else [own, *fast]
    lies = next((lying[key] for key in keys if key in lying), None)
    if lies is None:
        return hold
    if hold.scope is Scope.SHEET:
        return replace(hold, lies=lies)
    return replace(hold, part=lies.part, copy=lies.copy, lies=lies)


def of_removed(job: Job, layout: Layout) -> tuple[Hold, ...]:
    """Return the holds whose row has been taken off the take-off."""
    rows = {part.id for part in job.parts}
    return tuple(h for h in layout.holds if h.scope is not Scope.SHEET and h.part not in rows)


def put_back(job: Job, layout: Layout) -> tuple[LayoutSheet, ...]:
    """Return the sheets with every part whose hold is suspended where it was held, if it fits.

    It fits if it is no larger than it was. What is free on that sheet makes way if it must.
    A part that the maker sent to wait, or that lies on a sheet that stays as it is, is left
    alone.
    """
    wanted = {part.id: part.copies for part in plannable(job).parts}
    for hold, _ in standing(job, layout)[1]:
        if hold.lies is not None and 1 <= hold.copy <= wanted.get(hold.part, 0):
            one = resized(job, hold.lies)
            if hold.lies.rect.contains(one.rect):
                layout = _with_put_back(job, layout, hold, one)
    return layout.sheets


def _with_put_back(job: Job, layout: Layout, hold: Hold, one: Placement) -> Layout:
    key, in_force = one.key, standing(job, layout)[0]
    sheets = {sheet.id: sheet for sheet in layout.sheets}
    rows = {row.id for row in plannable(job).stock}
    target = sheets.get(one.sheet)
    if target is None or target.stock not in rows or one in target.placements:
        return layout
    if _stays_away(job, layout, key, in_force):
        return layout
    stock = job.stock_row(target.stock)
    others = [p for p in target.placements if p.key != key]
    fast = set(frozen_keys(job, target, in_force))
    held = others if target.yours else [p for p in others if p.key in fast]
    mine = [hold, *(other for other in in_force if other.sheet == target.id)]
    made = _cut(job, stock, target, ((*others, one), (*held, one)), mine)
    if made is None:
        return layout
    return replace(layout, sheets=tuple(_emptied_of(job, layout, key, made)))


def _stays_away(job: Job, layout: Layout, key: Copy, in_force: Sequence[Hold]) -> bool:
    """Say whether a copy is somewhere that it is not to be taken from."""
    if any(w.sent and w.key == key for w in layout.waiting):
        return True
    lies = [s for s in layout.sheets if any(p.key == key for p in s.placements)]
    return any(s.yours or key in frozen_keys(job, s, in_force) for s in lies)


def _emptied_of(job: Job, layout: Layout, key: Copy, made: LayoutSheet) -> Iterator[LayoutSheet]:
    """Yield the sheets with one made anew, and its new part taken from any other."""
    for sheet in layout.sheets:
        if sheet.id == made.id:
            yield made
        elif any(one.key == key for one in sheet.placements):
            rest = tuple(one for one in sheet.placements if one.key != key)
            tree = tree_of(job, job.stock_row(sheet.stock), rest)
            yield sheet.recut(rest, tree)
        else:
            yield sheet
