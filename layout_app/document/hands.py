"""What the maker can do to a document; each pushes one named undo step.

Every function says whether anything changed. What cannot be done is said in a sentence by
the document, not raised.
"""

from collections.abc import Iterable, Sequence
from dataclasses import replace

from layout_app.document import commands, hold_commands, layout_commands, stock_commands
from layout_app.document.document import Consequence, Document
from layout_app.model import layout_edits
from layout_app.model import locks as holding
from layout_app.model.at_hand import is_left, none_left_words
from layout_app.model.project import Copy
from layout_app.model.sawing import resized
from layout_app.model.trim_to_fit import measured, too_small
from shared.costs import area_price
from shared.job import MatchGroup
from shared.layout import Hold, Scope
from shared.lengths import Length, LengthStyle, format_pair
from shared.parts import GrainRule, Part
from shared.plan import Placement
from shared.practice import usual
from shared.shop import CutRule, Shop
from shared.stock import AreaPrice, Stock, orientations


def move_part(  # noqa: PLR0917 - part, copy, sheet, x, y: one place, said in that order
    doc: Document,
    part: str,
    copy: int,
    sheet: str,
    x: Length,
    y: Length,
    turned: bool | None = None,
) -> bool:
    """Lay a copy with its corner at (x, y) ticks in the frame of a sheet."""
    old = layout_edits.find(doc.layout, (part, copy))
    if turned is None:
        turned = old.turned if old is not None else _lies_turned(doc, part, sheet)
    new = Placement(part=part, copy=copy, sheet=sheet, x=x, y=y, length=0, width=0, turned=turned)
    if old is not None and replace(old, length=0, width=0) == new:
        return False
    if _barred(doc, doc.held.bars_place(resized(doc.job, new))):
        return False
    return _push(doc, layout_commands.MovePart(doc, f"move {named(doc, (part, copy))}", new))


def move_parts(doc: Document, placements: Sequence[Placement]) -> bool:
    """Lay copies as placements say, whose sizes are no matter, as one step.

    Those that lie so already stay as they are.
    """
    old = {
        (one.part, one.copy): layout_edits.find(doc.layout, (one.part, one.copy))
        for one in placements
    }
    new = [
        one for one in (resized(doc.job, p) for p in placements) if old[one.part, one.copy] != one
    ]
    if not new or _barred(doc, *map(doc.held.bars_place, new)):
        return False
    first = named(doc, (new[0].part, new[0].copy))
    what = first if len(new) == 1 else f"{len(new)} parts"
    return _push(doc, layout_commands.LayParts(doc, f"move {what}", new))


def wait_part(doc: Document, part: str, copy: int) -> bool:
    """Take a copy from its sheet and let it wait until it is called back."""
    return wait_parts(doc, [(part, copy)])


def wait_parts(doc: Document, keys: Iterable[Copy]) -> bool:
    """Let several copies wait, as one step."""
    sent = {(one.part, one.copy) for one in doc.layout.waiting if one.sent}
    moving = sorted(set(keys) - sent)
    if not moving:
        return False
    if _barred(doc, *map(doc.held.bars, moving)):
        return False
    what = named(doc, moving[0]) if len(moving) == 1 else f"{len(moving)} parts"
    return _push(doc, layout_commands.LetPartsWait(doc, f"let {what} wait", moving))


def call_back(doc: Document, keys: Iterable[Copy]) -> bool:
    """Let planning place copies again that were sent to wait, as one step."""
    sent = {(one.part, one.copy) for one in doc.layout.waiting if one.sent}
    back = sorted(sent & set(keys))
    if not back:
        return False
    what = named(doc, back[0]) if len(back) == 1 else f"{len(back)} parts"
    return _push(doc, layout_commands.CallPartsBack(doc, f"call {what} back", back))


def turn_part(doc: Document, part: str, copy: int) -> bool:
    """Turn a copy by a quarter, if its grain rule allows it there."""
    return turn_parts(doc, [(part, copy)])


