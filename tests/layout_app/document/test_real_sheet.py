"""Sheets as they really are, in the document: squaring and bad places through edits and undo."""

from dataclasses import replace
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from layout_app.cli import main as cli
from layout_app.document import edit_job, edit_layout, edit_locks
from layout_app.document.document import Document
from layout_app.model.carry_over import opened
from layout_app.model.feasibility import GOOD, judge
from layout_app.model.project import Project
from layout_app.model.sawing import saw
from layout_app.model.snapping import SnapGround
from layout_app.panels.cards import cards_of
from layout_app.paper import ink
from layout_app.paper.cut_picture import CutPicture
from layout_app.store.plan_file import read_plan
from layout_app.store.project_file import read_project, save_project
from shared.drawing import Role, draw_loose, draw_sheet
from shared.geometry import Rect
from shared.job import Job
from shared.layout import Layout, LayoutSheet, Scope
from shared.lengths import INCH, MM
from shared.plan import Placement
from shared.saw import verify
from shared.stock import NoGo, Stock, Trims
from solver.prepare.instances import prepare
from tests.examples import some_of
from tests.layout_app.bench.landed import snap
from tests.layout_app.paper.cut_look import LOOK
from tests.layout_app.small_job import document, small_job
from tests.strategies import bad_places

EIGHTH = INCH // 8
SQUARED = Trims(start=18 * INCH // 64, end=5 * INCH // 64)
"""What 1/8 in between the diagonals makes of the small job's sheet, kerf 1/8 in."""
KNOT = NoGo(x=0, y=0, length=4 * INCH, width=3 * INCH)


def sheet(job: Job, **changes: Any) -> Stock:
    """Return the row of the small job with some changes."""
    return replace(job.stock_row("full"), **changes)


def shown(**changes: Any) -> Document:
    """Return the planned document of the small job, its sheet edited."""
    doc = document()
    assert edit_job.edit_stock(doc, sheet(doc.job, **changes))
    return doc


def laid(no_go: tuple[NoGo, ...], *, show: bool = False, x: int = 0) -> Project:
    """Return a side at the reference edge of a sheet of one's own with bad places."""
    job = small_job()
    parts = tuple(replace(part, show=show, copies=1) for part in job.parts)
    job = replace(job, parts=parts, stock=(sheet(job, no_go=no_go),))
    one = Placement(
        part="side", copy=1, sheet="1", x=x * INCH, y=0, length=40 * INCH, width=12 * INCH
    )
    layout = Layout(sheets=(LayoutSheet(id="1", stock="full", placements=(one,), yours=True),))
    return Project(job=job, layout=layout)


# --- squaring --------------------------------------------------------------------------


def test_diagonals_raise_the_trims_and_undo_lowers_them() -> None:
    """Typing the difference is one step: the trims rise, the plan keeps to them; undo is whole."""
    doc = shown(diagonals=EIGHTH)
    assert doc.job.stock_row("full").trims == SQUARED
    assert doc.undo_stack.count() == 1
    doc.undo_stack.undo()
    assert doc.job.stock_row("full").trims == Trims()
    doc.undo_stack.redo()
    assert doc.job.stock_row("full").trims == SQUARED


def test_a_new_kerf_moves_the_squaring_trim() -> None:
    """A trim that squares holds a kerf, so it follows the saw."""
    doc = shown(diagonals=EIGHTH)
    edit_job.edit_shop(doc, replace(doc.job.shop, kerf=INCH // 16))
    # 0.0699 + 0.0625 + 0.0787 = 0.2111 in, which makes 14/64
    assert doc.job.stock_row("full").trims == replace(SQUARED, start=14 * INCH // 64)


def test_a_sheet_that_is_square_after_all_has_its_own_trims() -> None:
    """Emptying the difference brings back what was wanted before it."""
    doc = shown(trims=Trims(near=INCH // 4))
    edit_job.edit_stock(doc, sheet(doc.job, diagonals=EIGHTH))
    assert doc.job.stock_row("full").trims == replace(SQUARED, near=INCH // 4)
    edit_job.edit_stock(doc, sheet(doc.job, diagonals=0))
    assert doc.job.stock_row("full").trims == Trims(near=INCH // 4)


def test_a_file_is_squared_when_it_is_read(tmp_path: Path) -> None:
    """A file with diagonals and no trims gives a job with the trims they ask for; saved, stays."""
    path = tmp_path / "some.ripfirst.json"
    job = small_job()
    save_project(path, Project(job=replace(job, stock=(sheet(job, diagonals=EIGHTH),))))
    read = read_project(path)
    assert read.job.stock_row("full").trims == SQUARED
    save_project(path, read)
    assert read_project(path) == read


def test_the_solver_squares_by_itself() -> None:
    """A job handed straight to the solver is planned with the trims its diagonals ask for."""
    job = small_job()
    made = prepare(replace(job, stock=(sheet(job, diagonals=EIGHTH),)))
    assert made.job.stock_row("full").trims == SQUARED


def test_the_command_line_plans_with_the_squaring_trims(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """``plan`` writes a plan with the raised trims, and says what cannot be lifted alone."""
    job = small_job()
    row = sheet(job, diagonals=EIGHTH, density=590)
    job = replace(job, stock=(row,), shop=replace(job.shop, lift_g=23_000))
    path = tmp_path / "some.ripfirst.json"
    save_project(path, Project(job=job))
    out = tmp_path / "out"
    words = ["plan", str(path), "--out", str(out), "--time-limit", "1", "--workers", "1"]
    assert cli.main(words) == cli.ALL_PLANNED
    plan = read_plan(out / "plan.json")
    assert [one.trims for one in plan.sheets] == [SQUARED]
    said = capsys.readouterr()
    assert "73.7 lb a sheet" in said.out + said.err


def test_a_density_asks_for_no_planning() -> None:
    """What a sheet weighs does not change how it is sawn: the plan stays."""
    doc = document()
    before = doc.layout
    edit_job.edit_stock(doc, sheet(doc.job, density=680))
    assert doc.layout == before
    assert doc.plan is not None
    assert all(one.density == 680 for one in doc.plan.sheets)


# --- bad places ------------------------------------------------------------------------


def test_parts_leave_a_bad_place_of_a_planned_sheet() -> None:
    """Marking a corner frees it at once; what lay there waits to be planned, the rest is sawn."""
    doc = shown(no_go=(KNOT,))
    for one in doc.layout.sheets:
        assert not any(KNOT.rect.overlaps(lies.rect) for lies in one.placements)
    assert doc.layout.waiting
    assert doc.plan is not None
    assert verify(doc.plan) == ()
    doc.undo_stack.undo()
    assert not doc.layout.waiting


def test_your_own_sheet_says_what_lies_on_a_bad_place() -> None:
    """On a sheet that is yours the part stays, and the sheet has no cuts and says why."""
    sawn = saw(laid((KNOT,)))
    assert sawn.plan is None
    assert sawn.problems == {"1": "Sheet 1: Side lies on a damaged corner: move it off."}


def test_your_own_sheet_is_cut_again_when_the_place_is_good() -> None:
    """Taking the bad place away gives the sheet its cuts back."""
    doc = Document(laid((KNOT,)))
    assert doc.plan is None
    edit_job.edit_stock(doc, sheet(doc.job, no_go=()))
    assert doc.plan is not None
    assert not doc.problems


def test_your_own_sheet_loses_its_cuts_to_a_bad_place() -> None:
    """Marking a place under a part of a sheet that is yours leaves the part, without cuts."""
    doc = Document(laid(()))
    edit_layout.move_part(doc, "side", 1, "1", 2 * INCH, 0)
    assert doc.plan is not None
    edit_job.edit_stock(doc, sheet(doc.job, no_go=(KNOT,)))
    assert doc.plan is None
    assert [len(one.placements) for one in doc.layout.sheets] == [1]
    assert "damaged corner" in doc.problems["1"]


@pytest.mark.parametrize(("show", "fine"), [(False, True), (True, False)])
def test_a_hidden_face_may_lie_on_a_knot(show: bool, fine: bool) -> None:
    """A place kept out of show faces takes a part whose face is hidden, and no other."""
    sawn = saw(Document(laid((replace(KNOT, show_only=True),), show=show)).project)
    assert (sawn.plan is not None) is fine
    said = "Sheet 1: Side lies with its show face on a damaged corner: move it off."
    assert sawn.problems == ({} if fine else {"1": said})


def test_a_hold_on_a_bad_place_is_suspended() -> None:
    """A held part that comes to lie on a bad place is not held now, and the reason is said."""
    doc = document()
    one = doc.layout.sheets[0].placements[0]
    edit_locks.hold(doc, Scope.PART, [one.key])
    there = NoGo(x=one.x, y=one.y, length=INCH, width=INCH)
    edit_job.edit_stock(doc, sheet(doc.job, no_go=(there,)))
    assert not doc.held.in_force
    assert len(doc.held.suspended) == 1


def test_what_is_said_beside_the_pointer() -> None:
    """A part held over a bad place is told so, and is good beside it; others are named."""
    project = laid((KNOT,))
    lying = project.layout.sheets[0]
    (one,) = lying.placements
    assert judge(project.job, lying, one).words == "on a damaged corner"
    assert judge(project.job, lying, replace(one, x=4 * INCH)) == GOOD
    assert judge(project.job, lying).words == "Side lies on a damaged corner"
    shelf = replace(one, part="shelf", x=0, y=20 * INCH, length=30 * INCH, width=10 * INCH)
    verdict = judge(project.job, lying, shelf)
    assert verdict.words == "Side lies on a damaged corner"
    assert verdict.troubled == {("side", 1)}


def test_a_dragged_part_snaps_to_a_bad_place() -> None:
    """Held half an inch behind a bad place, a part moves up against it, without a kerf."""
    ground = SnapGround(
        usable=Rect(x=0, y=0, length=96 * INCH, width=48 * INCH),
        others=(),
        kerf=EIGHTH,
        bad=(KNOT.rect,),
    )
    held = Rect(x=4 * INCH + INCH // 2, y=0, length=40 * INCH, width=12 * INCH)
    assert snap(held, ground, INCH).rect.x == 4 * INCH


# --- drawing ---------------------------------------------------------------------------


def test_a_bad_place_is_drawn_before_and_after_every_cut() -> None:
    """Its box and its words stand on the loose sheet, in each state, and when all is cut."""
    job = small_job()
    there = NoGo(x=90 * INCH, y=40 * INCH, length=6 * INCH, width=8 * INCH, show_only=True)
    doc = shown(no_go=(there,))
    assert doc.plan is not None
    drawn = [draw_sheet(doc.plan, "1", job.style)]
    drawn += [draw_sheet(doc.plan, "1", job.style, upto=cut.number) for cut in doc.plan.cuts]
    drawn.append(draw_loose(doc.job, doc.layout.sheets[0]))
    for one in drawn:
        assert [box.rect for box in one.boxes if box.role is Role.NO_GO] == [there.rect]
        told = [label.told for label in one.labels if label.key == "no-go:1"]
        assert told == ["kept clear of show faces: damaged corner, L 6 × W 8"]


def test_millimetres_in_a_file(tmp_path: Path) -> None:
    """Diagonals and bad places may be written by hand as text, like all lengths."""
    path = tmp_path / "some.ripfirst.json"
    path.write_text(
        '{"format": "ripfirst-project", "version": 1, "tick_nm": 25, "job": {"stock": [{"id": "s",'
        ' "name": "Ply", "material": "ply", "length": "2440 mm", "width": "1220 mm",'
        ' "thickness": "18 mm", "diagonals": "4 mm", "no_go": [{"x": "0", "y": "1120 mm",'
        ' "length": "200 mm", "width": "100 mm"}]}]}}'
    )
    row = read_project(path).job.stock_row("s")
    assert row.no_go == (NoGo(x=0, y=1120 * MM, length=200 * MM, width=100 * MM),)
    assert row.diagonals == 4 * MM


def test_a_card_strikes_out_what_lies_on_its_piece() -> None:
    """A card shows bad places as far as they lie on the very piece that is cut."""
    there = NoGo(x=90 * INCH, y=40 * INCH, length=6 * INCH, width=8 * INCH)
    doc = shown(no_go=(there,))
    assert doc.plan is not None
    pen = ink.Pen(width=1.0, colour="#123456")
    shown_how = replace(LOOK, bad=pen, bad_fill="#ffffff")
    struck = 0
    for card in cards_of([doc.plan], doc.job):
        piece = card.told.stroke.piece
        picture = CutPicture(card.told, ink.Spread(x=0, y=0, length=300, width=200), shown_how)
        plates = [one for one in picture.wood() if isinstance(one, ink.Plate) and one.pen == pen]
        found = [(one.x, one.y, one.length, one.width) for one in plates]
        common = there.rect.common(piece) if card.told.sheet == "1" else None
        boxes = [picture.box(common)] if common is not None else []
        assert found == [(box.x, box.y, box.length, box.width) for box in boxes]
        struck += len(found)
    assert struck


# --- random bad places -----------------------------------------------------------------


@settings(max_examples=some_of(100))
@given(st.lists(bad_places(96 * INCH, 48 * INCH), max_size=4), st.booleans(), st.integers(0, 56))
def test_a_hand_layout_against_polygons(no_go: list[NoGo], show: bool, x: int) -> None:
    """A part by itself is sawn just when it shares no area with a place that bars it (Shapely)."""
    project = laid(tuple(no_go), show=show, x=x)
    (one,) = project.layout.sheets[0].placements
    part = shapely.box(one.x, one.y, one.rect.right, one.rect.bottom)
    barring = [bad.rect for bad in no_go if show or not bad.show_only]
    shared = [part.intersection(shapely.box(r.x, r.y, r.right, r.bottom)).area for r in barring]
    nothing_left = "has an error" in "".join(saw(project).problems.values())
    sawn = saw(Document(project).project)
    assert nothing_left or (sawn.plan is not None) is (max(shared, default=0) == 0)
    assert sawn.plan is None or verify(sawn.plan) == ()


@settings(max_examples=some_of(100))
@given(
    st.lists(bad_places(96 * INCH, 48 * INCH), max_size=3),
    st.integers(-INCH, INCH),
    st.integers(0, 900),
)
def test_a_real_sheet_comes_back_from_a_file(
    no_go: list[NoGo], diagonals: int, density: int
) -> None:
    """Whatever is known of a sheet is saved, and read as it was."""
    job = small_job()
    row = sheet(job, no_go=tuple(no_go), diagonals=diagonals, density=density)
    project = opened(Project(job=replace(job, stock=(row,))))
    with TemporaryDirectory() as folder:
        path = Path(folder) / "some.ripfirst.json"
        save_project(path, project)
        assert read_project(path) == project
