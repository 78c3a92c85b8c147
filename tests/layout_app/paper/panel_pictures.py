"""What is read off the drawing of a panel: its outline, and where the number of each cut stands."""

from shapely import Polygon, box

from layout_app.paper import ink
from layout_app.paper.matter import Matter
from layout_app.paper.panels.gathering import Panel
from layout_app.paper.panels.picture import PanelPicture
from shared.making.record import Edge

ROOM = (70.0, 60.0)


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


def arrows(panel: Panel, matter: Matter) -> dict[int, str]:
    """Return at which edge or end of the piece, as it lies, each number stands with its arrow.

    Only the first of equal pieces is drawn: cuts of the others are made as those in their places.
    """
    picture = drawn(panel, matter)
    left, top, right, bottom = frame_of(picture).bounds
    found: dict[int, str] = {}
    tags = tags_of(picture)
    for stack in panel.stacks:
        for one, as_drawn in zip(stack, panel.drawn, strict=True):
            if as_drawn.number not in tags:
                continue
            x, y = tags[as_drawn.number]
            beyond = {
                Edge.LEFT: left - x,
                Edge.RIGHT: x - right,
                Edge.REFERENCE: top - y,
                Edge.FAR: y - bottom,
            }
            found[one.number] = max(beyond, key=lambda edge: beyond[edge]).value
    return found
