"""Edits of what lies on the bench; each pushes one step and says whether anything changed.

The sheets that an edit touches are yours from then on. What cannot be done is said in a sentence
by the document, not raised.
"""

from collections.abc import Iterable, Sequence
from dataclasses import replace

from layout_app.document.document import Document
from layout_app.document.edit import Consequence, Edit
from layout_app.model import layout_edits
from layout_app.model.at_hand import is_left, none_left_words
from layout_app.model.locks import given_back, laid_by_hand
from layout_app.model.merge_plan import after_hands, with_layout
from layout_app.model.project import Project
from layout_app.model.sawing import resized
from shared.layout import Layout
from shared.lengths import Length
from shared.parts import Copy
from shared.plan import Placement
from shared.stock import orientations


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
    old = doc.layout.find((part, copy))
    if turned is None:
        turned = old.turned if old is not None else _lies_turned(doc, part, sheet)
    new = Placement(part=part, copy=copy, sheet=sheet, x=x, y=y, length=0, width=0, turned=turned)
    if old is not None and replace(old, length=0, width=0) == new:
        return False
    if doc.tell(doc.held.bars_place(resized(doc.job, new))):
        return False
    return lay_parts(doc, f"move {doc.job.named((part, copy))}", [new])


def _lies_turned(doc: Document, part: str, sheet: str) -> bool:
    stock = doc.job.stock_row(doc.layout.sheet(sheet).stock)
    return orientations(doc.job.part(part).grain_rule, stock.grain)[0]


def move_parts(
    doc: Document, placements: Sequence[Placement], pushed: Sequence[Placement] = ()
) -> bool:
    """Lay copies as placements say, whose sizes do not matter, as one step.

    Those that lie so already stay as they are. ``pushed`` are others that give way to them.
    """
    here = moving(doc, placements)
    aside = moving(doc, pushed)
    new = [*here, *aside]
    if not new or doc.tell(*map(doc.held.bars_place, new)):
        return False
    done = [("move", here), ("push", aside)]
    named = [f"{verb} {_named(doc, [one.key for one in some])}" for verb, some in done if some]
    return lay_parts(doc, " and ".join(named), new)


def moving(doc: Document, placements: Iterable[Placement]) -> list[Placement]:
    """Return placements of the size their parts have now, without those that lie so already."""
    new = [resized(doc.job, one) for one in placements]
    return [one for one in new if doc.layout.find(one.key) != one]


def lay_parts(doc: Document, text: str, placements: Sequence[Placement]) -> bool:
    """Take copies up and put them down elsewhere, as one step called ``text``."""
    return doc.push(Edit(text, laid(doc, placements), Consequence.PLAN_ON))


def open_sheet(doc: Document, stock: str, placements: Sequence[Placement]) -> bool:
    """Put one more sheet of a stock row on the bench and lay copies on it, as one step.

    The placements name the sheet by the id that `layout_edits.add_sheet` gives it.
    """
    row = doc.job.stock_row(stock)
    if doc.tell("" if is_left(row, doc.layout) else none_left_words(row)):
        return False
    if doc.tell(*(doc.held.bars(one.key) for one in placements)):
        return False
    named = _named(doc, [one.key for one in placements])
    after = laid(doc, moving(doc, placements), opens=stock)
    return doc.push(Edit(f"open a sheet of {row.name} for {named}", after, Consequence.PLAN_ON))


def laid(doc: Document, placements: Sequence[Placement], opens: str = "") -> Project:
    """Return what the project becomes with copies laid as placements say.

    ``opens`` is the stock row of a sheet that is put on the bench for them, if one is. What was
    asked last is remembered: it is priced while it is in the hand, and laid down then.
    """
    asked = (doc.project, tuple(placements), opens)
    if not (_LAID and _LAID[0][0][0] is asked[0] and _LAID[0][0] == asked):
        layout = doc.layout
        if opens:
            layout = layout_edits.add_sheet(layout, doc.job.stock_row(opens))
        layout = layout_edits.place_all(doc.job, layout, placements)
        _LAID[:] = [(asked, with_layout(doc.project, layout))]
    return _LAID[0][1]


_LAID: list[tuple[tuple[Project, tuple[Placement, ...], str], Project]] = []


def turn_parts(doc: Document, keys: Iterable[Copy]) -> bool:
    """Turn copies by a quarter, as one step: those that are not held and that grain lets turn."""
    lying = [one for key in sorted(keys) if (one := doc.layout.find(key)) is not None]
    reasons = {one.key: _fixed(doc, one.key) for one in lying}
    turning = [one for one in lying if not reasons[one.key]]
    if not turning:
        return doc.tell(*reasons.values()) and False
    new = [layout_edits.turned(doc.job, doc.layout, one) for one in turning]
    return lay_parts(doc, f"turn {_named(doc, [one.key for one in new])}", new)


