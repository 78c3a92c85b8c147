"""What is said while a part is held comes true when it is let go."""

from dataclasses import replace
from pathlib import Path
from random import Random

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from layout_app.bench import carrying
from layout_app.document import edit_job, edit_layout
from layout_app.document.document import Document
from layout_app.document.judging_many import judge_all
from layout_app.model.carry_over import with_waiting
from layout_app.model.feasibility import FITS, GOOD, LIMITED, explain, judge
from layout_app.model.project import Project
from layout_app.model.sawing import resized
from layout_app.model.snapping import SnapGround, Way, moved, next_stop
from layout_app.store.project_file import read_project
from shared.cuts.sequence import layout_sheet
from shared.job import Job
from shared.layout import Layout, LayoutSheet
from shared.lengths import INCH, MM, step
from shared.parts import Part
from shared.plan import Placement
from shared.shop import Axis, Shop
from shared.tree import Piece, Place, Run
from tests.examples import some_of
from tests.layout_app.adopting import adopt
from tests.layout_app.small_job import KERF, planned, small_job
from tests.shared.test_recognise import PINWHEEL, lies, scaled
from tests.shop_strategies import tooled
from tests.strategies import LaidOut, laid_out

ASSETS = Path(__file__).parents[3] / "assets"


def comes_true(doc: Document, to: Placement) -> bool:
    """Move a part, say whether that was judged rightly, and undo it."""
    before = doc.layout.find(to.key)
    verdict = judge(doc.job, doc.layout.sheet(to.sheet), to)
    full = explain(doc.job, doc.layout.sheet(to.sheet), to)
    if before == to or not edit_layout.move_part(doc, *to.key, to.sheet, to.x, to.y, to.turned):
        return True
    fine = to.sheet not in doc.problems
    doc.undo()
    return verdict.good == full.good == fine


@pytest.mark.parametrize("name", ["herbarium", "press-rack"])
def test_the_demo_is_judged_as_it_is_sawn(name: str) -> None:
    """Each part of a planned demo, put to one of its stops, on its sheet or another."""
    doc = Document(Project(job=read_project(ASSETS / f"{name}.ripfirst.json").job))
    adopt(doc, planned(doc.job))
    assert not doc.problems
    chance = Random(7)
    lying = [one for sheet in doc.layout.sheets for one in sheet.placements]
    for one in chance.sample(lying, 12):
        for sheet in chance.sample(doc.layout.sheets, 2):
            to = stopped(doc, replace(one, sheet=sheet.id), chance)
            assert comes_true(doc, to), to


def stopped(doc: Document, one: Placement, chance: Random) -> Placement:
    """Move a part to some stop beside its place, along x or y."""
    sheet = doc.layout.sheet(one.sheet)
    stock = doc.job.stock_row(sheet.stock)
    ground = SnapGround(
        usable=stock.usable,
        others=tuple(p.rect for p in sheet.placements if p.key != one.key),
        bad=(),
        kerf=doc.job.shop.kerf,
        step=step(doc.job.style),
    )
    way = chance.choice(list(Way))
    at = next_stop(one.rect, ground, way, onward=chance.random() < 0.5)
    rect = one.rect if at is None else moved(one.rect, way, at)
    return replace(one, x=rect.x, y=rect.y)


@st.composite
def gestures(draw: st.DrawFn) -> tuple[Job, tuple[LayoutSheet, ...], Placement]:
    """Draw sheets in a shop with limits, and where one of the parts is put."""
    made: LaidOut = draw(laid_out(most_sheets=2))
    job = replace(made.job, shop=draw(tooled(made.job.shop.kerf)))
    lying = [one for sheet in made.sheets for one in sheet.placements]
    assume(lying)
    one = draw(st.sampled_from(lying))
    sheet = draw(st.sampled_from(made.sheets))
    row, kerf = job.stock_row(sheet.stock), job.shop.kerf
    xs = [row.trims.start, *(p.rect.right + kerf for p in sheet.placements), one.x]
    ys = [row.trims.near, *(p.rect.bottom + kerf for p in sheet.placements), one.y]
    x = draw(st.sampled_from(xs)) + draw(st.sampled_from((0, 0, 0, 1, 20 * MM)))
    y = draw(st.sampled_from(ys)) + draw(st.sampled_from((0, 0, 0, 1, 20 * MM)))
    yours = tuple(replace(sheet, yours=True) for sheet in made.sheets)
    return job, yours, replace(one, sheet=sheet.id, x=x, y=y)


@given(gesture=gestures())
@settings(max_examples=some_of(80), deadline=None)
def test_any_sheet_is_judged_as_it_is_sawn(
    gesture: tuple[Job, tuple[LayoutSheet, ...], Placement],
) -> None:
    """A part put anywhere: judged good if, and only if, its sheet has no problem then."""
    job, sheets, to = gesture
    doc = Document(Project(job=job, layout=with_waiting(job, sheets, Layout())))
    assert comes_true(doc, resized(job, to))


