"""Parts that are not alike swap: what lies about them gives way, and all of it is one step."""

import pytest

from layout_app.document import edit_layout, edit_locks
from layout_app.document.document import Document
from layout_app.document.swapping import swap_parts
from shared.layout import Scope
from shared.lengths import INCH, Length
from shared.parts import Copy
from tests.layout_app.small_job import document

SHELF_1, SHELF_3, SIDE_1, SIDE_2 = ("shelf", 1), ("shelf", 3), ("side", 1), ("side", 2)
KERF = INCH // 8


@pytest.fixture
def doc() -> Document:
    """Return a document in whose first strip a shelf, 30 long, lies behind a side, 40 long."""
    made = document()
    edit_layout.set_aside(made, [SIDE_2])
    edit_layout.move_part(made, *SHELF_1, "1", 40 * INCH + KERF, 0)
    assert made.problems == {}
    return made


def corner(doc: Document, key: Copy) -> tuple[Length, Length]:
    """Return where a copy lies."""
    lies = doc.layout.find(key)
    assert lies is not None
    return lies.x, lies.y


def test_neighbours_of_one_strip_swap(doc: Document) -> None:
    """The shelf goes to the start, the side a kerf behind its 30: one step, taken back exactly."""
    before, steps = doc.project, doc.undo_stack.count()
    assert swap_parts(doc, SIDE_1, SHELF_1)
    assert corner(doc, SHELF_1) == (0, 0)
    assert corner(doc, SIDE_1) == (30 * INCH + KERF, 0)
    assert doc.problems == {}
    assert doc.undo_stack.count() == steps + 1
    assert doc.undo_stack.undoText() == "swap Side 1 and Shelf 1"
    assert swap_parts(doc, SIDE_1, SHELF_1)
    assert corner(doc, SIDE_1) == (0, 0)
    doc.undo()
    doc.undo()
    assert doc.project == before


def test_what_lies_about_them_gives_way(doc: Document) -> None:
    """A side takes the place of a shelf between two: they part by what it is longer, 10 in."""
    edit_layout.put_back(doc, [SIDE_2])
    edit_layout.set_aside(doc, [SIDE_2, SHELF_3])
    edit_layout.move_part(doc, "shelf", 3, "1", 30 * INCH + KERF, 24 * INCH + 2 * KERF)
    lying = {one.key: one.rect for one in doc.layout.sheets[0].placements}
    assert swap_parts(doc, SIDE_1, ("shelf", 3))
    assert doc.problems == {}
    after = {one.key: one.rect for one in doc.layout.sheets[0].placements}
    assert after[SIDE_1].overlaps(lying[SHELF_3])
    assert after[SHELF_3].overlaps(lying[SIDE_1])


def test_where_there_is_no_room_nothing_moves_and_it_is_said() -> None:
    """A side, 40 long, has 35 3/4 at the place of the last shelf; the one before it is locked."""
    doc = document()
    edit_locks.hold(doc, Scope.PART, [("shelf", 2)])
    before, said = doc.project, list[str]()
    doc.said.connect(said.append)
    assert not swap_parts(doc, SIDE_1, SHELF_3)
    assert doc.project == before
    assert said == ["Side 1 and Shelf 3 cannot swap: Shelf 2 is locked."]
