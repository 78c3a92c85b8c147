"""Edits of the take-off; each pushes one step and says whether anything changed."""

from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace

from layout_app.document.document import Document
from layout_app.document.edit import Consequence, Edit
from layout_app.document.edit_job import Alter, change_job, settled_to
from layout_app.document.judging_many import judge_here
from layout_app.document.places import Places
from layout_app.document.resized_words import refusal
from layout_app.model import layout_edits
from layout_app.model.carried import lifted
from layout_app.model.carry_over import same_problem
from layout_app.model.merge_plan import after_hands
from layout_app.model.project import Project, fresh_ids
from shared.finding import say_size
from shared.geometry import Rect
from shared.job import Job, MatchGroup
from shared.lengths import Length, LengthStyle, format_pair
from shared.parts import Copy, GrainRule, Part
from shared.plan import Placement
from shared.practice import usual
from shared.stock import SheetGrain, Stock

RULES = {
    SheetGrain.ALONG_L: GrainRule.ALONG_LENGTH,
    SheetGrain.ALONG_W: GrainRule.ALONG_WIDTH,
    SheetGrain.NONE: GrainRule.EITHER,
}
"""Rule of a part that is drawn as it shall lie: its length along the sheet's."""


def edit_part(doc: Document, part: Part) -> bool:
    """Change the row of the take-off that has this part's id."""
    return _edit(doc, f"edit {doc.job.part(part.id).name}", part)


def set_show_face(doc: Document, part: str, shown: bool) -> bool:
    """Say whether the face of a part is shown."""
    old = doc.job.part(part)
    text = f"show face of {old.name}" if shown else f"no show face of {old.name}"
    return _edit(doc, text, replace(old, show=shown))


def finish_at_table(doc: Document, part: str, there: bool) -> bool:
    """Cut a part oversize by the shop's figure, to be finished at the table saw, or not."""
    old = doc.job.part(part)
    oversize = doc.job.shop.oversize or usual(doc.job.style.unit).oversize
    text = f"finish {old.name} at the table saw" if there else f"cut {old.name} at once"
    return _edit(doc, text, replace(old, oversize=oversize if there else 0))


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
    return _edit(doc, text, new)


def measure(doc: Document, part: str, length: Length, width: Length) -> bool:
    """Give a fit part its measured finished size in ticks; 0 for a side not measured yet.

    A blank that is too small for it is an offcut, and the part needs another.
    """
    old = doc.job.part(part)
    new = _measured(old, length, width)
    done = _edit(doc, f"measure {old.name}", new)
    if done:
        doc.tell(_too_small(old, new, doc.job.style))
    return done


def resize_part(
    doc: Document,
    part: str,
    length: Length,
    width: Length,
    *,
    copy: int | None = None,
    corner: tuple[Length, Length] | None = None,
    push: bool = False,
) -> bool:
    """Give a part, all its copies, another finished size in ticks.

    ``copy`` is the one whose edge was moved: the sheet it lies on becomes yours, and all that
    lies there stays where it lies, though it overlap. Its corner lies at ``corner`` then, if the
    edge was a near one. With ``push`` what lies behind gives way, if it can.
    """
    old = doc.job.part(part)
    new = replace(old, length=length, width=width)
    if copy is not None and doc.tell(doc.held.bars((part, copy)), refusal(doc.job, new)):
        return False
    if new == old:
        return False
    text = f"resize {old.name} to {format_pair(length, width, doc.job.style)}"
    return _resize(doc, text, new, copy, corner, push=push)


def retype_part(doc: Document, part: Part, copy: int) -> bool:
    """Give a part, all its copies, another name and other sizes where one copy lies, as one step.

    As with `resize_part` the sheet of that copy becomes yours if a size is another one.
    """
    old = doc.job.part(part.id)
    if (part.length, part.width) == (old.length, old.width):
        return _edit(doc, f"rename {old.name} to {part.name}", part)
    if doc.tell(doc.held.bars((part.id, copy))):
        return False
    size = format_pair(part.length, part.width, doc.job.style)
    return _resize(doc, f"resize {part.name} to {size}", part, copy, push=True)


def _resize(
    doc: Document,
    text: str,
    part: Part,
    copy: int | None,
    corner: tuple[Length, Length] | None = None,
    *,
    push: bool,
) -> bool:
    """Put a row of other sizes in place of its own; a copy that was meant stays where it lies."""
    alter, (project, here) = _with_row(part), _in_hand(doc, part.id, copy, corner)
    after, says = settled_to(project, alter, by_hand=True, push=push, under_hand=here)
    return doc.push(Edit(text, after, _of_rows(doc.job, after.job), alter, says=says))


