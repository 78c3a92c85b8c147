"""What recognition thinks of the shop's limits is what the simulated saw says of each cut."""

from collections import Counter
from dataclasses import replace

from hypothesis import assume, given, settings
from hypothesis import strategies as st

from shared.cuts.sequence import layout_sheet, saw_up
from shared.lengths import MM
from shared.plan import Placement
from shared.recognise import Allowed, SheetGround, Watch, find_tree
from shared.recognise.sawn import SawnRun
from shared.saw import beyond_limits, verify
from shared.shop import CutRule, Shop
from shared.stock import Stock
from tests.examples import some_of
from tests.shop_strategies import tooled
from tests.strategies import LaidOut, laid_out


@st.composite
def in_a_shop(draw: st.DrawFn) -> tuple[LaidOut, Shop]:
    """One sheet sawn up at random, and a shop with limits."""
    made = draw(laid_out(most_sheets=1))
    assume(made.sheets[0].tree is not None and made.sheets[0].placements)
    return made, draw(tooled(made.job.shop.kerf))


def ground_of(row: Stock, shop: Shop) -> SheetGround:
    """Return a sheet as cuts are looked for on it."""
    return SheetGround.of(row.whole, shop.kerf, row.trims, Allowed.of(shop, CutRule()))


@given(what=in_a_shop())
@settings(max_examples=some_of(50))
def test_the_saw_finds_the_same_cuts_beyond_limits(what: tuple[LaidOut, Shop]) -> None:
    """Cut by cut: which limit, how much, and how much is allowed."""
    made, shop = what
    (sheet,), job = made.sheets, replace(made.job, shop=shop)
    ground = ground_of(job.stock_row(sheet.stock), shop)
    assert sheet.tree is not None
    mine = SawnRun.of(sheet.tree, ground.area, shop.kerf).beyond(ground.area, ground)
    # The first limit that a cut breaks; the saw names all.
    first = {
        one.cut.number: one for one in reversed(list(beyond_limits(saw_up(job, [sheet]), shop)))
    }
    told = Counter((one.limit, one.found, one.allowed) for one, _ in mine)
    assert told == Counter((one.limit, one.found, one.allowed) for one in first.values())


@given(what=in_a_shop())
@settings(max_examples=some_of(50))
def test_a_plan_within_the_limits_is_so_again(what: tuple[LaidOut, Shop]) -> None:
    """Recognised from nothing or beside its tree, a sheet that the shop can cut stays so."""
    made, shop = what
    (sheet,), job = made.sheets, replace(made.job, shop=shop)
    assume(not list(beyond_limits(saw_up(job, [sheet]), shop)))
    row = job.stock_row(sheet.stock)
    for before in (None, sheet.tree):
        tree = find_tree(
            row.whole,
            sheet.placements,
            shop.kerf,
            row.trims,
            allowed=Allowed.of(shop, job.rule),
            before=before,
        )
        assert tree is not None
        plan = saw_up(job, [layout_sheet(sheet.id, row, shop.kerf, tree)])
        assert verify(plan) == ()
        assert not list(beyond_limits(plan, shop))


@given(what=in_a_shop(), data=st.data())
@settings(max_examples=some_of(50))
def test_what_a_watch_remembers_is_as_found_afresh(
    what: tuple[LaidOut, Shop], data: st.DataObject
) -> None:
    """One watch for a whole gesture answers as a new one for each place."""
    made, shop = what
    (sheet,) = made.sheets
    ground = ground_of(made.job.stock_row(sheet.stock), shop)
    held, *others = sheet.placements
    watch = Watch(ground, others, sheet.tree)
    for _ in range(4):
        near = data.draw(st.sampled_from(sheet.placements))
        x = near.x + data.draw(st.sampled_from((0, 0, near.length + shop.kerf, MM)))
        y = near.y + data.draw(st.sampled_from((0, 0, near.width + shop.kerf, MM)))
        at = replace(held, x=x, y=y)
        assert in_slices(watch, at) == Watch(ground, others, sheet.tree).is_good([at])
        assert watch.is_good([at]) == in_slices(Watch(ground, others, sheet.tree), at)


def in_slices(watch: Watch, at: Placement) -> bool:
    """Ask a watch for a few pieces of the sheet at a time, until it knows."""
    for states in (1, 2, 4, 8, 16, 32, 64, 128, 256, 512, 1024):
        good = watch.look([at], states)
        if good is not None:
            return good
    raise AssertionError("not known after 2,047 pieces")
