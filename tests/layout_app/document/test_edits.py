"""Hands: each changes the document as one named undo step, and undo takes all of it back."""

from collections.abc import Callable
from dataclasses import replace

import pytest

from layout_app.document import edit_job, edit_layout, edit_parts
from layout_app.document.document import Document
from shared.lengths import INCH, LengthStyle, Unit
from shared.parts import GrainRule
from shared.plan import Placement
from shared.saw import verify
from shared.shop import CutRule, FirstCut
from tests.layout_app.small_job import document, part

pytestmark = pytest.mark.usefixtures("qapp")

Hand = Callable[[Document], bool]


def lies(doc: Document, part_id: str, copy: int) -> Placement:
    """Return where a copy lies."""
    found = doc.layout.find((part_id, copy))
    assert found is not None
    return found


def free_sheet(doc: Document) -> str:
    """Lay an empty sheet out and return its number, with nothing to undo."""
    edit_layout.add_sheet(doc, "full")
    doc.undo_stack.clear()
    return doc.layout.sheets[-1].id


def wait_some(doc: Document) -> bool:
    """Set two copies aside."""
    return edit_layout.set_aside(doc, [("side", 1), ("side", 2)])


def move(doc: Document) -> bool:
    """Move a part to the corner of an empty sheet."""
    return edit_layout.move_part(doc, "side", 1, doc.layout.sheets[-1].id, 0, 0)


def edit_stock(doc: Document) -> bool:
    """Make the sheets a foot longer."""
    return edit_job.edit_stock(doc, replace(doc.job.stock[0], length=108 * INCH))