def with_size(
    doc: Document,
    part: str,
    size: tuple[Length, Length],
    copy: int,
    corner: tuple[Length, Length] | None = None,
    *,
    push: bool = False,
) -> Project:
    """Return what the project becomes with a part resized, as `resize_part` does it."""
    new = replace(doc.job.part(part), length=size[0], width=size[1])
    project, here = _in_hand(doc, part, copy, corner)
    return settled_to(project, _with_row(new), by_hand=True, push=push, under_hand=here)[0]


def _in_hand(
    doc: Document, part: str, copy: int | None, corner: tuple[Length, Length] | None
) -> tuple[Project, str]:
    """Return the project with the sheet of a copy in the maker's hands, and that sheet.

    The copy may go to another corner. No sheet is touched for a copy that lies on none.
    """
    lies = None if copy is None else doc.layout.find((part, copy))
    if lies is None:
        return doc.project, ""
    layout = layout_edits.make_yours(doc.layout, lies.key, corner)
    return replace(doc.project, layout=layout), lies.sheet


def set_grain_rules(doc: Document, parts: Iterable[str], rule: GrainRule) -> bool:
    """Say how parts want the grain to run, as one step."""
    new = [part for part in parts if doc.job.part(part).grain_rule is not rule]
    if not new:
        return False

    def alter(job: Job) -> Job:
        rows = (replace(row, grain_rule=rule) if row.id in new else row for row in job.parts)
        return replace(job, parts=tuple(rows))

    what = doc.job.part(new[0]).name if len(new) == 1 else f"{len(new)} parts"
    return _change_rows(doc, f"grain of {what} {rule}", alter)


def set_columns(doc: Document, group: str, columns: int) -> bool:
    """Say how many parts of a match group lie beside each other in a row."""
    if columns == doc.job.columns_of(group):
        return False

    def alter(job: Job) -> Job:
        """Put the group in place of the one of its name; leave out groups no part names."""
        named = {part.group for part in job.parts}
        others = (one for one in job.groups if one.name in named and one.name != group)
        return replace(job, groups=(*others, MatchGroup(name=group, columns=columns)))

    return _change_rows(doc, f"rows of {columns} in {group}", alter)


def add_parts(doc: Document, parts: Sequence[Part]) -> bool:
    """Add rows to the take-off."""

    def alter(job: Job) -> Job:
        return replace(job, parts=(*job.parts, *parts))

    what = parts[0].name if len(parts) == 1 else f"{len(parts)} parts"
    return bool(parts) and change_job(doc, f"add {what}", alter)


def remove_parts(doc: Document, ids: Sequence[str]) -> bool:
    """Take rows off the take-off."""
    gone = frozenset(ids)

    def alter(job: Job) -> Job:
        return replace(job, parts=tuple(row for row in job.parts if row.id not in gone))

    what = doc.job.part(ids[0]).name if len(ids) == 1 else f"{len(ids)} parts"
    return bool(ids) and _change_rows(doc, f"remove {what}", alter)


def _edit(doc: Document, text: str, part: Part) -> bool:
    """Change a row of the take-off in a step of its own name."""
    return doc.job.part(part.id) != part and _change_rows(doc, text, _with_row(part))


def _with_row(part: Part) -> Alter:
    """Return what puts a row in place of the one with its id."""

    def alter(job: Job) -> Job:
        rows = (part if row.id == part.id else row for row in job.parts)
        return replace(job, parts=tuple(rows))

    return alter


def _change_rows(doc: Document, text: str, alter: Alter) -> bool:
    """Change rows that are there: sheets they do not touch stay, unless they ask for more."""
    after, says = settled_to(doc.project, alter, push=True)
    return doc.push(Edit(text, after, _of_rows(doc.job, after.job), alter, says=says))


def _of_rows(before: Job, after: Job) -> Consequence:
    """Plan what was touched; new copies and materials may need any sheet."""
    if same_problem(before, after):
        return Consequence.NOTHING
    were = {part.id: part for part in before.parts}
    asks_for_more = any(
        part.copies > were[part.id].copies or part.material != were[part.id].material
        for part in after.parts
    )
    return Consequence.PLAN_ANEW if asks_for_more else Consequence.PLAN_TOUCHED


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
    stock = doc.job.stock_row(doc.layout.sheet(sheet).stock)
    part = drawn_part(doc.job, stock, rect)
    placement = lying(part, sheet, rect)
    if doc.tell(doc.held.bars_place(placement)):
        return ""

    return part.id if lay_new(doc, f"draw {part.name}", _and(part), [placement]) else ""


