"""The tint of a rip width is the same from plan to plan."""

from collections.abc import Mapping
from dataclasses import replace

import pytest

from layout_app.bench.drawings import Drawings
from layout_app.document import edit_parts
from layout_app.document.document import Document
from layout_app.model.project import Project
from layout_app.model.tints import Tints
from layout_app.panels.ticks import all_cards
from shared.lengths import INCH, Length
from shared.plan import Plan
from shared.shop import Axis
from shared.tree import Piece, Place, Run
from tests.layout_app.adopting import adopt
from tests.layout_app.small_job import document, planned, small_job

pytestmark = pytest.mark.usefixtures("qapp")


def ripped(*widths: int) -> Plan:
    """Return a plan of one sheet with strips of these widths, in inches."""
    [sheet] = planned(small_job()).sheets
    pieces = (Piece(size=wide * INCH, place=Place(part="side", copy=1)) for wide in widths)
    return Plan(sheets=(replace(sheet, tree=Run(axis=Axis.RIP, pieces=tuple(pieces))),))


def numbers(tints: Tints, plan: Plan, before: Plan | None = None) -> Mapping[Length, int]:
    """Return the numbers of the widths of a plan once it is shown."""
    tints.follow(plan, before)
    return tints.shown


def test_widths_that_change_order_keep_their_tints() -> None:
    """Twelve before ten, then ten before twelve with nine between: only nine is new."""
    tints = Tints()
    first = numbers(tints, ripped(12, 10))
    later = numbers(tints, ripped(10, 9, 12))
    assert {wide: later[wide] for wide in first} == first
    assert len(set(later.values())) == 3


def test_a_width_that_comes_back_has_the_tint_it_had() -> None:
    """Ten gone and back, with another width in between: no two in sight are alike."""
    tints = Tints()
    first = numbers(tints, ripped(12, 10))
    numbers(tints, ripped(12, 9))
    assert numbers(tints, ripped(12, 9, 10))[10 * INCH] == first[10 * INCH]


def test_plans_that_come_and_go_leave_its_tint_to_a_width_that_was_there_before_them() -> None:
    """Six of eight tints are shown; a run has three other widths, keeps one, and ten is back."""
    tints, before = Tints(), ripped(12, 11, 10, 8, 7, 6)
    first = numbers(tints, before)
    for among in (ripped(12, 11, 1, 2, 3, 7), ripped(12, 11, 1, 4, 5, 3, 7)):
        numbers(tints, among, before)
    last = numbers(tints, ripped(12, 11, 3, 10, 8, 7, 6), before)
    assert {wide: last[wide] for wide in first} == first
    assert len(set(last.values())) == 7


def test_a_clash_changes_only_the_width_that_comes_back() -> None:
    """Eight widths took all tints meanwhile and keep them; the one that is back gives way."""
    tints = Tints()
    numbers(tints, ripped(1))
    among = numbers(tints, ripped(*range(2, 10)))
    again = numbers(tints, ripped(1, *range(2, 10)))
    assert {wide: again[wide] for wide in among} == among
    assert len(set(again.values())) == 9


def test_bench_and_cards_show_them_alike() -> None:
    """With the shelves gone, sides have the tint they had, on the bench and on their cards."""
    doc = document()
    before = dict(doc.tints.shown)
    edit_parts.remove_parts(doc, ["side"])
    edit_parts.add_parts(doc, [replace(small_job().part("side"), id="new", name="New")])
    adopt(doc, planned(doc.job))
    assert {wide: doc.tints.shown[wide] for wide in before if wide in doc.tints.shown} == before
    drawing = Drawings(doc).of(doc.layout.sheets[0])
    shown = {box.tint for box in drawing.boxes if box.tint is not None}
    assert shown == set(doc.tints.shown.values())
    assert {card.tint for card in all_cards(doc)} - {None} <= set(doc.tints.shown.values())
    doc.undo_stack.clear()


def test_another_project_begins_with_the_first_tint() -> None:
    """What is opened numbers its widths from the first."""
    doc = document()
    doc.open(Project(job=small_job()), None)
    adopt(doc, planned(doc.job))
    assert doc.tints.shown == Document(doc.project).tints.shown
