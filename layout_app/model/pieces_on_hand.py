"""What really lies in the shop now: what the ticked cuts have left on the sawhorses.

Sheets that nobody has cut yet are not listed; pieces of sheets that were cut before the plan
was made anew are.
"""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from enum import StrEnum

from layout_app.model.project import Project
from shared.geometry import Rect
from shared.lengths import Length
from shared.parts import Copy
from shared.plan import Placement, Plan, PlanPart, PlanSheet
from shared.saw import PieceOnHand, after
from shared.saw.promises import final_rect
from shared.stock import Stock


class ThingKind(StrEnum):
    """What a thing on the sawhorses is."""

    PART = "part"
    """A part as it should be."""
    BLANK = "blank"
    """The blank of a part that is cut to its final size later."""
    PIECE = "piece"
    """Parts are still to be sawn from it."""
    OFFCUT = "offcut"
    """Worth keeping."""
    WASTE = "waste"


@dataclass(frozen=True, slots=True, kw_only=True)
class Thing:
    """Something that lies there.

    Attributes
    ----------
    name, sheet
        Of the piece, and of the sheet or piece it was sawn from.
    rect
        Where it was, in the frame of that sheet, in ticks.
    kind
        What it is.
    inside
        The copies that it is, or that are still to be sawn from it.
    part
        The one placement of a part or blank, ``None`` for anything else.
    named
        How many pieces were sawn off it already.
    row
        Id of its stock row, if it is one of a piece already.
    planned
        Where it was to be, if it came out otherwise.
    origin
        The sheet it was sawn from; ``None`` for a piece with a row of its own.
    past
        Whether it is a part that was finished before the plan was made.
    """

    name: str
    sheet: str
    rect: Rect
    kind: ThingKind
    inside: tuple[Copy, ...] = ()
    part: Placement | None = None
    named: int = 0
    row: str = ""
    planned: Rect | None = None
    origin: PlanSheet | None = None
    past: bool = False

    @property
    def size(self) -> tuple[Length, Length]:
        """L and W in ticks: of a part its own, of anything else as it lies."""
        turned = self.part is not None and self.part.turned
        along, across = self.rect.length, self.rect.width
        return (across, along) if turned else (along, across)


def touched(project: Project) -> frozenset[str]:
    """Return the sheets of the layout of which a cut is made."""
    return frozenset(cut.sheet for cut in project.progress.ticked)


def things(project: Project, plan: Plan | None) -> tuple[Thing, ...]:
    """Return all that lies there: of the sheets that are cut now, of earlier ones, and done."""
    sawn = () if plan is None else tuple(_sawn(project, plan))
    return (*sawn, *_untouched(project, plan), *_done_before(project))


def _sawn(project: Project, plan: Plan) -> Iterator[Thing]:
    """Yield what the ticked cuts have left of the sheets of a plan."""
    begun = touched(project)
    sheets = {sheet.id: sheet for sheet in plan.sheets if sheet.id in begun}
    ticked = project.progress.ticked
    given = {name: sheet.named for name, sheet in sheets.items()}
    for cut in ticked:
        if cut.off:
            given[cut.piece] = given.get(cut.piece, 0) + 1
    for piece in after(sheets.values(), ticked):
        yield _thing(plan, piece, sheets[piece.sheet], given.get(piece.name, 0))


def _done_before(project: Project) -> Iterator[Thing]:
    """Yield the finished copies that were sawn before the plan."""
    finished = {one.key for one in project.layout.finished}
    for plan in project.progress.past:
        sheets = {sheet.id: sheet for sheet in plan.sheets}
        for piece in after(plan.sheets, plan.cuts):
            thing = _thing(plan, piece, sheets[piece.sheet], 0)
            if thing.kind is ThingKind.PART and thing.inside[0] in finished:
                yield replace(thing, past=True)


def _thing(plan: Plan, piece: PieceOnHand, origin: PlanSheet, named: int) -> Thing:
    parts = {part.id: part for part in plan.parts}
    lying = [one for one in plan.placements if one.sheet == piece.sheet]
    inside = [p for p in lying if piece.rect.contains(final_rect(p, parts[p.part]))]
    kind, part = _kind(plan, piece, inside, parts)
    return Thing(
        name=piece.name,
        sheet=piece.sheet,
        rect=piece.rect,
        kind=kind,
        inside=tuple(one.key for one in inside),
        part=part,
        named=named,
        origin=origin,
    )


def _kind(
    plan: Plan, piece: PieceOnHand, inside: list[Placement], parts: dict[str, PlanPart]
) -> tuple[ThingKind, Placement | None]:
    if len(inside) == 1:
        (only,) = inside
        part = parts[only.part]
        if piece.rect == final_rect(only, part) and not part.waits:
            return ThingKind.PART, only
        if only.rect.contains(piece.rect):
            return ThingKind.BLANK, only
    if inside:
        return ThingKind.PIECE, None
    falls = [fall for fall in plan.offcuts if fall.sheet == piece.sheet]
    keeps = any(fall.keep and piece.rect.contains(fall.rect) for fall in falls)
    return (ThingKind.OFFCUT if keeps else ThingKind.WASTE), None


def _untouched(project: Project, plan: Plan | None) -> Iterator[Thing]:
    """Yield pieces of earlier sheets of which no cut of the plan is made."""
    begun = touched(project)
    for row in project.job.stock:
        if row.is_piece and row.piece not in begun:
            placements = plan.placements if plan is not None else ()
            lying = tuple(one for one in placements if one.sheet == row.piece)
            yield _piece(row, lying, plan)


def _piece(row: Stock, lying: tuple[Placement, ...], plan: Plan | None) -> Thing:
    rect = row.whole
    parts = plan.parts if plan is not None else ()
    blanks = {part.id for part in parts if part.is_blank or part.waits}
    blank = next((p for p in lying if p.rect == rect and p.part in blanks), None)
    kind = ThingKind.BLANK if blank is not None else ThingKind.PIECE if lying else ThingKind.OFFCUT
    return Thing(
        name=row.piece,
        sheet=row.piece,
        rect=rect,
        kind=kind,
        inside=tuple(one.key for one in lying),
        part=blank,
        named=row.named,
        row=row.id,
    )
