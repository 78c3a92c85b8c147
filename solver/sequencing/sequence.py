"""The cut sequence, first form: trees of cuts become numbered cuts and named pieces.

Sheet after sheet; in a sheet the near trim and all cuts of level 1 from the reference
edge on, then strip by strip its start trim and crosscuts, its block cuts, its last trims.
So no cut comes before the piece it saws.
"""

from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from shared.geometry import Rect
from shared.job import Job
from shared.layout import LayoutSheet
from shared.lengths import Length
from shared.parts import Part
from shared.plan import (
    Cut,
    CutKind,
    Keep,
    Offcut,
    Placement,
    Plan,
    PlanPart,
    PlanSheet,
    Proof,
    Unplaced,
)
from shared.shop import Axis, Shop
from shared.stock import Stock, Trims
from shared.tree import Piece, Place, Run, extent, left_over, piece_rects, places, slice_of
from solver.sequencing.naming import Names

WAITS = "waits"
"""What a copy needs that lies on no sheet and is not known to be impossible."""


def saw_up(
    job: Job,
    sheets: Sequence[LayoutSheet],
    proof: Proof | None = None,
    unplaced: tuple[Unplaced, ...] = (),
) -> Plan:
    """Number all cuts of the sheets that have a tree, and say what comes of them.

    Parameters
    ----------
    job
        Whose parts, stock rows and shop the sheets refer to.
    sheets
        In sawing order; those without a tree are left out of the plan.
    proof
        How good the layout is, as far as known.
    unplaced
        Copies known to fit no stock at hand. Every other copy that lies on none of the
        sheets is added with the need ``"waits"``.

    Raises
    ------
    KeyError
        If a sheet names a stock row that the job does not have.
    """
    sawing = _Sawing(job.shop)
    rows = {row.id: row for row in job.stock}
    cuttable = [sheet for sheet in sheets if sheet.tree is not None]
    plan_sheets = tuple(_plan_sheet(sheet, rows[sheet.stock]) for sheet in cuttable)
    for sheet in plan_sheets:
        sawing.saw(sheet)
    return Plan(
        name=job.name,
        parts=tuple(plan_part(part) for part in job.parts),
        sheets=plan_sheets,
        placements=tuple(sawing.placements),
        cuts=tuple(sawing.cuts),
        offcuts=tuple(sawing.offcuts),
        proof=proof or Proof(),
        unplaced=(*unplaced, *_waiting(job.parts, sawing.placements, unplaced)),
    )


def layout_sheet(
    sheet_id: str, stock_row: Stock, kerf: Length, tree: Run, yours: bool = False
) -> LayoutSheet:
    """Return the sheet of a layout that the tree of cuts yields, kerf in ticks."""
    whole = Rect(x=0, y=0, length=stock_row.length, width=stock_row.width)
    lying = tuple(_placement(sheet_id, place, rect) for place, rect in places(tree, whole, kerf))
    return LayoutSheet(id=sheet_id, stock=stock_row.id, placements=lying, tree=tree, yours=yours)


def plan_part(part: Part) -> PlanPart:
    """Return the part as the saw sees it: cut size, bands taken off."""
    return PlanPart(
        id=part.id,
        name=part.name,
        length=part.cut_length,
        width=part.cut_width,
        copies=part.copies,
        material=part.material,
        grain_rule=part.grain_rule,
        group=part.group,
    )


def setup_key(kind: CutKind, level: int, size: Length) -> str:
    """Return the key of a set-up: cuts of one key are made with one setting of guide or stop."""
    return f"trim:{size}" if kind is CutKind.TRIM else f"{level}:{size}"


def _plan_sheet(sheet: LayoutSheet, row: Stock) -> PlanSheet:
    return PlanSheet(
        id=sheet.id,
        stock=row.id,
        name=row.name,
        material=row.material,
        thickness=row.thickness,
        length=row.length,
        width=row.width,
        grain=row.grain,
        trims=row.trims,
        price=row.price,
        tree=sheet.tree,
    )


def _placement(sheet_id: str, place: Place, rect: Rect) -> Placement:
    return Placement(
        part=place.part,
        copy=place.copy,
        sheet=sheet_id,
        x=rect.x,
        y=rect.y,
        length=rect.length,
        width=rect.width,
        turned=place.turned,
    )


def _waiting(
    parts: Iterable[Part], placements: Iterable[Placement], unplaced: Iterable[Unplaced]
) -> list[Unplaced]:
    """Return the copies that are neither placed nor known to be impossible."""
    known = Counter(lying.part for lying in placements)
    for lacking in unplaced:
        known[lacking.part] += lacking.copies
    return [
        Unplaced(part=part.id, copies=part.copies - known[part.id], need=WAITS)
        for part in parts
        if part.copies > known[part.id]
    ]


def _has_part(piece: Piece) -> bool:
    inside = () if piece.run is None else piece.run.pieces
    return piece.place is not None or any(map(_has_part, inside))


