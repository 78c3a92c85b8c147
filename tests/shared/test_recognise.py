"""Placements become trees of cuts, or it is said which parts stand in the way."""

from collections.abc import Iterator

import pytest

from shared.geometry import Rect
from shared.lengths import MM
from shared.plan import Placement
from shared.recognise import (
    LayoutTrouble,
    Pace,
    Trouble,
    find_tree,
    freed_by,
    is_cuttable,
    locked,
    problems,
)
from shared.recognise.boxes import boxes_of, groups, stuck
from shared.shop import Axis, FirstCut, Shop
from shared.stock import Trims
from shared.tree import Piece, Place, Run, places

KERF = 3


def lies(x: int, y: int, length: int, width: int, part: str = "") -> Placement:
    """Return a part that lies there, named after its corner."""
    return Placement(
        part=part or f"{x},{y}", copy=1, sheet="1", x=x, y=y, length=length, width=width
    )


def sheet(length: int, width: int) -> Rect:
    """Return a sheet of that size."""
    return Rect(x=0, y=0, length=length, width=width)


def part_of(one: Placement, size: int) -> Piece:
    """Return a piece that is that part."""
    return Piece(size=size, place=Place(part=one.part, copy=1))


def scaled(tiles: list[tuple[int, int, int, int]], unit: int, kerf: int) -> list[Placement]:
    """Blow tiles (x, y, length, width) up, with a kerf between neighbours."""
    pitch = unit + kerf
    return [
        lies(x * pitch, y * pitch, length * pitch - kerf, width * pitch - kerf)
        for x, y, length, width in tiles
    ]


# The smallest pattern that no cut from edge to edge divides: four rectangles around a fifth.
PINWHEEL = [(0, 0, 2, 1), (2, 0, 1, 2), (1, 2, 2, 1), (0, 1, 1, 2), (1, 1, 1, 1)]


@pytest.mark.parametrize("kerf", [0, KERF])
def test_pinwheel_is_locked(kerf: int) -> None:
    """Five rectangles in a pinwheel lock each other, and taking any of the outer frees it."""
    lying = scaled(PINWHEEL, 100, kerf)
    ground = sheet(300 + 2 * kerf, 300 + 2 * kerf)
    assert not is_cuttable(ground, lying, kerf)
    assert find_tree(ground, lying, kerf) is None
    # The middle one only fills a hole: four around nothing lock each other as well.
    assert locked(ground, lying, kerf) == tuple(lying[:4])
    assert freed_by(ground, lying, kerf) == tuple(lying[:4])
    (problem,) = problems(ground, lying, kerf)
    assert problem == LayoutTrouble(
        trouble=Trouble.LOCKED, parts=tuple(lying[:4]), frees=tuple(lying[:4])
    )
    names = dict(zip(lying, "ABCDE", strict=True))
    assert problem.sentence(names.__getitem__) == (
        "No cut from edge to edge parts A, B, C and D. Moving A, B, C or D frees the sheet."
    )


def test_two_pinwheels_are_freed_by_nothing_single() -> None:
    """With two knots on a sheet no single part frees it, but one knot is named."""
    one = scaled(PINWHEEL, 100, KERF)
    other = [lies(p.x, p.y + 400, p.length, p.width) for p in one]
    ground = sheet(306, 706)
    assert len(locked(ground, one + other, KERF)) == 4
    assert freed_by(ground, one + other, KERF) == ()


def tilings(size: int) -> Iterator[list[tuple[int, int, int, int]]]:
    """Yield every way to divide a square of cells into rectangles, as (x, y, length, width)."""

    def fill(
        free: frozenset[tuple[int, int]], laid: list[tuple[int, int, int, int]]
    ) -> Iterator[list[tuple[int, int, int, int]]]:
        if not free:
            yield laid
            return
        y, x = min(free)
        for length in range(1, size - x + 1):
            for width in range(1, size - y + 1):
                cells = {(y + j, x + i) for i in range(length) for j in range(width)}
                if cells <= free:
                    yield from fill(free - cells, [*laid, (x, y, length, width)])

    cells = frozenset((y, x) for x in range(size) for y in range(size))
    return fill(cells, [])


