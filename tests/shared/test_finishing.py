"""Blanks are brought to their final size: what is drawn, told and sawn agrees."""

from dataclasses import replace

import pytest

from shared.cuts.sequence import saw_up
from shared.drawing import Role, draw_sheet
from shared.geometry import Rect
from shared.lengths import MM
from shared.making.outcome import PieceFate
from shared.plan import CutKind
from shared.saw import lying, verify
from shared.shop import Span
from shared.telling import instructions, instructions_of
from tests.finishing_job import JOB, KERF, SHOP, TABLE_KERF, layout, plan

PLAN = plan()
FINISHED = Rect(x=0, y=0, length=600 * MM, width=300 * MM)
BLANK = Rect(x=0, y=0, length=606 * MM, width=306 * MM)


def told():
    """Return the instructions by number."""
    return {one.number: one for one in instructions(PLAN, SHOP, JOB.style)}


def drawn(upto=None):
    """Draw the only sheet."""
    return draw_sheet(PLAN, "1", JOB.style, upto)


def boxes(role, upto=None):
    """Return the rectangles of a role by key."""
    return {box.key: box.rect for box in drawn(upto).boxes if box.role is role}


def test_the_simulated_saw_accepts_both_kerfs():
    """Six cuts at the rail, then two at each blank that is finished; the fit part waits."""
    assert verify(PLAN) == ()
    kinds = [(cut.kind, cut.tool, cut.kerf) for cut in PLAN.cuts]
    rail, table = ("track saw", KERF), ("table saw", TABLE_KERF)
    assert kinds == [
        *[(CutKind.RIP, *rail)] * 3,
        *[(CutKind.CROSSCUT, *rail)] * 3,
        *[(CutKind.FINISH, *table)] * 2,
        *[(CutKind.FINISH, *rail)] * 2,
    ]


def test_what_is_drawn_is_what_lies_on_the_sawhorses_at_the_end():
    """Parts, falls and slivers as drawn are the pieces the simulated saw is left with."""
    shown = [
        *boxes(Role.PART).values(),
        *boxes(Role.WASTE).values(),
        *boxes(Role.KEEPER).values(),
    ]
    lies = [piece.rect for piece in lying(PLAN, len(PLAN.cuts) + 1)]
    assert sorted(shown, key=repr) == sorted(lies, key=repr)


def test_finished_sheet_shows_the_part_inside_its_blank_and_slivers_as_waste():
    """606 × 306 becomes 600 × 300; the table saw leaves 2.8 of the 6 both ways."""
    assert boxes(Role.BLANK) == {
        "blank:side:1": BLANK,
        "blank:front:1": Rect(x=0, y=306 * MM + KERF, length=406 * MM, width=206 * MM),
    }
    assert boxes(Role.PART)["part:side:1"] == FINISHED
    sliver = 28 * MM // 10
    across = Rect(x=600 * MM + TABLE_KERF, y=0, length=sliver, width=306 * MM)
    along = Rect(x=0, y=300 * MM + TABLE_KERF, length=600 * MM, width=sliver)
    assert {across, along} <= set(boxes(Role.WASTE).values())
    lines = {label.key: label for label in drawn().labels}
    assert lines["part:side:1"].lines == ("Side", "L 600 × W 300")
    assert lines["part:front:1"].lines == ("Front", "L 403 × W 198")
    assert lines["part:back:1"].lines == ("Back", "blank L 304 × W 154")
    assert lines["part:back:1"].note == "left oversize: measure the opening first"


@pytest.mark.parametrize("upto", range(1, 12))
def test_every_state_covers_the_sheet(upto):
    """In each state what lies there and dust add up to the sheet, to the tick."""
    aside = (Role.SHEET, Role.COMING, Role.BLANK)
    inner = [box for box in drawn(upto).boxes if box.role not in aside]
    assert sum(box.rect.area for box in inner) == PLAN.sheets[0].rect.area


