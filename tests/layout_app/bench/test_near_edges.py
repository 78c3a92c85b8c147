"""Parts are resized by their near edges too: the edge across stays where it is."""

from dataclasses import replace

import pytest
from PySide6.QtCore import Qt

from layout_app.bench.resizing import CURSORS
from layout_app.bench.spots import EDGES, Edge
from layout_app.model.snapping import snap_end
from layout_app.model.stops import SnapGround, Way
from shared.geometry import Rect
from shared.lengths import format_pair, format_with_remainder
from tests.layout_app.bench.two_sheets import KERF, inches

SHELF_2 = ("2", 15, 17)


def test_the_left_edge_resizes_and_moves_the_corner(maker):
    """The shelf from 30 to 60, its left edge drawn to 40: 20 long, ending at 60 as before."""
    maker.drag(("1", 15, 17), ("1", 45, 17.3))
    x, y = maker.corner("shelf", 1)[1:]
    right = x + inches(30)
    before = maker.doc.project
    maker.click("1", 50, 17)
    maker.drag(
        ("1", x / inches(1), y / inches(1) + 5), ("1", x / inches(1) + 10, y / inches(1) + 5)
    )
    lies = maker.view.hand.document.layout.find(("shelf", 1))
    assert lies.rect.right == right
    assert lies.length == maker.doc.job.part("shelf").length
    assert abs(lies.length - inches(20)) < inches(1)
    size = format_pair(lies.length, inches(10), maker.doc.job.style)
    assert maker.doc.undo_stack.undoText() == f"resize Shelf to {size}"
    maker.doc.undo()
    assert maker.doc.project == before


def test_other_copies_keep_their_corners(maker):
    """The top edge of one shelf, moved up or down, changes the size of the other only."""
    maker.doc.selection.select_parts([("shelf", 1)])
    before = maker.corner("shelf", 2)
    maker.drag(("1", 15, 97 / 8), ("1", 15, 97 / 8 + 2))
    other = maker.view.hand.document.layout.find(("shelf", 2))
    assert maker.corner("shelf", 2) == before
    assert other.width == maker.doc.job.part("shelf").width
    assert abs(other.width - inches(8)) < inches("1/2")
    one = maker.view.hand.document.layout.find(("shelf", 1))
    assert one.rect.bottom == inches("97/8") + inches(10)


def test_a_corner_moves_two_edges(maker):
    """By the upper left corner L and W change, and the corner across stays."""
    maker.doc.selection.select_parts([("shelf", 1)])
    maker.drag(("1", 0, 97 / 8), ("1", 3, 97 / 8 + 2))
    one = maker.view.hand.document.layout.find(("shelf", 1))
    assert (one.rect.right, one.rect.bottom) == (inches(30), inches("97/8") + inches(10))
    assert one.length < inches(30)
    assert one.width < inches(10)
    assert maker.steps == 1


def test_escape_leaves_the_part_as_it_was(maker):
    """Nothing has changed."""
    before = maker.doc.project
    maker.doc.selection.select_parts([("shelf", 1)])
    maker.drag(("1", 15, 97 / 8), ("1", 15, 97 / 8 + 2), drop=False)
    assert maker.view.hand.busy
    maker.key(Qt.Key.Key_Escape)
    assert maker.doc.project == before


def test_a_near_edge_snaps_a_kerf_behind_a_neighbour():
    """Drawn to about a neighbour that ends at 20, it stops at 20 1/8; the far edge stays."""
    sheet = Rect(x=0, y=0, length=inches(96), width=inches(48))
    other = Rect(x=0, y=0, length=inches(20), width=inches(10))
    ground = SnapGround(usable=sheet, others=(other,), kerf=KERF)
    drawn = Rect(x=inches("81/4"), y=0, length=inches(10), width=inches(5))
    ended = snap_end(drawn, ground, Way.X, inches(1), far=False)
    assert ended == replace(drawn, x=inches("161/8"), length=drawn.right - inches("161/8"))


@pytest.mark.parametrize("edge", EDGES)
def test_each_edge_has_a_cursor(edge: Edge):
    """The pointer says which way the edge goes."""
    assert edge in CURSORS


def test_distances_are_shown_while_resizing(maker):
    """The shelf drawn to 40 x 10 leaves 56 on its right, and says so until it is let go."""
    maker.doc.selection.select_parts([("shelf", 2)])
    maker.drag(("2", 30, 17), ("2", 40.1, 17), drop=False)
    resizing = maker.view.hand.interaction
    gap = inches(96) - resizing.rect.right
    assert format_with_remainder(gap, maker.doc.job.style) in resizing.measures.words
    maker.view.hand.cancel()
