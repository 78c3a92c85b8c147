"""What a hand does to a layout; every sheet it touches becomes yours and is cut anew."""

from collections.abc import Collection, Iterable, Sequence
from dataclasses import replace

from layout_app.model.carry_over import with_waiting
from layout_app.model.sawing import on_bad_place, resized, setups_of, tree_of
from shared.cuts.moves import move_rip
from shared.cuts.sequence import layout_sheet
from shared.job import Job
from shared.layout import Layout, LayoutSheet, Waiting
from shared.lengths import Length
from shared.parts import Copy
from shared.plan import Placement
from shared.stock import Stock, orientations
from shared.tree import Run


def place(job: Job, layout: Layout, placement: Placement) -> Layout:
    """Lay a copy on a sheet, taking it from wherever it was."""
    return place_all(job, layout, (placement,))


def place_all(job: Job, layout: Layout, placements: Sequence[Placement]) -> Layout:
    """Lay several copies on sheets at once, taking each from wherever it was."""
    gone = {one.key for one in placements}
    laid = [resized(job, one) for one in placements]
    sheets = [
        _with(job, layout, sheet, gone, tuple(one for one in laid if one.sheet == sheet.id))
        for sheet in layout.sheets
    ]
    return _relaid(job, layout, _used(layout, sheets), layout.waiting)


def set_aside(job: Job, layout: Layout, keys: Sequence[Copy]) -> Layout:
    """Take copies from their sheets and leave them aside until the maker puts them back."""
    sheets = [_with(job, layout, sheet, set(keys), ()) for sheet in layout.sheets]
    sent = [Waiting(part=part, copy=copy, sent=True) for part, copy in keys]
    return _relaid(job, layout, _used(layout, sheets), (*layout.waiting, *sent))


def put_back(job: Job, layout: Layout, keys: Sequence[Copy]) -> Layout:
    """Let planning place copies again that were set aside."""
    sent = [one for one in layout.waiting if one.key not in keys]
    return _relaid(job, layout, layout.sheets, sent)


def turned(job: Job, layout: Layout, old: Placement) -> Placement:
    """Return a placement turned by a quarter about its reference corner, kept on its sheet."""
    stock = job.stock_row(layout.sheet(old.sheet).stock)
    new = resized(job, replace(old, turned=not old.turned))
    x = min(new.x, stock.length - stock.trims.end - new.length)
    y = min(new.y, stock.width - stock.trims.far - new.width)
    return replace(new, x=max(0, x), y=max(0, y))


def may_turn(job: Job, layout: Layout, key: Copy) -> bool:
    """Say whether the grain allows a copy to lie the other way on its sheet."""
    old = layout.find(key)
    if old is None:
        return False
    stock = job.stock_row(layout.sheet(old.sheet).stock)
    return (not old.turned) in orientations(job.part(key[0]).grain_rule, stock.grain)


def reorder_rips(job: Job, layout: Layout, sheet_id: str, frm: int, to: int) -> Layout:
    """Move a first-level piece within its sheet; the strips change place with it."""
    old = layout.sheet(sheet_id)
    if old.tree is None:
        return layout
    return with_tree(job, layout, sheet_id, move_rip(old.tree, frm, to))


def with_tree(job: Job, layout: Layout, sheet_id: str, tree: Run) -> Layout:
    """Give a sheet other cuts: its parts lie as they say, and it is yours.

    If one comes to lie on a bad place, the sheet cannot be cut.
    """
    old = layout.sheet(sheet_id)
    stock = job.stock_row(old.stock)
    new = layout_sheet(old.id, stock, job.shop.kerf, tree, yours=True)
    if any(on_bad_place(job, stock, one) for one in new.placements):
        new = new.recut(new.placements, None)
    return layout.with_sheet(new)


def add_sheet(layout: Layout, stock: Stock) -> Layout:
    """Put one more sheet of a stock row on the bench, empty and yours."""
    taken = {sheet.id for sheet in layout.sheets}
    number = next(str(n) for n in range(1, len(taken) + 2) if str(n) not in taken)
    sheet = LayoutSheet(id=number, stock=stock.id, yours=True)
    return replace(layout, sheets=(*layout.sheets, sheet))


def make_yours(layout: Layout, key: Copy, corner: tuple[Length, Length] | None = None) -> Layout:
    """Take the sheet a copy lies on into the maker's hands; the copy may go to another corner."""
    lies = layout.find(key)
    if lies is None:
        return layout
    x, y = corner or (lies.x, lies.y)
    sheet = layout.sheet(lies.sheet)
    placements = tuple(replace(one, x=x, y=y) if one == lies else one for one in sheet.placements)
    return layout.with_sheet(replace(sheet, placements=placements, yours=True))


def give_back(layout: Layout, stay: Collection[str] = ()) -> Layout:
    """Give sheets back to planning, all but those that stay; what is empty goes."""
    sheets = tuple(
        sheet if sheet.id in stay else replace(sheet, yours=False)
        for sheet in layout.sheets
        if sheet.placements or sheet.id in stay
    )
    return replace(layout, sheets=sheets)


def cut_on(job: Job, before: Layout, after: Layout, begun: Collection[str]) -> Layout:
    """Return a new layout with the cuts of sheets that are begun kept, whatever the limits are.

    Limits of the shop may have changed since: other cuts that keep to them would not be those
    that are made.
    """
    if not (begun and job.shop.limits_cuts):
        return after
    trees = {sheet.id: sheet.tree for sheet in before.sheets if sheet.id in begun}
    sheets = (_cut_on(job, one, trees.get(one.id)) for one in after.sheets)
    return replace(after, sheets=tuple(sheets))


def _cut_on(job: Job, sheet: LayoutSheet, before: Run | None) -> LayoutSheet:
    if before is None or sheet.tree == before:
        return sheet
    stock = job.stock_row(sheet.stock)
    return replace(
        sheet, tree=tree_of(job, stock, sheet.placements, before, limited=False) or sheet.tree
    )


def _with(
    job: Job,
    layout: Layout,
    sheet: LayoutSheet,
    gone: Collection[Copy],
    new: tuple[Placement, ...],
) -> LayoutSheet:
    """Return a sheet without some copies, and with new placements; yours if that is a change."""
    others = tuple(one for one in sheet.placements if one.key not in gone)
    placements = (*others, *new)
    if placements == sheet.placements:
        return sheet
    free = setups_of(job, (other for other in layout.sheets if other.id != sheet.id))
    tree = tree_of(job, job.stock_row(sheet.stock), placements, sheet.known_cuts, free)
    return replace(sheet.recut(placements, tree), yours=True)


def _relaid(
    job: Job, before: Layout, sheets: Iterable[LayoutSheet], waiting: Iterable[Waiting]
) -> Layout:
    """Return a layout with other sheets; what is held and what is finished stays."""
    return with_waiting(job, sheets, replace(before, waiting=tuple(waiting)))


def _used(before: Layout, sheets: Iterable[LayoutSheet]) -> tuple[LayoutSheet, ...]:
    """Leave out sheets that have just been emptied; those laid out empty stay."""
    empty = {sheet.id for sheet in before.sheets if not sheet.placements}
    return tuple(sheet for sheet in sheets if sheet.placements or sheet.id in empty)
