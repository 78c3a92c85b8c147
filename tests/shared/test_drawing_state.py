"""A sheet just before a cut, drawn from the simulated saw's sawhorses."""

import pytest

from shared.drawing import Role, draw_sheet
from shared.lengths import LengthStyle
from shared.saw import verify
from tests.shared.small_plan import PLAN, SHEET, E


def drawn(upto):
    """Draw the small plan's only sheet just before a cut."""
    return draw_sheet(PLAN, "1", LengthStyle(), upto=upto)


def roles(upto):
    """Return the keys of all boxes but those of parts to come, by role."""
    found = {}
    for box in drawn(upto).boxes:
        found.setdefault(box.role, set()).add(box.key)
    found.pop(Role.COMING, None)
    found.pop(Role.SHEET)
    return found


def test_the_small_plan_can_be_sawn():
    """The saw accepts the plan that these tests draw."""
    assert verify(PLAN) == ()


def test_before_the_trim_the_whole_sheet_is_cut():
    """The trim cuts piece 1: the sliver is waste, what is kept is still piece 1."""
    assert roles(1) == {Role.LEFT: {"piece:trim"}, Role.KEPT: {"piece:1"}, Role.CUT: {"cut:1"}}
    lines = {label.key: label.lines for label in drawn(1).labels}
    assert lines["piece:trim"] == ("left: waste", "L 20 × W 1/8")
    assert lines["piece:1"] == ("keep: 1", "L 20 × W 9 3/4")


def test_before_a_rip_the_strip_is_sawn_off_and_the_rest_stays():
    """Cut 3 saws strip 1b, 3 wide, off piece 1; 2 1/2 stay; strip 1a lies there as one."""
    assert roles(3) == {
        Role.TRIM: {"trim:1"},
        Role.PIECE: {"piece:1a"},
        Role.KEPT: {"piece:1b"},
        Role.LEFT: {"piece:1"},
        Role.CUT: {"cut:3"},
        Role.KERF: {"cut:1", "cut:2"},
    }
    sizes = {box.key: box.rect.width for box in drawn(3).boxes if box.role is not Role.COMING}
    assert (sizes["piece:1b"], sizes["piece:1"]) == (24 * E, 20 * E)


def test_before_a_crosscut_the_free_parts_are_parts():
    """Before cut 5 one rail is free, the second is sawn off, and 3 3/4 of 1a stays."""
    found = roles(5)
    assert found[Role.PART] == {"part:a:1"}
    assert found[Role.KEPT] == {"piece:1a2"}
    assert found[Role.LEFT] == {"piece:1a"}
    assert found[Role.PIECE] == {"piece:1b"}
    assert found[Role.KEEPER] == {"piece:1"}


def test_parts_to_come_are_shown_where_they_will_be():
    """Before cut 5 the second rail and the shelf are still to come."""
    coming = {box.key for box in drawn(5).boxes if box.role is Role.COMING}
    assert coming == {"part:a:2", "part:b:1"}


@pytest.mark.parametrize("upto", range(1, 8))
def test_every_state_covers_the_sheet(upto):
    """In each state what lies there, dust and slivers add up to the sheet, to the tick."""
    inner = [box for box in drawn(upto).boxes if box.role not in (Role.SHEET, Role.COMING)]
    assert sum(box.rect.area for box in inner) == SHEET.rect.area


def test_after_the_last_cut_the_finished_sheet_is_seen():
    """One more than the last number draws the same boxes as the finished sheet."""
    finished = draw_sheet(PLAN, "1", LengthStyle())
    assert set(drawn(7).boxes) == set(finished.boxes)
    assert set(drawn(7).labels) == set(finished.labels)


def test_tags_tell_done_from_coming():
    """Before cut 4 the tags 1 to 3 are done and 4 is current."""
    tags = drawn(4).tags
    assert [tag.number for tag in tags if tag.done] == [1, 2, 3]
    assert [tag.number for tag in tags if tag.current] == [4]
