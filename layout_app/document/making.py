"""What the maker's hands can make or take away; each pushes one named undo step.

As in `layout_app.document.hands`, every function says whether anything changed, and what cannot be
done is said in a sentence by the document.
"""

from collections import Counter
from collections.abc import Iterable, Iterator
from dataclasses import replace

from layout_app.document import hands, making_commands
from layout_app.document.document import Document
from layout_app.document.judging_many import judge_here
from layout_app.document.places import Places
from layout_app.model import layout_edits
from layout_app.model.carried import lifted
from layout_app.model.project import Copy, fresh_ids
from shared.geometry import Rect
from shared.job import Job
from shared.parts import GrainRule, Part
from shared.plan import Placement
from shared.stock import SheetGrain, Stock

RULES = {
    SheetGrain.ALONG_L: GrainRule.ALONG_LENGTH,
    SheetGrain.ALONG_W: GrainRule.ALONG_WIDTH,
    SheetGrain.NONE: GrainRule.EITHER,
}
"""Rule of a part that is drawn as it shall lie: its length along the sheet's."""


def drawn_part(job: Job, stock: Stock, rect: Rect) -> Part:
    """Return the part that a rectangle on a sheet would be, under the next free name."""
    (new,) = fresh_ids("part-", (part.id for part in job.parts), 1)
    taken = {part.name for part in job.parts}
    numbers = range(len(taken) + 1, 2 * len(taken) + 3)
    name = next(f"Part {number}" for number in numbers if f"Part {number}" not in taken)
    return Part(
        id=new,
        name=name,
        length=rect.length,
        width=rect.width,
        copies=1,
        material=stock.material,
        grain_rule=RULES[stock.grain],
    )


def lying(part: Part, sheet: str, rect: Rect) -> Placement:
    """Return the first copy of a part on a rectangle of a sheet, not turned."""
    return Placement(
        part=part.id,
        copy=1,
        sheet=sheet,
        x=rect.x,
        y=rect.y,
        length=rect.length,
        width=rect.width,
        turned=False,
    )


def draw_part(doc: Document, sheet: str, rect: Rect) -> str:
    """Add a part as large as a rectangle on a sheet, laid there; return its id, ``""`` if not."""
    stock = doc.job.stock_row(layout_edits.sheet_of(doc.layout, sheet).stock)
    part = drawn_part(doc.job, stock, rect)
    placement = lying(part, sheet, rect)
    reason = doc.held.bars_place(placement)
    if reason:
        doc.said.emit(reason)
        return ""
    command = making_commands.DrawPart(doc, f"draw {part.name}", part, placement)
    return part.id if doc.push(command) else ""


def duplicate(doc: Document, keys: Iterable[Copy]) -> bool:
    """Make one more copy of each, laid where it fits on the same sheet; else planning lays it.

    What planning has to lay is said.
    """
    chosen = sorted(keys)
    if not chosen:
        return False
    more = Counter(part for part, _ in chosen)
    placements = tuple(_copies_laid(doc, chosen))
    what = hands.named(doc, chosen[0]) if len(chosen) == 1 else f"{len(chosen)} parts"
    made = making_commands.Duplicate(doc, f"duplicate {what}", more, placements)
    if not doc.push(made):
        return False
    new = [(one.part, one.copy) for one in placements]
    if new:
        doc.selection.select_parts(new)
    if len(new) < len(chosen):
        doc.said.emit(_left_to_planning(len(chosen) - len(new), what))
    return True


def _left_to_planning(copies: int, what: str) -> str:
    if copies == 1:
        return f"Planning finds a place for a copy of {what}."
    return f"Planning finds places for copies of {what}."


def _copies_laid(doc: Document, chosen: Iterable[Copy]) -> Iterator[Placement]:
    """Yield where new copies can lie on the sheets of the old ones, one of each sheet.

    A second one on the same sheet would have to know of the first: planning lays it.
    """
    places = Places(doc)
    seen: set[str] = set()
    counts = {part.id: part.copies for part in doc.job.parts}
    for part, copy in chosen:
        counts[part] += 1
        old = places.placement((part, copy))
        if old is None or old.sheet in seen:
            continue
        new = (part, counts[part])
        placement = replace(old, copy=new[1])
        x, y = places.first_place(old.sheet, lifted(placement))
        placement = replace(placement, x=x, y=y)
        held = doc.held.bars_place(placement)
        if not held and judge_here(doc, places.layout(old.sheet), placement).good:
            seen.add(old.sheet)
            yield placement


def remove_sheet(doc: Document, sheet: str) -> bool:
    """Take a sheet off the bench; what lies on it waits until it is called back."""
    old = layout_edits.sheet_of(doc.layout, sheet)
    keys = [(one.part, one.copy) for one in old.placements]
    reasons = (doc.held.bars(key) for key in keys)
    reason = next(filter(None, reasons), "")
    if reason:
        doc.said.emit(reason)
        return False
    return doc.push(making_commands.RemoveSheet(doc, f"remove sheet {sheet}", sheet, keys))
