"""The forest of a job grown from the trees of its sheets, each sheet for itself."""

from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, field, replace
from typing import NamedTuple

from shared.cuts.forest import Forest, Leaf, Pass, PieceRun
from shared.cuts.pass_keys import content_of, copies_in, level_of, piece_key, rest_name, sheet_name
from shared.geometry import Rect
from shared.job import Job
from shared.layout import LayoutSheet
from shared.lengths import Length
from shared.making.aim import Aim
from shared.making.devices import device_of, within
from shared.parts import Part
from shared.plan import CutKind, Keep
from shared.remembered import Remembered
from shared.shop import Axis, Shop
from shared.stock import Stock
from shared.tree import Piece, Place, Run, extent, left_over, piece_rects, slice_of, span
from shared.weighing import grams


def grow(job: Job, sheets: Sequence[LayoutSheet]) -> Forest:
    """Return the forest of the sheets that have a tree; KeyError for an unknown stock row."""
    return joined([forest for _, forest in grown(job, sheets)])


def grown(job: Job, sheets: Sequence[LayoutSheet]) -> list[tuple[LayoutSheet, Forest]]:
    """Return each of the sheets that have a tree with its own forest; KeyError as in `grow`.

    A sheet that is as it was, with its row, its parts and the shop, has the forest it had.
    """
    rows = {row.id: row for row in job.stock}
    parts = {part.id: part for part in job.parts}
    found = []
    for sheet in sheets:
        if sheet.tree is not None:
            its = (parts[one] for one in _named_in(sheet.tree) if one in parts)
            found.append((sheet, _grown(sheet, rows[sheet.stock], job.shop, *its)))
    return found


def joined(forests: Sequence[Forest]) -> Forest:
    """Return the forest of several sheets: what each run and pass is about is counted on."""
    runs: list[PieceRun] = []
    leaves: list[Leaf] = []
    for one in forests:
        its = _counted_on(one, len(runs))
        runs.extend(its.runs)
        leaves.extend(its.leaves)
    return Forest(
        runs=tuple(runs),
        leaves=tuple(leaves),
        placed=tuple(placed for one in forests for placed in one.placed),
    )


def _grow(sheet: LayoutSheet, row: Stock, shop: Shop, *parts: Part) -> Forest:
    assert sheet.tree is not None
    grower = _Grower(row, shop, parts)
    grower.sheet(sheet.id, sheet.tree, row.whole)
    return Forest(
        runs=tuple(grower.made()), leaves=tuple(grower.leaves), placed=tuple(grower.placed)
    )


def _count_on(forest: Forest, first: int) -> Forest:
    """Return a forest whose runs stand in a longer list, from the place ``first`` on."""
    if not first:
        return forest
    return Forest(
        runs=tuple(_run_on(one, first) for one in forest.runs),
        leaves=tuple(
            one if one.rest < 0 else replace(one, rest=one.rest + first) for one in forest.leaves
        ),
        placed=forest.placed,
    )


def _run_on(run: PieceRun, first: int) -> PieceRun:
    return replace(
        run,
        passes=tuple(
            replace(
                one,
                run=one.run + first,
                opens=None if one.opens is None else one.opens + first,
            )
            for one in run.passes
        ),
        goes_on=None if run.goes_on is None else run.goes_on + first,
        parent=run.parent if run.parent < 0 else run.parent + first,
    )


SHEETS_KNOWN = 512
"""Of so many sheets the forests are remembered, which is some 10 kB each."""

_grown = Remembered(_grow, SHEETS_KNOWN)
_counted_on = Remembered(_count_on, SHEETS_KNOWN)
_named_in = Remembered(
    lambda tree: tuple(sorted({part for part, _ in copies_in(Piece(size=0, run=tree))})),
    SHEETS_KNOWN,
)


class _Stroke(NamedTuple):
    """Where the dust of a pass begins in its piece, how thick it is, and what is set.

    Also the saw, and the run that saws up what it takes off.
    """

    start: Length
    dust: Length
    size: Length
    saw: "_Saw"
    opens: int | None = None


class _Saw(NamedTuple):
    """What a run is sawn with: the tool, its kerf, and whether it finishes a blank.

    ``wanted`` says that the blank is to be finished at the table saw, as far as its fence reaches.
    """

    tool: str
    kerf: Length
    finishes: bool = False
    wanted: bool = False


