"""Repairs of sheets that can't be cut: the least first, sawn, and nothing locked is moved."""

from dataclasses import replace

from layout_app.document import edit_layout, edit_locks
from layout_app.document.edit_repair import RepairCosts, repair_sheet
from layout_app.model.in_the_way import InTheWay, in_the_way
from layout_app.model.repairing import Repair, repairs
from layout_app.model.words.repair_words import repair_words
from shared.layout import Scope
from tests.layout_app.bench.two_sheets import document, inches
from tests.soak.repairing import try_repairs

SHELF, SIDE_1 = ("shelf", 1), ("side", 1)


def spoiled():
    """Return a document whose shelf lies 1/2 in over the first side, which ends at 12."""
    doc = document()
    edit_layout.move_part(doc, *SHELF, "1", inches(3), inches("23/2"))
    return doc


def found(doc):
    """Return all repairs of sheet 1."""
    return [one for one in repairs(doc.project, "1") if one is not None]


def said(doc, one: Repair) -> str:
    """Return the words of a repair."""
    return repair_words(doc.job, doc.layout, one)


def test_the_least_change_comes_first() -> None:
    """The shelf goes 1/2 in and a kerf of 1/8 down; what sets parts aside comes last."""
    doc = spoiled()
    known = found(doc)
    assert said(doc, known[0]) == "Move Shelf 1 down by 5/8 in: sheet 1 can be cut."
    asides = [bool(one.aside) for one in known]
    assert asides == sorted(asides)
    assert said(doc, known[-1]) == "Set Side 1 aside: sheet 1 can be cut."
    for one in known:
        assert repair_sheet(doc, one)
        assert doc.problems == {}
        doc.undo()


def test_one_step_that_undo_takes_back_exactly() -> None:
    """Undo shows the sheet that can't be cut as it was, its last cuts included."""
    doc = spoiled()
    before, last, steps = doc.sawn, doc.layout.sheet("1").last, doc.undo_stack.index()
    assert repair_sheet(doc, found(doc)[0])
    assert doc.undo_stack.index() == steps + 1
    doc.undo()
    assert doc.sawn == before
    assert doc.layout.sheet("1").last == last


def test_what_is_locked_stays() -> None:
    """The side is locked with its strip, so the shelf goes; the lock is in force again after it."""
    doc = document()
    edit_locks.hold(doc, Scope.PART, [SIDE_1])
    edit_layout.move_part(doc, *SHELF, "1", inches(50), inches("23/2"))
    assert not doc.held.in_force
    side = doc.layout.find(SIDE_1)
    known = found(doc)
    assert known
    for one in known:
        repair_sheet(doc, one)
        assert doc.layout.find(SIDE_1) == side
        assert len(doc.held.in_force) == 1
        doc.undo()


def test_a_part_against_the_grain_is_turned_and_one_of_another_material_set_aside() -> None:
    """A turned side breaks its rule where it lies; no turning helps a part of oak."""
    doc = document()
    sheet = doc.layout.sheet("1")
    lies = doc.layout.find(SIDE_1)
    across = replace(lies, turned=True, length=lies.width, width=lies.length, x=inches(84))
    rest = [one for one in sheet.placements if one.key != SIDE_1]
    layout = doc.layout.with_sheet(sheet.recut((*rest, across), None))
    project = replace(doc.project, layout=layout)
    first = next(filter(None, repairs(project, "1")))
    assert [one.turned for one in first.moved] == [False]
    parts = tuple(
        replace(one, material="oak") if one.id == "shelf" else one for one in doc.job.parts
    )
    oak = replace(doc.project, job=replace(doc.job, parts=parts))
    oak = replace(oak, layout=oak.layout.with_sheet(sheet.recut(sheet.placements, None)))
    assert [one.aside for one in filter(None, repairs(oak, "1"))] == [(SHELF,)]


def test_a_sheet_that_can_be_cut_or_holds_what_has_no_size_has_no_repair() -> None:
    """There is nothing to mend on a good sheet; nobody knows where a side of -5 in lies."""
    assert found(document()) == []
    doc = spoiled()
    sheet = doc.layout.sheet("1")
    first, *rest = sheet.placements
    wrong_sheet = replace(sheet, placements=(replace(first, length=inches(-5)), *rest))
    wrong = replace(doc.project, layout=doc.layout.with_sheet(wrong_sheet))
    assert list(repairs(wrong, "1")) == []
    assert in_the_way(wrong.job, wrong.layout.sheet("1")) == InTheWay()


def test_spoiled_sheets_get_repairs_that_hold() -> None:
    """The short form of the soak: every repair is sawn, undone exactly, and no lock is moved."""
    seen = try_repairs(8, seed=7, most=10)
    assert seen.repaired == 8
    assert (seen.false, seen.unlocked, seen.not_undone) == (0, 0, 0)


def test_a_repair_is_compared_with_the_last_cuts() -> None:
    """3 in off the edge of its strip the shelf takes one more crosscut than at its end."""
    doc = spoiled()
    costs = RepairCosts(doc, "1")
    known = found(doc)
    cost = costs.of(known[0])
    assert cost is not None
    assert (cost.cuts, cost.price, cost.opened) == (1, 0, ())
    assert costs.of(known[-1]) is None
