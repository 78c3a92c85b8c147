"""What lies there, in words: for the table, for a screen reader, and to be copied as text."""

from collections.abc import Sequence
from typing import NamedTuple

from layout_app.model.pieces_on_hand import Thing, ThingKind
from layout_app.model.words.wording import counted
from shared.job import Job
from shared.lengths import format_mark
from shared.offcuts import offcut_side
from shared.parts import Copy
from shared.progress import Progress
from shared.units import Unit

MOST_PARTS = 4
"""Parts that are named of one piece; more are counted."""


class ThingWords(NamedTuple):
    """One line: name, what it is, L, W, where from, and what it becomes."""

    name: str
    what: str
    length: str
    width: str
    comes_from: str
    becomes: str


HEADINGS = ThingWords("name", "what it is", "L", "W", "from", "becomes")


def last_made(progress: Progress, *, goes_on: bool) -> str:
    """Say which cut was the last one made, and how to go on; or that all are made."""
    if not goes_on:
        return f"all {counted(len(progress.all_made), 'cut')} are made"
    last = max(progress.made, default=progress.first - 1)
    return f"cut {last} was the last one made; F8 goes on"


def words_of(job: Job, thing: Thing) -> ThingWords:
    """Say what a thing is; lengths in the units of the job."""
    write = offcut_side if thing.kind is ThingKind.OFFCUT else format_mark
    length, width = (write(side, job.style) for side in thing.size)
    return ThingWords(
        thing.name, _what(job, thing), length, width, _from(thing), _becomes(job, thing)
    )


def text_of(job: Job, things: Sequence[Thing]) -> str:
    """Return all of it as text: a title, the unit, and one line for each thing."""
    rows = [HEADINGS, *(words_of(job, thing) for thing in things)]
    wide = [max(len(row[column]) for row in rows) for column in range(len(HEADINGS))]
    lines = ["  ".join(cell.ljust(w) for cell, w in zip(row, wide, strict=True)) for row in rows]
    unit = "inches" if job.style.unit is Unit.INCH else "millimetres"
    title = f"{job.name or 'Project'}: what lies there now, in {unit}"
    return "\n".join([title, *(line.rstrip() for line in lines)]) + "\n"


def _what(job: Job, thing: Thing) -> str:
    if thing.kind is ThingKind.PART:
        return _copy(job, thing.inside[0])
    if thing.kind is ThingKind.BLANK:
        return f"blank of {_copy(job, thing.inside[0])}"
    return str(thing.kind)


def _from(thing: Thing) -> str:
    if thing.origin is None:
        return "earlier sheet"
    return f"piece {thing.sheet}" if thing.origin.piece else f"sheet {thing.sheet}"


def _becomes(job: Job, thing: Thing) -> str:
    """Say what is still to come of it."""
    if thing.kind is ThingKind.PART:
        return "done"
    if thing.kind is ThingKind.BLANK:
        waits = job.part(thing.inside[0][0]).waits
        return "cut when its opening is measured" if waits else "cut to its final size"
    if thing.kind is ThingKind.OFFCUT:
        return "kept for the rack"
    if thing.kind is ThingKind.WASTE:
        return "waste"
    names = [_copy(job, copy) for copy in thing.inside]
    more = f" and {len(names) - MOST_PARTS} more" if len(names) > MOST_PARTS else ""
    return ", ".join(names[:MOST_PARTS]) + more


def _copy(job: Job, copy: Copy) -> str:
    known = any(part.id == copy[0] for part in job.parts)
    return job.named(copy) if known else "a part that is gone"