class _Found(NamedTuple):
    """A piece as it comes to lie there.

    ``key`` is the pass that saws it off, ``rest`` else the run whose remainder it is;
    ``axis`` and ``level`` are those of that run, ``name`` stands for the piece in keys. Of the
    levels two each are of no cut's: so many ``halves`` a sheet was parted into first.
    """

    sheet: str
    rect: Rect
    saw: _Saw
    key: str = ""
    rest: int = -1
    axis: Axis | None = None
    level: int = 0
    parent: int = -1
    name: str = ""
    halves: int = 0

    @property
    def shown(self) -> int:
        """The level of the cuts as it is told."""
        return self.level - 2 * self.halves

    def is_half(self, run: Run) -> bool:
        """Whether a run goes on with the first cuts in a piece that these sawed off.

        They are of level 2 on a board that is not ripped, and none of those that finish a blank.
        """
        of_board = self.shown in {1, 2} and self.rest < 0 and not self.saw.finishes
        return of_board and run.axis is self.axis


@dataclass(slots=True)
class _Growing:
    """A run while its passes are written down."""

    found: _Found
    run: Run
    passes: list[Pass] = field(default_factory=list)
    goes_on: int | None = None


class _Grower:
    """Walks the tree of a sheet, parents first."""

    def __init__(self, row: Stock, shop: Shop, parts: Iterable[Part]) -> None:
        self._row, self._shop = row, shop
        self._parts = {part.id: part for part in parts}
        self._rail = _Saw(shop.tool, shop.kerf)
        self._runs: list[_Growing] = []
        self.leaves: list[Leaf] = []
        self.placed: list[tuple[str, Place, Rect]] = []

    def made(self) -> Iterator[PieceRun]:
        """Yield the runs, finished."""
        for one in self._runs:
            yield PieceRun(
                sheet=one.found.sheet,
                rect=one.found.rect,
                run=one.run,
                passes=tuple(one.passes),
                goes_on=one.goes_on,
                parent=one.found.parent,
                finishes=one.found.saw.finishes,
            )

    def sheet(self, sheet: str, tree: Run, whole: Rect) -> None:
        """Take in one sheet; its own name stands for one without parts."""
        self._open(
            Piece(size=0, run=tree), _Found(sheet, whole, self._rail, name=sheet_name(sheet))
        )

    def _open(self, piece: Piece, found: _Found) -> int | None:
        """Return the run that saws a piece up, ``None`` if it is as it should be."""
        if piece.run is not None:
            return self._open_run(piece.run, found)
        if piece.place is not None and not found.saw.finishes:
            self.placed.append((found.sheet, piece.place, found.rect))
            part = self._parts.get(piece.place.part)
            run = None if part is None else _finishing(part, piece.place, found.rect)
            if part is not None and run is not None:
                return self._open_run(run, found._replace(saw=self._finisher(part)))
        self.leaves.append(
            Leaf(
                sheet=found.sheet,
                rect=found.rect,
                place=piece.place,
                key=found.key,
                rest=found.rest,
            )
        )
        return None

    def _finisher(self, part: Part) -> _Saw:
        return self._rail._replace(finishes=True, wanted=part.oversize > 0)

    def _finishing_with(self, saw: _Saw, size: Length) -> _Saw:
        """Return the saw that brings a blank to a size: the fence has to reach."""
        table = self._shop.table
        if saw.wanted and table is not None and within(size, table.fence):
            return saw._replace(tool=table.tool, kerf=table.kerf)
        return self._rail._replace(finishes=True, wanted=saw.wanted)

    def _open_run(self, run: Run, found: _Found) -> int | None:
        if found.saw.finishes:
            found = found._replace(saw=self._finishing_with(found.saw, run.pieces[0].size))
        left = left_over(run, found.rect, found.saw.kerf)
        level = level_of(run, found.axis, found.level)
        if not run.trim and left <= 0 and len(run.pieces) == 1:
            (only,) = run.pieces
            level = found.level if run.axis is found.axis else level
            return self._open(only, found._replace(level=level, axis=run.axis))
        index = len(self._runs)
        name = content_of(Piece(size=0, run=run)) or found.name
        halves = found.halves + found.is_half(run)
        growing = _Growing(found._replace(level=level, name=name, halves=halves), run)
        self._runs.append(growing)
        if run.trim:
            growing.passes.append(self._trim(growing, index))
        self._saw_off_all(growing, index, left)
        return index

    def _trim(self, growing: _Growing, index: int) -> Pass:
        """Make the reference edge: the saw stands on the waste side of the line."""
        trim, saw = growing.run.trim, growing.found.saw
        dust = min(saw.kerf, trim)
        key = f"{growing.found.level}t/{growing.found.name}"
        return self._pass(growing, index, key, CutKind.TRIM, _Stroke(trim - dust, dust, trim, saw))

    def _saw_off_all(self, growing: _Growing, index: int, left: Length) -> None:
        run, found, whole = growing.run, growing.found, self._saw(growing)
        kerf, last = whole.kerf, self._last_saw(growing, left)
        wastes: Counter[Length] = Counter()
        at, ahead = run.trim, len(run.pieces)
        for piece, inside in piece_rects(run, found.rect, kerf):
            at, ahead = at + piece.size, ahead - 1
            below = found._replace(rect=inside, axis=run.axis, parent=index)
            if not ahead and left <= 0:
                # At an exact ending the last piece is what remains, and keeps its name.
                rest = below._replace(key="", rest=index, name=rest_name(found.name))
                growing.goes_on = self._open(piece, rest)
                return
            key = piece_key(piece, found.level, found.name, wastes)
            saw = whole if ahead else last
            opens = self._open(piece, below._replace(key=key, rest=-1, name=key))
            kind = CutKind.FINISH if saw.finishes else _kind(run, found.shown, ahead)
            dust = saw.kerf if ahead else min(saw.kerf, left)
            stroke = _Stroke(at, dust, piece.size, saw, opens)
            growing.passes.append(self._pass(growing, index, key, kind, stroke))
            at += kerf
        at += last.kerf - kerf
        if left > last.kerf:
            fall = slice_of(found.rect, run.axis, at, left - last.kerf)
            self.leaves.append(Leaf(sheet=found.sheet, rect=fall, place=None, rest=index))

    def _saw(self, growing: _Growing) -> _Saw:
        """Return what saws off the pieces of a run, its last one aside."""
        if not growing.run.kerf:
            return growing.found.saw
        table = self._shop.table
        return _Saw(self._shop.tool if table is None else table.tool, growing.run.kerf)

    def _last_saw(self, growing: _Growing, left: Length) -> _Saw:
        """Return what saws the last piece off the fall: no rail where nothing carries it."""
        saw, shop = self._saw(growing), self._shop
        if growing.run.kerf or saw.finishes or left <= 0:
            return saw
        if not growing.run.pieces or shop.table is None:
            return saw
        if not shop.goes_to_table(growing.run.pieces[-1].size, max(0, left - saw.kerf)):
            return saw
        return _Saw(shop.table.tool, shop.table.kerf)

    def _pass(
        self, growing: _Growing, index: int, key: str, kind: CutKind, stroke: _Stroke
    ) -> Pass:
        found = growing.found
        keep = Keep.FAR if kind is CutKind.TRIM else Keep.NEAR
        aim = self._aim(growing, kind, keep, stroke)
        device = device_of(aim, self._shop)
        return Pass(
            key=key,
            run=index,
            kind=kind,
            level=found.shown,
            axis=growing.run.axis,
            tool=stroke.saw.tool,
            kerf=stroke.saw.kerf,
            dust=slice_of(found.rect, growing.run.axis, stroke.start, stroke.dust),
            size=stroke.size,
            keep=keep,
            device=device,
            opens=stroke.opens,
        )

    def _aim(self, growing: _Growing, kind: CutKind, keep: Keep, stroke: _Stroke) -> Aim:
        """Return what decides how the size of a pass is held, over what earlier passes leave."""
        rect, axis, table = growing.found.rect, growing.run.axis, self._shop.table
        begun = 0 if kind is CutKind.TRIM else stroke.start - stroke.size
        near, far = stroke.start - begun, extent(rect, axis) - stroke.start - stroke.dust
        long, row = span(rect, axis), self._row
        return Aim(
            kind=kind,
            axis=axis,
            size=stroke.size,
            kept=near if keep is Keep.NEAR else far,
            other=far if keep is Keep.NEAR else near,
            long=long,
            grams=grams(long, near + stroke.dust + far, row.thickness, row.density),
            sawn=begun + (rect.y if axis is Axis.RIP else rect.x) > 0 and not row.is_piece,
            fenced=table is not None and stroke.saw.tool == table.tool,
        )


def _finishing(part: Part, place: Place, rect: Rect) -> Run | None:
    """Return the cuts that bring a blank to its final size, ``None`` if it needs none.

    Its ends are cut first, so that the cut along it takes what has splintered there
    (common practice).
    """
    across, along = (Axis.RIP, Axis.CROSSCUT) if place.turned else (Axis.CROSSCUT, Axis.RIP)
    done = Piece(size=0, place=place)
    steps = ((along, part.sawn_width), (across, part.sawn_length))
    for axis, size in steps:
        whole = rect.width if axis is Axis.RIP else rect.length
        if size < whole:
            done = Piece(size=0, run=Run(axis=axis, pieces=(replace(done, size=size),)))
    return done.run


def _has_part(piece: Piece) -> bool:
    return next(copies_in(piece), None) is not None


def _kind(run: Run, level: int, ahead: int) -> CutKind:
    """Say what the cut is for before which so many pieces of the run are left."""
    beyond = run.pieces[len(run.pieces) - ahead :]
    if level > 3 and not any(map(_has_part, beyond)):
        return CutKind.LAST_TRIM
    return CutKind(run.axis.value)
