"""Runs at the table saw under the maker's hand, and when the shop or the sheet changes."""

from dataclasses import replace

import pytest

from layout_app.model import layout_edits
from layout_app.model.carry_over import settle
from layout_app.model.landing import Field
from layout_app.model.stops import SnapGround, Way
from layout_app.model.table_slots import table_slots
from shared.cuts.sequence import layout_sheet, saw_up
from shared.job import Job
from shared.layout import Layout
from shared.lengths import MM
from shared.saw import verify
from shared.shop import Shop
from shared.stock import Stock
from shared.tree import runs
from solver.assemble.table_runs import with_table_runs
from tests.solver.assemble.test_table_runs import ROW, SHOP, TABLE, job_of, part, runners

JOB = job_of(part("runner", 600 * MM, 40 * MM, 9))
LAYOUT = Layout(
    sheets=(
        layout_sheet("1", ROW, SHOP.kerf, with_table_runs(runners(9, 40 * MM, 400 * MM), ROW, JOB)),
    )
)


def at_table(layout: Layout, job: Job) -> int:
    """Count the cuts at the table saw of a layout that the independent saw accepts."""
    assert job.shop.table is not None
    plan = saw_up(job, layout.sheets)
    assert verify(plan) == ()
    return sum(cut.tool == TABLE.tool for cut in plan.cuts)


def tabled(layout: Layout) -> int:
    """Count the runs that are made at the table saw."""
    found = (run for sheet in layout.sheets for _, run, _ in runs(sheet.tree, ROW.whole, SHOP.kerf))
    return sum(run.kerf > 0 for run in found)


@pytest.mark.parametrize("copy", [1, 5, 9])
def test_what_is_set_aside_leaves_waste_and_the_others_stay(copy: int) -> None:
    """The cuts that are left are made where they were."""
    before = LAYOUT.sheets[0].placements
    layout = layout_edits.set_aside(JOB, LAYOUT, [("runner", copy)])
    assert set(layout.sheets[0].placements) == {one for one in before if one.copy != copy}
    assert at_table(layout, JOB) == (8 if copy == 9 else 9)


def test_two_runners_change_places() -> None:
    """Equal pieces of one run: the cuts stay as they are."""
    first, *_, last = LAYOUT.sheets[0].placements
    swapped = [replace(first, y=last.y), replace(last, y=first.y)]
    layout = layout_edits.place_all(JOB, LAYOUT, swapped)
    assert at_table(layout, JOB) == 9


SHOPS = {
    "no table saw": replace(SHOP, table=None),
    "no whole runs": replace(SHOP, table=replace(TABLE, longest=0)),
    "another kerf": replace(SHOP, table=replace(TABLE, kerf=TABLE.kerf + 1)),
    "a shorter fence": replace(SHOP, table=replace(TABLE, longest=500 * MM)),
}


@pytest.mark.parametrize("shop", SHOPS.values(), ids=SHOPS.keys())
def test_where_the_shop_no_longer_allows_it_the_pieces_slide_back(shop: Shop) -> None:
    """The second runner lies 40 + 3.2 mm behind the first, and 40 + 2.2 once it is back."""
    job = replace(JOB, shop=shop)
    layout = settle(JOB, job, LAYOUT).layout
    assert not tabled(layout)
    assert verify(saw_up(job, layout.sheets)) == ()
    steps = {
        where: [one.y for one in found.sheets[0].placements]
        for where, found in (("table", LAYOUT), ("rail", layout))
    }
    assert steps["table"][1] - steps["table"][0] == 40 * MM + TABLE.kerf
    assert steps["rail"] == [10 * MM + n * (40 * MM + SHOP.kerf) for n in range(9)]


@pytest.mark.parametrize(
    ("row", "stays"),
    [(replace(ROW, density=3_000, thickness=60 * MM), 0), (replace(ROW, name="birch"), 1)],
    ids=["heavier", "as it was"],
)
def test_so_they_do_where_the_sheet_has_become_too_heavy(row: Stock, stays: int) -> None:
    """0.6 x 0.4 x 0.06 m3 of 3,000 kg/m3 are 43 kg."""
    layout = settle(JOB, replace(JOB, stock=(row,)), LAYOUT).layout
    assert tabled(layout) == stays


def test_a_part_stops_behind_a_runner_at_the_slot_of_the_table_saw() -> None:
    """The first runner has the rail's slot before it: there the strip begins."""
    sheet = LAYOUT.sheets[0]
    lying = [one.rect for one in sheet.placements]
    before, behind = table_slots(sheet.tree, ROW.whole, SHOP.kerf)
    assert before == frozenset(lying[1:])
    assert behind == frozenset(lying)
    ground = SnapGround(
        usable=ROW.usable,
        others=tuple(lying[:-1]),
        kerf=SHOP.kerf,
        table_kerf=TABLE.kerf,
        before=before,
        behind=behind,
    )
    last = replace(lying[-1], y=lying[-2].bottom + SHOP.kerf)
    found = next(Field(last, ground).landings(last, 5 * MM))
    assert found.rect == lying[-1]
    assert Field(last, ground).is_good(found.rect, Way.Y)