def turn_parts(doc: Document, keys: Iterable[Copy]) -> bool:
    """Turn copies by a quarter, as one step: those that are not held and that grain lets turn."""
    lying = [one for key in sorted(keys) if (one := layout_edits.find(doc.layout, key)) is not None]
    reasons = {(one.part, one.copy): _fixed(doc, (one.part, one.copy)) for one in lying}
    turning = [one for one in lying if not reasons[one.part, one.copy]]
    if not turning:
        return _barred(doc, *reasons.values()) and False
    first = named(doc, (turning[0].part, turning[0].copy))
    what = first if len(turning) == 1 else f"{len(turning)} parts"
    new = [layout_edits.turned(doc.job, doc.layout, one) for one in turning]
    return _push(doc, layout_commands.LayParts(doc, f"turn {what}", new))


def _fixed(doc: Document, key: Copy) -> str:
    """Say why a copy that lies cannot turn, ``""`` if it can."""
    if layout_edits.may_turn(doc.job, doc.layout, key):
        return doc.held.bars(key)
    rule = doc.job.part(key[0]).grain_rule
    held = doc.held.bars(key)
    return held or f"{named(doc, key)} cannot turn here: its grain runs {rule}."


def resize_part(
    doc: Document,
    part: str,
    length: Length,
    width: Length,
    *,
    copy: int | None = None,
    corner: tuple[Length, Length] | None = None,
) -> bool:
    """Give a part, all its copies, another finished size in ticks.

    ``copy`` is the one whose edge was moved: the sheet it lies on becomes yours. Its corner
    lies at ``corner`` then, if the edge was a near one.
    """
    old = doc.job.part(part)
    new = replace(old, length=length, width=width)
    if copy is not None and _barred(doc, doc.held.bars((part, copy))):
        return False
    moved = None if copy is None else ((part, copy), corner)
    text = f"resize {old.name} to {format_pair(length, width, doc.job.style)}"
    return new != old and _push(doc, commands.ResizePart(doc, text, new, moved))


def set_grain_rule(doc: Document, part: str, rule: GrainRule) -> bool:
    """Say how a part wants the grain to run."""
    return set_grain_rules(doc, [part], rule)


def set_grain_rules(doc: Document, parts: Iterable[str], rule: GrainRule) -> bool:
    """Say how parts want the grain to run, as one step."""
    new = [part for part in parts if doc.job.part(part).grain_rule is not rule]
    if not new:
        return False
    what = doc.job.part(new[0]).name if len(new) == 1 else f"{len(new)} parts"
    text = f"grain of {what} {rule}"
    return _push(doc, commands.SetGrainRule(doc, text, new, rule))


def move_rip(doc: Document, sheet: str, from_index: int, to_index: int) -> bool:
    """Move a first-level piece of a sheet to another place in its run, counted from 0."""
    if from_index == to_index or layout_edits.sheet_of(doc.layout, sheet).tree is None:
        return False
    if _barred(doc, doc.held.bars_rip(sheet, from_index, to_index)):
        return False
    when = "earlier" if to_index < from_index else "later"
    command = layout_commands.MoveRip(
        doc, f"move a rip of sheet {sheet} {when}", sheet, from_index, to_index
    )
    return _push(doc, command)


def add_sheet(doc: Document, stock: str) -> bool:
    """Put one more sheet of a stock row on the bench, empty and yours, if there is one."""
    row = doc.job.stock_row(stock)
    if _barred(doc, "" if is_left(row, doc.layout) else none_left_words(row)):
        return False
    return _push(doc, layout_commands.AddSheet(doc, f"lay out a sheet of {row.name}", stock))


def hold(doc: Document, scope: Scope, keys: Iterable[Copy]) -> bool:
    """Hold parts, their strips or their sheets, as one step; those that wait are passed over."""
    free = [key for key in sorted(keys) if not holding.is_held(doc.held, scope, key)]
    return _hold(doc, holding.made(doc.project, scope, free))


def hold_sheet(doc: Document, sheet: str) -> bool:
    """Hold a sheet whole."""
    return _hold(doc, tuple(holding.of_sheet(doc.layout, sheet)))


def release(doc: Document, scope: Scope | None, keys: Iterable[Copy]) -> bool:
    """Release copies, their strips or their sheets; with no scope all that holds them."""
    return release_holds(doc, holding.on(doc.layout, doc.held, scope, keys))


