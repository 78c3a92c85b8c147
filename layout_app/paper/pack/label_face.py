"""How a label looks: words at the left, its code at the right, below that what it is for.

All labels of a run have one size of type, the largest at which each of them has room.
"""

from bisect import bisect_left
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from typing import Final, TypeAlias

from layout_app.paper import ink
from layout_app.paper.pack.label_code import LEAST_SIDE, code_text, draw_code, modules, version_in
from layout_app.paper.pack.label_picture import draw_place, draw_shape
from layout_app.paper.pack.label_words import DOT, Label
from layout_app.paper.pack.setting import length_of, shortened, words, wrapped

SIZES: Final = tuple(place / 10 for place in range(26, 56))
"""Sizes of type in mm. Held at 400 mm, capitals of the least are 16 minutes of arc high, as
ISO 9241-303 has it, from memory."""
SMALL: Final = 2.2
"""Size of the plan's number below the code."""
LEFT_TO_RIGHT: Final = "\N{LEFT-TO-RIGHT MARK}"
"""Before the count, which else is torn apart behind a name that is written from the right."""
INSIDE: Final = 1.5
"""Free at the borders of a label, in mm."""
LINE: Final = 1.22
"""From line to line, in text sizes."""
CODE: Final = 0.28
"""Share of a label's length that its code takes."""
HIGH: Final = 0.55
"""The most that it takes of the label's width: below it lies what is drawn."""
MOST_LINES: Final = 2
"""So many lines a name takes at most, and whatever else is said."""
FEW: Final = 5
"""On a label of so few lines a name takes one."""
GAP: Final = 0.6
"""Between words and the white around a code, in mm."""
OUT: Final = 1.0
"""So far that white reaches towards the borders, in mm: more than half of it stays on the label."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Face:
    """How all labels of a run are set.

    Attributes
    ----------
    side
        Of the code with the white around it, in mm.
    length, width
        Of the room for words, in mm.
    size
        Of type, in mm.
    number
        The plan's.
    """

    side: float
    length: float
    width: float
    number: str
    size: float = SIZES[0]

    @property
    def version(self) -> int:
        """Of all its codes."""
        return version_in(self.side)


def face_of(labels: Sequence[Label], size: tuple[float, float], number: str) -> Face:
    """Return how labels of that length and width in mm are set: as large as all of them allow."""
    length, width = size[0] - 2 * INSIDE, size[1] - 2 * INSIDE
    side = max(min(CODE * length, HIGH * width), LEAST_SIDE)
    face = Face(side=side, length=length + OUT - side - GAP, width=width, number=number)
    too_large = bisect_left(SIZES, True, key=lambda one: not _all_fit(labels, face, one))
    return replace(face, size=SIZES[max(too_large - 1, 0)])


def _all_fit(labels: Sequence[Label], face: Face, size: float) -> bool:
    most = int(face.width / (LINE * size) + 1e-6)
    return all(len(_lines(label, face, size)) <= most for label in labels)


_Line: TypeAlias = tuple[str, bool]
"""Words, and whether they are bold."""


def _lines(label: Label, face: Face, size: float) -> list[_Line]:
    """Return all a label says, each thing on lines of its own."""
    said = [(line, True) for line in _name(label, face.length, size, MOST_LINES)]
    for text in label.lines:
        said += [(line, False) for line in at_most(text, face.length, size, MOST_LINES)]
    return said


def _close(label: Label, face: Face, most: int) -> list[_Line]:
    """Return what a label says in few lines: all below its name runs on, and dots end it."""
    name = _name(label, face.length, face.size, MOST_LINES if most > FEW else 1)
    rest = at_most(DOT.join(label.brief), face.length, face.size, most - len(name))
    return [*((line, True) for line in name), *((line, False) for line in rest)]


def _name(label: Label, room: float, size: float, most: int) -> list[str]:
    """Break a name; where it is too long its end becomes dots, but the count behind it stays."""
    behind = f" {LEFT_TO_RIGHT}{label.count}" if label.count else ""
    lines = wrapped(label.name + behind, room, size, bold=True)
    if len(lines) <= most:
        return lines
    first = wrapped(label.name, room, size, bold=True)[: most - 1]
    rest = label.name if most == 1 else _behind(label.name, first)
    free = room - length_of(behind, size, bold=True)
    return [*first, shortened(rest, free, size, bold=True) + behind]


def _behind(text: str, lines: Sequence[str]) -> str:
    """Return what of a text has not been set yet, once so many lines have been."""
    left = " ".join(text.split())
    for line in lines:
        left = left.removeprefix(line).lstrip()
    return left


def at_most(text: str, room: float, size: float, most: int, *, bold: bool = False) -> list[str]:
    """Break a text into so many lines at most; what is left out shows as dots."""
    lines = wrapped(text, room, size, bold=bold)
    if len(lines) > most:
        rest = " ".join(lines[most - 1 :])
        lines = [*lines[: most - 1], shortened(rest, room, size, bold=bold)]
    return [line.removesuffix(" \N{MIDDLE DOT}") for line in lines]


def draw_label(label: Label, face: Face, frame: ink.Spread) -> Iterator[ink.Item]:
    """Draw a label in its frame."""
    inner = frame.inside(INSIDE)
    left, top = inner.right + OUT - face.side, inner.y - OUT
    corner = ink.Spread(x=left, y=top, length=face.side, width=face.side)
    yield from _draw_words(label, face, inner)
    plan = f", {face.number}" if face.number else ""
    text = code_text(label.name, [tail + plan for tail in label.code], face.version)
    yield draw_code(modules(text, face.version), corner)
    below = corner.bottom
    if face.number:
        said = shortened(f"plan {face.number}", face.side, SMALL)
        middle = below + LINE / 2 * SMALL
        x = left + face.side / 2
        yield words(said, x, middle, SMALL, anchor=ink.Anchor.MIDDLE)
        below += LINE * SMALL
    room = ink.Spread(x=left, y=below, length=inner.right - left, width=inner.bottom - below)
    yield from _draw_pictures(label, room)


def draw_note(note: str, frame: ink.Spread) -> Iterator[ink.Item]:
    """Draw a label that says what the others lack."""
    inner, size = frame.inside(INSIDE), SIZES[0]
    most = int(inner.width / (LINE * size) + 1e-6)
    for place, text in enumerate(at_most(note, inner.length, size, most)):
        yield words(text, inner.x, inner.y + (place + 0.5) * LINE * size, size)


def _draw_words(label: Label, face: Face, inner: ink.Spread) -> Iterator[ink.Item]:
    most = int(face.width / (LINE * face.size) + 1e-6)
    lines = _lines(label, face, face.size)
    if len(lines) > most:
        lines = _close(label, face, most)
    for place, (text, bold) in enumerate(lines):
        middle = inner.y + (place + 0.5) * LINE * face.size
        yield words(text, inner.x, middle, face.size, bold=bold)


def _draw_pictures(label: Label, room: ink.Spread) -> Iterator[ink.Item]:
    """Draw the shape, and the place in the matched set below or beside it."""
    if label.place is None:
        yield from draw_shape(label.shape, room)
        return
    first, second = _halves(room)
    yield from draw_shape(label.shape, first)
    yield from draw_place(label.place, second)


def _halves(room: ink.Spread) -> tuple[ink.Spread, ink.Spread]:
    """Part a room in two, one below or beside the other."""
    if room.width > 0.7 * room.length:
        half = room.width / 2
        return replace(room, width=half), replace(room, y=room.y + half, width=half)
    half = room.length / 2
    return replace(room, length=half), replace(room, x=room.x + half, length=half)