@dataclass(frozen=True, slots=True)
class _Task:
    """A piece to be sawn up by a run: its name, where it lies, and how deep in the tree."""

    run: Run
    rect: Rect
    piece: str
    level: int

    def slice(self, start: Length, size: Length) -> Rect:
        """Return the slice of the piece from ``start``, at right angles to the run's cuts."""
        return slice_of(self.rect, self.run.axis, start, size)

    def kind(self, ahead: int) -> CutKind:
        """Say what the cut is for before which so many pieces of the run are left."""
        beyond = self.run.pieces[len(self.run.pieces) - ahead :]
        if self.level > 3 and not any(map(_has_part, beyond)):
            return CutKind.LAST_TRIM
        return CutKind.RIP if self.run.axis is Axis.RIP else CutKind.CROSSCUT


class _Sawing:
    """Saws sheet after sheet, and writes down cuts, placements and offcuts."""

    def __init__(self, shop: Shop) -> None:
        self.shop = shop
        self.cuts: list[Cut] = []
        self.placements: list[Placement] = []
        self.offcuts: list[Offcut] = []
        self._sheet = ""
        self._trims = Trims()
        self._names = Names()

    def saw(self, sheet: PlanSheet) -> None:
        """Saw one sheet: level 1 first, then each strip level by level."""
        if sheet.tree is None:
            return
        self._sheet, self._trims, self._names = sheet.id, sheet.trims, Names()
        for strip in self._saw_run(_Task(sheet.tree, sheet.rect, sheet.id, 1)):
            waiting = [strip]
            while waiting:
                waiting = [deeper for task in waiting for deeper in self._saw_run(task)]

    def _saw_run(self, task: _Task) -> list[_Task]:
        """Make all cuts of a run; return the pieces that are sawn further."""
        kerf, left = self.shop.kerf, left_over(task.run, task.rect, self.shop.kerf)
        if task.run.trim:
            self._trim(task)
        deeper: list[_Task] = []
        start, ahead = task.run.trim, len(task.run.pieces)
        for piece, rect in piece_rects(task.run, task.rect, kerf):
            start, ahead = start + piece.size, ahead - 1
            dust = kerf if ahead else min(kerf, left)
            # At an exact ending the last piece is what remains, and keeps its name.
            last = not ahead and left <= 0
            kind = task.kind(ahead)
            name = task.piece if last else self._saw_off(task, kind, start, dust, piece.size)
            start += kerf
            if piece.run is not None:
                deeper.append(_Task(piece.run, rect, name, task.level + 1))
            elif piece.place is not None:
                self.placements.append(_placement(self._sheet, piece.place, rect))
            else:
                self._leave(name, rect)
        if left > kerf:
            self._leave(task.piece, task.slice(start, left - kerf))
        return deeper

    def _trim(self, task: _Task) -> None:
        """Make the reference edge: the saw stands on the waste side of the line."""
        trim = task.run.trim
        dust = min(self.shop.kerf, trim)
        waste_side = task.slice(trim - dust, dust)
        self._cut(task, CutKind.TRIM, waste_side, off="", size=trim, keep=Keep.FAR)

    def _saw_off(
        self, task: _Task, kind: CutKind, start: Length, dust: Length, size: Length
    ) -> str:
        """Saw off the piece that ends at ``start``; return its new name."""
        off = self._names.off(task.piece)
        far_side = task.slice(start, dust)
        self._cut(task, kind, far_side, off=off, size=size, keep=Keep.NEAR)
        return off

    def _cut(
        self, task: _Task, kind: CutKind, dust: Rect, *, off: str, size: Length, keep: Keep
    ) -> None:
        """Write down one cut."""
        self.cuts.append(
            Cut(
                number=len(self.cuts) + 1,
                sheet=self._sheet,
                kind=kind,
                level=task.level,
                tool=self.shop.tool,
                kerf=self.shop.kerf,
                x=dust.x,
                y=dust.y,
                length=dust.length,
                width=dust.width,
                piece=task.piece,
                off=off,
                setup=setup_key(kind, task.level, size),
                running=self._running(task.run.axis, dust, keep),
                size=size,
                keep=keep,
            )
        )

    def _running(self, axis: Axis, dust: Rect, keep: Keep) -> Length:
        """Return where the keep side lies from the trimmed reference edge or end."""
        near = dust.y - self._trims.near if axis is Axis.RIP else dust.x - self._trims.start
        return near if keep is Keep.NEAR else near + extent(dust, axis)

    def _leave(self, piece: str, rect: Rect) -> None:
        """Write down a piece that is no part; keep it if it is large enough."""
        short, long = sorted((rect.length, rect.width))
        keep = long >= self.shop.keep_length and short >= self.shop.keep_width
        self.offcuts.append(
            Offcut(
                sheet=self._sheet,
                piece=piece,
                x=rect.x,
                y=rect.y,
                length=rect.length,
                width=rect.width,
                keep=keep,
            )
        )
