"""Marks over the kerfs within a match group: where two members are neighbours, nowhere else."""

from dataclasses import replace

from shared.drawing import Tie, draw_sheet
from shared.drawing.ties import ties_between
from shared.lengths import MM, LengthStyle
from shared.parts import GrainRule
from shared.plan import Placement, PlanPart
from tests.shared.small_plan import PLAN

KERF = 3 * MM
FRONT = PlanPart(
    id="f",
    name="Front",
    length=400 * MM,
    width=160 * MM,
    copies=4,
    material="ply",
    grain_rule=GrainRule.ALONG_LENGTH,
    group="Fronts",
)


def lying(copy: int, x: int, y: int, part: str = "f") -> Placement:
    """Return a front with its corner there, in millimetres."""
    return Placement(
        part=part, copy=copy, sheet="1", x=x * MM, y=y * MM, length=400 * MM, width=160 * MM
    )


def test_two_lines_cross_the_kerf_from_14_mm_to_14_mm() -> None:
    """Beside each other: at three quarters of the width, 6 mm apart, kerf and 14 mm both ways."""
    ties = ties_between([lying(1, 0, 0), lying(2, 403, 0)], [FRONT], KERF)
    assert ties == tuple(
        Tie(group="Fronts", start=(386 * MM, y * MM), end=(417 * MM, y * MM)) for y in (120, 126)
    )


def test_rows_are_tied_too() -> None:
    """Above each other the lines cross the kerf along x, at three quarters of the length."""
    ties = ties_between([lying(1, 0, 0), lying(2, 0, 163)], [FRONT], KERF)
    assert ties == tuple(
        Tie(group="Fronts", start=(x * MM, 146 * MM), end=(x * MM, 177 * MM)) for x in (300, 306)
    )


def test_a_grid_of_two_by_two_has_four_ties() -> None:
    """Each of its four inner edges carries two lines; across the corner there are none."""
    grid = [lying(1, 0, 0), lying(2, 403, 0), lying(3, 0, 163), lying(4, 403, 163)]
    assert len(ties_between(grid, [FRONT], KERF)) == 4 * 2


def test_no_other_neighbours_are_tied() -> None:
    """Further apart than a kerf, out of line, of another group or of none: no mark."""
    other = replace(FRONT, id="g", group="Doors")
    alone = replace(FRONT, id="h", group="")
    parts = [FRONT, other, alone]
    for second in (
        lying(2, 404, 0),
        lying(2, 403, 1),
        lying(1, 403, 0, "g"),
        lying(1, 403, 0, "h"),
    ):
        assert ties_between([lying(1, 0, 0), second], parts, KERF) == ()
    assert ties_between([lying(1, 0, 0, "h"), lying(2, 403, 0, "h")], parts, KERF) == ()


def test_what_a_part_belongs_to_is_told_but_not_written() -> None:
    """The label keeps name and size; pointed at, it also names the match group."""
    parts = tuple(replace(part, group="Doors") for part in PLAN.parts)
    drawing = draw_sheet(replace(PLAN, parts=parts), "1", LengthStyle())
    label = next(one for one in drawing.labels if one.key.startswith("part:"))
    assert len(label.lines) == 2
    assert label.told == f"{label.lines[0]}, {label.lines[1]}, match group Doors"
