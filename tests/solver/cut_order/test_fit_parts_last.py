"""What is sawn off for fit parts that wait comes last: their mates are built first."""

from dataclasses import replace

import pytest

from shared.asked import CutsToOrder
from shared.cuts.sequence import layout_sheet, saw_up
from shared.job import Job
from shared.layout import LayoutSheet
from shared.lengths import MM
from shared.parts import Part
from shared.plan import Plan
from shared.saw import verify
from shared.shop import Axis, SawingOrder, Shop
from shared.stock import Stock
from shared.tree import Piece, Place, Run
from solver.budget.stop import Stop
from solver.cut_order.order import put_in_order

KERF = 3 * MM
FRONT = Part(
    id="front",
    name="Front",
    copies=2,
    length=594 * MM,
    width=144 * MM,
    material="ply",
    fit_allowance=6 * MM,
)
SIDE = Part(id="side", name="Side", copies=2, length=700 * MM, width=300 * MM, material="ply")
FULL = Stock(
    id="full",
    name="full",
    material="ply",
    length=2440 * MM,
    width=1220 * MM,
    thickness=18 * MM,
)
JOB = Job(parts=(FRONT, SIDE), stock=(FULL,), shop=Shop(kerf=KERF))


def strip(part: str, width: int, length: int) -> Piece:
    """Return a strip with two copies of a part; sizes in millimetres."""
    blocks = (
        Piece(size=length * MM, place=Place(part=part, copy=1)),
        Piece(size=length * MM, place=Place(part=part, copy=2)),
    )
    return Piece(size=width * MM, run=Run(axis=Axis.CROSSCUT, pieces=blocks))


def sheet(*strips: Piece) -> LayoutSheet:
    """Return a sheet with these strips."""
    return layout_sheet("1", FULL, KERF, Run(axis=Axis.RIP, pieces=strips))


def ordered(job: Job, lies: LayoutSheet) -> Plan:
    """Return the plan of a sheet with its cuts in the best order."""
    *_, best = put_in_order(CutsToOrder(job=job, sheets=(lies,)), Stop())
    plan = saw_up(job, best.sheets, order=best.order)
    assert verify(plan) == ()
    return plan


@pytest.mark.parametrize("mode", SawingOrder)
def test_blanks_that_wait_are_cut_last(mode: SawingOrder) -> None:
    """The strip of the fronts is kept whole until the sides are sawn, whichever lies first."""
    job = replace(JOB, shop=replace(JOB.shop, sawing=mode))
    plan = ordered(job, sheet(strip("front", 150, 600), strip("side", 300, 700)))
    last = [cut.key for cut in plan.cuts][-3:]
    assert last == ["1/front:1", "2/front:1", "2/front:2"]


def test_measured_they_are_sawn_with_the_others() -> None:
    """Once the opening is measured only the cuts that finish the blanks come last."""
    front = replace(FRONT, measured_length=592 * MM, measured_width=143 * MM)
    job = replace(JOB, parts=(front, SIDE))
    plan = ordered(job, sheet(strip("front", 150, 600), strip("side", 300, 700)))
    kinds = [str(cut.kind) for cut in plan.cuts]
    assert kinds == ["rip"] * 2 + ["crosscut"] * 4 + ["finish"] * 4


def test_what_others_need_is_not_put_off() -> None:
    """Where the strips stay where they lie, the first is sawn off though it is for the fronts."""
    lies = sheet(strip("front", 150, 600), strip("side", 300, 700))
    asked = CutsToOrder(job=JOB, sheets=(lies,), fixed=frozenset({"1"}))
    *_, best = put_in_order(asked, Stop())
    assert best.order[0] == "1/front:1"
    assert best.order[-2:] == ("2/front:1", "2/front:2")
