"""What was refused is left out everywhere: no row with an error gets to the solver."""

import re
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

import shared
from shared.asked import Settled
from shared.check import check_job, sawable
from shared.check_parts import MISFITS
from shared.issues import Severity
from shared.job import Job, MatchGroup
from shared.layout import LayoutSheet, sheets_of
from shared.lengths import INCH, METRE, MM
from shared.parts import Bands, GrainRule
from shared.saw import verify
from shared.shop import Rail
from shared.squaring import squared
from shared.stock import NoGo, Trims
from solver.budget.stop import Budget
from solver.prepare.instances import prepare
from solver.run import run
from tests.solver.some_jobs import job, part, sheet

GOOD = job(
    part("1", 20 * INCH, 10 * INCH, 2),
    part("2", 30 * INCH, 10 * INCH),
    sheet("1", at_hand=1),
    sheet("other"),
)
"""The first part and the first sheet have one id, as rows of two tables may."""
SHORT = Budget(time_s=None, work=5)


def places(number: int, **more: Any) -> tuple[NoGo, ...]:
    """Return so many small bad places side by side."""
    one = {"y": 0, "length": MM, "width": MM} | more
    return tuple(NoGo(x=n * INCH, **one) for n in range(number))


OF_SHEETS: dict[str, dict[str, Any]] = {
    "stock-size-not-positive": {"width": 0},
    "stock-size-absurd": {"length": 101 * METRE},
    "stock-thickness-negative": {"thickness": -1},
    "stock-trim-negative": {"trims": Trims(far=-1)},
    "stock-trims-eat-sheet": {"trims": Trims(near=24 * INCH, far=24 * INCH)},
    "stock-price-negative": {"price": -1},
    "stock-at-hand-negative": {"at_hand": -1},
    "stock-density": {"density": -1},
    "stock-diagonals-absurd": {"diagonals": 96 * INCH},
    "stock-squaring-eats-sheet": {"length": 10 * INCH, "diagonals": 19 * INCH},
    "stock-no-go-size": {"no_go": places(1, width=0)},
    "stock-no-go-off": {"no_go": places(1, y=48 * INCH)},
    "stock-no-go-many": {"no_go": places(41)},
    "stock-no-go-all": {"no_go": places(1, length=96 * INCH, width=48 * INCH)},
    "stock-beyond-reach": {"width": 120 * INCH, "length": 130 * INCH},
}
OF_PARTS: dict[str, dict[str, Any]] = {
    "part-size-not-positive": {"width": -1},
    "part-size-absurd": {"length": 101 * METRE},
    "part-allowance-negative": {"fit_allowance": -1},
    "part-band-negative": {"bands": Bands(left=-1)},
    "part-bands-too-thick": {"bands": Bands(left=10 * INCH, right=10 * INCH)},
    "part-copies-too-few": {"copies": 0},
    "part-copies-too-many": {"copies": 10_000},
    "part-measured-not-positive": {"fit_allowance": MM, "measured_length": -1},
    "part-measured-too-large": {
        "fit_allowance": MM,
        "measured_length": 25 * INCH,
        "measured_width": 10 * INCH,
    },
    "part-oversize-negative": {"oversize": -1},
    "part-oversize-under-kerf": {"oversize": 1},
    "group-incomplete": {"group": "G"},
    "group-uneven": {"group": "G"},
    "group-mixed-material": {"group": "G", "copies": 1},
    "group-mixed-grain": {"group": "G"},
}
SECOND: dict[str, dict[str, Any]] = {
    "group-incomplete": {"group": "G", "length": 0},
    "group-uneven": {"group": "G"},
    "group-mixed-material": {"group": "G", "material": "oak"},
    "group-mixed-grain": {"group": "G", "grain_rule": GrainRule.EITHER},
}


def with_sheet(changes: dict[str, Any]) -> Job:
    """Return the good job with its first sheet changed."""
    first, *rest = GOOD.stock
    made = replace(GOOD, stock=(replace(first, **changes), *rest, sheet("o", material="oak")))
    return replace(made, shop=replace(made.shop, rails=(Rail(length=2800 * MM),)))