def _fixed(doc: Document, key: Copy) -> str:
    """Say why a copy that lies cannot turn, ``""`` if it can."""
    held = doc.held.bars(key)
    if held or layout_edits.may_turn(doc.job, doc.layout, key):
        return held
    rule = doc.job.part(key[0]).grain_rule
    return f"{doc.job.named(key)} cannot turn here: its grain runs {rule}."


def set_aside(doc: Document, keys: Iterable[Copy]) -> bool:
    """Take copies from their sheets and set them aside until they are put back, as one step.

    Of several none stays selected, so that one slip of the tray can be pulled alone.
    """
    taken = sorted(set(keys) - _aside(doc))
    if not taken or doc.tell(*map(doc.held.bars, taken)):
        return False
    text = f"set {_named(doc, taken)} aside"
    done = doc.push(Edit(text, without(doc, taken), Consequence.PLAN_ON))
    if done and len(taken) > 1:
        doc.selection.clear()
    return done


def without(doc: Document, keys: Sequence[Copy]) -> Project:
    """Return what the project becomes with copies set aside."""
    return with_layout(doc.project, layout_edits.set_aside(doc.job, doc.layout, keys))


def put_back(doc: Document, keys: Iterable[Copy]) -> bool:
    """Let planning place copies again that were set aside, as one step."""
    back = sorted(_aside(doc) & set(keys))
    if not back:
        return False
    layout = layout_edits.put_back(doc.job, doc.layout, back)
    return _lay(doc, f"put {_named(doc, back)} back", layout, Consequence.PLAN_ANEW)


def _aside(doc: Document) -> set[Copy]:
    return {one.key for one in doc.layout.waiting if one.sent}


def move_rip(doc: Document, sheet: str, from_index: int, to_index: int) -> bool:
    """Move a first-level piece of a sheet to another place in its run, counted from 0."""
    if from_index == to_index or doc.layout.sheet(sheet).tree is None:
        return False
    if doc.tell(doc.held.bars_rip(sheet, from_index, to_index)):
        return False
    when = "earlier" if to_index < from_index else "later"
    layout = layout_edits.reorder_rips(doc.job, doc.layout, sheet, from_index, to_index)
    return _lay(doc, f"move a rip of sheet {sheet} {when}", layout)


def add_sheet(doc: Document, stock: str) -> bool:
    """Put one more sheet of a stock row on the bench, empty and yours, if there is one."""
    row = doc.job.stock_row(stock)
    if doc.tell("" if is_left(row, doc.layout) else none_left_words(row)):
        return False
    return _lay(doc, f"lay out a sheet of {row.name}", layout_edits.add_sheet(doc.layout, row))


def remove_sheet(doc: Document, sheet: str) -> bool:
    """Take a sheet off the bench; what lies on it is set aside."""
    old = doc.layout.sheet(sheet)
    keys = [one.key for one in old.placements]
    if doc.tell(*map(doc.held.bars, keys)):
        return False
    layout = layout_edits.set_aside(doc.job, doc.layout, keys)
    rest = tuple(one for one in layout.sheets if one.id != sheet)
    done = _lay(doc, f"remove sheet {sheet}", replace(layout, sheets=rest))
    if done and len(keys) > 1:
        doc.selection.clear()
    return done


def plan(doc: Document) -> None:
    """Plan around what is laid out by hand, locked, begun and set aside."""
    doc.edited.emit(Consequence.PLAN_ANEW)


def plan_anew(doc: Document) -> bool:
    """Plan everything, taking back what is laid out by hand; begun sheets and locks stay."""
    if laid_by_hand(doc.project):
        after = after_hands(given_back(doc.project))
        return doc.push(Edit("plan everything anew", after, Consequence.PLAN_ANEW))
    plan(doc)
    return False


def _lay(
    doc: Document, text: str, layout: Layout, consequence: Consequence = Consequence.PLAN_ON
) -> bool:
    """Lay the bench so; planning that is under way starts over around the maker's sheets."""
    return doc.push(Edit(text, with_layout(doc.project, layout), consequence))


def _named(doc: Document, keys: Sequence[Copy]) -> str:
    """Return what a step calls copies: one by its name, several by their number."""
    return doc.job.named(keys[0]) if len(keys) == 1 else f"{len(keys)} parts"