def test_all_tilings_of_a_small_square() -> None:
    """Of the 322 divisions of a 3 x 3 square just the two pinwheels cannot be cut.

    322 is sequence A182275 of the OEIS (Klarner and Magliveras, "The number of tilings of a
    block with blocks", 1988). That the pinwheel of five and its mirror image are the
    smallest patterns without a cut from edge to edge is common knowledge of the field.
    """
    ground = sheet(306, 306)
    found = list(tilings(3))
    uncut = [t for t in found if not is_cuttable(ground, scaled(t, 100, KERF), KERF)]
    assert len(found) == 322
    assert [len(t) for t in uncut] == [5, 5]
    assert sorted(PINWHEEL) in [sorted(t) for t in uncut]


def test_tree_of_two_strips() -> None:
    """Two parts beside each other under a long one: rip, then crosscut, waste at the ends."""
    top, left, right = lies(0, 0, 90, 20), lies(0, 23, 40, 30), lies(43, 23, 30, 30)
    tree = find_tree(sheet(100, 100), [right, top, left], KERF)
    strip = Run(axis=Axis.CROSSCUT, pieces=(part_of(left, 40), part_of(right, 30)))
    assert tree == Run(
        axis=Axis.RIP,
        pieces=(
            Piece(size=20, run=Run(axis=Axis.CROSSCUT, pieces=(part_of(top, 90),))),
            Piece(size=30, run=strip),
        ),
    )


def test_trims_are_the_first_cuts() -> None:
    """The first run of each axis takes the trim of its edge."""
    one = lies(20, 10, 50, 40)
    tree = find_tree(sheet(100, 80), [one], KERF, Trims(near=10, start=20))
    inner = Run(axis=Axis.CROSSCUT, trim=20, pieces=(part_of(one, 50),))
    assert tree == Run(axis=Axis.RIP, trim=10, pieces=(Piece(size=40, run=inner),))


def test_wide_gap_is_a_piece_of_waste() -> None:
    """More than two kerfs apart, a strip of waste is sawn out between two strips."""
    one, other = lies(0, 0, 100, 20), lies(0, 20 + 2 * KERF + 4, 100, 20)
    tree = find_tree(sheet(100, 50), [one, other], KERF)
    assert tree == Run(axis=Axis.RIP, pieces=(part_of(one, 20), Piece(size=4), part_of(other, 20)))


def test_narrow_gap_is_skimmed_from_the_nearer_part() -> None:
    """One to two kerfs apart, the cut lies against the farther part, and a skim follows."""
    one, other = lies(0, 0, 100, 20), lies(0, 20 + KERF + 2, 100, 20)
    tree = find_tree(sheet(100, 45), [one, other], KERF)
    skim = Run(axis=Axis.RIP, pieces=(part_of(one, 20),))
    loose = Run(axis=Axis.CROSSCUT, pieces=(Piece(size=100, run=skim),))
    assert tree == Run(axis=Axis.RIP, pieces=(Piece(size=22, run=loose), part_of(other, 20)))


def test_first_direction_of_the_rule() -> None:
    """Two full columns: crosscut first where the rule lets it, else behind a rip without cut."""
    lying = [lies(0, 0, 40, 80), lies(43, 0, 40, 80)]
    columns = Run(axis=Axis.CROSSCUT, pieces=tuple(part_of(one, 40) for one in lying))
    ground = sheet(83, 80)
    assert find_tree(ground, lying, KERF, first=FirstCut.CROSSCUT) == columns
    assert find_tree(ground, lying, KERF, first=FirstCut.RIP) == Run(
        axis=Axis.RIP, pieces=(Piece(size=80, run=columns),)
    )


def test_rip_first_on_ties() -> None:
    """A grid of squares can be cut both ways at the same cost: rips come first."""
    lying = [lies(x, y, 40, 40) for x in (0, 43) for y in (0, 43)]
    tree = find_tree(sheet(83, 83), lying, KERF, first=FirstCut.EITHER)
    assert tree is not None
    assert tree.axis is Axis.RIP


def test_waste_common_to_rows_is_sawn_off_once() -> None:
    """Three rows that end at one line: one crosscut through all, not one in each row."""
    lying = [lies(0, y, 60, 20) for y in (0, 23, 46)]
    tree = find_tree(sheet(100, 66), lying, KERF, first=FirstCut.EITHER)
    rows = Run(axis=Axis.RIP, pieces=tuple(part_of(one, 20) for one in lying))
    assert tree == Run(axis=Axis.CROSSCUT, pieces=(Piece(size=60, run=rows),))


def test_part_of_the_whole_sheet() -> None:
    """A part as large as the sheet is a run without a cut."""
    whole = lies(0, 0, 100, 50)
    tree = find_tree(sheet(100, 50), [whole], KERF)
    assert tree == Run(axis=Axis.RIP, pieces=(part_of(whole, 50),))
    assert find_tree(sheet(100, 50), [], KERF) is None
    assert is_cuttable(sheet(100, 50), [], KERF)


