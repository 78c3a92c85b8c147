"""The kerf table of the workshop practice notes (section 7, K1 to K14) through the real planner.

Each row asks how many strips of a width a sheet gives, and what offcut stays. The planner
is given one sheet and one strip more than the table says; n = floor((U + k) / (w + k)) with
U = sheet - trims is computed there with exact fractions.
"""

from fractions import Fraction

import pytest

from shared.job import Job
from shared.lengths import INCH, MM, Length
from shared.parts import Part
from shared.plan import Plan
from shared.saw import verify
from shared.shop import Shop
from shared.stock import Stock, Trims
from solver.budget.stop import Budget
from solver.run import run

INCHES = (
    ("K1", "48", "95/8", "1/8", "0", 4, "0"),
    ("K2", "48", "95/8", "1/8", "1/4", 3, "47/4"),
    ("K3", "48", "47/4", "1/8", "1/4", 4, "1/4"),
    ("K4", "48", "12", "1/8", "0", 3, "93/8"),
    ("K5", "48", "95/8", "3/32", "0", 4, "1/8"),
    ("K6", "48", "47/2", "1/8", "0", 2, "3/4"),
    ("K7", "96", "31", "1/8", "0", 3, "21/8"),
    ("K8", "49", "12", "1/8", "1/2", 4, "0"),
)
MILLIMETRES = (
    ("K9", "1220", "300", "2.2", "0", 4, "11.2"),
    ("K10", "1220", "302", "3.2", "0", 4, "0"),
    ("K11", "1220", "303", "3.2", "0", 3, "301.4"),
    ("K12", "1220", "600", "2.2", "10", 2, "5.6"),
    ("K13", "1220", "403", "3.2", "5", 2, "402.6"),
    ("K14", "2440", "720", "2.2", "10", 3, "263.4"),
)
ROWS = [(*row, INCH) for row in INCHES] + [(*row, MM) for row in MILLIMETRES]


def ticks(text: str, unit: Length) -> Length:
    """Return an exact number of ticks."""
    length = Fraction(text) * unit
    assert length.denominator == 1
    return int(length)


def planned(sheet: Length, strip: Length, kerf: Length, trim: Length, copies: int) -> Plan:
    """Plan so many strips as long as the one sheet at hand."""
    long = 400 * MM
    stock = Stock(
        id="sheet",
        name="Sheet",
        material="ply",
        length=long,
        width=sheet,
        thickness=18 * MM,
        trims=Trims(near=trim),
        at_hand=1,
    )
    part = Part(id="strip", name="Strip", copies=copies, length=long, width=strip, material="ply")
    job = Job(parts=(part,), stock=(stock,), shop=Shop(kerf=kerf))
    plan = run(job, Budget(time_s=2.0, patience_s=0.1), lambda _: None)
    assert plan is not None
    assert verify(plan) == ()
    return plan


@pytest.mark.parametrize("row", ROWS, ids=lambda row: row[0])
def test_strips_and_offcut_are_those_of_the_table(row: tuple[str, ...]) -> None:
    """The sheet gives as many strips as the table says, and one more finds no place."""
    _, sheet, strip, kerf, trim, count, offcut, unit = row
    sizes = [ticks(text, unit) for text in (sheet, strip, kerf, trim)]
    plan = planned(*sizes, copies=count + 1)
    assert len(plan.placements) == count
    assert sum(row.copies for row in plan.unplaced) == 1
    falls = [fall.width for fall in plan.offcuts]
    assert falls == ([ticks(offcut, unit)] if offcut != "0" else [])


def test_the_narrowest_legal_sheet_still_gives_four_strips() -> None:
    """A 48 in sheet may be 47 15/16 (NIST PS 1-19: +0, -1/16 in): K1 ends in a skim of 1/16."""
    plan = planned(ticks("767/16", INCH), ticks("95/8", INCH), INCH // 8, 0, copies=4)
    assert len(plan.placements) == 4
    assert plan.offcuts == ()
    assert min(cut.width for cut in plan.cuts) == INCH // 16


def test_a_metric_sheet_is_larger_than_four_feet() -> None:
    """1220 mm is 0.8 mm more than 48 in (1 in = 25.4 mm exactly): K1 ends 0.8 mm later."""
    strip, kerf = ticks("95/8", INCH), INCH // 8
    plan = planned(1220 * MM, strip, kerf, 0, copies=4)
    (fall,) = plan.offcuts
    assert fall.width == 1220 * MM - 48 * INCH == ticks("0.8", MM)
