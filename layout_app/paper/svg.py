"""A sheet as an SVG drawing at true size: one user unit is one millimetre.

The ``viewBox`` matches the physical size, so 1 in of sheet is 25.4 mm of drawing. Text is
at least a sixtieth of the drawing's width.
"""

from collections.abc import Iterable, Sequence
from dataclasses import replace
from xml.etree.ElementTree import Element, SubElement, indent, tostring

from layout_app.paper import elements as svg
from layout_app.paper.lettering import letter
from layout_app.paper.millimetres import mm, rounded, to_mm
from layout_app.theme import Theme
from shared.drawing import (
    Box,
    Role,
    SheetDrawing,
    Space,
    Tie,
    draw_sheet,
    hatch,
    place_every_tag,
)
from shared.drawing.lettering import LEADING
from shared.drawing.tags import PlacedTag
from shared.job import Job
from shared.lengths import MM, LengthStyle, format_length, with_unit
from shared.plan import Plan
from shared.shop import Axis

TEXT_SHARE = 50
"""A sheet is this many text sizes long; with margins the drawing is less than 60."""
LEFT, RIGHT, TOP = 3.1, 6.8, 4.6
"""Margins in text sizes: tags, running positions, title and tags."""
TAG = 1.9
"""Diameter of a tag in text sizes."""
HATCHED = {Role.WASTE: True, Role.TRIM: True, Role.KEEPER: False}
_PAPER = Theme.light()


def sheet_svg(plan: Plan, sheet_id: str, style: LengthStyle, job: Job) -> str:
    """Draw one sheet of a plan, all cuts made.

    Parameters
    ----------
    plan, sheet_id
        An accepted plan and one of its sheets; KeyError if it has none of that id.
    style
        How lengths are written.
    job
        Gives the title and the kerf.
    """
    page = _Page(draw_sheet(plan, sheet_id, style), style, job)
    root = page.build()
    indent(root, " ")
    return '<?xml version="1.0" encoding="UTF-8"?>\n' + tostring(root, encoding="unicode") + "\n"


