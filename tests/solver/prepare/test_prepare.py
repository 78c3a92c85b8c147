"""A job becomes instances: kerf folded in, equal parts merged, settled things left out."""

from dataclasses import replace

import pytest

from shared.asked import Settled
from shared.layout import LayoutSheet, Waiting
from shared.lengths import INCH, MM
from shared.parts import Bands, GrainRule
from shared.plan import Placement, Unplaced
from shared.shop import CutRule, FirstCut
from shared.stock import SheetGrain, Trims
from solver.material.instance import Instance, StockRow
from solver.prepare.instances import merged, prepare
from tests.solver.some_jobs import EIGHTH, PLY, job, part, sheet


def only(*rows: object, **kerf: int) -> Instance:
    """Return the only instance of a job."""
    (instance,) = prepare(job(*rows, **kerf)).instances
    return instance


def test_kerf_is_folded_into_sizes_and_rooms() -> None:
    """Kerf 1/8: 11-7/8 becomes 12, and 48 becomes 48-1/8, all in eighths of an inch."""
    instance = only(part("a", 31 * INCH, 95 * EIGHTH), sheet())
    assert instance.unit == EIGHTH
    assert instance.kerf == 1
    assert (instance.items[0].length, instance.items[0].width) == (31 * 8 + 1, 12 * 8)
    assert (instance.kinds[0].length, instance.kinds[0].width) == (96 * 8 + 1, 48 * 8 + 1)


def test_bands_come_off_before_the_kerf_is_added() -> None:
    """A part banded with 2 mm all round is cut 4 mm smaller both ways (workshop.md, D3)."""
    banded = replace(
        part("front", 600 * MM, 300 * MM),
        bands=Bands(top=2 * MM, bottom=2 * MM, left=2 * MM, right=2 * MM),
    )
    instance = only(banded, sheet(), kerf=2 * MM)
    item = instance.items[0]
    assert (item.length * instance.unit, item.width * instance.unit) == (598 * MM, 298 * MM)


def test_equal_parts_are_one_type() -> None:
    """Two rows of one cut size and one grain rule are one type that knows all its copies."""
    instance = only(
        part("a", 20 * INCH, 10 * INCH, 2),
        part("b", 20 * INCH, 10 * INCH),
        part("c", 20 * INCH, 10 * INCH, rule=GrainRule.EITHER),
        sheet(),
    )
    assert [item.members for item in instance.items] == [
        (("a", 1), ("a", 2), ("b", 1)),
        (("c", 1),),
    ]
    assert instance.kinds[0].orientations == ((False,), (False, True))


def test_trims_narrow_the_room_and_say_what_a_full_run_needs() -> None:
    """Near and start trims are cuts; far and end trims make a full run need its last cut."""
    trims = Trims(near=INCH, far=2 * INCH, start=3 * INCH, end=0)
    instance = only(part("a", 20 * INCH, 10 * INCH), sheet(trims=trims))
    kind = instance.kinds[0]
    assert (kind.length, kind.width) == (93 * 8 + 1, 45 * 8 + 1)
    assert (kind.exact_length, kind.exact_width) == (True, False)
    assert (kind.strip_trim, kind.sheet_trim) == (True, True)


def test_either_direction_first_gives_two_kinds_of_one_row() -> None:
    """Crosscut first is the same sheet with length and width exchanged, parts turned with it."""
    both = job(part("a", 20 * INCH, 10 * INCH), sheet(trims=Trims(near=INCH)))
    both = replace(both, rule=CutRule(first=FirstCut.EITHER))
    (instance,) = prepare(both).instances
    ripped, crosscut = instance.kinds
    assert (ripped.length, ripped.width) == (crosscut.width, crosscut.length)
    assert (ripped.sheet_trim, ripped.strip_trim) == (True, False)
    assert (crosscut.sheet_trim, crosscut.strip_trim) == (False, True)
    assert ripped.orientations == ((False,),)
    assert crosscut.orientations == ((True,),)
    assert (ripped.row, crosscut.row) == (0, 0)


