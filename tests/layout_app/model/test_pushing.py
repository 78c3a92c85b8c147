"""What gives way, and what does not, by sizes that can be added up in the head."""

from dataclasses import replace

import pytest

from layout_app.document import edit_layout, edit_locks
from layout_app.document.document import Document
from layout_app.document.push_aside import PushAside
from layout_app.model.pushing import Pushed
from shared.job import Job
from shared.layout import Scope
from shared.lengths import INCH, Length
from shared.parts import Copy
from shared.stock import NoGo
from tests.layout_app.small_job import begun_document, document

SHELF_1 = ("shelf", 1)
SIDE_1, SIDE_2, SIDE_3, SIDE_4 = (("side", copy) for copy in range(1, 5))
STRIP = 12 * INCH + INCH // 8
"""A strip of sides, 12 wide, and the kerf below it."""


@pytest.fixture
def doc() -> Document:
    """Return four sides 40 x 12 in two strips, and three shelves 30 x 10 in the strip below."""
    return document()


def pushed(doc: Document, key: Copy, x: Length, y: Length, *, free: bool = False) -> Pushed:
    """Hold a copy over sheet 1."""
    lies = doc.layout.find(key)
    assert lies is not None
    return PushAside(doc, [key]).push([replace(lies, x=x, y=y)], free=free)


def places(found: Pushed) -> dict[Copy, tuple[Length, Length]]:
    """Return where all that lies elsewhere lies."""
    return {one.key: (one.x, one.y) for one in found.lying}


def with_one_shelf(doc: Document) -> Document:
    """Return the document with one shelf on its sheet, and room for one more in its strip."""
    edit_layout.set_aside(doc, [("shelf", 3)])
    return doc


def test_what_lies_behind_goes_along_the_strip(doc: Document) -> None:
    """A shelf before the first one: 30 long and a kerf, so that one goes to 30 1/8, the next on."""
    with_one_shelf(doc)
    aside = PushAside(doc, [("shelf", 3)])
    lies = doc.layout.find(SHELF_1)
    assert lies is not None
    found = aside.push([replace(lies, copy=3)])
    at = 30 * INCH + INCH // 8
    assert places(found) == {
        ("shelf", 3): (0, lies.y),
        SHELF_1: (at, lies.y),
        ("shelf", 2): (2 * at, lies.y),
    }


def test_what_lies_before_goes_back_into_the_place_that_was_left(doc: Document) -> None:
    """The first shelf held behind the second: there is room for it only if that one goes back."""
    lies = doc.layout.find(("shelf", 2))
    assert lies is not None
    found = pushed(doc, SHELF_1, lies.x, lies.y)
    assert places(found) == {SHELF_1: (lies.x, lies.y), ("shelf", 2): (0, lies.y)}


def test_what_is_held_roughly_in_a_strip_goes_into_it(doc: Document) -> None:
    """A shelf held 3 in low over the first of two: it goes before that one, and both along."""
    with_one_shelf(doc)
    lies = doc.layout.find(SHELF_1)
    assert lies is not None
    held = replace(lies, copy=3, x=11 * INCH, y=lies.y + 3 * INCH)
    found = PushAside(doc, [("shelf", 3)]).push([held])
    step = 30 * INCH + INCH // 8
    assert places(found) == {
        ("shelf", 3): (0, lies.y),
        SHELF_1: (step, lies.y),
        ("shelf", 2): (2 * step, lies.y),
    }


def test_between_two_strips_the_strips_behind_go_on(doc: Document) -> None:
    """A shelf held over the line below the first strip: 10 and a kerf make a strip of their own."""
    found = pushed(doc, SHELF_1, 0, 9 * INCH)
    assert places(found)[SHELF_1] == (0, STRIP)
    below = {key: y for key, (_, y) in places(found).items() if key != SHELF_1}
    gone = 10 * INCH + INCH // 8
    assert below == {
        SIDE_3: STRIP + gone,
        ("side", 4): STRIP + gone,
        ("shelf", 2): 2 * STRIP + gone,
        ("shelf", 3): 2 * STRIP + gone,
    }


def test_what_is_too_wide_for_its_strip_moves_those_beyond(doc: Document) -> None:
    """A side, 12 wide, laid in a strip 10 wide: the strip below goes 2 down, and no other."""
    edit_layout.set_aside(doc, [("shelf", 2), ("shelf", 3), SIDE_4])
    edit_layout.move_part(doc, *SHELF_1, "1", 0, STRIP)
    edit_layout.move_part(doc, *SIDE_3, "1", 0, STRIP + 10 * INCH + INCH // 8)
    found = pushed(doc, SIDE_2, 0, STRIP)
    assert places(found) == {
        SIDE_2: (0, STRIP),
        SHELF_1: (40 * INCH + INCH // 8, STRIP),
        SIDE_3: (0, 2 * STRIP),
    }


def test_what_is_locked_stays(doc: Document) -> None:
    """A locked side is in the way and is named, and nothing is said to move."""
    edit_locks.hold(doc, Scope.PART, [SIDE_3])
    found = pushed(doc, SHELF_1, 0, STRIP, free=True)
    assert found.moved == ()
    assert found.why == "Side 3 is locked"


def test_a_defect_is_in_the_way(doc: Document) -> None:
    """Where the next place of a part is a knot, it does not go there."""
    with_one_shelf(doc)
    knot = NoGo(x=70 * INCH, y=30 * INCH, length=INCH, width=INCH)
    flawed = Document(replace(doc.project, job=flawed_job(doc.job, knot)))
    lies = flawed.layout.find(SHELF_1)
    assert lies is not None
    found = PushAside(flawed, [("shelf", 3)]).push([replace(lies, copy=3)])
    assert found.why == ""
    assert not any(one.rect.overlaps(knot.rect) for one in found.lying)
    assert places(found)[("shelf", 2)][1] == lies.y + 10 * INCH + INCH // 8  # with its strip


def flawed_job(job: Job, bad: NoGo) -> Job:
    """Return a job whose sheets have a bad place."""
    return replace(job, stock=tuple(replace(row, no_go=(bad,)) for row in job.stock))


def test_what_is_sawn_stays_as_it_is() -> None:
    """On a sheet that is begun nothing moves over a cut that is made."""
    doc = begun_document()
    made = [cut.rect for cut in doc.progress.ticked]
    found = pushed(doc, SHELF_1, 0, 0)
    assert SIDE_1 not in {one.key for one in found.moved}
    assert not any(one.rect.overlaps(dust) for one in found.moved for dust in made)


def test_letting_go_is_one_step(doc: Document) -> None:
    """It says what was moved and how many were pushed, and one undo brings all of it back."""
    before = doc.project
    found = pushed(doc, SHELF_1, 0, 9 * INCH)
    assert edit_layout.move_parts(doc, found.held, found.moved)
    assert doc.undo_stack.undoText() == "move Shelf 1 and push 4 parts"
    assert doc.layout.sheets[0].tree is not None
    assert doc.problems == {}
    doc.undo()
    assert doc.project == before