def release_holds(doc: Document, holds: Sequence[Hold]) -> bool:
    """Release these holds, in force or suspended, as one step."""
    if not holds:
        return False
    return _push(doc, hold_commands.LetGo(doc, f"release {holding.said(doc.job, holds)}", holds))


def hold_or_release(doc: Document, scope: Scope, keys: Iterable[Copy]) -> bool:
    """Hold what is selected, or release it if all of it is held in that way."""
    keys = sorted(keys)
    lying = [key for key in keys if layout_edits.find(doc.layout, key) is not None]
    if any(not holding.is_held(doc.held, scope, key) for key in lying):
        return hold(doc, scope, lying)
    return release(doc, scope, keys)


def plan(doc: Document) -> None:
    """Plan around what is laid out by hand, locked, begun and set aside."""
    doc.edited.emit(Consequence.PLAN_ANEW)


def plan_anew(doc: Document) -> bool:
    """Plan everything, taking back what is laid out by hand; begun sheets and locks stay."""
    if holding.laid_by_hand(doc.project):
        return _push(doc, layout_commands.TakeSheetsBack(doc, "plan everything anew"))
    plan(doc)
    return False


def edit_part(doc: Document, part: Part) -> bool:
    """Change the row of the take-off that has this part's id."""
    return _alter(doc, f"edit {doc.job.part(part.id).name}", part)


def set_show_face(doc: Document, part: str, shown: bool) -> bool:
    """Say whether the face of a part is shown."""
    old = doc.job.part(part)
    text = f"show face of {old.name}" if shown else f"no show face of {old.name}"
    return _alter(doc, text, replace(old, show=shown))


def finish_at_table(doc: Document, part: str, there: bool) -> bool:
    """Cut a part oversize by the shop's figure, to be finished at the table saw, or not."""
    old = doc.job.part(part)
    oversize = doc.job.shop.oversize or usual(doc.job.style.unit).oversize
    text = f"finish {old.name} at the table saw" if there else f"cut {old.name} at once"
    return _alter(doc, text, replace(old, oversize=oversize if there else 0))


def set_fit_part(doc: Document, part: str, waits: bool) -> bool:
    """Make a part wait for its mate, its blank as much larger as others that are finished later.

    Else it is cut at once, and what was measured is forgotten.
    """
    old = doc.job.part(part)
    allowance = doc.job.shop.oversize or usual(doc.job.style.unit).oversize
    text = f"let {old.name} wait for its mate" if waits else f"cut {old.name} at once"
    new = replace(old, fit_allowance=allowance if waits else 0)
    if not waits:
        new = replace(new, measured_length=0, measured_width=0)
    return _alter(doc, text, new)


def measure(doc: Document, part: str, length: Length, width: Length) -> bool:
    """Give a fit part its measured finished size in ticks; 0 for a side not measured yet.

    A blank that is too small for it is an offcut, and the part needs another.
    """
    old = doc.job.part(part)
    new = measured(old, length, width)
    done = _alter(doc, f"measure {old.name}", new)
    reason = too_small(old, new, doc.job.style)
    if done and reason:
        doc.said.emit(reason)
    return done


def _alter(doc: Document, text: str, part: Part) -> bool:
    """Change a row of the take-off in a step of its own name."""
    return doc.job.part(part.id) != part and _push(doc, commands.EditPart(doc, text, part))


def set_columns(doc: Document, group: str, columns: int) -> bool:
    """Say how many parts of a match group lie beside each other in a row."""
    if columns == doc.job.columns_of(group):
        return False
    text = f"rows of {columns} in {group}"
    return _push(doc, commands.SetColumns(doc, text, MatchGroup(name=group, columns=columns)))


def add_parts(doc: Document, parts: Sequence[Part]) -> bool:
    """Add rows to the take-off."""
    what = parts[0].name if len(parts) == 1 else f"{len(parts)} parts"
    return bool(parts) and _push(doc, commands.AddParts(doc, f"add {what}", parts))