@pytest.mark.parametrize(
    ("rule", "grain", "ways"),
    [
        (GrainRule.ALONG_LENGTH, SheetGrain.ALONG_L, (False,)),
        (GrainRule.ALONG_LENGTH, SheetGrain.ALONG_W, (True,)),
        (GrainRule.ALONG_WIDTH, SheetGrain.ALONG_L, (True,)),
        (GrainRule.ALONG_WIDTH, SheetGrain.ALONG_W, (False,)),
        (GrainRule.EITHER, SheetGrain.ALONG_L, (False, True)),
        (GrainRule.ALONG_LENGTH, SheetGrain.NONE, (False, True)),
    ],
)
def test_grain_decides_how_a_part_may_lie(
    rule: GrainRule, grain: SheetGrain, ways: tuple[bool, ...]
) -> None:
    """A grained part lies turned where the sheet's grain runs along W (product.md, Size order)."""
    instance = only(part("a", 20 * INCH, 10 * INCH, rule=rule), sheet(grain=grain))
    assert instance.kinds[0].orientations == (ways,)


def test_a_way_that_does_not_fit_is_no_way() -> None:
    """A part of 60 in may turn, but not on a sheet that is 48 in wide."""
    instance = only(part("a", 60 * INCH, 10 * INCH, rule=GrainRule.EITHER), sheet())
    assert instance.kinds[0].orientations == ((False,),)


def test_equal_prices_count_sheets_and_others_cost_what_they_cost() -> None:
    """A sheet costs 1 where all usable rows have one price, else its price in hundredths."""
    small = part("a", 20 * INCH, 10 * INCH)
    same = only(small, sheet("s", price=6200), sheet("t", 60 * INCH, price=6200))
    assert [row.price for row in same.rows] == [1, 1]
    rack = only(small, sheet("s", price=6200), sheet("t", 60 * INCH, at_hand=1))
    assert rack.rows == (
        StockRow(stock="s", price=6200, at_hand=None),
        StockRow(stock="t", price=0, at_hand=1, rack=1_858_061),  # 60 x 48 in in mm2, rounded up
    )


def test_a_row_that_takes_no_part_is_left_out() -> None:
    """An offcut too small for every part is no row, and its price decides nothing."""
    tiny = sheet("t", 15 * INCH, 5 * INCH, at_hand=1)
    instance = only(part("a", 20 * INCH, 10 * INCH), sheet("s", price=6200), tiny)
    assert [(row.stock, row.price) for row in instance.rows] == [("s", 1)]


def test_each_material_is_an_instance() -> None:
    """Parts are only ever cut from their own material."""
    prepared = prepare(
        job(
            part("a", 20 * INCH, 10 * INCH),
            part("b", 20 * INCH, 10 * INCH, material="1/4 ply"),
            sheet("s"),
            sheet("t", material="1/4 ply"),
        )
    )
    assert [instance.material for instance in prepared.instances] == [PLY, "1/4 ply"]
    assert [i.items[0].members for i in prepared.instances] == [(("a", 1),), (("b", 1),)]


