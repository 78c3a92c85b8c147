"""Pictures of panels: every cut where it lies, its number where the saw enters, the rail beside it.

Where a cut lies is held against the plan, shapes against Shapely, and the way the saw runs against
the hand on which its rail is: pushed away from the body, a saw with the rail on its left has it on
the left of the way it goes (plane geometry: the sign of the cross product).
"""

from collections.abc import Iterator, Sequence
from dataclasses import replace
from itertools import pairwise

import pytest
from shapely import box
from shapely.affinity import scale

from layout_app.paper import ink
from layout_app.paper.matter import Matter
from layout_app.paper.panels.gathering import Panel, panels_of
from layout_app.paper.panels.numbering import Entry, SideTags, Spotter, radius_of
from layout_app.paper.panels.picture import PanelPicture
from layout_app.paper.panels.plotting import Least, plot
from layout_app.paper.panels.rail_ribbon import GREY, HEAVY
from layout_app.paper.pens import CUT
from shared.geometry import Rect
from shared.lengths import MM
from shared.making.record import Edge, Face
from shared.plan import Keep
from shared.shop import Axis, Hand
from shared.telling import Instruction
from tests.layout_app.paper import packs
from tests.layout_app.paper.panel_pictures import ROOM, drawn, frame_of, sides_of, tags_of

SEEDS = (2, 9, 14, 21, 30)


def pictures() -> Iterator[tuple[Panel, ink.Group]]:
    """Yield the panels of random jobs with their pictures."""
    for seed in SEEDS:
        matter = packs.matter(seed)
        yield from ((panel, drawn(panel, matter)) for panel in panels_of(matter.told))


def test_each_number_stands_outside_where_the_saw_enters() -> None:
    """Beyond that side of the outline; there is a tag for every cut of the piece that is drawn."""
    several = 0
    for panel, picture in pictures():
        left, top, right, bottom = frame_of(picture).bounds
        tags = tags_of(picture)
        assert set(tags) == {one.number for one in panel.drawn}
        several += len(tags) > 1
        for one in panel.drawn:
            x, y = tags[one.number]
            beyond = {
                Edge.LEFT: left - x,
                Edge.RIGHT: x - right,
                Edge.REFERENCE: top - y,
                Edge.FAR: y - bottom,
            }
            assert beyond[one.record.enters] == max(beyond.values()) > radius_of(one.number)
    assert several > 10


def test_turned_over_numbers_of_ends_change_sides() -> None:
    """What enters at one end with the show face up enters at the other with the back up."""
    other = {"left end": "right end", "right end": "left end"}
    ends = 0
    for seed in SEEDS:
        matter = packs.matter(seed)
        for panel in panels_of(matter.told):
            show, back = (
                sides_of(pictured([turned(one, up) for one in panel.drawn], matter))
                for up in (Face.SHOW, Face.BACK)
            )
            assert back == {number: other.get(side, side) for number, side in show.items()}
            ends += sum(side in other for side in show.values())
    assert ends > 10


def test_tags_keep_apart() -> None:
    """Each is round, and none touches another or lies over the piece."""
    for _, picture in pictures():
        outline = frame_of(picture)
        discs = [one for one in picture.items if isinstance(one, ink.Disc)]
        for place, one in enumerate(discs):
            assert outline.distance(box(one.x, one.y, one.x, one.y)) > one.radius
            for other in discs[place + 1 :]:
                far = ((one.x - other.x) ** 2 + (one.y - other.y) ** 2) ** 0.5
                assert far >= one.radius + other.radius - 1e-6


def lines_of(picture: ink.Group, width: float) -> list[tuple[ink.Spot, ...]]:
    """Return the lines of two points that are drawn with a pen of that width."""
    strokes = [one for one in picture.items if isinstance(one, ink.Strokes)]
    return [line for one in strokes if one.pen.width == width for line in one.lines]


@pytest.mark.parametrize("up", [Face.SHOW, Face.BACK])
def test_cuts_part_the_piece_in_their_order(up: Face) -> None:
    """Lines of rips lie from the reference edge down as in the plan, crosscuts from the left end.

    A piece with its back up has its ends changed, as a glance from behind shows.
    """
    crossed = 0
    for seed in SEEDS:
        matter = packs.matter(seed)
        for panel in panels_of(matter.told):
            picture = pictured([turned(one, up) for one in panel.drawn], matter)
            marked = [line for line in lines_of(picture, CUT) if len(line) == 2]
            for axis in Axis:
                cuts = [one for one in panel.drawn if one.stroke.axis is axis]
                at = 1 if axis is Axis.RIP else 0
                places = [line[0][at] for line in marked if line[0][at] == line[1][at]]
                there = [(one.stroke.cut.rect.x, one.stroke.cut.rect.y)[at] for one in cuts]
                if axis is Axis.CROSSCUT and up is Face.BACK:
                    there = [-place for place in there]
                assert len(places) == len(cuts)
                found = [places[place] for place in sorted(range(len(cuts)), key=there.__getitem__)]
                assert all(low < high for low, high in pairwise(found))
                crossed += not at and len(found) > 1
    assert crossed > 3


def pictured(cuts: Sequence[Instruction], matter: Matter) -> ink.Group:
    """Return the picture of some cuts of a piece."""
    (picture,) = PanelPicture([cuts], matter.style, ROOM).draw(0.0, 0.0, ROOM[0])
    assert isinstance(picture, ink.Group)
    return picture


