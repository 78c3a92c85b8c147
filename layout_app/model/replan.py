"""After a mistake: what really lies there becomes stock, and the rest is to be planned anew.

Parts that are as they should be are finished. The other pieces become stock rows of their
own, under their names; blanks stay reserved for their parts. The sheets that were cut leave
the layout, and what was sawn of them is history.
"""

from collections import Counter
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, replace

from layout_app.model.carry_over import with_waiting
from layout_app.model.merge_plan import without_claims
from layout_app.model.pieces_on_hand import Thing, ThingKind, things, touched
from layout_app.model.project import Project
from shared.finding import say_size
from shared.geometry import Rect
from shared.job import Job
from shared.layout import Hold, LayoutSheet, Scope
from shared.lengths import Length
from shared.plan import Finished, Placement, Plan, PlanSheet
from shared.progress import Progress
from shared.shop import Axis
from shared.stock import NoGo, Stock, Trims
from shared.tree import Piece, Place, Run


@dataclass(frozen=True, slots=True, kw_only=True)
class Wrong:
    """How a thing really is: its L and W in ticks, or ``None`` for what is ruined."""

    size: tuple[Length, Length] | None = None


Corrections = Mapping[str, Wrong]
"""By name of the thing."""


def fault_of(job: Job, thing: Thing, size: tuple[Length, Length]) -> str:
    """Say why a thing cannot be of a size that was typed; ``""`` if it can."""
    if min(size) <= 0:
        return (
            f"{thing.name} cannot be {say_size(*size, job.style)}: type what you measure, or say"
            " that it is ruined."
        )
    if any(typed > planned for typed, planned in zip(size, thing.size, strict=True)):
        return (
            f"{thing.name} was planned {say_size(*thing.size, job.style)}, and no saw makes it"
            " larger: measure it again. If a cut before it went wrong, correct that piece."
        )
    return ""


def half_done(project: Project, plan: Plan | None, corrections: Corrections) -> str:
    """Say which blank has lost some of its last cuts, but not all; ``""`` if none has."""
    for thing in things(project, plan):
        part = thing.part
        if part is None or thing.kind is not ThingKind.BLANK or thing.name in corrections:
            continue
        if (thing.rect.length, thing.rect.width) != (part.length, part.width):
            name = project.job.part(part.part).name
            return f"{name} is half brought to size: make and tick its last cut first."
    return ""


def replanned(project: Project, plan: Plan, corrections: Corrections) -> Project:
    """Return the project with what lies there as stock and all else as it was.

    Parameters
    ----------
    project
        With the ticks up to now.
    plan
        Its plan.
    corrections
        Things that came out wrong, each with its real size (`fault_of` has passed it).
    """
    found = [_corrected(thing, corrections) for thing in things(project, plan)]
    real = [thing for thing in found if thing is not None]
    layout, job = project.layout, _stocked(project, plan, real)
    finished = tuple(_finished(one) for one in real if one.kind is ThingKind.PART)
    blanks = [(one, place) for one in real if (place := _reserved(one)) is not None]
    gone = touched(project) | {thing.name for thing, _ in blanks}
    gone |= {row.piece for row in project.job.stock if row not in job.stock}
    stays = [sheet for sheet in layout.sheets if sheet.id not in gone]
    sheets = (*(_blank(thing, place) for thing, place in blanks), *stays)
    holds = [hold for hold in layout.holds if hold.sheet not in gone]
    holds += [Hold(scope=Scope.SHEET, sheet=one.name, lies=place) for one, place in blanks]
    before = replace(layout, holds=tuple(holds), finished=finished)
    new = with_waiting(job, sheets, before)
    progress = _history(project, plan)
    return without_claims(replace(project, job=job, layout=new, progress=progress))


def _corrected(thing: Thing, corrections: Corrections) -> Thing | None:
    """Return a thing as it really is; ``None`` if it is ruined."""
    wrong = corrections.get(thing.name)
    if wrong is None:
        return thing
    if wrong.size is None:
        return None
    if wrong.size == thing.size:
        return thing
    turned = thing.part is not None and thing.part.turned
    length, width = wrong.size[::-1] if turned else wrong.size
    rect = replace(thing.rect, length=length, width=width)
    return replace(thing, rect=rect, kind=ThingKind.PIECE, part=None, planned=thing.rect)


def _finished(thing: Thing) -> Finished:
    assert thing.part is not None
    return Finished(part=thing.part.part, copy=thing.part.copy)