def narrow_strips(carry: int) -> tuple[Job, LayoutSheet]:
    """Return a sheet of 96 x 48 with a shelf of 10 behind 28 of waste: 9 3/4 are left behind it."""
    job = replace(small_job(), shop=Shop(kerf=KERF, carry=carry * INCH))
    shelf = Place(part="shelf", copy=1)
    strip = Run(axis=Axis.CROSSCUT, pieces=(Piece(size=30 * INCH, place=shelf),))
    pieces = (Piece(size=28 * INCH), Piece(size=10 * INCH, run=strip))
    return job, layout_sheet("1", job.stock[0], KERF, Run(axis=Axis.RIP, pieces=pieces))


def test_a_cut_beyond_the_limits_is_said() -> None:
    """While the part moves it is said that a limit is broken, and at rest which and how."""
    job, sheet = narrow_strips(carry=12)
    (one,) = sheet.placements
    at_end = replace(one, x=0, y=48 * INCH - one.width)
    assert judge(job, sheet, one) == GOOD  # other cuts than those of the sheet will do
    wide = replace(job, shop=replace(job.shop, carry=36 * INCH))
    low = replace(one, x=0, y=19 * INCH)
    assert judge(wide, sheet, at_end).words == FITS
    assert judge(wide, sheet, low).words == LIMITED
    assert explain(wide, sheet, low).words == (
        "can be cut edge to edge, but the rip set to 18 7/8 in leaves no piece to carry the rail:"
        " the wider one is 29 in, not 36 in"
    )


def job_of(lying: list[Placement], group: str = "") -> Job:
    """Return a job of no kerf whose parts, named by capitals, are just what lies there."""
    parts = tuple(
        Part(
            id=one.part,
            name=chr(ord("A") + number),
            length=one.length,
            width=one.width,
            material="birch ply",
            group=group,
        )
        for number, one in enumerate(lying)
    )
    return replace(small_job(), parts=parts, shop=Shop(kerf=0))


def test_who_locks_and_which_to_move() -> None:
    """Four of a pinwheel lock each other: what is held is told of the three others."""
    lying = scaled(PINWHEEL, INCH, 0)[:4]
    sheet = LayoutSheet(id="1", stock="full", placements=tuple(lying[1:]))
    verdict = judge(job_of(lying), sheet, lying[0])
    assert verdict.lines == (
        "no cut from edge to edge parts it from B, C, D",
        "moving B, C or D frees the sheet",
    )
    assert verdict.troubled == {one.key for one in lying}


def test_a_part_that_leaves_its_match_group_is_told_so() -> None:
    """Beside its neighbour all is well; a kerf too far, or on the wrong side, it is away."""
    first, second = lies(0, 0, 10 * INCH, 5 * INCH, "a"), lies(0, 0, 10 * INCH, 5 * INCH, "b")
    job = job_of([first, second], group="fronts")
    sheet = LayoutSheet(id="1", stock="full", placements=(first,))
    below = replace(second, y=5 * INCH)  # a group has one column unless it is told otherwise
    assert judge(job, sheet, below).lines == (FITS,)
    away = judge(job, sheet, replace(second, y=20 * INCH))
    assert away.good
    assert away.lines == (FITS, "B is away from its match group fronts")
    beside = judge(job, sheet, replace(second, x=10 * INCH))
    assert beside.caution == away.caution


def test_parts_in_the_hand_are_judged_together() -> None:
    """Two that lie well alone overlap each other, and so do not when they are apart."""
    first, second = lies(0, 0, 10 * INCH, 5 * INCH, "a"), lies(0, 0, 10 * INCH, 5 * INCH, "b")
    job, sheet = job_of([first, second]), LayoutSheet(id="1", stock="full")
    assert judge(job, sheet, first, second).words == "B overlaps A by 5 in."
    assert judge(job, sheet, first, replace(second, x=10 * INCH)) == GOOD


def test_the_limit_is_said_when_the_part_rests(maker, qtbot):
    """Held still for a moment, it is said which cut is beyond which limit."""
    edit_job.edit_shop(maker.doc, replace(maker.doc.job.shop, carry=30 * INCH))
    maker.drag(("2", 15, 17), ("2", 15, 27), drop=False)
    assert maker.words == LIMITED
    qtbot.waitUntil(lambda: "leaves no piece to carry the rail" in maker.words)


def test_what_takes_long_to_know_is_said_a_frame_later(maker, monkeypatch, qtbot):
    """One piece of the sheet is looked at in a frame, then two: till then the old words stand."""
    monkeypatch.setattr(carrying, "AT_ONCE", 1)
    monkeypatch.setattr(carrying, "REST_MS", 60_000)
    edit_job.edit_shop(maker.doc, replace(maker.doc.job.shop, carry=30 * INCH))
    maker.drag(("2", 15, 17), ("2", 15, 10), drop=False)
    before, carried = maker.words, maker.view.hand.interaction
    assert before.startswith("overlaps ")
    carried.move(maker.view.mapToScene(maker.at("2", 15, 27)))
    assert maker.words == before
    qtbot.waitUntil(lambda: maker.words == LIMITED)
    assert carried.verdict == judge_all(maker.doc, carried.placements())