HANDS: dict[str, Hand] = {
    "move Side 1": move,
    "set Side 1 aside": lambda doc: edit_layout.set_aside(doc, [("side", 1)]),
    "set 2 parts aside": wait_some,
    "resize Shelf to L 28 × W 9": lambda doc: edit_parts.resize_part(
        doc, "shelf", 28 * INCH, 9 * INCH
    ),
    "grain of Shelf either": lambda doc: edit_parts.set_grain_rules(
        doc, ["shelf"], GrainRule.EITHER
    ),
    "move a rip of sheet 1 later": lambda doc: edit_layout.move_rip(doc, "1", 0, 1),
    "lay out a sheet of full sheet": lambda doc: edit_layout.add_sheet(doc, "full"),
    "edit Side": lambda doc: edit_parts.edit_part(doc, replace(doc.job.part("side"), copies=2)),
    "add Foot": lambda doc: edit_parts.add_parts(doc, [part("foot", "Foot", (8, 4))]),
    "remove Shelf": lambda doc: edit_parts.remove_parts(doc, ["shelf"]),
    "edit full sheet": edit_stock,
    "add half": lambda doc: edit_job.add_stock(
        doc, [replace(doc.job.stock[0], id="half", name="half", width=24 * INCH)]
    ),
    "remove full sheet": lambda doc: edit_job.remove_stock(doc, ["full"]),
    "edit the shop": lambda doc: edit_job.edit_shop(doc, replace(doc.job.shop, kerf=INCH // 16)),
    "change the rule": lambda doc: edit_job.edit_rule(
        doc, CutRule(levels=2, first=FirstCut.CROSSCUT)
    ),
    "change units": lambda doc: edit_job.edit_style(doc, LengthStyle(unit=Unit.MM)),
    "duplicate Shelf 1": lambda doc: edit_parts.duplicate(doc, [("shelf", 1)]),
    "remove sheet 1": lambda doc: edit_layout.remove_sheet(doc, "1"),
    "rename": lambda doc: edit_job.rename_job(doc, "Another name"),
}


@pytest.mark.parametrize("text", HANDS)
def test_each_hand_is_one_named_step(text: str) -> None:
    """A hand pushes one command of its name; undo and redo go back and forth exactly."""
    doc = document()
    free_sheet(doc)
    before = doc.project
    assert HANDS[text](doc)
    after = doc.project
    assert doc.undo_stack.count() == 1
    assert doc.undo_stack.undoText() == text
    assert after != before
    doc.undo_stack.undo()
    assert doc.project == before
    doc.undo_stack.redo()
    assert doc.project == after


@pytest.mark.parametrize("text", HANDS)
def test_whatever_is_shown_as_plan_passes_the_saw(text: str) -> None:
    """After every hand the document's plan is one the simulated saw accepts, or there is none."""
    doc = document()
    free_sheet(doc)
    HANDS[text](doc)
    assert doc.plan is None or verify(doc.plan) == ()
    assert "" not in doc.problems


NOTHING: dict[str, Hand] = {
    "move to where it lies": lambda doc: edit_layout.move_part(
        doc, "side", 1, lies(doc, "side", 1).sheet, lies(doc, "side", 1).x, lies(doc, "side", 1).y
    ),
    "same size": lambda doc: edit_parts.resize_part(doc, "side", 40 * INCH, 12 * INCH),
    "same rule": lambda doc: edit_parts.set_grain_rules(doc, ["side"], GrainRule.ALONG_LENGTH),
    "same place of a rip": lambda doc: edit_layout.move_rip(doc, "1", 1, 1),
    "same row": lambda doc: edit_parts.edit_part(doc, doc.job.part("side")),
    "no rows": lambda doc: edit_parts.add_parts(doc, []),
    "same shop": lambda doc: edit_job.edit_shop(doc, doc.job.shop),
    "turn against the grain": lambda doc: edit_layout.turn_parts(doc, [("side", 1)]),
    "nobody to put back": lambda doc: edit_layout.put_back(doc, [("side", 1)]),
}


@pytest.mark.parametrize("what", NOTHING)
def test_what_changes_nothing_is_no_step(what: str) -> None:
    """A hand that leaves all as it was, or may not act, leaves no trace to undo."""
    doc = document()
    before = doc.project
    assert not NOTHING[what](doc)
    assert doc.undo_stack.count() == 0
    assert doc.project is before


def test_move_between_sheets_marks_both_as_yours() -> None:
    """The sheet a part leaves and the sheet it comes to are yours from now on."""
    doc = document()
    new = free_sheet(doc)
    old = lies(doc, "side", 1).sheet
    edit_layout.move_part(doc, "side", 1, new, 0, 0)
    yours = {sheet.id for sheet in doc.layout.sheets if sheet.yours}
    assert yours == {old, new}
    assert lies(doc, "side", 1).sheet == new


def test_turned_part_keeps_its_corner_and_exchanges_its_sides() -> None:
    """A part free of the grain turns about its reference corner."""
    doc = document()
    edit_parts.set_grain_rules(doc, ["side"], GrainRule.EITHER)
    new = free_sheet(doc)
    edit_layout.move_part(doc, "side", 1, new, 5 * INCH, 6 * INCH)
    assert edit_layout.turn_parts(doc, [("side", 1)])
    at = lies(doc, "side", 1)
    assert (at.x, at.y, at.length, at.width, at.turned) == (
        5 * INCH,
        6 * INCH,
        12 * INCH,
        40 * INCH,
        True,
    )


def test_part_that_may_not_turn_says_why() -> None:
    """Turning against the grain rule is answered with a sentence that names the rule."""
    doc = document()
    heard: list[str] = []
    doc.said.connect(heard.append)
    edit_layout.turn_parts(doc, [("side", 1)])
    assert heard == ["Side 1 cannot turn here: its grain runs along length."]


def test_waiting_part_is_left_waiting_until_called_back() -> None:
    """Set aside is kept apart from not placed for want of room."""
    doc = document()
    edit_layout.set_aside(doc, [("side", 1)])
    assert [(w.part, w.copy, w.sent) for w in doc.layout.waiting] == [("side", 1, True)]
    assert edit_layout.put_back(doc, [("side", 1)])
    assert [(w.part, w.copy, w.sent) for w in doc.layout.waiting] == [("side", 1, False)]


def test_moved_rip_changes_place_with_its_strip() -> None:
    """The first strip moved one place later begins where the second ended less itself.

    Strips of widths a and b with a kerf k between: b now lies at 0, a at b + k.
    """
    doc = document()
    tree = doc.layout.sheets[0].tree
    assert tree is not None
    first, second = tree.pieces[:2]
    edit_layout.move_rip(doc, "1", 0, 1)
    now = doc.layout.sheets[0].tree
    assert now is not None
    assert now.pieces[:2] == (second, first)
    tops = sorted({p.y for p in doc.layout.sheets[0].placements})
    assert second.size + doc.job.shop.kerf in tops


def test_resized_part_stays_under_the_hand_that_resizes_it() -> None:
    """The sheet of the copy whose edge moved becomes yours, and the copy keeps its corner there."""
    doc = document()
    at = lies(doc, "shelf", 1)
    edit_parts.resize_part(doc, "shelf", 28 * INCH, 10 * INCH, copy=1)
    now = lies(doc, "shelf", 1)
    assert (now.sheet, now.x, now.y, now.length) == (at.sheet, at.x, at.y, 28 * INCH)
    assert doc.layout.sheet(at.sheet).yours


def test_emptied_sheet_goes_but_laid_out_sheets_stay() -> None:
    """A sheet loses its place with its last part; sheets laid out empty wait for parts."""
    doc = document()
    one = free_sheet(doc)
    two = free_sheet(doc)
    edit_layout.move_part(doc, "side", 1, one, 0, 0)
    assert {one, two} <= {sheet.id for sheet in doc.layout.sheets}
    edit_layout.move_part(doc, "side", 1, two, 0, 0)
    assert one not in {sheet.id for sheet in doc.layout.sheets}
