"""The forest of cuts of a job: every pass of the saw, and which piece each one needs.

A run saws one piece, pass after pass from its reference end. A pass opens the run of the
piece it saws off; the last one, at an exact ending, also the run of what remains. So a run
may begin as soon as its piece lies there, and what order is left is the sequence's choice.
"""

from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field, replace
from typing import NamedTuple

from shared.geometry import Rect
from shared.job import Job
from shared.layout import LayoutSheet
from shared.lengths import Length
from shared.parts import Copy, Part
from shared.plan import CutKind, Keep
from shared.shop import Axis
from shared.telling.settings import Device, device_of
from shared.tree import Piece, Place, Run, left_over, piece_rects, slice_of

Setting = tuple[str, Device, Length]
"""What is set: the tool, what holds the size there, and the size in ticks."""
REST = "+"
"""Ends the name that stands for the rest of a piece in keys."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Pass:
    """One pass of the saw, before it has a number.

    Attributes
    ----------
    key
        Says what is sawn off, whatever the order: level, and first copy in the piece.
    run
        Index of its run in the forest.
    kind, level, axis, tool, kerf, dust, size, keep
        As in `shared.plan.Cut`.
    opens
        Index of the run that saws up what is sawn off, or ``None``.
    fenced
        Whether it is made at the table saw, whose fence holds the size of rips and crosscuts.
    """

    key: str
    run: int
    kind: CutKind
    level: int
    axis: Axis
    tool: str
    kerf: Length
    dust: Rect
    size: Length
    keep: Keep
    opens: int | None = None
    fenced: bool = False

    @property
    def setting(self) -> Setting:
        """What is set, and at what."""
        return setting_of(self.tool, self.kind, self.axis, self.size, fenced=self.fenced)


def setting_of(tool: str, kind: CutKind, axis: Axis, size: Length, *, fenced: bool) -> Setting:
    """Return what a cut needs set: two that need the same share it."""
    return tool, device_of(kind, axis, at_table=fenced), size


@dataclass(frozen=True, slots=True, kw_only=True)
class PieceRun:
    """All passes over one piece.

    ``rect`` is the piece in the frame of its sheet; ``goes_on`` the run that saws up what
    the last pass leaves of it, or ``None``. ``parent`` is the run the piece comes from, -1
    for a sheet. ``finishes`` says that a blank is brought to its final size.
    """

    sheet: str
    rect: Rect
    run: Run
    passes: tuple[Pass, ...]
    goes_on: int | None = None
    parent: int = -1
    finishes: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Leaf:
    """What is not sawn further: a part, or a fall; ``key`` is the pass that saws it off.

    Without a key it is what the run of index ``rest`` leaves of its piece.
    """

    sheet: str
    rect: Rect
    place: Place | None
    key: str = ""
    rest: int = -1


@dataclass(frozen=True, slots=True, kw_only=True)
class Forest:
    """All runs and leaves of some sheets; ``placed`` are the parts as they leave the sheets."""

    runs: tuple[PieceRun, ...]
    leaves: tuple[Leaf, ...]
    placed: tuple[tuple[str, Place, Rect], ...]

    def passes(self) -> Iterator[Pass]:
        """Yield every pass, run by run."""
        for run in self.runs:
            yield from run.passes


def grow(job: Job, sheets: Sequence[LayoutSheet]) -> Forest:
    """Return the forest of the sheets that have a tree; KeyError for an unknown stock row."""
    grower = _Grower(job)
    rows = {row.id: row for row in job.stock}
    for sheet in sheets:
        if sheet.tree is not None:
            row = rows[sheet.stock]
            whole = row.whole
            grower.sheet(sheet.id, sheet.tree, whole)
    return Forest(
        runs=tuple(grower.made()), leaves=tuple(grower.leaves), placed=tuple(grower.placed)
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
    """What a run is sawn with: the tool, its kerf, and whether it finishes a blank."""

    tool: str
    kerf: Length
    finishes: bool = False


class _Found(NamedTuple):
    """A piece as it comes to lie there.

    ``key`` is the pass that saws it off, ``rest`` else the run whose remainder it is;
    ``axis`` and ``level`` are those of that run, ``name`` stands for the piece in keys.
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


@dataclass(slots=True)
class _Growing:
    """A run while its passes are written down."""

    found: _Found
    run: Run
    passes: list[Pass] = field(default_factory=list)
    goes_on: int | None = None


