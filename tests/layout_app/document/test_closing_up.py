"""A sheet is closed up: parts go together toward the reference corner, in their order."""

from collections.abc import Iterator, Sequence
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from layout_app.document import edit_layout, edit_locks
from layout_app.document.close_up import close_up, closed_up
from layout_app.document.document import Document
from layout_app.model.project import Project
from layout_app.model.stops import Way
from shared.geometry import Rect
from shared.layout import Scope
from shared.plan import Placement
from tests.brute_cuts import NEVER, BruteSaw
from tests.examples import some_of
from tests.layout_app.bench.two_sheets import JOB, document, inches, part
from tests.layout_app.doing import SHELF_1, SIDE_1, SIDE_2

KERF = 3
SHEET = Rect(x=2, y=5, length=400, width=300)


@pytest.fixture
def doc() -> Iterator[Document]:
    """Return a document with two sheets."""
    made = document()
    yield made
    made.undo_stack.clear()


def lies(doc: Document, key: tuple[str, int]) -> tuple[int, int]:
    """Return where the corner of a copy lies on its sheet."""
    one = doc.layout.find(key)
    assert one is not None
    return one.x, one.y


def test_a_strip_goes_up_and_its_parts_to_the_start(doc: Document) -> None:
    """A shelf at 5, 20 under sides that end at 12 goes to 0, 12 1/8: one step of undo."""
    edit_layout.move_part(doc, *SHELF_1, "1", inches(5), inches(20))
    before, steps = doc.project, doc.undo_stack.count()
    assert close_up(doc, "1")
    assert lies(doc, SHELF_1) == (0, inches("97/8"))
    assert lies(doc, SIDE_1) == (0, 0)
    assert lies(doc, SIDE_2) == (inches("321/8"), 0)
    assert doc.layout.sheets[0].tree is not None
    assert doc.undo_stack.count() == steps + 1
    assert doc.undo_stack.undoText() == "close up sheet 1"
    doc.undo()
    assert doc.project == before


def test_two_sheets_are_closed_up_as_one_step(doc: Document) -> None:
    """The parts of both sheets go back, and one step takes all of it back."""
    for sheet, key in (("1", SHELF_1), ("2", ("shelf", 2))):
        edit_layout.move_part(doc, *key, sheet, inches(5), inches(20))
    before, steps = doc.project, doc.undo_stack.count()
    assert close_up(doc, "1", "2")
    assert lies(doc, SHELF_1) == lies(doc, ("shelf", 2)) == (0, inches("97/8"))
    assert doc.undo_stack.count() == steps + 1
    doc.undo()
    assert doc.project == before


def test_what_is_close_already_leaves_no_step(doc: Document) -> None:
    """It is said that nothing can be done."""
    said: list[str] = []
    doc.said.connect(said.append)
    assert not close_up(doc, "1")
    assert doc.undo_stack.count() == 0
    assert said == ["The parts of sheet 1 lie as close as they can in this order."]


def test_what_is_held_is_not_pushed(doc: Document) -> None:
    """The sheet stays as it lies, and it is said what holds it."""
    edit_layout.move_part(doc, *SHELF_1, "1", inches(5), inches(20))
    edit_locks.hold(doc, Scope.PART, [SHELF_1])
    before, said = doc.project, []
    doc.said.connect(said.append)
    assert not close_up(doc, "1")
    assert doc.project == before
    assert said == ["Shelf 1 stays in place. Shelf 1 is locked: unlock it first (L)."]


def test_what_is_free_goes_up_to_what_is_held(doc: Document) -> None:
    """A side right of the held one goes to it, the shelf goes up to their strip, one step."""
    edit_layout.move_part(doc, *SIDE_2, "1", inches(50), inches(0))
    edit_layout.move_part(doc, *SIDE_1, "1", inches(4), inches(0))
    edit_layout.move_part(doc, *SHELF_1, "1", inches(5), inches(20))
    edit_locks.hold(doc, Scope.PART, [SIDE_1])
    held, said = lies(doc, SIDE_1), []
    doc.said.connect(said.append)
    steps = doc.undo_stack.count()
    assert close_up(doc, "1")
    assert lies(doc, SIDE_1) == held == (inches(4), 0)
    assert lies(doc, SIDE_2) == (inches(4 + 40) + inches("1/8"), 0)
    assert lies(doc, SHELF_1) == (0, inches("97/8"))
    assert doc.layout.sheets[0].tree is not None
    assert doc.undo_stack.count() == steps + 1
    assert said == ["Side 1 stays in place. Side 1 is locked: unlock it first (L)."]


def test_what_overlaps_is_parted(doc: Document) -> None:
    """A side laid over the end of the other, and a shelf over both: all lie apart, in one step."""
    edit_layout.move_part(doc, *SIDE_2, "1", inches(35), 0)
    edit_layout.move_part(doc, *SHELF_1, "1", 0, inches(11))
    assert set(doc.problems) == {"1"}
    before, steps = doc.project, doc.undo_stack.count()
    assert close_up(doc, "1")
    assert doc.problems == {}
    assert lies(doc, SIDE_1) == (0, 0)
    assert lies(doc, SIDE_2) == (inches("321/8"), 0)
    assert lies(doc, SHELF_1) == (0, inches("97/8"))
    assert doc.undo_stack.count() == steps + 1
    doc.undo()
    assert doc.project == before


def test_what_was_locked_stays_while_the_rest_is_parted(doc: Document) -> None:
    """A side laid over a locked one makes way itself, though the lock is not in force meanwhile."""
    edit_locks.hold(doc, Scope.PART, [SIDE_2])
    part_of, at = doc.layout.find(SHELF_1), lies(doc, SIDE_2)
    assert part_of is not None
    new = replace(part_of, x=inches(30), y=inches(5))
    edit_layout.lay_parts(doc, "lay a shelf", [new])
    assert doc.held.in_force == ()
    close_up(doc, "1")
    assert doc.problems == {}
    assert lies(doc, SIDE_2) == at
    assert doc.held.in_force != ()