def with_drawn(doc: Document, sheet: str, rect: Rect) -> Project:
    """Return what the project becomes with a part drawn on a sheet, as `draw_part` does it."""
    part = drawn_part(doc.job, doc.job.stock_row(doc.layout.sheet(sheet).stock), rect)
    settled, _ = settled_to(doc.project, _and(part))
    return _with_laid(settled, [lying(part, sheet, rect)])


def _and(part: Part) -> Alter:
    """Return what adds one more row."""
    return lambda job: replace(job, parts=(*job.parts, part))


def duplicate(doc: Document, keys: Iterable[Copy]) -> bool:
    """Make one more copy of each, laid where it fits on the same sheet; else planning lays it.

    What planning has to lay is said.
    """
    chosen = sorted(keys)
    if not chosen:
        return False
    more = Counter(part for part, _ in chosen)
    placements = tuple(copies_laid(doc, chosen))

    def alter(job: Job) -> Job:
        rows = (replace(row, copies=row.copies + more[row.id]) for row in job.parts)
        return replace(job, parts=tuple(rows))

    what = doc.job.named(chosen[0]) if len(chosen) == 1 else f"{len(chosen)} parts"
    if not lay_new(doc, f"duplicate {what}", alter, placements):
        return False
    new = [one.key for one in placements]
    if new:
        doc.selection.select_parts(new)
    left = len(chosen) - len(new)
    if left:
        places = "a place for a copy" if left == 1 else "places for copies"
        doc.tell(f"Planning finds {places} of {what}.")
    return True


def lay_new(doc: Document, text: str, alter: Alter, placements: Sequence[Placement]) -> bool:
    """Change the take-off and lay new copies at once; plan only if one lies nowhere."""
    settled, says = settled_to(doc.project, alter)
    after = _with_laid(settled, placements)
    waits = any(not one.sent for one in after.layout.waiting)
    consequence = Consequence.PLAN_ANEW if waits else Consequence.PLAN_ON
    return doc.push(Edit(text, after, consequence, alter, says=says))


def _with_laid(project: Project, placements: Iterable[Placement]) -> Project:
    """Return a project with new copies laid, one after the other."""
    layout = project.layout
    for placement in placements:
        layout = layout_edits.place(project.job, layout, placement)
    return after_hands(replace(project, layout=layout))


def copies_laid(doc: Document, chosen: Iterable[Copy]) -> Iterator[Placement]:
    """Yield where new copies can lie on the sheets of the old ones, one of each sheet.

    A second one on the same sheet would have to know of the first: planning lays it.
    """
    places = Places(doc)
    seen: set[str] = set()
    counts = {part.id: part.copies for part in doc.job.parts}
    for part, copy in chosen:
        counts[part] += 1
        old = doc.layout.find((part, copy))
        if old is None or old.sheet in seen:
            continue
        new = (part, counts[part])
        placement = replace(old, copy=new[1])
        x, y = places.first_place(old.sheet, lifted(placement))
        placement = replace(placement, x=x, y=y)
        held = doc.held.bars_place(placement)
        if not held and judge_here(doc, doc.layout.sheet(old.sheet), placement).good:
            seen.add(old.sheet)
            yield placement


def _measured(part: Part, length: Length, width: Length) -> Part:
    """Return a fit part with its measured size in ticks, bands included; 0 for not yet.

    Where the blank is smaller than that, the part is planned as large as it was measured: it
    needs another blank.
    """
    new = replace(part, measured_length=length, measured_width=width)
    if new.waits:
        return new
    longer, wider = new.sawn_length > new.cut_length, new.sawn_width > new.cut_width
    return replace(
        new,
        length=length if longer else new.length,
        width=width if wider else new.width,
    )


def _too_small(part: Part, new: Part, style: LengthStyle) -> str:
    """Say that the blank of a part does not do for what was measured; ``""`` if it does."""
    if (part.length, part.width) == (new.length, new.width):
        return ""
    blank = say_size(part.cut_length, part.cut_width, style)
    wanted = say_size(new.sawn_length, new.sawn_width, style)
    return (
        f"{part.name}: the blank, {blank}, is too small for {wanted} as measured. It is an offcut"
        " now, and another blank is planned from new stock."
    )