class _Grower:
    """Walks the trees, parents first."""

    def __init__(self, job: Job) -> None:
        self._shop = job.shop
        self._parts = {part.id: part for part in job.parts}
        self._rail = _Saw(job.shop.tool, job.shop.kerf)
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
        table = self._shop.table if part.oversize else None
        if table is None:
            return self._rail._replace(finishes=True)
        return _Saw(table.tool, table.kerf, finishes=True)

    def _open_run(self, run: Run, found: _Found) -> int | None:
        left = left_over(run, found.rect, found.saw.kerf)
        level = level_of(run, found.axis, found.level)
        if not run.trim and left <= 0 and len(run.pieces) == 1:
            (only,) = run.pieces
            return self._open(only, found._replace(level=level, axis=run.axis))
        index = len(self._runs)
        name = content_of(Piece(size=0, run=run)) or found.name
        growing = _Growing(found._replace(level=level, name=name), run)
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
        run, found, kerf = growing.run, growing.found, growing.found.saw.kerf
        last = self._last_saw(growing, left)
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
            saw = found.saw if ahead else last
            opens = self._open(piece, below._replace(key=key, rest=-1, name=key))
            kind = CutKind.FINISH if saw.finishes else _kind(run, found.level, ahead)
            dust = saw.kerf if ahead else min(saw.kerf, left)
            stroke = _Stroke(at, dust, piece.size, saw, opens)
            growing.passes.append(self._pass(growing, index, key, kind, stroke))
            at += kerf
        at += last.kerf - kerf
        if left > last.kerf:
            fall = slice_of(found.rect, run.axis, at, left - last.kerf)
            self.leaves.append(Leaf(sheet=found.sheet, rect=fall, place=None, rest=index))

    def _last_saw(self, growing: _Growing, left: Length) -> _Saw:
        """Return what saws the last piece off the fall: no rail where nothing carries it."""
        saw, shop = growing.found.saw, self._shop
        if saw.finishes or left <= 0 or not growing.run.pieces or shop.table is None:
            return saw
        if not shop.goes_to_table(growing.run.pieces[-1].size, max(0, left - saw.kerf)):
            return saw
        return _Saw(shop.table.tool, shop.table.kerf)

    def _pass(
        self, growing: _Growing, index: int, key: str, kind: CutKind, stroke: _Stroke
    ) -> Pass:
        found = growing.found
        return Pass(
            key=key,
            run=index,
            kind=kind,
            level=found.level,
            axis=growing.run.axis,
            tool=stroke.saw.tool,
            kerf=stroke.saw.kerf,
            dust=slice_of(found.rect, growing.run.axis, stroke.start, stroke.dust),
            size=stroke.size,
            keep=Keep.FAR if kind is CutKind.TRIM else Keep.NEAR,
            opens=stroke.opens,
            fenced=self._shop.table is not None and stroke.saw.tool == self._shop.table.tool,
        )


def piece_key(piece: Piece, level: int, name: str, wastes: Counter[Length]) -> str:
    """Return the key of the pass that saws a piece off in a run of that level.

    ``name`` stands for the piece that the run saws up; ``wastes`` counts its pieces of
    waste so far, by size, and is counted on.
    """
    content = content_of(piece)
    if content:
        return f"{level}/{content}"
    wastes[piece.size] += 1
    return f"{level}w{piece.size}-{wastes[piece.size]}/{name}"


def level_of(run: Run, axis: Axis | None, level: int) -> int:
    """Return the level of a run in a piece that comes from a run of that axis and level.

    A level has cuts of one direction: one that repeats a direction lies two deeper.
    """
    return level + (2 if run.axis is axis else 1)


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


def sheet_name(sheet: str) -> str:
    """Return what stands for a sheet in keys, as long as no part lies on it."""
    return f"sheet {sheet}"


def rest_name(name: str) -> str:
    """Return what stands in keys for the rest of a piece, as long as no part lies in it."""
    return name + REST


def content_of(piece: Piece) -> str:
    """Name a piece by the first copy of a part in it; ``""`` for waste."""
    first = min(copies_in(piece), default=None)
    return "" if first is None else f"{first[0]}:{first[1]}"


def copies_in(piece: Piece) -> Iterator[Copy]:
    """Yield part id and copy of every part in a piece."""
    if piece.place is not None:
        yield piece.place.part, piece.place.copy
    if piece.run is not None:
        for inner in piece.run.pieces:
            yield from copies_in(inner)


def _has_part(piece: Piece) -> bool:
    return next(copies_in(piece), None) is not None


def _kind(run: Run, level: int, ahead: int) -> CutKind:
    """Say what the cut is for before which so many pieces of the run are left."""
    beyond = run.pieces[len(run.pieces) - ahead :]
    if level > 3 and not any(map(_has_part, beyond)):
        return CutKind.LAST_TRIM
    return CutKind(run.axis.value)
