"""A sheet as a cutting diagram: every box at true size, words and numbers around it.

The frame is the sheet's own, in mm from its reference corner; what stands around the sheet
reaches as far as `Diagram.around` says.
"""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from typing import NamedTuple

from layout_app.paper import ink
from layout_app.paper.beside import beside_sheet
from layout_app.paper.layers import LAYERS
from layout_app.paper.lettering import Lettering, letter
from layout_app.paper.letters import width_of
from layout_app.paper.millimetres import to_mm
from layout_app.paper.pens import CUT, HATCH, NARROW, OUTLINE, PaperHand
from layout_app.paper.piece_names import name_pieces, whence
from shared.drawing import (
    Box,
    Fitted,
    Role,
    SheetDrawing,
    Space,
    Tie,
    hatch,
    place_every_tag,
)
from shared.drawing.lettering import JOINT, JOINT_WIDTH
from shared.drawing.tags import PlacedTag
from shared.geometry import Rect
from shared.lengths import MM

TAG = {1: 1.7, 2: 1.7, 3: 2.55, 4: 3.4}
"""Diameter of a tag in text sizes, for numbers of so many digits at their full text size."""
TAGS_APART = 1.08
"""From the middle of a tag to that of the next at least, in diameters."""
CLEAR = 0.05
"""From a tag to words at least, in text sizes."""
FREE, ABOVE = 0.4, 1.1
"""Room beside the sheet at least, and above it for the V, in text sizes."""
HATCHED = {Role.WASTE: True, Role.TRIM: True, Role.KEEPER: False}


@dataclass(frozen=True, slots=True, kw_only=True)
class Diagram:
    """Items in the sheet's frame, and what is said below it.

    Attributes
    ----------
    around
        The rectangle that all items lie in, in mm.
    below
        A letter or ``""``, and the words it stands for.
    lost
        What does not stand where it belongs.
    """

    items: tuple[ink.Item, ...]
    around: ink.Spread
    below: tuple[tuple[str, str], ...]
    lost: "Lost"


class Lost(NamedTuple):
    """What does not stand where it belongs on a sheet.

    ``letters`` counts what has a letter for its name, ``missing`` what has neither name nor letter,
    ``led`` the numbers that stand beside their cut, with a line to it.
    """

    letters: int
    missing: int
    led: int


def diagram(drawing: SheetDrawing, hand: PaperHand, prefix: str = "") -> Diagram:
    """Draw a sheet; the names of all items begin with ``prefix``."""
    return _Drawer(drawing, hand, prefix).draw()


class _WordRun(NamedTuple):
    """Words of one weight, and how far they stand behind the beginning of their line."""

    text: str
    after: float
    bold: bool


