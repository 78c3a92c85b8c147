"""What a move costs, worked out by hand: cuts by counting edges, set-ups by their sizes."""

from dataclasses import replace

import pytest

from layout_app.model import layout_edits
from layout_app.model.carry_over import with_waiting
from layout_app.model.cost import Cost, Costing
from layout_app.model.merge_plan import with_layout
from layout_app.model.project import Project
from layout_app.model.sawing import saw
from layout_app.model.words.cost_words import cost_lines
from shared.job import Job
from shared.layout import Layout, LayoutSheet
from shared.lengths import INCH
from shared.parts import Copy
from shared.plan import Placement
from shared.shop import CutRule, FirstCut
from tests.layout_app.small_job import KERF, small_job

INCHES = small_job().style


def side(copy: int, x: int, y: int, sheet: str = "1") -> Placement:
    """Return a side, L 40 × W 12 in, with its corner at (x, y) ticks."""
    return Placement(
        part="side",
        copy=copy,
        sheet=sheet,
        x=x,
        y=y,
        length=40 * INCH,
        width=12 * INCH,
        turned=False,
    )


FIRST, SECOND = side(1, 0, 0), side(2, 40 * INCH + KERF, 0)
"""Two sides in one strip: a rip at 12, two crosscuts at 40."""
ASLANT = side(2, 40 * INCH + KERF, 12 * INCH + KERF)
"""The second in the next strip, behind the first: a rip at 12 and a crosscut at 40 for each, and
before the second the waste is cut off at 40."""


def job(keep: int = 24 * INCH, **shop: int) -> Job:
    """Return the small job, which is ripped first and keeps offcuts of two feet both ways."""
    made = small_job()
    made = replace(made, rule=CutRule(first=FirstCut.RIP))
    return replace(made, shop=replace(made.shop, keep_length=keep, keep_width=keep, **shop))


def laid(of: Job, *placements: Placement, empty: str = "") -> Project:
    """Return a project laid out by hand, with one more sheet that is empty if it is named."""
    layout = Layout(sheets=(LayoutSheet(id="1", stock="full", yours=True),))
    if empty:
        layout = layout_edits.add_sheet(layout, of.stock[0])
    project = Project(job=of, layout=with_waiting(of, layout.sheets, layout))
    return with_layout(project, layout_edits.place_all(of, project.layout, placements))


def cost(before: Project, *placements: Placement) -> Cost | None:
    """Return what it costs to lay parts so."""
    layout = layout_edits.place_all(before.job, before.layout, placements)
    return Costing(saw(before)).of(with_layout(before, layout))


def aside(before: Project, *keys: Copy) -> Cost | None:
    """Return what it costs to set parts aside."""
    layout = layout_edits.set_aside(before.job, before.layout, keys)
    return Costing(saw(before)).of(with_layout(before, layout))


def test_a_part_that_leaves_its_strip_needs_more_cuts() -> None:
    """Two rips and three crosscuts, where one strip took one rip and two; set to 12 and 40."""
    found = cost(laid(job(keep=0)), FIRST, SECOND)
    assert found is not None
    assert (found.cuts, found.setups, found.opened) == (3, 2, ("1",))
    moved = cost(laid(job(keep=0), FIRST, SECOND), ASLANT)
    assert moved is not None
    assert (moved.cuts, moved.setups) == (2, 0)


def test_minutes_are_those_of_the_whole_plan_rounded_up() -> None:
    """At 90 s a cut three cuts take 4.5 min, told as 5, and five take 7.5, told as 8."""
    slow = job(cut_s=90, setup_s=0, skim_s=0)
    moved = cost(laid(slow, FIRST, SECOND), ASLANT)
    assert moved is not None
    assert moved.minutes == 3