def _stocked(project: Project, plan: Plan, real: Iterable[Thing]) -> Job:
    """Return the job with the pieces as stock, and with fewer of the sheets that were cut."""
    used = Counter(sheet.stock for sheet in plan.sheets if sheet.id in touched(project))
    kept = {thing.row: thing for thing in real if thing.row}
    rows = [_left(row, used[row.id], kept) for row in project.job.stock]
    pieces = _pieces(thing for thing in real if not thing.row)
    return replace(project.job, stock=(*filter(None, rows), *pieces))


def _left(row: Stock, used: int, kept: Mapping[str, Thing]) -> Stock | None:
    """Return what is left of a stock row; ``None`` for a piece that is sawn up or ruined."""
    if row.is_piece:
        thing = kept.get(row.id)
        if thing is None:
            return None
        rect, no_go = thing.rect, tuple(_moved(row.no_go, thing.rect))
        return replace(row, length=rect.length, width=rect.width, no_go=no_go)
    if row.at_hand is None or not used:
        return row
    return replace(row, at_hand=max(0, row.at_hand - used))


def _pieces(real: Iterable[Thing]) -> Iterator[Stock]:
    """Yield a stock row for each piece that parts may be sawn from, and for each blank."""
    for thing in real:
        if (
            thing.kind in {ThingKind.PIECE, ThingKind.BLANK, ThingKind.OFFCUT}
            and thing.origin is not None
        ):
            row = _piece(thing.origin, thing)
            if _has_room(row):
                yield row


def _piece(sheet: PlanSheet, thing: Thing) -> Stock:
    return Stock(
        id=f"piece {thing.name}",
        name=f"piece {thing.name}",
        material=sheet.material,
        length=thing.rect.length,
        width=thing.rect.width,
        thickness=sheet.thickness,
        grain=sheet.grain,
        trims=_trims(sheet, thing.planned or thing.rect),
        at_hand=1,
        density=sheet.density,
        no_go=tuple(_moved(sheet.no_go, thing.rect)),
        piece=thing.name,
        named=thing.named,
    )


def _trims(sheet: PlanSheet, rect: Rect) -> Trims:
    """Return the trims of the factory edges that the piece still has."""
    trims = sheet.trims
    return Trims(
        near=trims.near if rect.y == 0 else 0,
        far=trims.far if rect.bottom == sheet.width else 0,
        start=trims.start if rect.x == 0 else 0,
        end=trims.end if rect.right == sheet.length else 0,
    )


def _moved(no_go: Iterable[NoGo], rect: Rect) -> Iterator[NoGo]:
    """Yield the bad places that lie in a piece, in its own frame."""
    for bad in no_go:
        left, top = max(bad.x, rect.x), max(bad.y, rect.y)
        right, bottom = min(bad.rect.right, rect.right), min(bad.rect.bottom, rect.bottom)
        if left < right and top < bottom:
            yield replace(
                bad, x=left - rect.x, y=top - rect.y, length=right - left, width=bottom - top
            )


def _has_room(row: Stock) -> bool:
    trims = row.trims
    return row.length > trims.start + trims.end and row.width > trims.near + trims.far


def _reserved(thing: Thing) -> Placement | None:
    """Return how the part of a blank lies on the piece that is its blank."""
    if thing.part is None or thing.kind is not ThingKind.BLANK:
        return None
    return replace(thing.part, sheet=thing.name, x=0, y=0)


def _blank(thing: Thing, place: Placement) -> LayoutSheet:
    """Return a blank as a sheet of its own that is filled by its part."""
    inside = Place(part=place.part, copy=place.copy, turned=place.turned)
    tree = Run(axis=Axis.RIP, pieces=(Piece(size=place.width, place=inside),))
    row = thing.row or f"piece {thing.name}"
    return LayoutSheet(id=thing.name, stock=row, placements=(place,), tree=tree)


def _history(project: Project, plan: Plan) -> Progress:
    """Return the progress with the ticked cuts in the past."""
    begun, ticked = touched(project), project.progress.ticked
    if not ticked:
        return project.progress
    sawn = Plan(
        name=plan.name,
        parts=plan.parts,
        sheets=tuple(sheet for sheet in plan.sheets if sheet.id in begun),
        placements=tuple(one for one in plan.placements if one.sheet in begun),
        cuts=ticked,
        offcuts=tuple(one for one in plan.offcuts if one.sheet in begun),
        first=plan.first,
        shop=plan.shop,
    )
    progress = project.progress
    return replace(progress, fixed=(), made=(), past=(*progress.past, sawn))
