"""Edits that the clipboard asks for: copies taken off the list, and parts that are put on it."""

from collections import Counter
from collections.abc import Collection, Iterator, Sequence
from dataclasses import replace

from layout_app.document.document import Document
from layout_app.document.edit import Consequence, Edit
from layout_app.document.edit_job import settled_to
from layout_app.document.edit_parts import copies_laid, lay_new
from layout_app.model import layout_edits
from layout_app.model.project import fresh_ids
from shared.job import Job
from shared.layout import Layout
from shared.parts import Copy, Part

MOST = 10_000
"""More copies at once are a slip of the hand."""


def copied(job: Job, keys: Collection[Copy]) -> tuple[Part, ...]:
    """Return copies as parts by themselves: each row once, with as many copies as are meant."""
    counts = Counter(part for part, _ in keys)
    return tuple(replace(row, copies=counts[row.id]) for row in job.parts if counts[row.id])


def cut_copies(doc: Document, keys: Collection[Copy]) -> bool:
    """Take copies off the list, as one step; a row of which none is left goes with them.

    What lies elsewhere stays there: copies are numbered anew, each where it lies.
    """
    if not keys:
        return False
    counts = Counter(part for part, _ in keys)
    renumbered = {to: key for part in counts for to, key in _renumbered(doc.job, part, keys)}
    moved = [key for key in (*keys, *renumbered.values()) if doc.layout.find(key) is not None]
    if doc.tell(*map(doc.held.bars, sorted(moved))):
        return False
    layout = _without(doc, keys, renumbered)

    def alter(job: Job) -> Job:
        rows = (replace(row, copies=row.copies - counts[row.id]) for row in job.parts)
        return replace(job, parts=tuple(row for row in rows if row.copies > 0))

    after, says = settled_to(replace(doc.project, layout=layout), alter, by_hand=True)
    (*others, last) = sorted(keys)
    what = f"{len(keys)} parts" if others else doc.job.named(last)
    done = doc.push(Edit(f"cut {what}", after, Consequence.PLAN_ON, alter, says=says))
    if done:
        doc.selection.clear()
    return done


def _renumbered(job: Job, part: str, keys: Collection[Copy]) -> Iterator[tuple[Copy, Copy]]:
    """Yield which number that is free a copy takes whose own will be too high: new, then old."""
    copies = job.part(part).copies
    gone = {copy for one, copy in keys if one == part}
    left = copies - len(gone)
    free = sorted(copy for copy in gone if copy <= left)
    high = [copy for copy in range(left + 1, copies + 1) if copy not in gone]
    yield from (((part, to), (part, old)) for to, old in zip(free, high, strict=True))


def _without(doc: Document, keys: Collection[Copy], renumbered: dict[Copy, Copy]) -> Layout:
    """Return the layout with copies taken up, and those that are left under their new numbers."""
    layout = doc.layout
    taken = [key for key in {*keys, *renumbered.values()} if layout.find(key) is not None]
    bare = layout_edits.set_aside(doc.job, layout, sorted(taken))
    found = ((to, layout.find(old)) for to, old in renumbered.items())
    laid = [replace(lies, copy=to[1]) for to, lies in found if lies is not None]
    back = [
        to
        for to, old in renumbered.items()
        if any(one.key == old and not one.sent for one in layout.waiting)
    ]
    bare = layout_edits.put_back(doc.job, bare, back)
    return layout_edits.place_all(doc.job, bare, laid)


def paste_parts(doc: Document, parts: Sequence[Part]) -> bool:
    """Put parts on the list, as one step: more copies of a row that is just so, else a new row.

    More copies are laid on the sheet of one that lies, where there is a place; planning finds
    places for all others.
    """
    if not parts or doc.tell(_too_many(parts)):
        return False
    more: Counter[str] = Counter()
    new: list[Part] = []
    for part in parts:
        row = next((one for one in doc.job.parts if _alike(one, part)), None)
        if row is None:
            new.append(part)
        else:
            more[row.id] += part.copies
    ids = fresh_ids("part-", (part.id for part in doc.job.parts), len(new))
    rows = tuple(replace(part, id=one) for part, one in zip(new, ids, strict=True))

    def alter(job: Job) -> Job:
        raised = (replace(row, copies=row.copies + more[row.id]) for row in job.parts)
        return replace(job, parts=(*raised, *rows))

    lying = [key for part, count in more.items() for key in _lying(doc, part)[:1] * count]
    placements = tuple(copies_laid(doc, lying))
    before = {part.id: part.copies for part in doc.job.parts}
    (*others, last) = parts
    what = f"{sum(part.copies for part in parts)} parts"
    if not others and last.copies == 1:
        what = last.name
    if not lay_new(doc, f"paste {what}", alter, placements):
        return False
    pasted = [(part, before[part] + count) for part in more for count in range(1, more[part] + 1)]
    pasted += [(row.id, copy) for row in rows for copy in range(1, row.copies + 1)]
    doc.selection.select_parts(pasted)
    return True


def _alike(row: Part, part: Part) -> bool:
    """Say whether two parts are the same but for their ids and how many there are."""
    return replace(row, id="", copies=1) == replace(part, id="", copies=1)


def _lying(doc: Document, part: str) -> list[Copy]:
    return [one.key for sheet in doc.layout.sheets for one in sheet.placements if one.part == part]


def _too_many(parts: Sequence[Part]) -> str:
    count = sum(part.copies for part in parts)
    return f"Nothing was pasted: {count} parts are more than {MOST}." if count > MOST else ""