def with_part(code: str) -> Job:
    """Return the good job with its first part changed, and the second where a group asks."""
    first, second = GOOD.parts
    parts = replace(first, **OF_PARTS[code]), replace(second, **SECOND.get(code, {}))
    made = replace(GOOD, parts=parts, stock=(*GOOD.stock, sheet("o", material="oak")))
    return replace(made, groups=(MatchGroup(name="G", columns=2),))


def errors(what: Job) -> set[tuple[str, str]]:
    """Return code and subject of all errors, sheets out of square trimmed as the program does."""
    what = squared(what)
    return {(i.code, i.subject) for i in check_job(what) if i.severity is Severity.ERROR}


def parts_planned(what: Job) -> set[str]:
    """Return the ids of all parts that the solver has to place."""
    instances = prepare(what).instances
    return {one for i in instances for item in i.items for one, _ in item.members}


@pytest.mark.parametrize("code", OF_SHEETS)
def test_a_sheet_that_is_refused_does_not_reach_the_solver(code: str) -> None:
    """It is no row of any instance and no room; parts of its id are planned all the same."""
    wrong = with_sheet(OF_SHEETS[code])
    assert errors(wrong) == {(code, "1")}
    prepared = prepare(wrong)
    assert {row.stock for i in prepared.instances for row in i.rows} == {"other"}
    assert all(room.stock.id == "other" for rooms in prepared.rooms for room in rooms)
    assert "1" not in {row.id for row in sawable(wrong).stock}
    assert parts_planned(wrong) == {"1", "2"}


@pytest.mark.parametrize("code", OF_PARTS)
def test_a_part_that_is_refused_does_not_reach_the_solver(code: str) -> None:
    """It is neither placed nor counted as lying nowhere."""
    wrong = with_part(code)
    assert (code, "1") in errors(wrong)
    assert "1" not in parts_planned(wrong)
    assert "1" not in {one.part for one in prepare(wrong).unplaced}
    assert "1" not in {one.id for one in sawable(wrong).parts}


@pytest.mark.parametrize("kind", ["part", "stock"])
def test_of_rows_with_one_id_only_the_first_reaches_the_solver(kind: str) -> None:
    """The second cannot be told from it."""
    field = "parts" if kind == "part" else "stock"
    first, *rest = getattr(GOOD, field)
    wrong = replace(GOOD, **{field: (first, *rest, replace(first, length=22 * INCH))})
    assert errors(wrong) == {(f"{kind}-id-twice", "1")}
    assert getattr(sawable(wrong), field) == (first, *rest)


def test_a_part_that_fits_no_sheet_is_told_though_a_refused_sheet_has_its_id() -> None:
    """Ids of parts and of sheets are two things."""
    wrong = with_sheet(OF_SHEETS["stock-no-go-many"])
    long = replace(wrong.parts[0], length=97 * INCH)
    wrong = replace(wrong, parts=(long, wrong.parts[1]))
    assert [(one.part, one.copies) for one in prepare(wrong).unplaced] == [("1", 2)]


def test_the_price_of_a_row_that_is_refused_says_nothing_of_the_others() -> None:
    """No rail reaches over the dear sheet; the one at hand counts by area, in plan and proof."""
    owned = sheet("own", length=30 * INCH, width=20 * INCH, price=0, at_hand=1)
    back = replace(part("back", 20 * INCH, 10 * INCH), material="oak")
    oak = sheet("oak", length=30 * INCH, width=20 * INCH, price=2000, material="oak")
    what = job(part("shelf", 20 * INCH, 10 * INCH), back, owned, sheet("dear", price=4500), oak)
    what = replace(what, shop=replace(what.shop, rails=(Rail(length=40 * INCH),), overhang=0))
    plan = run(what, Budget(time_s=None, work=20), lambda event: None)
    assert plan is not None
    assert [(one.stock, one.by_area) for one in plan.sheets] == [("own", True), ("oak", False)]
    assert verify(plan) == ()


