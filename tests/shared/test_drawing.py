"""The draw records of a small plan written out by hand."""

from dataclasses import replace

import pytest

from shared.drawing import Role, draw_loose, draw_sheet
from shared.job import Job
from shared.layout import LayoutSheet
from shared.lengths import INCH, LengthStyle, Unit
from shared.parts import Part
from shared.plan import PlanSheet
from shared.shop import Axis
from shared.stock import SheetGrain, Stock, Trims
from shared.tree import Piece, Run
from tests.shared.small_plan import PLAN, SHEET, E

STYLE = LengthStyle()


def boxes(role, drawing=None):
    """Return the boxes of one role by key."""
    drawing = drawing or draw_sheet(PLAN, "1", STYLE)
    return {box.key: box for box in drawing.boxes if box.role is role}


def test_title_says_size_material_and_grain():
    """The title writes L before W, as product.md asks, then material and grain."""
    title = draw_sheet(PLAN, "1", STYLE).title
    assert title == "L 20 × W 10, 3/4 birch ply, grain along L"


def test_title_follows_the_style():
    """20 in is 508 mm and 10 in is 254 mm, since 1 in is 25.4 mm (agreement of 1959)."""
    title = draw_sheet(PLAN, "1", LengthStyle(unit=Unit.MM)).title
    assert title.startswith("L 508 × W 254,")


def test_an_offcut_keeps_its_own_name_in_the_title():
    """A stock row with a name of its own shows material and name."""
    sheet = replace(SHEET, name="left of the bookcase")
    title = draw_sheet(replace(PLAN, sheets=(sheet,)), "1", STYLE).title
    assert title == "L 20 × W 10, 3/4 birch ply, left of the bookcase, grain along L"


def test_the_boxes_cover_the_sheet_to_the_tick():
    """Parts, kerfs, falls and trim add up to the sheet: nothing is drawn twice or left out."""
    drawn = draw_sheet(PLAN, "1", STYLE).boxes
    inner = [box.rect for box in drawn if box.role is not Role.SHEET]
    assert sum(rect.area for rect in inner) == SHEET.rect.area
    assert not any(a.overlaps(b) for i, a in enumerate(inner) for b in inner[i + 1 :])


def test_near_trim_leaves_a_sliver_at_the_factory_edge():
    """A trim of 1/4 with a kerf of 1/8 drops 1/8 over the whole length."""
    sliver = boxes(Role.TRIM)["trim:1"].rect
    assert (sliver.x, sliver.y, sliver.length, sliver.width) == (0, 0, 160 * E, 1 * E)


def test_start_trim_leaves_a_sliver_in_its_strip():
    """The trim of a strip falls from the strip alone."""
    cut = replace(PLAN.cuts[0], x=E, y=2 * E, length=E, width=32 * E, level=2)
    plan = replace(PLAN, cuts=(cut,))
    sliver = boxes(Role.TRIM, draw_sheet(plan, "1", STYLE))["trim:1"].rect
    assert (sliver.x, sliver.y, sliver.length, sliver.width) == (0, 2 * E, E, 32 * E)


def test_a_trim_of_one_kerf_drops_nothing():
    """When the blade takes all of the trim there is no sliver to draw."""
    cut = replace(PLAN.cuts[0], y=0, size=E)
    assert not boxes(Role.TRIM, draw_sheet(replace(PLAN, cuts=(cut,)), "1", STYLE))


def test_parts_of_one_rip_width_share_a_tint():
    """Both rails come from the strip 4 wide; the shelf comes from the strip 3 wide."""
    parts = boxes(Role.PART)
    assert parts["part:a:1"].tint == parts["part:a:2"].tint == 0
    assert parts["part:b:1"].tint == 1


def test_tints_count_over_the_whole_plan():
    """A second sheet with the same rip width gives its parts the same tint."""
    strip = SHEET.tree.pieces[1]
    other = replace(SHEET, id="2", tree=Run(axis=Axis.RIP, trim=2 * E, pieces=(strip,)))
    here = replace(PLAN.placements[2], sheet="2", y=2 * E)
    plan = replace(
        PLAN, sheets=(SHEET, other), placements=(here,), cuts=(replace(PLAN.cuts[0], sheet="2"),)
    )
    assert boxes(Role.PART, draw_sheet(plan, "2", STYLE))["part:b:1"].tint == 1