def test_a_part_larger_than_any_sheet_says_what_it_needs() -> None:
    """It is set aside with the sheet it would need, trims included; the others are planned."""
    prepared = prepare(
        job(
            part("a", 20 * INCH, 10 * INCH),
            part("long", 100 * INCH, 10 * INCH, 2),
            sheet(trims=Trims(near=INCH, start=INCH // 2)),
        )
    )
    assert prepared.unplaced == (
        Unplaced(
            part="long",
            copies=2,
            need=f"needs a sheet of {PLY} of at least L 100 1/2 × W 11 in",
        ),
    )
    assert [item.members for item in prepared.instances[0].items] == [(("a", 1),)]
    assert [one.id for one in prepared.job.parts] == ["a", "long"]


def test_a_size_that_is_needed_is_rounded_up() -> None:
    """A part 0.001 in longer than a sheet of 96 1/16 in needs more, in steps of 1/32 in."""
    long = part("long", 96 * INCH + INCH // 16 + INCH // 1000, 10 * INCH)
    prepared = prepare(job(long, replace(sheet(), length=96 * INCH + INCH // 16)))
    (row,) = prepared.unplaced
    assert row.need == f"needs a sheet of {PLY} of at least L 96 3/32 × W 10 in"


def test_the_size_that_is_needed_is_that_of_a_sheet_with_its_grain() -> None:
    """Along the grain of sheets 96 by 48 whose grain runs along W, 60 in do not fit."""
    prepared = prepare(
        job(part("a", 60 * INCH, 10 * INCH), replace(sheet(), grain=SheetGrain.ALONG_W))
    )
    (row,) = prepared.unplaced
    assert row.need == f"needs a sheet of {PLY} of at least L 10 × W 60 in, grain along W"


def test_a_part_of_an_unknown_material_says_what_it_needs() -> None:
    """Without any sheet of its material a part is set aside, its grain kept in the size."""
    lost = part("a", 20 * INCH, 10 * INCH, rule=GrainRule.ALONG_WIDTH, material="oak")
    prepared = prepare(job(part("b", INCH, INCH), lost, sheet()))
    assert prepared.unplaced == (
        Unplaced(part="a", copies=1, need="needs a sheet of oak of at least L 10 × W 20 in"),
    )


def test_a_row_that_makes_no_sense_is_left_out_of_the_plan() -> None:
    """A part of no width is neither planned nor counted as lying nowhere."""
    prepared = prepare(job(part("a", INCH, INCH), part("b", INCH, 0), sheet()))
    assert [one.id for one in prepared.job.parts] == ["a"]
    assert prepared.unplaced == ()


def test_kept_sheets_take_their_parts_and_their_stock_out() -> None:
    """What lies on a kept sheet is not planned again, and its sheet is no longer at hand."""
    lying = Placement(part="a", copy=2, sheet="1", x=0, y=0, length=20 * INCH, width=10 * INCH)
    kept = LayoutSheet(id="1", stock="s", placements=(lying,))
    both = job(part("a", 20 * INCH, 10 * INCH, 3), sheet("s", at_hand=1), sheet("t", at_hand=2))
    (instance,) = prepare(both, Settled(kept=(kept,))).instances
    assert instance.items[0].members == (("a", 1), ("a", 3))
    assert [(row.stock, row.at_hand) for row in instance.rows] == [("t", 2)]


def test_what_was_sent_to_wait_is_not_planned() -> None:
    """A copy sent to wait stays there and is named; one that merely waits is planned."""
    waiting = (Waiting(part="a", copy=1, sent=True), Waiting(part="a", copy=2))
    prepared = prepare(job(part("a", 20 * INCH, 10 * INCH, 3), sheet()), Settled(waiting=waiting))
    assert prepared.instances[0].items[0].members == (("a", 2), ("a", 3))
    assert prepared.unplaced == (Unplaced(part="a", copies=1, need="set aside"),)


def test_when_kept_sheets_use_up_the_stock_the_rest_says_so() -> None:
    """A part that would fit says that no sheet is left, not that it needs a larger one."""
    kept = LayoutSheet(id="1", stock="s")
    prepared = prepare(
        job(part("a", 20 * INCH, 10 * INCH), sheet(at_hand=1)), Settled(kept=(kept,))
    )
    assert prepared.instances == ()
    assert [one.need for one in prepared.unplaced] == [
        f"needs one more sheet of {PLY}: those at hand are used up"
    ]


def test_needs_of_one_part_are_merged() -> None:
    """Equal needs of one part become one entry with the sum of the copies."""
    one = Unplaced(part="a", copies=1, need="x")
    assert merged([one, one, replace(one, need="y")]) == (
        replace(one, copies=2),
        replace(one, need="y"),
    )