def test_what_is_left_for_want_of_a_rail_does_not_ask_for_one_more_sheet() -> None:
    """No rail reaches over the whole sheets, and the pieces at hand are full: the rail is named."""
    piece = sheet("piece", length=30 * INCH, width=20 * INCH, at_hand=1)
    oak = sheet("oak", length=30 * INCH, width=20 * INCH, at_hand=1, material="oak")
    back = replace(part("back", 20 * INCH, 10 * INCH, 2), material="oak")
    what = job(part("shelf", 20 * INCH, 10 * INCH, 3), back, piece, sheet("whole"), oak)
    what = replace(what, shop=replace(what.shop, rails=(Rail(length=40 * INCH),), overhang=0))
    plan = run(what, SHORT, lambda event: None)
    assert plan is not None
    rail = "needs a longer rail: a rail of at least 48 in, or two joined to that length, would"
    assert [(one.part, one.copies, one.need) for one in plan.unplaced] == [
        ("shelf", 2, f"{rail} crosscut its sheet"),
        ("back", 1, "needs one more sheet of oak: those at hand are used up"),
    ]
    full = Settled(kept=(LayoutSheet(id="1", stock="piece"),))
    assert f"{rail} crosscut its sheet" in {one.need for one in prepare(what, full).unplaced}


def test_members_of_a_set_that_fit_no_sheet_are_told_though_they_fill_no_grid() -> None:
    """Four fronts of twelve are too long, one in each row of three: the rest waits for them."""
    lengths = (20, 20, 120)
    fronts = (part(f"F{n}", lengths[n % 3] * INCH, 6 * INCH) for n in range(12))
    what = job(*(replace(one, group="fronts") for one in fronts), sheet())
    prepared = prepare(replace(what, groups=(MatchGroup(name="fronts", columns=3),)))
    assert [one.part for one in prepared.unplaced] == ["F2", "F5", "F8", "F11"]


def test_every_code_of_an_error_of_a_row_is_tried() -> None:
    """The codes in the sources of the checks are those above, and the misfits, which are told."""
    sources = "".join(one.read_text() for one in Path(shared.__file__).parent.glob("check*.py"))
    found = set(re.findall(r'error\(\s*"((?:stock|part|group)-[a-z-]+)"', sources))
    tried = OF_SHEETS.keys() | OF_PARTS.keys() | MISFITS
    assert len(found) > 20
    assert found <= tried
    kinds = {"size-not-positive", "size-absurd"}
    groups = {code for code in OF_PARTS if code.startswith("group-")}
    assert tried - found - groups <= MISFITS | {
        f"{a}-{b}" for a in ("part", "stock") for b in kinds
    }


@pytest.mark.parametrize("what", ["row", "part"])
def test_a_sheet_that_stays_and_has_a_refused_row_is_no_part_of_the_plan(what: str) -> None:
    """The others are planned around it, and what lies on it is not planned anew."""
    plan = run(GOOD, SHORT, lambda _: None)
    assert plan is not None
    kept: tuple[LayoutSheet, ...] = sheets_of(plan)
    assert len(kept) == 1
    kept = tuple(replace(one, stock="1") for one in kept)
    wrong = with_sheet(OF_SHEETS["stock-no-go-many"])
    if what == "part":
        first, second = GOOD.parts
        wrong = replace(GOOD, parts=(replace(first, copies=0), second))
    again = run(wrong, SHORT, lambda _: None, Settled(kept=kept))
    assert again is not None
    assert (again.sheets, again.placements) == ((), ())


def test_a_kept_sheet_whose_parts_lie_on_a_bad_place_is_planned_around() -> None:
    """As when a rip was moved by hand over a knot: its cuts are no cuts of the plan."""
    made = run(GOOD, SHORT, lambda event: None)
    assert made is not None
    kept = sheets_of(made)
    knot = NoGo(x=made.placements[0].x, y=made.placements[0].y, length=INCH, width=INCH)
    rows = tuple(replace(row, no_go=(knot,)) for row in GOOD.stock)
    plan = run(replace(GOOD, stock=rows), SHORT, lambda event: None, Settled(kept=kept))
    assert plan is None or not verify(plan)
    lies = {one.key for one in plan.placements} if plan is not None else set()
    assert made.placements[0].key not in lies
