"""A sheet as it lies that the shop cannot saw is a problem with a sentence, not a plan."""

from dataclasses import replace

import pytest

from layout_app.model.project import Project
from layout_app.model.sawing import saw
from layout_app.model.words.shop_limits import excess_words
from shared.cuts.sequence import layout_sheet
from shared.layout import Layout
from shared.lengths import INCH, LengthStyle
from shared.recognise import Beyond
from shared.saw import verify
from shared.shop import Axis, Limit, Rail, RunsOn, SawBase, Shop
from shared.tree import Piece, Place, Run
from tests.layout_app.small_job import KERF, small_job


def laid(shop: Shop, *sizes: int) -> Project:
    """Return a project with one shelf alone, and strips so wide (inches) sawn off before it."""
    shelf = Place(part="shelf", copy=1)
    strip = Run(axis=Axis.CROSSCUT, pieces=(Piece(size=30 * INCH, place=shelf),))
    pieces = (*(Piece(size=size * INCH) for size in sizes), Piece(size=10 * INCH, run=strip))
    job = replace(small_job(), shop=replace(shop, kerf=KERF))
    sheet = layout_sheet("1", job.stock[0], KERF, Run(axis=Axis.RIP, pieces=pieces))
    return Project(job=job, layout=Layout(sheets=(sheet,)))


def test_within_the_limits_there_is_a_plan() -> None:
    """38 in less two kerfs are left behind the shelf of 10: they carry the rail."""
    sawn = saw(laid(Shop(carry=12 * INCH)))
    assert sawn.plan is not None
    assert not sawn.problems
    assert verify(sawn.plan, sawn.project.job.shop) == ()


def test_a_last_strip_too_narrow_is_told() -> None:
    """Behind 28 in, the shelf of 10 in and two kerfs 9 3/4 in are left: nothing of 12 in."""
    sawn = saw(laid(Shop(carry=12 * INCH), 28))
    assert sawn.plan is None
    assert sawn.problems == {
        "1": "Sheet 1: the rip set to 10 in leaves no piece to carry the rail: the wider one is"
        " 10 in, not 12 in."
    }


def test_a_rip_beyond_the_rails_is_told() -> None:
    """A rail of 90 in rips no sheet of 96 in, though a sheet was laid out so."""
    shop = Shop(rails=(Rail(length=90 * INCH),), overhang=10 * INCH)
    sawn = saw(laid(shop))
    assert sawn.plan is None
    assert sawn.problems == {
        "1": "Sheet 1: the rip set to 10 in is 96 in long, more than the reach of the rails, 80 in."
    }


def test_a_saw_without_a_rail_is_told_of_its_straightedge() -> None:
    """Of 112 in less a base of 11 in at each end 90 in are left, for a rip of 96 in."""
    base = SawBase(
        left_near=3 * INCH // 2,
        left_far=3 * INCH // 2 + KERF,
        right_near=5 * INCH,
        right_far=5 * INCH + KERF,
        length=11 * INCH,
    )
    led = Shop(runs_on=RunsOn.STRAIGHTEDGE, base=base, rails=(Rail(length=112 * INCH),))
    assert saw(laid(led)).problems == {
        "1": "Sheet 1: the rip set to 10 in is 96 in long, more than the reach of the"
        " straightedges, 90 in."
    }
    wide = replace(led, rails=(), carry=12 * INCH)
    assert saw(laid(wide, 28)).problems == {
        "1": "Sheet 1: the rip set to 10 in leaves no piece to carry the straightedge: the wider"
        " one is 10 in, not 12 in."
    }


def test_what_cannot_be_held_is_told() -> None:
    """Of a strip of 96 in 65 7/8 are left when 30 in and a kerf are sawn off."""
    job = replace(small_job(), shop=Shop(kerf=KERF, hold=70 * INCH))
    shelf = Place(part="shelf", copy=1)
    blocks = (Piece(size=30 * INCH), Piece(size=30 * INCH, place=shelf))
    strip = Piece(size=10 * INCH, run=Run(axis=Axis.CROSSCUT, pieces=blocks))
    sheet = layout_sheet("1", job.stock[0], KERF, Run(axis=Axis.RIP, pieces=(strip,)))
    sawn = saw(Project(job=job, layout=Layout(sheets=(sheet,))))
    assert sawn.problems == {
        "1": "Sheet 1: the crosscut set to 30 in leaves nothing to hold: the piece under the saw"
        " is 65 7/8 in long, not 70 in."
    }


def test_other_sheets_are_planned_all_the_same() -> None:
    """A sheet beyond the limits does not take the plan of another one with it."""
    project = laid(Shop(carry=12 * INCH), 28)
    (bad,) = project.layout.sheets
    assert bad.tree is not None
    shelf = Place(part="shelf", copy=2)
    strip = Run(axis=Axis.CROSSCUT, pieces=(Piece(size=30 * INCH, place=shelf),))
    tree = Run(axis=Axis.RIP, pieces=(Piece(size=10 * INCH, run=strip),))
    good = layout_sheet("2", project.job.stock[0], KERF, tree)
    sawn = saw(replace(project, layout=Layout(sheets=(bad, good))))
    assert list(sawn.problems) == ["1"]
    assert sawn.plan is not None
    assert [sheet.id for sheet in sawn.plan.sheets] == ["2"]


@pytest.mark.parametrize("limit", Limit)
def test_every_limit_has_words(limit: Limit) -> None:
    """What is found and what is allowed are told of each, so that none is added without."""
    said = excess_words(
        Beyond(limit, Axis.RIP, 10 * INCH, 11 * INCH, 12 * INCH), Shop(), LengthStyle()
    )
    assert said.startswith("the rip set to 10 in ")
    assert "11 in" in said
    assert "12 in" in said