class _Page:
    """One drawing on its way to SVG."""

    def __init__(self, drawing: SheetDrawing, style: LengthStyle, job: Job) -> None:
        self._drawing = drawing
        self._job = job
        self._style = style
        self._finished = any(box.role is Role.BLANK for box in drawing.boxes)
        self._size = to_mm(drawing.rect.length) / TEXT_SHARE
        self._tags = place_every_tag(drawing.tags, int(TAG * self._size * MM))
        marks = [*map(self._space, self._tags), *map(_around, drawing.ties)]
        self._lettering = letter(drawing.labels, self._size, marks)

    def build(self) -> Element:
        """Return the whole document."""
        root = self._root()
        sheet = svg.group(
            root,
            f"drawing-{svg.xml_id(self._drawing.sheet)}",
            transform=f"translate({rounded(LEFT * self._size)} {rounded(TOP * self._size)})",
        )
        self._boxes(sheet)
        self._grain(sheet)
        self._hatching(sheet)
        self._bad_places(sheet)
        self._kerfs(sheet)
        self._ties(sheet)
        self._words(sheet)
        self._running(sheet)
        self._face_mark(sheet)
        self._cuts(sheet)
        self._heading(root)
        return root

    def _root(self) -> Element:
        size, rect = self._size, self._drawing.rect
        width = rounded(to_mm(rect.length) + (LEFT + RIGHT) * size)
        height = rounded(to_mm(rect.width) + (TOP + self._below()) * size)
        root = Element(
            "svg",
            {
                "xmlns": "http://www.w3.org/2000/svg",
                "version": "1.1",
                "width": f"{width}mm",
                "height": f"{height}mm",
                "viewBox": f"0 0 {width} {height}",
            },
        )
        svg.titled(root, f"{self._job.name}, sheet {self._drawing.title}")
        SubElement(root, "desc").text = svg.clean(self._description())
        ground = {"width": width, "height": height, "fill": "#ffffff"}
        SubElement(root, "rect", {"id": "paper", **ground})
        return root

    def _below(self) -> float:
        """Height below the sheet in text sizes: running crosscuts, notes, list, one line each."""
        return 3.2 + 1.5 * (1 + len(self._lettering.below))

    def _description(self) -> str:
        fine = replace(self._style, denominator=64, decimals=2)
        kerf = with_unit(format_length(self._job.shop.kerf, fine), fine)
        table = self._job.shop.table
        if self._finished and table is not None:
            kerf += f", at the {table.tool} {with_unit(format_length(table.kerf, fine), fine)}"
        return f"Kerf {kerf}. Sawn sizes. Running positions from the trimmed reference edge (top)."

    def _space(self, placed: PlacedTag) -> Space:
        room = TAG * self._size
        x, y = to_mm(placed.x) - room / 2, to_mm(placed.y) - room / 2
        return Space(x=x, y=y, length=room, width=room)

    def _of(self, *roles: Role) -> Iterable[Box]:
        return (box for box in self._drawing.boxes if box.role in roles)

    def _boxes(self, parent: Element) -> None:
        ground = svg.group(parent, "sheet")
        for box in self._of(Role.SHEET):
            self._box(ground, box, _PAPER.wood, 0.08)
        falls = svg.group(parent, "waste")
        for box in self._of(Role.WASTE, Role.TRIM):
            self._box(falls, box, _PAPER.waste, 0.02)
        for box in self._of(Role.KEEPER):
            self._box(falls, box, _PAPER.keeper, 0.02)
        parts = svg.group(parent, "parts")
        for box in self._of(Role.PART):
            tint = _PAPER.wood if box.tint is None else _PAPER.tints[box.tint % len(_PAPER.tints)]
            self._box(parts, box, tint, 0.05)
        for box in self._of(Role.BLANK):
            self._blank(parts, box)

    def _box(self, parent: Element, box: Box, fill: str, line: float) -> None:
        stroke = {"stroke": _PAPER.graphite, "stroke-width": rounded(line * self._size)}
        element = svg.rectangle(parent, box.rect, id=svg.xml_id(box.key), fill=fill, **stroke)
        told = [label.told for label in self._drawing.labels if label.key == box.key]
        svg.titled(element, told[0] if told else box.role.value)

    def _blank(self, parent: Element, box: Box) -> None:
        """Draw the outline of a blank, dashed; what it was finished to lies inside."""
        line = {"stroke": _PAPER.pencil, "stroke-width": rounded(0.04 * self._size)}
        dashes = {"stroke-dasharray": rounded(0.3 * self._size), "fill": "none"}
        element = svg.rectangle(parent, box.rect, id=svg.xml_id(box.key), **line, **dashes)
        svg.titled(element, "blank")

    def _grain(self, parent: Element) -> None:
        lines = svg.group(parent, "grain")
        for heavy, name in ((False, "grain"), (True, "grain_heavy")):
            paths = [line.points for line in self._drawing.grain if line.heavy is heavy]
            width = rounded(0.02 * self._size)
            svg.strokes(lines, paths, stroke=getattr(_PAPER, name), stroke_width=width)

    def _hatching(self, parent: Element) -> None:
        lines = svg.group(parent, "hatching")
        spacing = int(0.9 * self._size * MM)
        for role, crossed in HATCHED.items():
            found = [s for box in self._of(role) for s in hatch(box.rect, spacing, crossed=crossed)]
            colour = _PAPER.waste_hatch if crossed else _PAPER.keeper_hatch
            svg.strokes(lines, found, stroke=colour, stroke_width=rounded(0.03 * self._size))

    def _bad_places(self, parent: Element) -> None:
        """Draw what is kept clear: pale, in a closed outline, struck out from corner to corner."""
        found = list(self._of(Role.NO_GO))
        places = svg.group(parent, "kept-clear", fill_opacity="0.7") if found else parent
        for box in found:
            self._box(places, box, _PAPER.card, 0.12)
            svg.strokes(
                places,
                svg.cross(box.rect),
                stroke=_PAPER.graphite,
                stroke_width=rounded(0.07 * self._size),
            )

    def _kerfs(self, parent: Element) -> None:
        kerfs = svg.group(parent, "kerfs", fill=_PAPER.kerf)
        for box in self._of(Role.KERF):
            element = svg.rectangle(kerfs, box.rect, id=svg.xml_id(box.key))
            svg.titled(element, f"kerf of cut {box.key.rpartition(':')[2]}")

    def _ties(self, parent: Element) -> None:
        lines = [(tie.start, tie.end) for tie in self._drawing.ties]
        marks = svg.group(parent, "match-groups") if lines else parent
        width = rounded(0.07 * self._size)
        svg.strokes(marks, lines, stroke=_PAPER.graphite, stroke_width=width)

    def _words(self, parent: Element) -> None:
        sizes = svg.group(parent, "sizes", fill=_PAPER.graphite)
        for key, found in self._lettering.inside:
            holder = svg.group(sizes, f"label-{svg.xml_id(key)}")
            self._clear(holder, found.block, key)
            svg.fitted_words(holder, found, LEADING)

    def _clear(self, parent: Element, block: Space, key: str) -> None:
        """Clear a patch of hatching behind the words of a fall or a bad place."""
        grounds = {"piece": _PAPER.keeper, "no-go": _PAPER.card}
        ground = grounds.get(key.partition(":")[0])
        if ground:
            place = (block.x, block.y, block.length, block.width)
            names = ("x", "y", "width", "height")
            patch = {name: rounded(value) for name, value in zip(names, place, strict=True)}
            SubElement(parent, "rect", {**patch, "fill": ground})

    def _running(self, parent: Element) -> None:
        scale = svg.group(parent, "running", stroke=_PAPER.pencil, fill=_PAPER.graphite)
        marks, size = self._drawing.marks, self._size
        if not marks:
            return
        rips = marks[0].axis is Axis.RIP
        edge = to_mm(self._drawing.rect.length if rips else self._drawing.rect.width) + 0.6 * size
        ends = [to_mm(min(m.at for m in marks)), to_mm(max(m.at for m in marks))]
        self._line(scale, (edge, ends[0]), (edge, ends[1]), flip=not rips)
        free = _no_closer([to_mm(mark.at) for mark in marks], 1.25 * size)
        for mark, stands in zip(marks, free, strict=True):
            at = to_mm(mark.at)
            self._line(scale, (edge - 0.3 * size, at), (edge + 0.3 * size, at), flip=not rips)
            self._line(scale, (edge + 0.3 * size, at), (edge + 0.7 * size, stands), flip=not rips)
            x, y = edge + 0.9 * size, stands
            if not rips:
                x, y = stands, edge + 1.2 * size
            anchor = "start" if rips else "middle"
            svg.words(scale, mark.text, x, y, size, stroke="none", text_anchor=anchor)

    def _line(
        self, parent: Element, start: tuple[float, float], end: tuple[float, float], *, flip: bool
    ) -> None:
        (x1, y1), (x2, y2) = (start[::-1], end[::-1]) if flip else (start, end)
        names = {"x1": x1, "y1": y1, "x2": x2, "y2": y2, "stroke-width": 0.04 * self._size}
        SubElement(parent, "line", {name: rounded(value) for name, value in names.items()})

    def _face_mark(self, parent: Element) -> None:
        x, y = (to_mm(value) for value in self._drawing.face_mark)
        half, tall = 0.35 * self._size, 0.9 * self._size
        points = f"{rounded(x - half)},{rounded(y - tall)} {rounded(x)},{rounded(y)}"
        points += f" {rounded(x + half)},{rounded(y - tall)}"
        mark = svg.group(parent, "reference-edge")
        svg.titled(mark, "reference edge")
        stroke = {"stroke": _PAPER.graphite, "stroke-width": rounded(0.08 * self._size)}
        SubElement(mark, "polyline", {"points": points, "fill": "none", **stroke})

    def _cuts(self, parent: Element) -> None:
        cuts = svg.group(parent, "cuts")
        for placed in self._tags:
            holder = svg.group(cuts, f"tag-{svg.xml_id(placed.tag.key)}")
            svg.titled(holder, f"cut {placed.tag.number}")
            self._tag(holder, placed)

    def _tag(self, holder: Element, placed: PlacedTag) -> None:
        x, y, size = to_mm(placed.x), to_mm(placed.y), self._size
        if placed.moved:
            leader = {"x1": rounded(x), "y1": rounded(y), "stroke": _PAPER.pencil}
            leader |= {"x2": mm(placed.tag.x), "y2": mm(placed.tag.y)}
            SubElement(holder, "line", {**leader, "stroke-width": rounded(0.04 * size)})
        circle = {"cx": rounded(x), "cy": rounded(y), "r": rounded(TAG / 2 * size)}
        stroke = {"stroke": _PAPER.tag_line, "stroke-width": rounded(0.06 * size)}
        SubElement(holder, "circle", {**circle, "fill": _PAPER.tag, **stroke})
        number = str(placed.tag.number)
        svg.words(holder, number, x, y, size, text_anchor="middle", font_weight="bold")

    def _heading(self, root: Element) -> None:
        lines = svg.group(root, "words", fill=_PAPER.graphite)
        title = f"Sheet {self._drawing.sheet}: {self._drawing.title}"
        self._whole_line(lines, title, 1.2, font_weight="bold")
        below = to_mm(self._drawing.rect.width) / self._size + TOP + 3.2
        for mark, meaning in (("", self._description()), *self._lettering.below):
            self._whole_line(lines, f"{mark}: {meaning}" if mark else meaning, below)
            below += 1.5

    def _whole_line(self, parent: Element, text: str, at: float, **more: str) -> None:
        """Write a line over the drawing's width, shortened if it is longer than that."""
        room = TEXT_SHARE + RIGHT
        svg.words(
            parent,
            svg.shortened(text, room),
            LEFT * self._size,
            at * self._size,
            self._size,
            **more,
        )


def _around(tie: Tie) -> Space:
    (x, y), (right, bottom) = tie.start, tie.end
    return Space(x=to_mm(x), y=to_mm(y), length=to_mm(right - x), width=to_mm(bottom - y))


def _no_closer(places: Sequence[float], least: float) -> list[float]:
    """Move places down until each is that far below the one before."""
    moved: list[float] = []
    for place in places:
        moved.append(max(place, moved[-1] + least) if moved else place)
    return moved