class _Drawer:
    """One diagram on its way."""

    def __init__(self, drawing: SheetDrawing, hand: PaperHand, prefix: str) -> None:
        self._drawing, self._hand, self._prefix = drawing, hand, prefix
        self._colours = hand.colours
        digits = max((len(str(tag.number)) for tag in drawing.tags), default=1)
        self._tag_size = TAG[min(digits, max(TAG))] * hand.size
        self._tags = place_every_tag(drawing.tags, int(TAGS_APART * self._tag_size * MM))
        taken = [*map(self._around_tag, self._tags), *map(_around, drawing.ties)]
        self._lettering: Lettering = letter(
            *(drawing.labels, hand.size, taken, whence(drawing)),
            overlapping=bool(drawing.problem),
        )
        self._pieces = name_pieces(drawing, self._lettering, hand.size, taken)

    def draw(self) -> Diagram:
        """Return all of it."""
        pen, title = self._hand.pen(OUTLINE, self._colours.graphite), self._drawing.title
        sheet = (self._plate(box, self._colours.wood, pen, title) for box in self._of(Role.SHEET))
        beside = beside_sheet(self._drawing, self._hand, list(map(self._space, self._tags)))
        layers: dict[str, Iterable[ink.Item]] = {
            "sheet": sheet,
            "waste": self._falls(),
            "parts": self._parts(),
            "grain": self._grain(),
            "kept-clear": self._bad_places(),
            "cuts": map(self._kerf, self._of(Role.KERF)),
            "match-groups": self._ties(),
            "sizes": self._words(),
            "pieces": (*self._quiet(), *beside.strips),
            "running": beside.scale,
            "reference-edge": (self._face_mark(),),
            "numbers": map(self._tag, self._tags),
        }
        groups = (
            ink.Group(name=f"{self._prefix}{name}", layer=LAYERS[name], items=tuple(items))
            for name, items in layers.items()
        )
        return Diagram(
            items=tuple(group for group in groups if group.items),
            around=self._extent(beside.right, beside.bottom),
            below=(*self._lettering.below, *(("", one) for one in self._pieces.below)),
            lost=self._lost(),
        )

    def _lost(self) -> Lost:
        return Lost(
            letters=self._lettering.letters,
            missing=self._lettering.missing,
            led=sum(placed.moved and not placed.tag.outside for placed in self._tags),
        )

    def _extent(self, right: float, bottom: float) -> ink.Spread:
        """Return how far everything reaches; tags that found no room may stand far out."""
        size, rect = self._hand.size, self._drawing.rect
        rooms = [self._space(tag) for tag in self._tags]
        left = min([-FREE * size, *(room.x - 0.1 * size for room in rooms)])
        top = min([-ABOVE * size, *(room.y - 0.1 * size for room in rooms)])
        right = max([right, to_mm(rect.length), *(r.x + r.length + 0.1 * size for r in rooms)])
        bottom = max([bottom, to_mm(rect.width), *(r.y + r.width + 0.1 * size for r in rooms)])
        return ink.Spread(x=left, y=top, length=right - left, width=bottom - top)

    def _space(self, placed: PlacedTag) -> Space:
        room = self._tag_size
        x, y = to_mm(placed.x) - room / 2, to_mm(placed.y) - room / 2
        return Space(x=x, y=y, length=room, width=room)

    def _around_tag(self, placed: PlacedTag) -> Space:
        """Return what words keep clear of: a tag, and a little beside it."""
        room, free = self._space(placed), CLEAR * self._hand.size
        return Space(
            x=room.x - free,
            y=room.y - free,
            length=room.length + 2 * free,
            width=room.width + 2 * free,
        )

    def _of(self, *roles: Role) -> Iterable[Box]:
        return (box for box in self._drawing.boxes if box.role in roles)

    # --- boxes -------------------------------------------------------------------------

    def _plate(self, box: Box, fill: str, pen: ink.Pen | None, title: str = "") -> ink.Plate:
        told = [label.told for label in self._drawing.labels if label.key == box.key]
        return ink.Plate(
            x=to_mm(box.rect.x),
            y=to_mm(box.rect.y),
            length=to_mm(box.rect.length),
            width=to_mm(box.rect.width),
            fill=fill,
            pen=pen,
            name=f"{self._prefix}{box.key}",
            title=title or (told[0] if told else box.role.value),
        )

    def _falls(self) -> Iterator[ink.Item]:
        narrow = self._hand.pen(HATCH, self._colours.graphite)
        for box in self._of(Role.WASTE, Role.TRIM):
            yield self._plate(box, self._colours.waste, narrow)
        for box in self._of(Role.KEEPER):
            yield self._plate(box, self._colours.keeper, narrow)
        yield from self._hatching()

    def _hatching(self) -> Iterator[ink.Item]:
        spacing = int(0.9 * self._hand.size * MM)
        for role, crossed in HATCHED.items():
            found = [s for box in self._of(role) for s in hatch(box.rect, spacing, crossed=crossed)]
            colour = self._colours.waste_hatch if crossed else self._colours.keeper_hatch
            yield ink.Strokes(lines=_lines(found), pen=self._hand.pen(HATCH, colour))

    def _parts(self) -> Iterator[ink.Item]:
        outline = self._hand.pen(OUTLINE, self._colours.graphite)
        dashed = self._hand.pen(NARROW, self._colours.pencil, (0.3, 0.3))
        for box in self._of(Role.PART):
            yield self._plate(box, self._tint(box), outline)
        for box in self._of(Role.BLANK):
            yield self._plate(box, "", dashed, "blank")
        bad = [cross(box.rect) for box in self._of(Role.PART) if box.problem]
        lines = _lines([line for pair in bad for line in pair])
        yield ink.Strokes(lines=lines, pen=self._hand.pen(OUTLINE, self._colours.graphite))

    def _tint(self, box: Box) -> str:
        tints = self._colours.tints
        return self._colours.wood if box.tint is None else tints[box.tint % len(tints)]

    def _grain(self) -> Iterator[ink.Item]:
        for heavy, colour in ((False, self._colours.grain), (True, self._colours.grain_heavy)):
            found = [line.points for line in self._drawing.grain if line.heavy is heavy]
            yield ink.Strokes(lines=_lines(found), pen=self._hand.pen(HATCH, colour))

    def _bad_places(self) -> Iterator[ink.Item]:
        """Draw what is kept clear: pale, in a closed outline, struck out from corner to corner."""
        for box in self._of(Role.NO_GO):
            pen = self._hand.pen(OUTLINE, self._colours.graphite)
            yield self._plate(box, self._colours.card, pen)
            yield ink.Strokes(lines=_lines(cross(box.rect)), pen=pen)

    def _kerf(self, box: Box) -> ink.Item:
        """Draw dust at its true width, between the outlines of what it parts."""
        number = box.key.rpartition(":")[2]
        return self._plate(box, self._colours.kerf, None, f"kerf of cut {number}")

    def _ties(self) -> Iterator[ink.Item]:
        found = [(tie.start, tie.end) for tie in self._drawing.ties]
        if found:
            yield ink.Strokes(
                lines=_lines(found), pen=self._hand.pen(OUTLINE, self._colours.graphite)
            )

    # --- words -------------------------------------------------------------------------

    def _words(self) -> Iterator[ink.Item]:
        names = {label.key: label.lines[0] for label in self._drawing.labels}
        for key, found in self._lettering.inside:
            lines = [
                self._line(text, found, number)
                for number, line in enumerate(found.lines)
                for text in self._runs(line, named=not number or line in names[key])
            ]
            patch = self._clear(found, key)
            yield ink.Group(name=f"{self._prefix}label-{key}", items=(*patch, *lines))

    def _quiet(self) -> Iterator[ink.Item]:
        """Write the names of pieces, quieter than those of parts."""
        for key, found in self._pieces.inside:
            words = self._line(_WordRun(found.lines[0], 0.0, False), found, 0)
            patch = self._clear(found, key)
            yield ink.Group(items=(*patch, replace(words, colour=self._colours.pencil)))

    def _runs(self, line: str, *, named: bool) -> Iterator["_WordRun"]:
        """Yield the bold and the plain words of a line; names are bold."""
        name, joint, size = line.rpartition(JOINT)
        if not (named and joint):
            yield _WordRun(line, 0.0, named)
            return
        yield _WordRun(name, 0.0, True)
        yield _WordRun(size, width_of(name, bold=True) + JOINT_WIDTH, False)

    def _line(self, run: "_WordRun", found: Fitted, number: int) -> ink.Words:
        """Set words into the room that was found for them."""
        block = found.block
        step = (block.length if found.turned else block.width) / len(found.lines)
        down = (number + 0.5) * step
        along = run.after * found.size
        x, y = block.x + along, block.y + down
        if found.turned:
            x, y = block.x + down, block.y + block.width - along
        return ink.Words(
            text=run.text,
            x=x,
            y=y,
            size=found.size,
            bold=run.bold,
            colour=self._colours.graphite,
            turned=found.turned,
        )

    def _clear(self, found: Fitted, key: str) -> tuple[ink.Plate, ...]:
        """Clear a patch behind words: of grain in a part, else of hatching; outlines stay."""
        grounds = {"piece": self._colours.keeper, "no-go": self._colours.card}
        grounds["waste"] = self._colours.waste
        parts = (self._tint(box) for box in self._of(Role.PART) if box.key == key)
        ground = grounds.get(key.partition(":")[0]) or next(parts, "")
        if not ground:
            return ()
        block, inside = found.block, 0.1 * found.size
        across, down = (inside, 0.0) if found.turned else (0.0, inside)
        return (
            ink.Plate(
                x=block.x + across,
                y=block.y + down,
                length=block.length - 2 * across,
                width=block.width - 2 * down,
                fill=ground,
            ),
        )

    def _face_mark(self) -> ink.Item:
        x, y = (to_mm(value) for value in self._drawing.face_mark)
        half, tall = 0.35 * self._hand.size, 0.9 * self._hand.size
        line = ((x - half, y - tall), (x, y), (x + half, y - tall))
        pen = self._hand.pen(OUTLINE, self._colours.graphite)
        mark = ink.Strokes(lines=(line,), pen=pen)
        return ink.Group(title="reference edge", items=(mark,))

    def _tag(self, placed: PlacedTag) -> ink.Item:
        x, y, size = to_mm(placed.x), to_mm(placed.y), self._hand.size
        number = str(placed.tag.number)
        items: list[ink.Item] = []
        if placed.moved:
            leader = ((x, y), (to_mm(placed.tag.x), to_mm(placed.tag.y)))
            pen = self._hand.pen(NARROW, self._colours.pencil)
            items.append(ink.Strokes(lines=(leader,), pen=pen))
        pen = self._hand.pen(CUT, self._colours.tag_line)
        disc = ink.Disc(x=x, y=y, radius=self._tag_size / 2, pen=pen, fill=self._colours.tag)
        fits = min(size, 0.86 * self._tag_size / width_of(number, bold=True))
        written = ink.Words(
            text=number,
            x=x,
            y=y,
            size=fits,
            anchor=ink.Anchor.MIDDLE,
            bold=True,
            colour=self._colours.on_tag,
        )
        return ink.Group(
            name=f"{self._prefix}tag-{placed.tag.key}",
            title=f"cut {number}",
            items=(*items, disc, written),
        )


def cross(rect: Rect) -> tuple[tuple[ink.Spot, ink.Spot], tuple[ink.Spot, ink.Spot]]:
    """Return the lines from corner to corner of a rectangle, in ticks."""
    falling = (rect.x, rect.y), (rect.right, rect.bottom)
    return falling, ((rect.x, rect.bottom), (rect.right, rect.y))


def _lines(lines: Sequence[Sequence[ink.Spot]]) -> tuple[tuple[ink.Spot, ...], ...]:
    """Return lines of ticks in mm."""
    return tuple(tuple((x / MM, y / MM) for x, y in line) for line in lines)


def _around(tie: Tie) -> Space:
    (x, y), (right, bottom) = tie.start, tie.end
    return Space(x=to_mm(x), y=to_mm(y), length=to_mm(right - x), width=to_mm(bottom - y))
