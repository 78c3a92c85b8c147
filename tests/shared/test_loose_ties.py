"""What a sheet without cuts still shows: ties of match groups, and tints of equal widths."""

from dataclasses import replace

from shared.drawing import Role, draw_loose
from shared.drawing.loose import loose_ties
from shared.job import Job, MatchGroup
from shared.layout import LayoutSheet
from shared.lengths import MM
from shared.parts import Part
from shared.plan import Placement
from shared.shop import Shop
from shared.stock import Stock

FRONT = Part(
    id="f", name="Front", copies=4, length=400 * MM, width=160 * MM, material="ply", group="Fronts"
)
STOCK = Stock(
    id="s", name="ply", material="ply", length=2440 * MM, width=1220 * MM, thickness=18 * MM
)
JOB = Job(
    parts=(FRONT,),
    stock=(STOCK,),
    shop=Shop(kerf=3 * MM),
    groups=(MatchGroup(name="Fronts", columns=2),),
)


def lying(copy: int, x: int, y: int) -> Placement:
    """Return a front with its corner there, in millimetres."""
    return Placement(
        part="f", copy=copy, sheet="1", x=x * MM, y=y * MM, length=400 * MM, width=160 * MM
    )


def test_a_grid_that_lies_as_asked_is_tied_at_its_four_inner_edges() -> None:
    """Two rows of two: 1 2 above 3 4, two lines over each of the four kerfs."""
    grid = (lying(1, 0, 0), lying(2, 403, 0), lying(3, 0, 163), lying(4, 403, 163))
    assert len(loose_ties(JOB, grid)) == 4 * 2


def test_members_that_are_no_neighbours_in_the_grid_are_not_tied() -> None:
    """1 and 4 stand corner to corner in the grid; 1 and 3 belong above each other."""
    assert loose_ties(JOB, (lying(1, 0, 0), lying(4, 403, 0))) == ()
    assert loose_ties(JOB, (lying(1, 0, 0), lying(3, 403, 0))) == ()
    assert loose_ties(JOB, (lying(1, 0, 0), lying(2, 404, 0))) == ()


def test_parts_of_equal_width_share_a_tint_that_the_plan_may_have_named() -> None:
    """160 mm is tint 5 of the plan, so it is 5 here; 400 mm across is new and comes after it."""
    turned = replace(lying(2, 403, 0), length=160 * MM, width=400 * MM, turned=True)
    sheet = LayoutSheet(id="1", stock="s", placements=(lying(1, 0, 0), turned, lying(3, 0, 500)))
    known = {at * MM: at for at in range(5)} | {160 * MM: 5}
    boxes = draw_loose(JOB, sheet, tints=known).boxes
    assert [box.tint for box in boxes if box.role is Role.PART] == [5, 6, 5]