def turned(one: Instruction, up: Face) -> Instruction:
    """Return a cut with a face of the piece up; all else stays where it is on the piece."""
    return replace(one, record=replace(one.record, up=up))


def led() -> Iterator[tuple[Hand, Instruction, ink.Group, ink.Plate]]:
    """Yield the only cuts of panels that a rail or straightedge leads, with its ribbon."""
    for seed in SEEDS:
        matter = packs.matter(seed)
        for panel in panels_of(matter.told):
            picture = drawn(panel, matter)
            ribbons = [x for x in picture.items if isinstance(x, ink.Plate) and x.fill == GREY]
            if len(panel.drawn) == len(ribbons) == 1:
                yield matter.job.shop.rail_side, panel.first, picture, ribbons[0]


def aside(one: Instruction, picture: ink.Group, ribbon: ink.Plate) -> float:
    """Return how far the middle of the ribbon is from the line, down or to the right, in mm."""
    at = 1 if one.stroke.axis is Axis.RIP else 0
    line = next(found for found in lines_of(picture, CUT) if len(found) == 2)
    middle = (ribbon.x + ribbon.length / 2, ribbon.y + ribbon.width / 2)
    return middle[at] - line[0][at]


def test_a_rail_lies_on_the_side_that_is_said() -> None:
    """On the keep side, or on the other where that is too narrow; its heavy edge is drawn."""
    seen = 0
    for _, one, picture, ribbon in led():
        turned = one.record.mirrored and one.stroke.axis is Axis.CROSSCUT
        near = (aside(one, picture, ribbon) < 0) is not turned
        on_keep = near is (one.stroke.cut.keep is Keep.NEAR)
        assert on_keep is ("past the line" not in one.bed), one.bed
        assert lines_of(picture, HEAVY)
        seen += 1
    assert seen > 5


def test_the_saw_runs_with_its_rail_on_the_hand_that_the_shop_says() -> None:
    """From its tag into the piece, whichever face is up."""
    seen = set()
    for hand, one, picture, ribbon in led():
        (x, y), line = tags_of(picture)[one.number], frame_of(picture).centroid
        rip = one.stroke.axis is Axis.RIP
        way = (line.x - x, 0.0) if rip else (0.0, line.y - y)
        side = aside(one, picture, ribbon)
        cross = way[0] * side if rip else -way[1] * side
        assert (cross < 0) is (hand is Hand.LEFT), one.title  # y runs down
        seen.add((hand, one.stroke.axis))
    assert len(seen) > 1


@pytest.mark.parametrize("wide", [3 * MM, 70 * MM, 1220 * MM])
def test_what_is_wide_enough_is_to_scale(wide: int) -> None:
    """Without anything narrow a plot is the largest true one, as Shapely scales the shape."""
    piece = Rect(x=0, y=0, length=2440 * MM, width=wide)
    found = plot([piece], ([], []), ROOM)
    factor = min(ROOM[0] / piece.length, ROOM[1] / piece.width)
    true = scale(box(0, 0, piece.length, piece.width), factor, factor, origin=(0, 0))
    assert (found.x.length, found.y.length) == pytest.approx(true.bounds[2:], rel=1e-3)


def test_narrow_strips_are_drawn_wide_and_nothing_leaves_the_room() -> None:
    """Ten strips of 5 mm in a sheet: each as wide as is asked for, the rest keeps its place."""
    piece = Rect(x=0, y=0, length=2440 * MM, width=1220 * MM)
    strips = [Rect(x=0, y=at * 8 * MM, length=piece.length, width=5 * MM) for at in range(10)]
    leasts = [Least(low=one.y, high=one.bottom, mm=5.0) for one in strips]
    found = plot([piece, *strips], ([], leasts), ROOM)
    assert found.y.length <= ROOM[1] + 1e-6
    assert found.x.length <= ROOM[0] + 1e-6
    for one in strips:
        assert found.y.at(one.bottom) - found.y.at(one.y) == pytest.approx(5.0)
    places = [found.y.at(at) for one in strips for at in (one.y, one.bottom)]
    assert places == sorted(places)


@pytest.mark.parametrize("many", [1, 5, 12, 40])
def test_tags_of_many_cuts_have_room_beside_a_short_side(many: int) -> None:
    """Twelve all stand there; of more, some between the ends of a row may be left out."""
    entries = [Entry(number=100 + at, along=at * 62 / many, row=at // 20) for at in range(many)]
    side = SideTags(entries, (-4.0, 66.0))
    spot = Spotter((0.0, 0.0), (1.0, 0.0), (0.0, -1.0))
    items = list(side.items(spot))
    discs = [one for one in items if isinstance(one, ink.Disc)]
    assert len(discs) == many or many == 40
    numbers = {int(one.text) for one in items if isinstance(one, ink.Words)}
    assert {entries[0].number, entries[-1].number} <= numbers
    assert all(-4.001 <= one.x - one.radius <= one.x + one.radius <= 66.001 for one in discs)
    for place, one in enumerate(discs):
        for other in discs[place + 1 :]:
            far = ((one.x - other.x) ** 2 + (one.y - other.y) ** 2) ** 0.5
            assert far >= one.radius + other.radius - 1e-6