def test_a_blank_lies_there_whole_until_it_is_finished():
    """Before cut 7 all blanks are free: the side is cut, the front lies there as its blank."""
    assert boxes(Role.PART, 7)["part:front:1"] == boxes(Role.BLANK)["blank:front:1"]
    assert boxes(Role.KEPT, 7) == {"piece:1a1a": Rect(x=0, y=0, length=600 * MM, width=306 * MM)}
    assert boxes(Role.COMING, 7)["part:side:1"] == FINISHED
    assert boxes(Role.COMING, 3)["part:side:1"] == BLANK
    lines = {label.key: label.lines for label in drawn(7).labels}
    assert lines["part:front:1"] == ("Front", "blank L 406 × W 206")
    assert lines["piece:1a1a"] == ("keep: 1a1a", "L 600 × W 306")


def test_after_the_last_cut_the_finished_sheet_is_seen():
    """One more than the last number draws what the finished sheet does, less the outlines."""
    finished = {box for box in drawn().boxes if box.role is not Role.BLANK}
    assert set(drawn(11).boxes) == finished
    assert set(drawn(11).labels) == set(drawn().labels)


def test_instructions_say_what_becomes_of_blanks():
    """Crosscuts leave blanks, finishing cuts parts; the waiting one is left oversize."""
    found = told()
    ends = [(one.end, one.part, one.next_cut) for one in (found[n].near for n in range(4, 11))]
    assert ends == [
        (PieceFate.BLANK, "Side", 7),
        (PieceFate.BLANK, "Front", 9),
        (PieceFate.WAITS, "Back", 0),
        (PieceFate.BLANK, "Side", 8),
        (PieceFate.PART, "Side", 0),
        (PieceFate.BLANK, "Front", 10),
        (PieceFate.PART, "Front", 0),
    ]
    assert {found[number].far.end for number in range(7, 11)} == {PieceFate.WASTE}


def test_finishing_at_the_table_saw_is_set_at_the_fence():
    """Cuts 7 and 8 are set at the fence and told of the table saw, 9 and 10 at stop and guide."""
    found = told()
    assert [found[number].set_line for number in range(7, 11)] == [
        "Set fence 600",
        "Set fence 300",
        "Set stop 403",
        "Set guide 198",
    ]
    for number in (7, 8):
        at_table = found[number]
        assert at_table.tool == "table saw"
        assert at_table.led == "table saw"
        assert at_table.bed.endswith("against the fence")
        assert not at_table.position
        assert "table" in {caution.code for caution in at_table.cautions}
    assert found[9].tool == "track saw"
    assert "table" not in {caution.code for caution in found[9].cautions}


def test_plan_that_was_left_off_is_told_with_the_one_that_follows():
    """Seven cuts made, the rest planned anew: what was set keeps its name over both."""
    made = replace(PLAN, cuts=PLAN.cuts[:7])
    found = instructions_of((made, plan(first=8)), SHOP, JOB.style)
    assert [one.number for one in found] == list(range(1, 18))
    assert found[6].near.end is PieceFate.BLANK
    assert {one.setting.name for one in found[:7]} < {one.setting.name for one in found[7:]}


def test_numbering_may_go_on_from_an_earlier_plan():
    """A plan whose first cut is 21 is drawn and told like the first, 20 higher."""
    later = plan(first=21)
    assert verify(later) == ()
    shown = draw_sheet(later, "1", JOB.style, upto=27)
    assert {box.rect for box in shown.boxes} == {box.rect for box in drawn(7).boxes}
    assert [one.number for one in instructions(later, SHOP, JOB.style)] == list(range(21, 31))


def test_a_size_beyond_the_fence_is_finished_at_the_rail():
    """A fence that opens to 400 finishes the 300 of the side; its 600 is sawn with the other saw.

    Older plans finish it at the table saw all the same, and are still accepted.
    """
    table = replace(SHOP.table, fence=Span(least=25 * MM, most=400 * MM))
    job = replace(JOB, shop=replace(SHOP, table=table))
    made = saw_up(job, [layout()])
    assert verify(made) == ()
    finished = [(cut.tool, cut.size) for cut in made.cuts if cut.kind is CutKind.FINISH][:2]
    assert finished == [("track saw", 600 * MM), ("table saw", 300 * MM)]
    before = plan()
    assert verify(replace(before, shop=job.shop)) == ()
