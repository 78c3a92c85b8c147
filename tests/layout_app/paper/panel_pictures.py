"""What is read off the drawing of a panel: its outline, and where the number of each cut stands."""

from collections.abc import Iterator, Sequence
from math import dist

from shapely import Polygon, box

from layout_app.paper import ink
from layout_app.paper.matter import Matter
from layout_app.paper.pack.book import Book, Paper
from layout_app.paper.panels.gathering import Panel
from layout_app.paper.panels.picture import PanelPicture
from layout_app.paper.panels.putting import put_panels

ROOM = (70.0, 60.0)
NEAR = 0.01
"""What is so close together in mm touches."""


def drawn(panel: Panel, matter: Matter) -> ink.Group:
    """Return the picture of a panel, its first corner at 0, 0 of the group."""
    mine = {one.number for one in panel.drawn}
    rows = [[one for one in row.passes if one.number in mine] for row in panel.rows]
    (group,) = PanelPicture(rows, matter.style, ROOM).draw(0.0, 0.0, ROOM[0])
    assert isinstance(group, ink.Group)
    return group


def frame_of(picture: ink.Group) -> Polygon:
    """Return the outline of the piece: the only plate with a pen."""
    (found,) = [one for one in picture.items if isinstance(one, ink.Plate) and one.pen is not None]
    return box(found.x, found.y, found.x + found.length, found.y + found.width)


def tags_of(picture: ink.Group) -> dict[int, ink.Spot]:
    """Return the middle of each tag by its number."""
    discs = {(one.x, one.y) for one in picture.items if isinstance(one, ink.Disc)}
    numbers = [one for one in picture.items if isinstance(one, ink.Words)]
    return {int(one.text): (one.x, one.y) for one in numbers if (one.x, one.y) in discs}


def arrows(matter: Matter) -> dict[int, str]:
    """Return at which edge or end of the piece, as it lies, each number on the pages stands.

    Read from ink alone; a piece that is drawn again on another page shows the same.
    """
    book = Book(Paper.A4, "Trial")
    put_panels(book, matter)
    found: dict[int, str] = {}
    for page in book.pages():
        for picture in pictures_in(page.items):
            for number, side in sides_of(picture).items():
                assert found.setdefault(number, side) == side, number
    return found


def pictures_in(items: Sequence[ink.Item]) -> Iterator[ink.Group]:
    """Yield the drawings of pieces: groups with round tags that hold a number."""
    for item in items:
        if isinstance(item, ink.Group):
            if tags_of(item):
                yield item
            yield from pictures_in(item.items)


def sides_of(picture: ink.Group) -> dict[int, str]:
    """Return beyond which side of the outline each tag stands; its arrow comes from there too."""
    left, top, right, bottom = frame_of(picture).bounds
    found: dict[int, str] = {}
    for number, (x, y) in tags_of(picture).items():
        beyond = {
            "left end": left - x,
            "right end": x - right,
            "reference edge": top - y,
            "far edge": y - bottom,
        }
        found[number] = max(beyond, key=beyond.__getitem__)
        assert beyond[found[number]] > 0, number
        assert _arrow_from((x, y), picture) == found[number], number
    return found


def _arrow_from(tag: ink.Spot, picture: ink.Group) -> str:
    """Return from which side the arrow comes at which the line of a tag ends."""
    strokes = [one for one in picture.items if isinstance(one, ink.Strokes)]
    (line,) = [line for one in strokes for line in one.lines if dist(line[-1], tag) < NEAR]
    heads = [one.outlines[0] for one in picture.items if isinstance(one, ink.Patch)]
    (head,) = [one for one in heads if dist(_middle(one), line[0]) < NEAR]
    (x, y), (tip_x, tip_y) = _middle(head), head[0]
    if abs(tip_x - x) > abs(tip_y - y):
        return "left end" if tip_x > x else "right end"
    return "reference edge" if tip_y > y else "far edge"


def _middle(head: Sequence[ink.Spot]) -> ink.Spot:
    """Return the middle of the side of an arrow head that lies behind its tip."""
    _, one, other = head
    return (one[0] + other[0]) / 2, (one[1] + other[1]) / 2