def test_what_has_no_room_to_be_parted_is_said() -> None:
    """Two sides 60 x 30 do not lie apart on a sheet of 96 x 48."""
    doc = Document(Project(job=replace(JOB, parts=(part("side", "Side", (60, 30), 2),))))
    edit_layout.add_sheet(doc, "full")
    edit_layout.move_part(doc, *SIDE_1, "1", 0, 0)
    edit_layout.move_part(doc, *SIDE_2, "1", inches(10), inches(5))
    before, said = doc.project, list[str]()
    doc.said.connect(said.append)
    assert not close_up(doc, "1")
    assert doc.project == before
    assert said[0].startswith("The parts of sheet 1 that overlap cannot be parted: no room")


Box = tuple[int, int, int, int]
sides = st.integers(5, 90)
boxes = st.lists(
    st.tuples(st.integers(0, 300), st.integers(0, 200), sides, sides), min_size=1, max_size=6
)


def laid(drawn: list[Box]) -> tuple[Rect, ...]:
    """Return rectangles inside the usable sheet, as drawn: they may overlap."""
    return tuple(
        Rect(x=SHEET.x + x, y=SHEET.y + y, length=length, width=width)
        for x, y, length, width in drawn
    )


def apart(drawn: list[Box]) -> tuple[Rect, ...]:
    """Return those of the rectangles that keep a kerf from all before them."""
    kept: list[Rect] = []
    for one in laid(drawn):
        if all(_is_apart(one, other) for other in kept):
            kept.append(one)
    return tuple(kept)


def _is_apart(one: Rect, other: Rect) -> bool:
    beside = one.right + KERF <= other.x or other.right + KERF <= one.x
    return beside or one.bottom + KERF <= other.y or other.bottom + KERF <= one.y


@given(boxes, st.sampled_from(Way))
def test_nothing_goes_away_from_the_corner(drawn: list[Box], first: Way) -> None:
    """No part goes farther from the reference corner than it lay, and sizes stay."""
    before = laid(drawn)
    for old, new in zip(before, closed_up(before, SHEET, KERF, first), strict=True):
        assert SHEET.x <= new.x <= old.x
        assert SHEET.y <= new.y <= old.y
        assert (new.length, new.width) == (old.length, old.width)


@given(boxes, st.sampled_from(Way))
def test_closing_up_twice_is_closing_up_once(drawn: list[Box], first: Way) -> None:
    """Nothing is left to be pushed."""
    once = closed_up(laid(drawn), SHEET, KERF, first)
    assert closed_up(once, SHEET, KERF, first) == once


@given(boxes, st.sampled_from(Way))
def test_parts_that_kept_a_kerf_still_do(drawn: list[Box], first: Way) -> None:
    """No two overlap or come nearer than the kerf."""
    after = closed_up(apart(drawn), SHEET, KERF, first)
    for index, one in enumerate(after):
        assert all(_is_apart(one, other) for other in after[index + 1 :])


@given(boxes, st.sampled_from(Way))
def test_two_parts_end_at_the_corner_one_kerf_apart(drawn: list[Box], first: Way) -> None:
    """Of two that keep a kerf, one lies in the corner, and the gap to the other is one kerf."""
    pair = apart(drawn)[:2]
    after = closed_up(pair, SHEET, KERF, first)
    assert min(one.x for one in after) == SHEET.x
    assert min(one.y for one in after) == SHEET.y
    if len(after) == 2:
        one, other = after
        gaps = other.x - one.right, one.x - other.right, other.y - one.bottom, one.y - other.bottom
        assert max(gaps) == KERF


@given(boxes, st.sampled_from(Way), st.sets(st.integers(0, 5)))
def test_what_is_fixed_stays_and_the_rest_keeps_a_kerf(
    drawn: list[Box], first: Way, fixed: set[int]
) -> None:
    """Fixed ones do not move, others only toward the corner, and no two come nearer than a kerf."""
    before = apart(drawn)
    after = closed_up(before, SHEET, KERF, first, fixed)
    for index, (old, new) in enumerate(zip(before, after, strict=True)):
        assert index not in fixed or new == old
        assert SHEET.x <= new.x <= old.x
        assert SHEET.y <= new.y <= old.y
        assert all(_is_apart(new, other) for other in after[index + 1 :])


tiny = st.integers(1, 6)
few = st.lists(st.tuples(st.integers(0, 12), st.integers(0, 8), tiny, tiny), max_size=5)


@settings(max_examples=some_of(100))
@given(few, st.sampled_from(Way), st.sets(st.integers(0, 4), max_size=2))
def test_what_can_be_cut_can_be_cut_closed_up(
    drawn: list[Box], first: Way, fixed: set[int]
) -> None:
    """Held against a saw that tries every cut at every tick, on sheets of 18 x 14."""
    sheet, saw = Rect(x=0, y=0, length=18, width=14), BruteSaw(1)
    before = [Rect(x=x, y=y, length=length, width=width) for x, y, length, width in drawn]
    if saw.fewest(18, 14, _placed(before)) < NEVER:
        after = closed_up(before, sheet, 1, first, fixed)
        assert saw.fewest(18, 14, _placed(after)) < NEVER


def _placed(rects: Sequence[Rect]) -> tuple[Placement, ...]:
    return tuple(
        Placement(
            part="p",
            copy=number,
            sheet="1",
            x=one.x,
            y=one.y,
            length=one.length,
            width=one.width,
        )
        for number, one in enumerate(rects, start=1)
    )