def test_falls_are_keepers_or_waste_as_the_plan_says():
    """Only offcuts that the plan keeps are drawn as keepers, and only these are labelled."""
    assert set(boxes(Role.KEEPER)) == {"piece:1b", "piece:1"}
    assert set(boxes(Role.WASTE)) == {"piece:1a"}
    labelled = {label.key: label.lines for label in draw_sheet(PLAN, "1", STYLE).labels}
    assert labelled["piece:1"] == ("offcut of sheet 1", "L 20 × W 2 1/2")
    assert "piece:1a" not in labelled


def test_a_turned_part_is_labelled_with_its_own_length_first():
    """A part that lies turned is still L 8 × W 4."""
    turned = replace(PLAN.placements[0], length=32 * E, width=64 * E, turned=True)
    drawing = draw_sheet(replace(PLAN, placements=(turned,)), "1", STYLE)
    assert drawing.labels[0].lines == ("Rail", "L 8 × W 4")


def test_tags_stand_where_the_saw_enters():
    """Rips are entered at the left end, crosscuts at the top of their strip, mid kerf."""
    tags = {tag.number: tag for tag in draw_sheet(PLAN, "1", STYLE).tags}
    rip, crosscut = tags[2], tags[5]
    assert (rip.axis, rip.x, rip.y, rip.outside) == (Axis.RIP, 0, 34 * E + E // 2, True)
    assert (crosscut.x, crosscut.y) == (129 * E + E // 2, 2 * E)
    assert (crosscut.axis, crosscut.reach, crosscut.outside) == (Axis.CROSSCUT, 32 * E, False)


def test_running_marks_count_from_the_trimmed_edge():
    """Keep sides at 4 and 4 + 1/8 + 3 = 7 1/8 from the trimmed edge, which lies at 1/4."""
    marks = draw_sheet(PLAN, "1", STYLE).marks
    assert [(mark.text, mark.at) for mark in marks] == [
        ("0", 2 * E),
        ("4", 34 * E),
        ("7 1/8", 59 * E),
    ]


def crosscut_first() -> PlanSheet:
    """Return a sheet crosscut first: blocks of 30 and 60 eighths."""
    pieces = (Piece(size=30 * E), Piece(size=60 * E))
    return replace(SHEET, tree=Run(axis=Axis.CROSSCUT, pieces=pieces), trims=Trims())


def test_crosscut_first_turns_scale_and_tags():
    """On a sheet that is crosscut first the scale runs along x and the tags stand above."""
    cut = replace(PLAN.cuts[3], x=30 * E, y=0, width=80 * E, level=1, running=30 * E)
    plan = replace(PLAN, sheets=(crosscut_first(),), placements=(), offcuts=(), cuts=(cut,))
    drawing = draw_sheet(plan, "1", STYLE)
    mark, tag = drawing.marks[1], drawing.tags[0]
    assert (mark.axis, mark.at, mark.text) == (Axis.CROSSCUT, 30 * E, "3 3/4")
    assert (tag.axis, tag.x, tag.y, tag.outside) == (Axis.CROSSCUT, 30 * E + E // 2, 0, True)


def test_a_sheet_whose_first_run_makes_no_cut_is_drawn_by_its_second():
    """A first run of one whole piece leaves the crosscuts as the first cuts of the sheet."""
    whole = Piece(size=80 * E, run=crosscut_first().tree)
    sheet = replace(crosscut_first(), tree=Run(axis=Axis.RIP, pieces=(whole,)))
    cut = replace(PLAN.cuts[3], x=30 * E, y=0, width=80 * E, level=2, running=30 * E)
    plan = replace(PLAN, sheets=(sheet,), placements=(), offcuts=(), cuts=(cut,))
    drawing = draw_sheet(plan, "1", STYLE)
    assert [(mark.axis, mark.text) for mark in drawing.marks] == [
        (Axis.CROSSCUT, "0"),
        (Axis.CROSSCUT, "3 3/4"),
    ]
    assert drawing.tags[0].outside
    assert 30 * E < drawing.face_mark[0] < 90 * E


def test_the_face_mark_keeps_clear_of_crosscut_tags():
    """On a sheet crosscut first the V stands over the middle of the widest piece."""
    plan = replace(PLAN, sheets=(crosscut_first(),), placements=(), offcuts=(), cuts=())
    x, y = draw_sheet(plan, "1", STYLE).face_mark
    assert y == 0
    assert 30 * E < x < 90 * E


def test_grain_runs_along_l_inside_each_part():
    """Lines of a part stay in it and rise far less than they run."""
    drawing = draw_sheet(PLAN, "1", STYLE)
    rect = boxes(Role.PART, drawing)["part:a:1"].rect
    lines = [line.points for line in drawing.grain if line.key == "part:a:1"]
    assert lines
    assert all(
        rect.x <= x <= rect.right and rect.y <= y <= rect.bottom for p in lines for x, y in p
    )
    longest = max(lines, key=lambda points: points[-1][0] - points[0][0])
    assert longest[-1][0] - longest[0][0] > 10 * abs(longest[-1][1] - longest[0][1])


def test_grain_along_w_runs_down_the_sheet():
    """The same sheet with its grain along W has lines that run along y."""
    sheet = replace(SHEET, grain=SheetGrain.ALONG_W)
    drawing = draw_sheet(replace(PLAN, sheets=(sheet,)), "1", STYLE)
    for line in drawing.grain:
        (x0, y0), (x1, y1) = line.points[0], line.points[-1]
        assert y1 - y0 > abs(x1 - x0) or y1 - y0 < INCH


def test_no_grain_no_lines():
    """A sheet without grain shows none."""
    sheet = replace(SHEET, grain=SheetGrain.NONE)
    assert draw_sheet(replace(PLAN, sheets=(sheet,)), "1", STYLE).grain == ()


def test_the_same_plan_gives_the_same_drawing():
    """Nothing in a drawing is left to chance."""
    assert draw_sheet(PLAN, "1", STYLE) == draw_sheet(PLAN, "1", STYLE)


def test_an_unknown_sheet_is_an_error():
    """Asking for a sheet that the plan does not have raises KeyError."""
    with pytest.raises(KeyError):
        draw_sheet(PLAN, "7", STYLE)


STOCK = Stock(
    id="s",
    name="3/4 birch ply",
    material="3/4 birch ply",
    length=160 * E,
    width=80 * E,
    thickness=6 * E,
    trims=Trims(near=2 * E, end=4 * E),
    price=5200,
)
JOB = Job(
    parts=(
        Part(id="a", name="Rail", copies=2, length=64 * E, width=32 * E, material="3/4 birch ply"),
    ),
    stock=(STOCK,),
)


def test_a_loose_sheet_shows_margins_and_trouble():
    """Without a plan there are no cuts, but margins, parts, and a mark on those in trouble."""
    sheet = LayoutSheet(id="1", stock="s", placements=PLAN.placements[:2])
    drawing = draw_loose(JOB, sheet, frozenset({("a", 2)}), "Rail 2 is in the way.")
    parts = boxes(Role.PART, drawing)
    assert [parts["part:a:1"].problem, parts["part:a:2"].problem] == [False, True]
    assert {box.tint for box in parts.values()} == {0}
    margins = boxes(Role.TRIM, drawing)
    assert margins["trim:near"].rect.width == 2 * E
    assert margins["trim:end"].rect.x == 156 * E
    assert set(margins) == {"trim:near", "trim:end"}
    assert (drawing.tags, drawing.marks, drawing.problem) == ((), (), "Rail 2 is in the way.")
    assert drawing.labels[0].lines == ("Rail 1", "L 8 × W 4")


@pytest.mark.parametrize("more", [{"fit_allowance": E}, {"oversize": E}])
def test_a_blank_on_a_loose_sheet_is_called_so(more):
    """What is sawn larger than the part is named a blank, with its own size."""
    job = replace(JOB, parts=(replace(JOB.parts[0], length=63 * E, width=31 * E, **more),))
    sheet = LayoutSheet(id="1", stock="s", placements=PLAN.placements[:1])
    assert draw_loose(job, sheet).labels[0].lines == ("Rail 1", "blank L 8 × W 4")
