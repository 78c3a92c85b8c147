"""Stock without prices: by area, offcuts first where they spare something, and proven so."""

from dataclasses import replace

import pytest

from shared.costs import costs_of
from shared.job import Job
from shared.lengths import INCH
from shared.plan import Goal, Plan
from shared.stock import AreaPrice, AreaUnit, Stock
from solver.budget.stop import Budget
from solver.planning.proof_status import prices_in_words
from solver.run import run
from tests.solver.some_jobs import PLY, job, part, sheet

WORK = Budget(time_s=None, work=2_000)
FULL_MM2 = 2_972_898  # 96 x 48 in is 2,972,897.28 mm2
HALF_MM2 = 1_486_449


def planned(what: Job) -> Plan:
    """Plan with counted work."""
    plan = run(what, WORK, lambda _: None)
    assert plan is not None
    return plan


def rows_of(plan: Plan) -> list[str]:
    """Return the rows of its sheets, sorted."""
    return sorted(sheet.stock for sheet in plan.sheets)


def too_much_for_one(*stock: Stock) -> Job:
    """Two parts of 60 x 44 in, of which a full sheet holds one, and the rack's offcut one."""
    return job(part("a", 60 * INCH, 44 * INCH, 2), *stock)


def offcut(name: str, length: int, width: int, price: int | None = None, at_hand: int = 1) -> Stock:
    """Return an offcut on the rack."""
    return sheet(name, length * INCH, width * INCH, price=price, at_hand=at_hand)


@pytest.mark.parametrize("full", [None, 0])
@pytest.mark.parametrize("rest", [None, 0])
def test_an_offcut_of_ones_own_spares_a_sheet_without_any_price(
    full: int | None, rest: int | None
) -> None:
    """One sheet and the offcut, not two sheets and the offcut left on the rack; proven."""
    what = too_much_for_one(sheet("full", price=full), offcut("rest", 61, 45, rest))
    plan = planned(what)
    assert rows_of(plan) == ["full", "rest"]
    assert (plan.proof.goal, plan.proof.value) == (Goal.LEAST_AREA, FULL_MM2)
    assert plan.proof.proven
    assert plan.proof.prices == "by area: no prices given"
    assert [one.price for one in plan.sheets] == [0, 0]


def test_a_half_sheet_is_enough_without_any_price() -> None:
    """A half sheet is half the area; which row comes first does not matter."""
    rows = sheet("full"), sheet("half", 48 * INCH)
    small = part("a", 40 * INCH, 40 * INCH)
    for stock in (rows, rows[::-1]):
        plan = planned(job(small, *stock))
        assert rows_of(plan) == ["half"]
        assert (plan.proof.value, plan.proof.proven) == (HALF_MM2, True)


def test_of_equal_areas_the_fewest_sheets_are_taken() -> None:
    """Two halves are as much as a full sheet: one is handled, not two."""
    plan = planned(job(part("a", 40 * INCH, 40 * INCH, 2), sheet("half", 48 * INCH), sheet("full")))
    assert rows_of(plan) == ["full"]


def test_an_offcut_stays_on_the_rack_where_it_spares_nothing() -> None:
    """All fits on one sheet that is needed anyway; the offcut would take one part."""
    what = job(
        part("a", 60 * INCH, 44 * INCH),
        part("b", 20 * INCH, 10 * INCH, 2),
        sheet("full"),
        offcut("rest", 24, 12),
    )
    assert rows_of(planned(what)) == ["full"]


def test_of_two_offcuts_that_spare_a_sheet_the_smaller_is_taken() -> None:
    """The larger one stays whole on the rack: the better remainder."""
    what = job(
        part("a", 90 * INCH, 44 * INCH),
        part("b", 60 * INCH, 44 * INCH),
        *(sheet("full"), offcut("large", 80, 46), offcut("small", 62, 45)),
    )
    assert rows_of(planned(what)) == ["full", "small"]


def test_several_offcuts_together_spare_a_sheet() -> None:
    """Three offcuts take the three parts that would need a second sheet."""
    what = job(
        part("a", 60 * INCH, 44 * INCH),
        part("b", 30 * INCH, 30 * INCH, 4),
        sheet("full"),
        *(offcut(f"rest {n}", 31, 31) for n in range(4)),
    )
    plan = planned(what)
    assert rows_of(plan).count("full") == 1
    assert plan.proof.proven


