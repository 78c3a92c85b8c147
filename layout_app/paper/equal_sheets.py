"""Sheets that are sawn alike: drawn once, with the numbers of the cuts of each in a table."""

from collections.abc import Hashable, Iterable, Iterator, Sequence

from layout_app.paper.letters import width_of
from shared.drawing import CutTag, SheetDrawing

Line = tuple[tuple[float, str], ...]
"""Texts of a line, and how far from the left each begins, in text sizes."""
BETWEEN = 0.8
"""Between two numbers of the table, in text sizes."""


def together(drawings: Iterable[SheetDrawing]) -> list[list[SheetDrawing]]:
    """Return the drawings, those of sheets that are sawn alike beside each other.

    Such sheets are of one stock, lie the same way up, and have the same parts in the same places,
    freed by cuts in the same order. A sheet that cannot be cut stands alone.
    """
    found: dict[Hashable, list[SheetDrawing]] = {}
    for drawing in drawings:
        key = drawing.sheet if drawing.problem or not drawing.tags else _look(drawing)
        found.setdefault(key, []).append(drawing)
    return list(found.values())


def _look(drawing: SheetDrawing) -> Hashable:
    """Return all that is seen of a sheet but numbers of sheets, cuts and copies."""
    begins = len(drawing.sheet)
    return (
        (drawing.stock, drawing.title, drawing.rect, drawing.mirrored),
        frozenset((box.role, box.rect, box.part) for box in drawing.boxes),
        tuple((one.name[begins:], one.rect, one.divided) for one in drawing.pieces),
        tuple(map(_place, _in_order(drawing))),
        tuple((mark.at, mark.text) for mark in drawing.marks),
    )


def _in_order(drawing: SheetDrawing) -> list[CutTag]:
    return sorted(drawing.tags, key=lambda tag: tag.number)


def _place(tag: CutTag) -> Hashable:
    return tag.x, tag.y, tag.axis, tag.reach, tag.level


def equal_lines(drawings: Sequence[SheetDrawing], room: float) -> Iterator[tuple[str, list[Line]]]:
    """Yield what is said of sheets drawn by the first of them: a text, and its lines.

    ``room`` is the length of a line in text sizes.
    """
    if len(drawings) < 2:
        return
    first, *others = drawings
    heads = [f"Cuts of sheet {one.sheet}" for one in drawings]
    numbers = [[str(tag.number) for tag in _in_order(one)] for one in drawings]
    start = max(map(width_of, heads)) + BETWEEN
    step = max(width_of(number) for row in numbers for number in row) + BETWEEN
    many = max(1, int((room - start) / step))
    for at in range(0, len(numbers[0]), many):
        for head, row in zip(heads, numbers, strict=True):
            shown = row[at : at + many]
            cells = [(start + place * step, number) for place, number in enumerate(shown)]
            yield f"{head}: {', '.join(shown)}", [((0.0, head), *cells)]
    named = next((one.name for one in first.pieces), "")
    if named:
        called = (f"{one.sheet}{named[len(first.sheet) :]} on sheet {one.sheet}" for one in others)
        said = (
            f"Numbers of sheet {first.sheet} on the drawing. Piece {named} is {', '.join(called)}."
        )
        yield said, [((0.0, said),)]