def remove_parts(doc: Document, ids: Sequence[str]) -> bool:
    """Take rows off the take-off."""
    what = doc.job.part(ids[0]).name if len(ids) == 1 else f"{len(ids)} parts"
    return bool(ids) and _push(doc, commands.RemoveParts(doc, f"remove {what}", ids))


def edit_stock(doc: Document, stock: Stock, what: str = "") -> bool:
    """Change the row of sheets and rack that has this id; ``what`` names the step."""
    old = doc.job.stock_row(stock.id)
    text = what or f"edit {old.name}"
    return old != stock and _push(doc, stock_commands.EditStock(doc, text, stock))


def add_stock(doc: Document, rows: Sequence[Stock]) -> bool:
    """Add rows to sheets and rack."""
    what = rows[0].name if len(rows) == 1 else f"{len(rows)} rows"
    return bool(rows) and _push(doc, stock_commands.AddStock(doc, f"add {what}", rows))


def remove_stock(doc: Document, ids: Sequence[str]) -> bool:
    """Take rows off sheets and rack; what lies on them waits."""
    what = doc.job.stock_row(ids[0]).name if len(ids) == 1 else f"{len(ids)} rows"
    return bool(ids) and _push(doc, stock_commands.RemoveStock(doc, f"remove {what}", ids))


def set_area_price(doc: Document, material: str, given: AreaPrice | None) -> bool:
    """Say what a material costs by area; ``None`` for nothing."""
    text = f"price by area of {material}"
    change = stock_commands.SetAreaPrice(doc, text, material, given)
    return given != area_price(doc.job, material) and _push(doc, change)


def set_sheet_apart(doc: Document, row_id: str, new_id: str) -> bool:
    """Give the one sheet of a row that has its bad places a row of its own, under a new id."""
    row = doc.job.stock_row(row_id)
    if not row.no_go or row.at_hand in {0, 1}:
        return False
    apart = replace(row, id=new_id, name=f"{row.name}, flawed", at_hand=1)
    text = f"set a sheet of {row.name} apart"
    return _push(doc, stock_commands.SetSheetApart(doc, text, row_id, apart))


def edit_shop(doc: Document, shop: Shop, what: str = "edit the shop") -> bool:
    """Change saws, rails, limits, pace, or what is worth keeping; ``what`` names the step."""
    return shop != doc.job.shop and _push(doc, commands.EditShop(doc, what, shop))


def edit_rule(doc: Document, rule: CutRule) -> bool:
    """Change how sheets are broken down."""
    return rule != doc.job.rule and _push(doc, commands.EditRule(doc, "change the rule", rule))


def edit_style(doc: Document, style: LengthStyle) -> bool:
    """Change how lengths are written."""
    return style != doc.job.style and _push(doc, commands.EditStyle(doc, "change units", style))


def rename_job(doc: Document, name: str) -> bool:
    """Change the title."""
    return name != doc.job.name and _push(doc, commands.RenameJob(doc, "rename", name))


def named(doc: Document, key: Copy) -> str:
    """Return what a copy is called on screen, such as ``Case side 2``."""
    part = doc.job.part(key[0])
    return f"{part.name} {key[1]}" if part.copies > 1 else part.name


def _hold(doc: Document, holds: Sequence[Hold]) -> bool:
    """Hold what can be held, and say why the rest cannot."""
    suspended = holding.judged(doc.project, holds)
    if _barred(doc, *suspended.values()) and len(suspended) == len(holds):
        return False
    new = [one for one in holds if one not in suspended]
    text = f"hold {holding.said(doc.job, new)}" if new else ""
    return bool(new) and _push(doc, hold_commands.HoldFast(doc, text, new))


def _barred(doc: Document, *reasons: str) -> bool:
    """Say the first reason against something, if there is one."""
    first = next(filter(None, reasons), "")
    if first:
        doc.said.emit(first)
    return bool(first)


def _lies_turned(doc: Document, part: str, sheet: str) -> bool:
    stock = doc.job.stock_row(layout_edits.sheet_of(doc.layout, sheet).stock)
    return orientations(doc.job.part(part).grain_rule, stock.grain)[0]


def _push(doc: Document, command: commands.Change) -> bool:
    return doc.push(command)