@pytest.mark.parametrize(
    ("lying", "trouble", "sentence"),
    [
        ([lies(61, 0, 40, 20)], Trouble.OFF_SHEET, "A reaches over the edge of the sheet."),
        ([lies(-1, 0, 40, 20)], Trouble.OFF_SHEET, "A reaches over the edge of the sheet."),
        ([lies(10, 4, 40, 20)], Trouble.IN_TRIM, "A lies in a trimmed edge of the sheet."),
        (
            [lies(10, 5 + KERF, 40, 20)],
            Trouble.NEAR_EDGE,
            "A lies off its reference edge by less than a kerf and a piece to hold:"
            " put it against the edge, or farther away.",
        ),
        ([lies(10, 5, 40, 20), lies(49, 24, 9, 9)], Trouble.OVERLAP, "A and B overlap."),
        (
            [lies(10, 5, 40, 20), lies(52, 5, 9, 9)],
            Trouble.TOO_NEAR,
            "A and B are nearer to each other than one kerf.",
        ),
        (
            [lies(10, 5, 90, 20), lies(10, 28, 40, 20), lies(53, 30, 30, 20)],
            Trouble.OUT_OF_LINE,
            "A, B and C are out of line by less than a kerf: line up their near edges, or move"
            " them farther apart. Moving A, B or C frees the sheet.",
        ),
    ],
)
def test_what_is_wrong(lying: list[Placement], trouble: Trouble, sentence: str) -> None:
    """Each trouble is named, said in words, and the sheet is not cuttable for it."""
    trims = Trims(near=5, start=10)
    ground = sheet(100, 60)
    found = problems(ground, lying, KERF, trims)
    names = dict(zip(lying, "ABC", strict=False))
    assert [problem.trouble for problem in found] == [trouble]
    assert found[0].sentence(names.__getitem__) == sentence
    assert not is_cuttable(ground, lying, KERF, trims)
    assert find_tree(ground, lying, KERF, trims) is None


@pytest.mark.parametrize("step", [0, KERF + 1])
def test_in_line_or_a_kerf_apart_is_no_trouble(step: int) -> None:
    """Beside each other under a long part, two may be flush or more than a kerf out of line."""
    lying = [lies(0, 0, 90, 20), lies(0, 23, 40, 20), lies(43, 23 + step, 30, 20)]
    assert problems(sheet(100, 60), lying, KERF) == ()
    assert find_tree(sheet(100, 60), lying, KERF) is not None


def test_every_copy_keeps_its_turn() -> None:
    """The tree says of each part which copy it is, and whether it lies turned."""
    one = Placement(part="a", copy=7, sheet="1", x=0, y=0, length=30, width=50, turned=True)
    tree = find_tree(sheet(100, 60), [one], KERF)
    assert [place for place, _ in places(tree, sheet(100, 60), KERF)] == [
        Place(part="a", copy=7, turned=True)
    ]


def test_pace_weighs_cuts_against_set_ups() -> None:
    """Seconds of the shop are what the search saves."""
    shop = Shop(cut_s=30, setup_s=90, skim_s=10)
    assert Pace.of(shop) == Pace(cut_s=30, setup_s=90, skim_s=10)


def test_groups_and_knots() -> None:
    """Parts part where a kerf fits between them; a knot is what nothing parts."""
    boxes = boxes_of([lies(0, 0, 10, 10), lies(0, 13, 10, 10), lies(12, 5, 10, 10)])
    assert [len(group.boxes) for group in groups(boxes, Axis.RIP, KERF)] == [3]
    assert [len(group.boxes) for group in groups(boxes, Axis.CROSSCUT, KERF)] == [3]
    assert len(stuck(boxes, KERF)) == 3
    assert stuck(boxes, 2) == []


def test_many_equal_parts_are_cut_as_a_grid() -> None:
    """Twenty rows of twenty parts take one rip a row and one crosscut a part."""
    size = 50 * MM
    lying = [
        lies(x * (size + KERF), y * (size + KERF), size, size) for x in range(20) for y in range(20)
    ]
    ground = sheet(20 * (size + KERF) - KERF, 20 * (size + KERF) - KERF)
    tree = find_tree(ground, lying, KERF)
    assert tree is not None
    assert [len(tree.pieces), len(tree.pieces[0].run.pieces if tree.pieces[0].run else ())] == [
        20,
        20,
    ]