def test_nothing_is_bought_where_the_rack_is_enough() -> None:
    """The least taken from it then; nothing is the least to buy."""
    what = job(
        part("a", 20 * INCH, 10 * INCH), sheet("full"), offcut("large", 60, 40), offcut("s", 30, 20)
    )
    plan = planned(what)
    assert rows_of(plan) == ["s"]
    assert (plan.proof.value, plan.proof.proven) == (0, True)


def test_a_priced_offcut_is_taken_only_where_it_is_cheaper() -> None:
    """At 20.00 it costs less than a sheet of 60.00, at 70.00 it does not."""
    for price, rows in ((2_000, ["full", "rest"]), (7_000, ["full", "full"])):
        stock = sheet("full", price=6_000), offcut("rest", 61, 45, price)
        plan = planned(too_much_for_one(*stock))
        assert rows_of(plan) == rows
        assert plan.proof.goal is Goal.LEAST_PRICE
        assert plan.proof.prices == ""


def test_a_blank_price_is_reckoned_by_that_of_another_row() -> None:
    """Half of a sheet of 60.00 counts 30.00, which nobody gave as money: it is not shown."""
    plan = planned(
        job(part("a", 40 * INCH, 40 * INCH), sheet("full", price=6_000), sheet("half", 48 * INCH))
    )
    assert rows_of(plan) == ["half"]
    assert (plan.proof.goal, plan.proof.value) == (Goal.LEAST_COST, 3_000)
    assert plan.proof.prices == "no price given for half: by area, as full costs"
    assert plan.sheets[0].price == 0


def test_a_price_by_area_is_money_that_the_maker_gave() -> None:
    """A full sheet is 32 sq ft, half of it 16: at 2.10 that is 33.60."""
    what = job(
        part("a", 40 * INCH, 40 * INCH), sheet("full", price=6_000), sheet("half", 48 * INCH)
    )
    given = AreaPrice(material=PLY, price=210, per=AreaUnit.SQUARE_FOOT)
    plan = planned(replace(what, area_prices=(given,)))
    assert rows_of(plan) == ["half"]
    assert (plan.proof.goal, plan.proof.value) == (Goal.LEAST_PRICE, 3_360)
    assert plan.proof.prices == "price by area 2.10 per sq ft for half"
    assert plan.sheets[0].price == 3_360


def test_rows_that_a_price_by_area_is_for_are_named_only_beside_others_that_are_bought() -> None:
    """An offcut that is at hand needs no price; many rows are counted."""
    given = AreaPrice(material=PLY, price=210, per=AreaUnit.SQUARE_FOOT)
    blank = [sheet(f"blank {n}", (50 + n) * INCH) for n in range(4)]
    said = {}
    for name, stock in {
        "with an offcut": (sheet("full"), offcut("rest", 30, 30)),
        "two": (sheet("full", price=6_000), *blank[:2]),
        "four": (sheet("full", price=6_000), *blank),
    }.items():
        what = replace(job(part("a", 40 * INCH, 40 * INCH), *stock), area_prices=(given,))
        said[name] = prices_in_words(what, {PLY: costs_of(what, PLY)}, [PLY])
    begin = "price by area 2.10 per sq ft"
    assert said == {
        "with an offcut": begin,
        "two": f"{begin} for blank 0 and blank 1",
        "four": f"{begin} for 4 of 5 rows to buy",
    }


def test_sheets_of_one_kind_are_counted_as_before() -> None:
    """Where all that can be taken costs the same, the fewest are proven, prices or not."""
    for price in (None, 0, 6_000):
        plan = planned(too_much_for_one(sheet("full", price=price)))
        claim = plan.proof.materials[0]
        assert (claim.goal, claim.value, claim.proven) == (Goal.FEWEST_SHEETS, 2, True)
        assert plan.proof.prices == ""


def test_money_of_some_materials_is_not_added_to_the_area_of_others() -> None:
    """The whole is told as the money of the one; each material has its own proof."""
    oak = "oak"
    what = job(
        part("a", 40 * INCH, 40 * INCH),
        part("b", 40 * INCH, 40 * INCH, material=oak),
        *(sheet("full", price=6_000), sheet("half", 48 * INCH, price=3_500)),
        *(sheet("oak full", material=oak), sheet("oak half", 48 * INCH, material=oak)),
    )
    plan = planned(what)
    goals = [(one.goal, one.value, one.proven) for one in plan.proof.materials]
    assert goals == [(Goal.LEAST_PRICE, 3_500, True), (Goal.LEAST_AREA, HALF_MM2, True)]
    assert (plan.proof.goal, plan.proof.value, plan.proof.proven) == (Goal.LEAST_COST, 3_500, True)
    assert plan.proof.prices == "oak by area: no prices given"
