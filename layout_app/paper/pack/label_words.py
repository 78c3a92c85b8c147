"""What labels say, in the order in which what they are for is sawn: parts and offcuts alike.

A label stays the same whatever is ticked, so that sheets of labels of one plan are always equal.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from math import ceil
from typing import Final, NamedTuple

from layout_app.model.words.wording import counted, sheet_names
from layout_app.paper.letters import shortened
from layout_app.paper.matter import Matter
from layout_app.paper.pack.lists import EDGES
from shared import groups
from shared.geometry import Rect
from shared.lengths import Length, format_mark, with_unit
from shared.making.outcome import PieceFate, Side
from shared.offcuts import Keeper, offcut_size
from shared.parts import Bands, Copy, GrainRule, Part
from shared.plan import BlockTurn, Placement, Plan
from shared.saw.promises import final_rect
from shared.stock import SheetGrain
from shared.telling import Instruction
from shared.telling.words import piece_name, thickness_words

SET_NAME: Final = 12.0
"""What the name of a matched set takes at most, in text sizes."""
DOT: Final = "\N{NO-BREAK SPACE}\N{MIDDLE DOT} "
"""Between two things that are said: a line may end behind it."""
PARTS: Final = {PieceFate.PART, PieceFate.BLANK, PieceFate.WAITS}


class Place(NamedTuple):
    """The place of a part in its matched set: row and column from 0, and how many there are."""

    row: int
    column: int
    rows: int
    columns: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Shape:
    """What is drawn on a label: sizes in ticks, edges with a band, how the grain runs.

    ``corner`` says in which corner the V is: 0, 0 is the left end of the top edge, 1, 1 the right
    end of the bottom edge.
    """

    length: Length
    width: Length
    bands: Bands
    grain: GrainRule
    corner: tuple[int, int]


@dataclass(frozen=True, slots=True, kw_only=True)
class Label:
    """What one label says.

    Attributes
    ----------
    name, count
        What it is called; which copy of how many, or ``""``.
    lines
        Below its name.
    brief
        The same, the most important first.
    code
        What the matrix code holds behind the name, fuller or shorter.
    """

    name: str
    count: str
    lines: tuple[str, ...]
    brief: tuple[str, ...]
    code: tuple[str, ...]
    shape: Shape
    place: Place | None = None


def labels_of(matter: Matter) -> list[Label]:
    """Return the labels of all parts and offcuts to keep that the plan saws, as they are freed.

    A part or an offcut that no cut frees, since it is all of its sheet, stands at the end.
    """
    parts = {part.id: part for part in matter.job.parts}
    lying = {one.key: one for one in matter.plan.placements if one.part in parts}
    kept = {one.piece: one for one in matter.kept if one.sheet}
    where = _where(matter.plan)
    said = _Said(matter)
    labels: list[Label] = []
    for freed in _freed(matter.told):
        side = freed.side
        copy = where.get((freed.told.sheet, side.rect)) if side.end in PARTS else None
        if copy in lying:
            labels.append(said.part(parts[copy[0]], lying.pop(copy), freed))
        elif side.end is PieceFate.KEEPER and side.name in kept:
            labels.append(said.offcut(kept.pop(side.name), freed))
    labels += [said.part(parts[one.part], one) for one in lying.values()]
    return labels + [said.offcut(one) for one in kept.values()]


def lacking(matter: Matter) -> Iterator[str]:
    """Yield a sentence for parts that have no label here though they are in the project."""
    loose = [drawing for drawing in matter.drawings if drawing.problem]
    on_them = sum(bool(box.part) for drawing in loose for box in drawing.boxes)
    if on_them:
        names = sheet_names([drawing.sheet for drawing in loose])
        be = "is" if len(loose) == 1 else "are"
        yield f"No label for {counted(on_them, 'part')} on {names}, which {be} not cut yet."
    if matter.plan.finished:
        done = counted(len(matter.plan.finished), "part")
        yield f"No label for {done} sawn before this plan."


def _where(plan: Plan) -> dict[tuple[str, Rect], Copy]:
    """Return the copy that lies in a rectangle of a sheet, as its blank or at its final size."""
    parts = {part.id: part for part in plan.parts}
    found: dict[tuple[str, Rect], Copy] = {}
    for one in plan.placements:
        found[one.sheet, one.rect] = one.key
        found[one.sheet, final_rect(one, parts.get(one.part))] = one.key
    return found


class _Freed(NamedTuple):
    """A cut, and a side of it."""

    told: Instruction
    side: Side

    @property
    def piece(self) -> str:
        """What the side is called, such as ``piece 2a1``."""
        name = piece_name(self.told.stroke, self.side.name)
        return name if name != self.side.name else f"piece {name}"

    @property
    def after(self) -> str:
        """Which cut frees it."""
        return f"after cut {self.told.number}"

    @property
    def words(self) -> str:
        """Both."""
        return f"{_solid(self.after)}{DOT}{_solid(self.piece)}"


def _freed(told: Sequence[Instruction]) -> Iterator[_Freed]:
    """Yield both sides of each cut, in sawing order."""
    for one in told:
        yield _Freed(one, one.record.makes)
        if one.record.left is not None:
            yield _Freed(one, one.record.left)


class _Said:
    """Finds the words of labels; knows what is alike for all labels of a plan."""

    def __init__(self, matter: Matter) -> None:
        self._style, self._steps = matter.style, matter.first_steps
        self._sheets = {sheet.id: sheet for sheet in matter.plan.sheets}
        self._places = dict(_places(matter))
        self._ways = {
            copy.key: block.way
            for told in matter.plan.matches
            for block in told.blocks
            for copy in block.copies
        }

    def part(self, part: Part, placed: Placement, freed: _Freed | None = None) -> Label:
        """Return the label of a copy, freed by a cut or by none."""
        place, grain = self._places.get(placed.key), self._sheets[placed.sheet].grain
        count = _solid(f"{placed.copy} of {part.copies}") if part.copies > 1 else ""
        after = freed.words if freed else _whole(placed.sheet)
        size, *finished = self._sizes(part)
        more = [_set_words(part.group, place)] if place is not None else []
        more += [f"next: {coming}" for coming in [self._next(part, freed)] if coming]
        return Label(
            name=part.name or part.id,
            count=count,
            lines=(size, *finished, after, *more),
            brief=(size, after, *more, *finished),
            code=tuple(_codes(count, placed.sheet, freed)),
            shape=Shape(
                length=part.cut_length,
                width=part.cut_width,
                bands=part.bands,
                grain=_GRAINS[grain] if grain is SheetGrain.NONE else part.grain_rule,
                corner=self._corner(placed),
            ),
            place=place,
        )

    def offcut(self, offcut: Keeper, freed: _Freed | None = None) -> Label:
        """Return the label of an offcut worth keeping."""
        sides = offcut_size(offcut.length, offcut.width, self._style)
        size = _sides_whole(with_unit(sides, self._style))
        lines = (size, offcut.material, freed.after if freed else _whole(offcut.sheet))
        return Label(
            name=offcut.called,
            count="",
            lines=lines,
            brief=lines,
            code=(f", {offcut.material}, {size}", f", {size}", ""),
            shape=Shape(
                length=offcut.length,
                width=offcut.width,
                bands=Bands(),
                grain=_GRAINS[self._sheets[offcut.sheet].grain],
                corner=(0, 0),
            ),
        )

    def _sizes(self, part: Part) -> Iterator[str]:
        """Yield the size as it is sawn, and the finished one where that is another."""
        cut = self._size(part.cut_length, part.cut_width)
        bands = part.bands
        length = part.sawn_length + bands.left + bands.right
        finished = self._size(length, part.sawn_width + bands.top + bands.bottom)
        if part.waits:
            yield f"blank {cut}"
        elif cut == finished:
            yield cut
        else:
            yield f"{'blank' if part.fit_allowance or part.oversize else 'cut'} {cut}"
            yield f"finished {finished}"

    def _size(self, length: Length, width: Length) -> str:
        sides = f"L {format_mark(length, self._style)} × W {format_mark(width, self._style)}"
        return _sides_whole(with_unit(sides, self._style))

    def _next(self, part: Part, freed: _Freed | None) -> str:
        """Say what is done with a part once it is sawn off, where the project says so."""
        if part.waits:
            return "measure the opening first"
        if freed and freed.side.next_cut:
            size = self._size(part.sawn_length, part.sawn_width)
            return f"finish at cut {freed.side.next_cut} to {size}"
        return self._steps.get(part.id, "") or ", ".join(self._bands(part.bands))

    def _bands(self, bands: Bands) -> Iterator[str]:
        """Yield which edges get a band, of each thickness together."""
        thick = {edge: getattr(bands, edge) for edge in EDGES if getattr(bands, edge)}
        for one in dict.fromkeys(thick.values()):
            edges = [edge for edge in thick if thick[edge] == one]
            where = "all round" if len(edges) == len(EDGES) else ", ".join(edges)
            yield f"band {where}, {_solid(thickness_words(one, self._style))}"

    def _corner(self, placed: Placement) -> tuple[int, int]:
        """Return the corner of a part that lay nearest to its sheet's V."""
        if not placed.turned:
            return 0, 0
        return (0, 1) if self._ways.get(placed.key) is BlockTurn.RIGHT else (1, 0)


