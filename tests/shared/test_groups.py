"""What is wrong with a match group is said of its parts; what is left of one stays together."""

from dataclasses import replace
from typing import Any

import pytest

from shared.check import check_job, plannable
from shared.groups import blocks_of, without
from shared.issues import Severity
from shared.job import Job, MatchGroup
from shared.lengths import INCH
from shared.parts import GrainRule, Part
from tests.solver.some_jobs import EIGHTH, job, part, sheet


def fronts(number: int, length: int = 20 * INCH, width: int = 6 * INCH) -> tuple[Part, ...]:
    """Return so many drawer fronts of one group."""
    return tuple(
        replace(part(f"Front {n}", length, width), group="Fronts") for n in range(1, number + 1)
    )


def grid(columns: int, *rows: Part, **changes: Any) -> Job:
    """Return a job whose fronts lie in rows of so many."""
    made = job(*rows, sheet())
    return replace(made, groups=(MatchGroup(name="Fronts", columns=columns),), **changes)


def found(job: Job) -> list[tuple[str, str]]:
    """Return code and subject of all that is wrong."""
    return [(one.code, one.subject) for one in check_job(job)]


def test_a_full_grid_is_sound() -> None:
    """Six equal fronts in rows of two, three, or one beside the other are nothing to speak of."""
    for columns in (1, 2, 3):
        assert found(grid(columns, *fronts(6))) == []


def test_rows_and_columns_may_differ_in_size() -> None:
    """A row may be wider than the next, a column longer than its neighbour."""
    rows = [(20, 6), (30, 6), (20, 9), (30, 9)]
    parts = [
        replace(one, length=x * INCH, width=y * INCH)
        for one, (x, y) in zip(fronts(4), rows, strict=True)
    ]
    assert found(grid(2, *parts)) == []
    (block,) = blocks_of(grid(2, *parts), "Fronts")
    assert (block.lengths, block.widths) == ((20 * INCH, 30 * INCH), (6 * INCH, 9 * INCH))
    whole = block.as_part()
    assert (whole.length, whole.width) == (50 * INCH + EIGHTH, 15 * INCH + EIGHTH)


WRONG = [
    ("a gap in the last row", 2, {}, 5, "group-uneven"),
    ("no parts in a row", 0, {}, 4, "group-uneven"),
    ("one too long", 1, {"length": 21 * INCH}, 4, "group-uneven"),
    ("one too wide", 2, {"width": 7 * INCH}, 4, "group-uneven"),
    ("a larger blank", 2, {"fit_allowance": INCH}, 4, "group-uneven"),
    ("two materials", 1, {"material": "oak"}, 4, "group-mixed-material"),
    ("two grain rules", 1, {"grain_rule": GrainRule.EITHER}, 4, "group-mixed-grain"),
]


@pytest.mark.parametrize(
    ("columns", "change", "number", "code"), [one[1:] for one in WRONG], ids=[w[0] for w in WRONG]
)
def test_a_group_that_is_no_grid_is_not_planned(
    columns: int, change: dict[str, Any], number: int, code: str
) -> None:
    """Every part of it has the error, in a sentence that names the group; others are planned."""
    *others, last = fronts(number)
    wrong = grid(columns, *others, replace(last, **change), part("Shelf", 9 * INCH, 9 * INCH))
    wrong = replace(wrong, stock=(*wrong.stock, sheet("o", material="oak")))
    issues = check_job(wrong)
    assert {(one.code, one.severity) for one in issues} == {(code, Severity.ERROR)}
    assert [one.subject for one in issues] == [f"Front {n}" for n in range(1, number + 1)]
    assert all(one.sentence.startswith(one.subject + ": its match group") for one in issues)
    assert [one.id for one in plannable(wrong).parts] == ["Shelf"]


def test_a_member_that_is_wrong_stops_its_group() -> None:
    """Without the second front the figure has a hole, so the first is not cut either."""
    first, second = fronts(2)
    assert found(grid(1, first, replace(second, length=0))) == [
        ("group-incomplete", "Front 1"),
        ("part-size-not-positive", "Front 2"),
    ]


def test_a_group_of_one_is_just_a_part() -> None:
    """A single copy has no neighbours, whatever the length of its row."""
    assert found(grid(3, *fronts(1))) == []


def test_the_places_where_a_figure_breaks_are_named() -> None:
    """Seven fronts of 6 in and six kerfs make 42 3/4 in; the eighth is 48 7/8 in, over 48."""
    (issue,) = check_job(grid(1, *fronts(8)))
    assert (issue.code, issue.severity) == ("group-too-long", Severity.WARNING)
    assert issue.sentence == (
        "Fronts is larger than every sheet of 3/4 birch ply: the figure breaks after Front 4."
    )


LONG = [
    (32, 8, [(4, 4), (4, 4)], "in every row after part 4."),
    (10, 5, [(2, 3), (2, 2)], "in every row after part 3."),
    (8, 8, [(1, 4), (1, 4)], "after Front 1 4."),
    (9, 1, [(5, 1), (4, 1)], "after Front 1 5."),
    (40, 5, [(4, 3), (4, 2)] * 2, "after Front 1 20 and in every row after part 3."),
]


@pytest.mark.parametrize(("copies", "columns", "shapes", "place"), LONG)
def test_a_grid_too_large_falls_into_the_fewest_blocks(
    copies: int, columns: int, shapes: list[tuple[int, int]], place: str
) -> None:
    """Four fronts of 20 in and their kerfs are 80 3/8 in long, seven of 6 in are 42 3/4 in wide."""
    (front,) = fronts(1)
    long = grid(columns, replace(front, copies=copies))
    blocks = blocks_of(long, "Fronts")
    assert [(len(block.rows), len(block.rows[0])) for block in blocks] == shapes
    (issue,) = check_job(long)
    assert issue.sentence.endswith(f"the figure breaks {place}")


def test_a_fit_part_needs_an_allowance_of_more_than_nothing() -> None:
    """A blank smaller than its part is a mistake; the bands alone are held against the size."""
    (front,) = fronts(1)
    assert found(job(replace(front, fit_allowance=-1), sheet())) == [
        ("part-allowance-negative", "Front 1")
    ]
    banded = replace(front.bands, left=10 * INCH, right=10 * INCH)
    bare = replace(front, bands=banded, fit_allowance=INCH)
    assert found(job(bare, sheet())) == [("part-bands-too-thick", "Front 1")]


def test_what_is_left_of_a_group_stays_together() -> None:
    """With the fifth of ten fronts in rows of two lying elsewhere, the rest are three pieces."""
    (block,) = blocks_of(grid(2, *fronts(10)), "Fronts")
    left = without(block, {("Front 5", 1)})
    names = [[part.id.removeprefix("Front ") for part, _ in one.cells] for one in left]
    assert names == [["1", "2", "3", "4"], ["6"], ["7", "8", "9", "10"]]
    assert without(block, set()) == (block,)
    assert without(block, set(block.copies)) == ()
