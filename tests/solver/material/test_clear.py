"""Sheets with bad places: rooms keep clear of them, and plans come out of the saw accepted."""

from dataclasses import replace

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from shapely.geometry import box

from shared.geometry import Rect
from shared.job import Job
from shared.lengths import MM, LengthStyle, Unit
from shared.parts import Part
from shared.plan import Plan
from shared.practice import USUAL_SHOP
from shared.saw import verify
from shared.shop import CutRule, FirstCut, Shop
from shared.stock import NoGo, SheetGrain, Stock, Trims
from solver.budget.stop import Budget
from solver.material.clear_rectangles import clear_rects
from solver.run import run
from tests.examples import some_of


def rects(most: int) -> st.SearchStrategy[Rect]:
    """Draw a rectangle within a square of that side."""
    sides = st.tuples(*(st.integers(0, most - 1) for _ in range(2)))
    return st.builds(
        lambda corner, length, width: Rect(
            x=corner[0],
            y=corner[1],
            length=min(length, most - corner[0]),
            width=min(width, most - corner[1]),
        ),
        sides,
        st.integers(1, 6),
        st.integers(1, 6),
    )


@given(st.lists(rects(12), max_size=4))
def test_clear_rectangles_are_the_largest_there_are(bad: list[Rect]) -> None:
    """None touches a bad place inside, and every clear square of one tick lies in one of them.

    Which squares are clear is what general geometry says (Shapely).
    """
    usable = Rect(x=1, y=2, length=10, width=9)
    found = clear_rects(usable, bad)
    assert all(usable.contains(one) for one in found)
    assert not any(one.overlaps(other) for one in found for other in bad)
    assert not any(one.contains(other) for one in found for other in found if one != other)
    hidden = [box(one.x, one.y, one.right, one.bottom) for one in bad]
    assume(len(found) < 8)
    for x in range(1, 11):
        for y in range(2, 11):
            square = Rect(x=x, y=y, length=1, width=1)
            covered = any(box(x, y, x + 1, y + 1).intersection(one).area > 0 for one in hidden)
            assert any(one.contains(square) for one in found) is not covered


def planned(job: Job) -> Plan:
    """Return a plan, sawn with the limits of its shop."""
    plan = run(job, Budget(work=400), lambda event: None)
    assert plan is not None
    assert verify(plan, job.shop) == ()
    return plan


def job(*no_go: NoGo, parts: tuple[tuple[int, int, int], ...], show: bool = False) -> Job:
    """Return parts (L, W in mm, copies) to be cut from sheets of 1200 x 800 with bad places."""
    sheet = Stock(
        id="s",
        name="Sheet",
        material="ply",
        length=1200 * MM,
        width=800 * MM,
        thickness=18 * MM,
        grain=SheetGrain.NONE,
        no_go=no_go,
    )
    rows = (
        Part(
            id=f"p{number}",
            name=f"Part {number}",
            length=length * MM,
            width=width * MM,
            copies=copies,
            material="ply",
            show=show,
        )
        for number, (length, width, copies) in enumerate(parts, 1)
    )
    return Job(parts=tuple(rows), stock=(sheet,), style=LengthStyle(unit=Unit.MM))


def place(x: int, y: int, length: int, width: int, *, show_only: bool = False) -> NoGo:
    """Return a bad place in mm."""
    return NoGo(x=x * MM, y=y * MM, length=length * MM, width=width * MM, show_only=show_only)


CORNERS = {
    "top left": place(0, 0, 100, 60),
    "top right": place(1100, 0, 100, 60),
    "bottom left": place(0, 740, 100, 60),
    "bottom right": place(1100, 740, 100, 60),
}


@pytest.mark.parametrize("first", list(FirstCut))
@pytest.mark.parametrize("corner", CORNERS)
def test_a_damaged_corner_is_kept_clear_of(corner: str, first: FirstCut) -> None:
    """Two parts of 500 x 700 lie beside each other whichever corner is damaged."""
    given = replace(job(CORNERS[corner], parts=((500, 700, 2),)), rule=CutRule(first=first))
    plan = planned(given)
    assert len(plan.sheets) == 1
    assert not plan.unplaced
    assert plan.proof.proven


def test_a_trimmed_sheet_with_a_bad_start_is_trimmed_first() -> None:
    """The waste at the start comes off the trimmed edge, as the simulated saw wants it."""
    given = job(CORNERS["top left"], parts=((500, 700, 2),))
    trims = Trims(near=10 * MM, far=10 * MM, start=10 * MM, end=10 * MM)
    given = replace(given, stock=(replace(given.stock[0], trims=trims),))
    plan = planned(given)
    assert len(plan.sheets) == 1
    assert not plan.unplaced


def test_a_knot_in_the_middle_leaves_both_sides() -> None:
    """Above a knot from 390 to 410 there is room for a part 390 wide, and below it, too."""
    plan = planned(job(place(590, 390, 20, 20), parts=((1100, 380, 2),)))
    assert len(plan.sheets) == 1
    assert not plan.unplaced


def test_only_faces_that_show_keep_clear_where_it_says_so() -> None:
    """A part of the whole sheet lies over a knot unless its face is shown."""
    knot = place(590, 390, 20, 20, show_only=True)
    hidden = planned(job(knot, parts=((1200, 800, 1),)))
    assert not hidden.unplaced
    shown = run(job(knot, parts=((1200, 800, 1),), show=True), Budget(work=50), lambda e: None)
    assert shown is not None
    assert [row.need for row in shown.unplaced] == [
        "needs a sheet of ply without bad places where it is to lie"
    ]


@given(
    st.lists(st.tuples(*(st.integers(0, 11) for _ in range(4)), st.booleans()), max_size=3),
    st.booleans(),
    st.booleans(),
)
@settings(max_examples=some_of(25), deadline=None)
def test_any_bad_places_in_any_shop(
    places: list[tuple[int, int, int, int, bool]], usual: bool, show: bool
) -> None:
    """Whatever is bad, whole parts come off in an order that the shop can saw."""
    no_go = tuple(
        place(
            100 * x,
            min(70 * y, 750),
            min(20 + 20 * a, 1200 - 100 * x),
            min(20 + 20 * b, 800 - min(70 * y, 750)),
            show_only=only,
        )
        for x, y, a, b, only in places
    )
    made = job(*no_go, parts=((400, 150, 3), (250, 120, 4)), show=show)
    made = replace(made, shop=replace(USUAL_SHOP, table=None) if usual else Shop())
    plan = run(made, Budget(work=200), lambda event: None)
    assert plan is not None
    assert verify(plan, made.shop) == ()