def test_a_sheet_that_comes_into_use_costs_its_price() -> None:
    """The empty sheet at 52.00 is opened by the part that is laid on it, with three more cuts.

    Alone in its strip the side that stays needs one crosscut fewer; the other needs a rip and a
    crosscut of its own.
    """
    before = laid(job(), FIRST, SECOND, empty="2")
    opened = cost(before, side(2, 0, 0, sheet="2"))
    assert opened is not None
    assert (opened.opened, opened.price, opened.cuts) == (("2",), 5200, 1)


def test_a_sheet_that_is_emptied_is_freed_and_gives_its_price_back() -> None:
    """The only part set aside: a rip and a crosscut fewer, and no sheet."""
    freed = aside(laid(job(), FIRST), ("side", 1))
    assert freed is not None
    assert (freed.freed, freed.price, freed.cuts, freed.setups) == (("1",), -5200, -2, -2)


def test_offcuts_worth_keeping_that_come_and_go() -> None:
    """Below one strip lie 96 × 35 7/8 in; below two 96 × 23 3/4, which is too narrow to keep.

    Beside the sides in their strips lie pieces that are 12 wide: never kept.
    """
    moved = cost(laid(job(), FIRST, SECOND), ASLANT)
    assert moved is not None
    rest = 96 * INCH, 48 * INCH - 12 * INCH - KERF
    assert (moved.gained, moved.lost) == ((), (rest,))
    back = cost(laid(job(), FIRST, ASLANT), SECOND)
    assert back is not None
    assert (back.gained, back.lost) == ((rest,), ())


def test_nothing_is_said_of_what_cannot_be_cut() -> None:
    """A part that overlaps another leaves no cuts to count."""
    assert cost(laid(job(), FIRST, SECOND), side(2, 20 * INCH, 0)) is None


def test_a_sheet_that_can_be_cut_again_has_no_figures() -> None:
    """Its cuts were counted nowhere before: to call them new would be wrong."""
    overlapping = laid(job(), FIRST, side(2, 20 * INCH, 0))
    assert cost(overlapping, SECOND) == Cost(mended=("1",))


def test_a_sheet_that_is_one_too_many_is_not_priced() -> None:
    """Of a row with one sheet at hand a second one is not there."""
    of = job()
    scarce = replace(of, stock=(replace(of.stock[0], at_hand=1),))
    before = laid(scarce, FIRST, SECOND, empty="2")
    assert cost(before, side(2, 0, 0, sheet="2")) is None


LINES = (
    (Cost(cuts=1, setups=2, minutes=4), ("+1 cut, about +4 min",)),
    (Cost(cuts=-1), ("-1 cut",)),
    (Cost(setups=-1, minutes=-2), ("about -2 min",)),
    (Cost(opened=("3",), price=6200), ("opens sheet 3, +62.00",)),
    (Cost(freed=("3", "4"), price=-12400), ("frees sheets 3 and 4, -124.00",)),
    (Cost(gained=((40 * INCH, 31 * INCH),)), ("leaves an offcut 40 × 31",)),
    (Cost(lost=((40 * INCH, 31 * INCH),)), ("breaks the offcut 40 × 31",)),
    (
        Cost(lost=((40 * INCH, 31 * INCH),), gained=((40 * INCH, 30 * INCH),)),
        ("breaks the offcut 40 × 31, leaves an offcut 40 × 30",),
    ),
    (Cost(mended=("2",)), ("sheet 2 can be cut again",)),
    (
        Cost(cuts=3, opened=("2",), lost=((24 * INCH, 24 * INCH),)),
        ("+3 cuts", "opens sheet 2", "breaks the offcut 24 × 24"),
    ),
    (Cost(), ("as many cuts and about as many minutes as before",)),
)


@pytest.mark.parametrize(("cost", "lines"), LINES)
def test_costs_in_words(cost: Cost, lines: tuple[str, ...]) -> None:
    """Sawing, sheets and offcuts have a line each; what is 0 is not said."""
    assert cost_lines(cost, INCHES) == lines
