"""What is worked out sheet by sheet and remembered is what is worked out from nothing."""

from copy import deepcopy
from dataclasses import fields, replace
from random import Random
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from layout_app.model.layout_edits import place_all
from layout_app.model.merge_plan import with_layout
from layout_app.model.project import Project
from layout_app.model.sawing import saw, setups_of
from shared.cuts.growing import grow
from shared.cuts.sequence import layout_sheet, saw_up
from shared.cuts.tally import tally
from shared.job import Job
from shared.layout import Layout
from shared.lengths import MM
from shared.parts import Part
from shared.plan import Plan
from shared.remembered import Remembered
from shared.saw import verify
from shared.saw.apart import sound_apart
from shared.saw.books import wrong_places
from shared.saw.passes import sawn
from shared.shop import Axis, Shop
from shared.stock import Stock
from shared.tree import Piece, Place, Run
from tests.examples import some_of
from tests.properties.test_saw import TABLES, others
from tests.shared.wrong_plans import WRONG, Wrong
from tests.strategies import LaidOut, laid_out


@given(laid=laid_out(), seed=st.integers(0, 2**16))
@settings(max_examples=some_of(30), deadline=None)
def test_edits_by_hand_give_what_the_layout_gives_from_nothing(laid: LaidOut, seed: int) -> None:
    """Parts are moved about, and layouts of before come back, in any order of the cuts."""
    rng = Random(seed)
    project = Project(job=laid.job, layout=Layout(sheets=laid.sheets))
    before = [project]
    for _ in range(4):
        project = _edited(rng.choice(before[-2:]), rng)
        before.append(project)
        _is_as_from_nothing(project)


def _edited(project: Project, rng: Random) -> Project:
    job, layout = project.job, project.layout
    lying = [one for sheet in layout.sheets for one in sheet.placements]
    if lying:
        one, there = rng.choice(lying), rng.choice(lying)
        far = rng.choice((0, 1, one.length))
        moved = replace(one, sheet=there.sheet, x=there.x + far, y=there.y)
        swapped = replace(there, sheet=one.sheet, x=one.x, y=one.y)
        both = (moved, swapped) if one != there and rng.random() < 0.5 else (moved,)
        layout = place_all(job, layout, both)
    keys = [one.key for one in grow(job, layout.sheets).passes()]
    order = tuple(rng.sample(keys, len(keys)) if rng.random() < 0.5 else keys[::2])
    return with_layout(project, replace(layout, order=order))


def _is_as_from_nothing(project: Project) -> None:
    """Nothing is remembered of a copy: it is equal, and nothing in it is the same."""
    shown, anew = saw(project), saw(deepcopy(project))
    assert shown == anew
    sheets, copied = project.layout.sheets, anew.project.layout.sheets
    assert grow(project.job, sheets) == grow(anew.project.job, copied)
    assert setups_of(project.job, sheets) == setups_of(anew.project.job, copied)
    if shown.plan is not None and anew.plan is not None:
        assert _from_nothing(shown.plan) == []
        assert tally(shown.plan, project.job.shop) == tally(anew.plan, anew.project.job.shop)


def _from_nothing(plan: Plan) -> list[object]:
    """Return what is wrong with the places and the cuts of a plan, all of it sawn in its order."""
    keyed = any(cut.key for cut in plan.cuts)
    return [*wrong_places(plan), *sawn(plan, limited=True, keyed=keyed)]


@given(laid=laid_out(), data=st.data())
@settings(max_examples=some_of(60), deadline=None)
def test_a_plan_is_called_sound_sheet_by_sheet_only_where_the_whole_is(
    laid: LaidOut, data: st.DataObject
) -> None:
    """Good plans of several sheets, and the same with one field of a row changed."""
    plan = saw_up(laid.job, laid.sheets)
    assert sound_apart(plan, limited=True, keyed=True)
    table = data.draw(st.sampled_from(("sheets", *TABLES)))
    rows = list(getattr(plan, table))
    if rows:
        place = data.draw(st.integers(0, len(rows) - 1))
        row = rows[place]
        names = [one.name for one in fields(row) if isinstance(getattr(row, one.name), int | str)]
        name = data.draw(st.sampled_from(names))
        rows[place] = replace(row, **{name: data.draw(others(getattr(row, name)))})
        _is_called_right(replace(plan, **{table: tuple(rows)}))


@pytest.mark.parametrize("wrong", WRONG, ids=str)
def test_no_wrong_plan_is_called_sound_sheet_by_sheet(wrong: Wrong) -> None:
    """The good plan is sawn first, so that its sheets are known."""
    assert verify(wrong.plan) == ()
    _is_called_right(wrong.wreck(wrong.plan))


def _is_called_right(plan: Plan) -> None:
    keyed = any(cut.key for cut in plan.cuts)
    if sound_apart(plan, limited=True, keyed=keyed):
        assert _from_nothing(plan) == []


ROW = Stock(id="row", name="row", material="ply", length=500 * MM, width=250 * MM, thickness=0)
STRIP = Part(id="p", name="Strip", length=500 * MM, width=90 * MM, copies=2, material="ply")


def _two_sheets(second: str = "2") -> Plan:
    """Return a plan of one strip ripped off each of two sheets, with one set-up."""
    sheets = []
    for copy, name in ((1, "1"), (2, second)):
        place = Place(part="p", copy=copy)
        tree = Run(axis=Axis.RIP, pieces=(Piece(size=90 * MM, place=place),))
        sheets.append(layout_sheet(name, ROW, Shop().kerf, tree))
    return saw_up(Job(parts=(STRIP,), stock=(ROW,)), sheets)


@pytest.mark.parametrize(
    ("changed", "code"),
    [
        ({"setup": "another"}, "cut-setup"),
        ({"key": "1/p:1"}, "cut-key"),
        ({"number": 3}, "cut-number"),
        ({"sheet": "1"}, "cut-wrong-sheet"),
        ({"piece": "1"}, "cut-wrong-sheet"),
    ],
)
def test_sheets_sound_by_themselves_have_to_agree(changed: dict[str, Any], code: str) -> None:
    """The second sheet is cut as well as the first, but is not told apart from it, or not alike."""
    plan = _two_sheets()
    assert sound_apart(plan, limited=True, keyed=True)
    first, second = plan.cuts
    wrong = replace(plan, cuts=(first, replace(second, **changed)))
    assert not sound_apart(wrong, limited=True, keyed=True)
    assert code in {one.code for one in verify(wrong)}


def test_no_sheet_has_the_name_of_what_is_sawn_off_another() -> None:
    """A first strip off sheet 1 is 1a; so may a second sheet be called, but not beside it."""
    plan = _two_sheets("1a")
    assert not sound_apart(plan, limited=True, keyed=True)
    assert "cut-off-name" in {one.code for one in verify(plan)}


def test_what_is_remembered_is_told_by_which_it_is() -> None:
    """Equal lists are not the same; numbers and words are. The first known goes first."""
    asked: list[object] = []

    def note(*of: object) -> int:
        asked.append(of)
        return len(asked)

    known = Remembered(note, 2)
    one, other = ("a",), ("a", "b")[:1]
    assert one == other
    assert one is not other
    assert [known(one, 1000), known(one, 10**3), known(other, 1000)] == [1, 1, 2]
    assert [known("c", 1), known(other, 1000), known(one, 1000)] == [3, 2, 4]
    with pytest.raises(TypeError, match="by place"):
        Remembered(lambda of: of, 1)(of=1)
