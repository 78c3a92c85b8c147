"""What a plan says of its matched sets, held against blocks laid out with pencil and paper."""

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shared.cuts.matching import matched_sets
from shared.groups import blocks_of
from shared.job import Job, MatchGroup
from shared.lengths import MM
from shared.parts import Part
from shared.plan import BlockTurn, MatchedSet, Placement
from shared.shop import Shop
from solver.prepare.instances import prepare
from tests.properties.test_groups import QUICK, constructed, matched_jobs

FRONT = Part(
    id="f", name="Front", copies=4, length=400 * MM, width=200 * MM, material="ply", group="F"
)
JOB = Job(parts=(FRONT,), groups=(MatchGroup(name="F", columns=2),), shop=Shop(kerf=3 * MM))
STRAIGHT = {1: (0, 0), 2: (403, 0), 3: (0, 203), 4: (403, 203)}
"""Rows along the reference edge, the first next to it; 400 or 200 and a kerf of 3 mm further."""
LEFT = {1: (0, 403), 2: (0, 0), 3: (203, 403), 4: (203, 0)}
"""The sheet of paper turned against the clock: the end of the first row comes to the top left."""
RIGHT = {1: (203, 0), 2: (203, 403), 3: (0, 0), 4: (0, 403)}
"""The sheet of paper turned with the clock: its beginning comes to the top right."""


def lying(
    places: dict[int, tuple[int, int]], turned: bool = False, sheet: str = "1"
) -> list[Placement]:
    """Return copies of the front at these places in mm."""
    size = (200, 400) if turned else (400, 200)
    return [
        Placement(
            part="f",
            copy=copy,
            sheet=sheet,
            x=x * MM,
            y=y * MM,
            length=size[0] * MM,
            width=size[1] * MM,
            turned=turned,
        )
        for copy, (x, y) in places.items()
    ]


def told(sets: tuple[MatchedSet, ...]) -> list[tuple[str, BlockTurn, list[int]]]:
    """Return sheet, way and copies of each block of the only set."""
    (only,) = sets
    assert (only.name, only.columns) == ("F", 2)
    return [(one.sheet, one.way, [copy.copy for copy in one.copies]) for one in only.blocks]


@pytest.mark.parametrize(
    ("places", "turned", "way"),
    [
        (STRAIGHT, False, BlockTurn.STRAIGHT),
        (LEFT, True, BlockTurn.LEFT),
        (RIGHT, True, BlockTurn.RIGHT),
    ],
)
def test_a_block_that_lies_whole(
    places: dict[int, tuple[int, int]], turned: bool, way: BlockTurn
) -> None:
    """As drawn, and turned by a quarter either way, four fronts are one block."""
    assert told(matched_sets(JOB, lying(places, turned))) == [("1", way, [1, 2, 3, 4])]


def test_swapped_members_break_the_figure() -> None:
    """With the first row's two swapped, only what lies above each other still may run on."""
    swapped = STRAIGHT | {1: STRAIGHT[2], 2: STRAIGHT[1]}
    assert told(matched_sets(JOB, lying(swapped))) == [
        ("1", BlockTurn.STRAIGHT, [1]),
        ("1", BlockTurn.STRAIGHT, [2]),
        ("1", BlockTurn.STRAIGHT, [3, 4]),
    ]


def test_rows_on_two_sheets_are_two_blocks() -> None:
    """The figure breaks from sheet to sheet, and the order of the blocks is that of the set."""
    below = lying({3: (0, 0), 4: (403, 0)}, sheet="1")
    above = lying({1: (0, 0), 2: (403, 0)}, sheet="2")
    assert told(matched_sets(JOB, [*below, *above])) == [
        ("2", BlockTurn.STRAIGHT, [1, 2]),
        ("1", BlockTurn.STRAIGHT, [3, 4]),
    ]


def test_a_member_that_lies_nowhere_leaves_the_others() -> None:
    """Three of four lie in an angle, and are still one block."""
    three = {copy: place for copy, place in STRAIGHT.items() if copy != 4}
    assert told(matched_sets(JOB, lying(three))) == [("1", BlockTurn.STRAIGHT, [1, 2, 3])]
    assert matched_sets(JOB, ()) == ()


def test_one_part_alone_is_no_set() -> None:
    """A group of one member has nothing to match."""
    single = replace(JOB, parts=(replace(FRONT, copies=1),))
    assert matched_sets(single, lying({1: (0, 0)})) == ()


@QUICK
@given(job=matched_jobs(), skip=st.integers(0, 12))
def test_every_block_that_is_planned_lies_whole(job: Job, skip: int) -> None:
    """No block of a constructed plan is told to be broken."""
    matches = constructed(job, skip).matches
    whole = [[one.key for one in b.copies] for m in matches for b in m.blocks]
    for block in blocks_of(prepare(job).job, "Fronts"):
        if len(block.copies) > 1 or matches:
            assert any(set(block.copies) <= set(copies) for copies in whole)
