"""Parts pushed aside: whatever gives way stays on the sheet, apart, and can be sawn out of it."""

from dataclasses import replace

from hypothesis import assume, given, settings
from hypothesis import strategies as st
from shapely.geometry import box

from layout_app.model.pushing import Pushed, Pusher
from layout_app.model.sawing import tree_of
from shared.cuts.sequence import saw_up
from shared.geometry import Rect
from shared.job import Job
from shared.layout import LayoutSheet
from shared.parts import GrainRule, Part
from shared.plan import Placement
from shared.saw import verify
from shared.shop import Shop
from shared.stock import SheetGrain, Stock, Trims
from tests.brute_cuts import NEVER, BruteSaw
from tests.examples import some_of
from tests.strategies import LaidOut, laid_out


@st.composite
def held_over(draw: st.DrawFn) -> tuple[LaidOut, list[Placement], list[Placement]]:
    """Draw a sheet, parts that are taken up and held over others, and parts that are locked."""
    made = draw(laid_out(most_sheets=1))
    lying = made.sheets[0].placements
    assume(len(lying) > 1)
    taken = draw(st.lists(st.sampled_from(lying), min_size=1, max_size=2, unique=True))
    rest = [one for one in lying if one not in taken]
    assume(rest)
    held = []
    for one in taken:
        over = draw(st.sampled_from(rest))
        x, y = (
            draw(st.sampled_from((0, 0, 1, side // 3, side))) for side in (over.length, over.width)
        )
        held.append(replace(one, x=over.x + x, y=over.y + y))
    locked = draw(st.lists(st.sampled_from(rest), max_size=2, unique=True))
    return made, held, locked


@settings(max_examples=some_of(60))
@given(drawn=held_over(), free=st.booleans())
def test_what_gives_way_can_be_sawn(
    drawn: tuple[LaidOut, list[Placement], list[Placement]], free: bool
) -> None:
    """Shapely finds all parts apart and on the sheet, the simulated saw makes them as they lie."""
    made, held, locked = drawn
    sheet, job = made.sheets[0], made.job
    keys = [one.key for one in locked]
    pushed = Pusher(job, sheet, [one.key for one in held], fixed=keys).push(held, free=free)
    new = laid(sheet, pushed)
    if pushed.why:
        assert not pushed.moved
        return
    assert not {one.key for one in pushed.moved} & {*keys, *(one.key for one in held)}
    assert all(one in sheet.placements or one in pushed.lying for one in new)
    assert {one.key for one in new} == {one.key for one in sheet.placements}
    assert len(new) == len(sheet.placements)
    if free:
        assert pushed.held == tuple(held)
    stock = job.stock_row(sheet.stock)
    usable = box(stock.usable.x, stock.usable.y, stock.usable.right, stock.usable.bottom)
    areas = [box(one.x, one.y, one.rect.right, one.rect.bottom) for one in new]
    assert all(usable.covers(area) for area in areas)
    assert not any(
        area.relate_pattern(other, "T********")
        for area in areas
        for other in areas
        if area is not other
    )
    tree = tree_of(job, stock, new, sheet.tree)
    assert tree is not None
    plan = saw_up(job, [replace(sheet, placements=new, tree=tree)])
    assert verify(plan) == ()
    assert sorted(plan.placements, key=repr) == sorted(new, key=repr)


@settings(max_examples=some_of(18))
@given(made=laid_out(most_sheets=1), data=st.data())
def test_where_nothing_is_in_the_way_nothing_moves(made: LaidOut, data: st.DataObject) -> None:
    """A part laid down where it lay is laid there, and pushes nothing."""
    sheet = made.sheets[0]
    assume(sheet.placements)
    one = data.draw(st.sampled_from(sheet.placements))
    assert Pusher(made.job, sheet, [one.key]).push([one]) == Pushed(held=(one,))


def laid(sheet: LayoutSheet, pushed: Pushed) -> tuple[Placement, ...]:
    """Return what lies on a sheet after a push."""
    gone = {one.key for one in pushed.lying}
    return (*(one for one in sheet.placements if one.key not in gone), *pushed.lying)


@st.composite
def tiny_rows(draw: st.DrawFn) -> tuple[Job, LayoutSheet, Placement]:
    """Draw strips of a few parts on a sheet of a few ticks, and one part held over them."""
    kerf = draw(st.sampled_from((0, 1, 1)))
    length, width = draw(st.integers(6, 11)), draw(st.integers(4, 9))
    rects: list[Rect] = []
    y = 0
    while y < width and len(rects) < 5:
        high, x = draw(st.integers(1, 3)), 0
        while x < length and len(rects) < 5:
            long = draw(st.integers(1, 4))
            if x + long <= length and y + high <= width:
                rects.append(Rect(x=x, y=y, length=long, width=draw(st.integers(1, high))))
            x += long + kerf + draw(st.sampled_from((0, 0, kerf + 1)))
        y += high + kerf
    assume(len(rects) > 1)
    sides = [(rect.length, rect.width) for rect in rects]
    job = Job(
        name="Tiny",
        parts=tuple(
            Part(
                id=f"p{number}",
                name=f"Part {number}",
                length=long,
                width=high,
                copies=1,
                material="ply",
                grain_rule=GrainRule.EITHER,
            )
            for number, (long, high) in enumerate(sides)
        ),
        stock=(
            Stock(
                id="full",
                name="sheet",
                material="ply",
                length=length,
                width=width,
                thickness=1,
                grain=SheetGrain.NONE,
                trims=Trims(),
            ),
        ),
        shop=Shop(kerf=kerf),
    )
    lying = tuple(
        Placement(
            part=f"p{number}",
            copy=1,
            sheet="1",
            x=rect.x,
            y=rect.y,
            length=rect.length,
            width=rect.width,
        )
        for number, rect in enumerate(rects)
    )
    sheet = LayoutSheet(
        id="1", stock="full", placements=lying, tree=tree_of(job, job.stock[0], lying)
    )
    one = draw(st.sampled_from(lying))
    return job, sheet, replace(one, x=draw(st.integers(0, length)), y=draw(st.integers(0, width)))


@settings(max_examples=some_of(150))
@given(drawn=tiny_rows())
def test_trying_every_cut_agrees(drawn: tuple[Job, LayoutSheet, Placement]) -> None:
    """What is said to be cuttable after a push is so if every cut at every tick is tried."""
    job, sheet, held = drawn
    pushed = Pusher(job, sheet, [held.key]).push([held])
    if not pushed.why:
        stock, saw = job.stock[0], BruteSaw(job.shop.kerf)
        assert saw.fewest(stock.length, stock.width, laid(sheet, pushed)) < NEVER