_GRAINS: Final = {
    SheetGrain.ALONG_L: GrainRule.ALONG_LENGTH,
    SheetGrain.ALONG_W: GrainRule.ALONG_WIDTH,
    SheetGrain.NONE: GrainRule.EITHER,
}


def _solid(text: str) -> str:
    """Let no line end inside a text."""
    return text.replace(" ", "\N{NO-BREAK SPACE}")


def _sides_whole(size: str) -> str:
    """Let a line end between the sides of a size only."""
    first, times, second = size.partition(" × ")
    return f"{_solid(first + times.rstrip())}\n{_solid(second)}"


def _codes(count: str, sheet: str, freed: _Freed | None) -> Iterator[str]:
    behind = f" {count}" if count else ""
    if freed is None:
        yield f"{behind}, sheet {sheet}"
        return
    yield f"{behind}, cut {freed.told.number}, {freed.piece}"
    yield f"{behind}, {freed.side.name}"
    yield f", {freed.side.name}"


def _whole(sheet: str) -> str:
    return f"all of sheet {sheet}, no cut"


def _places(matter: Matter) -> Iterator[tuple[Copy, Place]]:
    """Yield the place of each member of a matched set."""
    for group in groups.names(matter.job):
        columns = max(1, matter.job.columns_of(group))
        cells = groups.members(matter.job, group)
        rows = ceil(len(cells) / columns)
        for index, (part, copy) in enumerate(cells):
            yield (part.id, copy), Place(*divmod(index, columns), rows, columns)


def _set_words(group: str, place: Place) -> str:
    row, column = place.row + 1, place.column + 1
    grid = f"row {row}, column {column} of {place.rows} × {place.columns}"
    return f"set {shortened(group, SET_NAME)}: {grid}"
