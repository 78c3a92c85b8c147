"""A sheet as it really is: diagonals, bad places and weight, each mistake in one sentence."""

from dataclasses import replace
from typing import Any

import pytest

from shared.check import check_job, plannable
from shared.issues import Issue, Severity
from shared.job import Job
from shared.lengths import INCH, MM, LengthStyle, Unit
from shared.parts import Part
from shared.practice import usual
from shared.shop import Shop
from shared.squaring import squared
from shared.stock import NoGo, Stock, Trims

MILLIMETRES = LengthStyle(unit=Unit.MM)
SIDE = Part(id="side", name="Side", length=700 * MM, width=300 * MM, material="birch")
SHEET = Stock(
    id="full",
    name="Full sheet",
    material="birch",
    length=2440 * MM,
    width=1220 * MM,
    thickness=18 * MM,
    at_hand=1,
)
CORNER = NoGo(x=0, y=0, length=200 * MM, width=100 * MM)
WHOLE = NoGo(x=0, y=0, length=2440 * MM, width=1220 * MM)


def with_sheet(shop: Shop | None = None, **changes: Any) -> Job:
    """Return a good job with its sheet changed, squared as a document has it."""
    rows = (replace(SHEET, **changes),)
    shop = shop or Shop()
    return squared(Job(parts=(SIDE,), stock=rows, shop=shop, style=MILLIMETRES))


def bad(*places: NoGo, **changes: Any) -> Job:
    """Return a good job whose sheet has bad places."""
    return with_sheet(no_go=places, **changes)


def only(job: Job) -> Issue:
    """Return the one issue about the sheet."""
    (issue,) = [issue for issue in check_job(job) if issue.subject == "full"]
    return issue


def test_a_real_sheet_is_no_mistake() -> None:
    """Diagonals 4 mm apart, a damaged corner and a known density are nothing wrong."""
    assert check_job(bad(CORNER, diagonals=4 * MM, density=680)) == ()


ERRORS = [
    ("no such diagonals", with_sheet(diagonals=2440 * MM), "stock-diagonals-absurd", "2440"),
    (
        "squaring eats it",
        with_sheet(length=100 * MM, diagonals=8 * MM),
        "stock-squaring-eats-sheet",
        "more than its length",
    ),
    (
        "no length",
        bad(replace(CORNER, length=0)),
        "stock-no-go-size",
        "bad place 1 has no size",
    ),
    (
        "negative width",
        bad(CORNER, replace(CORNER, width=-MM)),
        "stock-no-go-size",
        "bad place 2 has no size",
    ),
    ("beside", bad(replace(CORNER, x=2440 * MM)), "stock-no-go-off", "lies off the sheet"),
    ("before", bad(replace(CORNER, x=-MM)), "stock-no-go-off", "lies off the sheet"),
    (
        "over the end",
        bad(replace(CORNER, x=2300 * MM)),
        "stock-no-go-off",
        "make it L 140 mm",
    ),
    (
        "over the far edge",
        bad(replace(CORNER, x=2300 * MM, y=1200 * MM)),
        "stock-no-go-off",
        "make it L 140 mm and W 20 mm",
    ),
    ("all of it", bad(WHOLE), "stock-no-go-all", "nothing of the sheet"),
    (
        "all in two",
        bad(replace(WHOLE, width=700 * MM), replace(WHOLE, y=600 * MM, width=620 * MM)),
        "stock-no-go-all",
        "nothing of the sheet",
    ),
    (
        "all that is usable",
        bad(replace(WHOLE, y=10 * MM, width=1210 * MM), trims=Trims(near=10 * MM)),
        "stock-no-go-all",
        "nothing of the sheet",
    ),
    ("too many", bad(*[CORNER] * 41), "stock-no-go-many", "more than 40"),
    ("negative density", with_sheet(density=-1), "stock-density", "kg/m³"),
    ("density of lead", with_sheet(density=11_340), "stock-density", "kg/m³"),
]


@pytest.mark.parametrize(
    ("job", "code", "said"), [case[1:] for case in ERRORS], ids=[case[0] for case in ERRORS]
)
def test_what_cannot_be_leaves_the_row_out(job: Job, code: str, said: str) -> None:
    """Each mistake is one error on its row that says what is meant, and the row is not planned."""
    issue = only(job)
    assert (issue.code, issue.severity) == (code, Severity.ERROR)
    assert said in issue.sentence
    assert plannable(job).stock == ()


HEAVY = {"density": 680, "shop": usual(Unit.MM)}
WARNINGS = [
    (
        "far off",
        with_sheet(diagonals=60 * MM),
        "stock-diagonals-far-off",
        "off by 33.5 mm; measure both again",
    ),
    ("two at hand", bad(CORNER, at_hand=2), "stock-no-go-every-sheet", "same damaged corner"),
    ("as needed", bad(CORNER, at_hand=None), "stock-no-go-every-sheet", "every sheet of this row"),
    (
        "no show face",
        bad(replace(WHOLE, show_only=True)),
        "stock-no-go-no-show",
        "nothing of the sheet for a show face",
    ),
    ("heavy", with_sheet(**HEAVY), "stock-heavy", "36.4 kg a sheet, and you lift 23 kg alone"),
]


@pytest.mark.parametrize(
    ("job", "code", "said"), [case[1:] for case in WARNINGS], ids=[case[0] for case in WARNINGS]
)
def test_what_is_unlikely_is_only_said(job: Job, code: str, said: str) -> None:
    """Each is a warning in one sentence; the row is planned all the same."""
    issue = only(job)
    assert (issue.code, issue.severity) == (code, Severity.WARNING)
    assert said in issue.sentence
    assert len(plannable(job).stock) == 1


@pytest.mark.parametrize(("density", "lift"), [(0, 23_000), (680, 0), (680, 40_000)])
def test_no_weight_is_warned_of_without_need(density: int, lift: int) -> None:
    """Nothing is said of an unknown weight, without a limit, or of what can be lifted."""
    assert check_job(with_sheet(Shop(lift_g=lift), density=density)) == ()


def test_weights_are_said_in_pounds_where_inches_are_used() -> None:
    """A sheet of hardwood plywood, 74 lb by its table, is told in pounds."""
    row = replace(SHEET, length=96 * INCH, width=48 * INCH, thickness=3 * INCH // 4, density=590)
    job = Job(parts=(SIDE,), stock=(row,), shop=usual(Unit.INCH), style=LengthStyle())
    assert "73.7 lb a sheet, and you lift 51 lb alone" in only(job).sentence
