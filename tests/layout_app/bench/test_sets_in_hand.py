"""Matched sets in the hand: members keep their block, and one joins its neighbours."""

from dataclasses import replace

import pytest
from PySide6.QtCore import QPoint

from layout_app.bench.view import BenchView
from layout_app.document import edit_layout, edit_parts
from layout_app.document.document import Document
from layout_app.document.push_aside import PushAside
from layout_app.look.theme import Theme
from layout_app.model.carried import called
from layout_app.model.stops import LineKind
from shared.job import MatchGroup
from tests.layout_app.bench.conftest import Maker
from tests.layout_app.bench.two_sheets import JOB, KERF, document, inches, lay
from tests.layout_app.doing import SHELF_1, SIDE_1, SIDE_2

SIDE_3 = ("side", 3)


def matched(job, copies):
    """Return a job with so many sides, a set of two columns."""
    side, *others = job.parts
    side = replace(side, group="sides", copies=copies)
    return replace(job, parts=(side, *others), groups=(MatchGroup(name="sides", columns=2),))


@pytest.fixture
def doc():
    """Return the document with the two sides of sheet 1 as a set."""
    made = document()
    edit_parts.edit_part(made, replace(made.job.part("side"), copies=2))
    return Document(replace(made.project, job=matched(made.job, 2)))


@pytest.fixture
def maker(qtbot, doc):
    """Return a maker at a shown bench."""
    view = BenchView(doc, Theme.light())
    qtbot.addWidget(view)
    view.resize(1000, 900)
    view.show()
    qtbot.waitExposed(view)
    return Maker(view, doc)


def corners(cargo):
    """Return where the corners of parts in the hand lie from that of the first one."""
    return {one.key: (one.dx, one.dy) for one in cargo.pieces}


def test_members_off_the_tray_lie_as_their_set_has_them():
    """40 + 1/8 to the second of a row, 12 + 1/8 down to the second row; turned, x is y."""
    right, down = inches(40) + KERF, inches(12) + KERF
    cargo = called(matched(JOB, 4), [SIDE_1, SIDE_2, SIDE_3])
    assert corners(cargo) == {SIDE_1: (0, 0), SIDE_2: (right, 0), SIDE_3: (0, down)}
    turned = cargo.flipped()
    assert corners(turned) == {SIDE_1: (0, 0), SIDE_2: (0, right), SIDE_3: (down, 0)}


def test_what_is_in_no_set_follows_in_the_row():
    """Of the set one column is taken, and a shelf lies a kerf behind it."""
    cargo = called(matched(JOB, 4), [SIDE_1, SIDE_3, SHELF_1])
    assert corners(cargo)[SIDE_3] == (0, inches(12) + KERF)
    assert corners(cargo)[SHELF_1] == (inches(40) + KERF, 0)


def test_a_member_let_go_near_its_neighbour_joins_it(maker):
    """Side 2 comes back from farther along, 9 px off each way, and says whom it lies beside."""
    edit_layout.move_part(maker.doc, *SIDE_2, "1", inches(50), 0)
    start, goal = maker.at("1", 60, 6), maker.at("1", 50.125, 6) + QPoint(9, 9)
    maker.drag(start, goal, drop=False)
    place = maker.view.hand.interaction._place
    assert [one.kind for one in place.guides] == [LineKind.SET]
    maker.release(goal)
    assert maker.corner(*SIDE_2) == ("1", inches(40) + KERF, 0)
    assert maker.doc.problems == {}


def test_a_set_that_is_pushed_stays_together(doc):
    """A shelf before two sides of a set: both go along by as much, and lie beside each other."""
    shelf = replace(lay("shelf", 1, "1", 0, 0), length=inches(10), turned=True, width=inches(30))
    found = PushAside(doc, [SHELF_1]).push([shelf])
    assert found.why == ""
    gone = {one.key: one for one in found.moved}
    assert gone.keys() == {SIDE_1, SIDE_2}
    assert gone[SIDE_2].x - gone[SIDE_1].x == inches(40) + KERF
    assert gone[SIDE_2].y == gone[SIDE_1].y
