"""The real program on a virtual screen with a window manager, used with mouse and keys.

What it shows is judged by the file it saves. Its pictures are kept beside that file.
"""

from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

import pytest
from PySide6.QtWidgets import QApplication

from layout_app.look.style_sheet import dress
from layout_app.look.theme import Theme
from layout_app.model.cut_order import is_in_order
from layout_app.model.project import Project
from layout_app.store.project_file import save_project
from shared.layout import LayoutSheet, Scope
from shared.lengths import INCH
from shared.parts import Copy, GrainRule
from tests.e2e.desk import desk, missing, wait_for
from tests.e2e.maker import Maker
from tests.layout_app.small_job import small_job

pytestmark = pytest.mark.skipif(
    bool(missing()), reason=f"not installed: {', '.join(missing())} (a virtual screen to work on)"
)


@pytest.fixture
def maker(tmp_path: Path, qapp: QApplication) -> Iterator[Maker]:
    """Return a maker at a program that has opened a project without a layout."""
    path = tmp_path / "case.ripfirst.json"
    job = small_job()
    side, shelf = job.parts
    parts = (replace(side, copies=8), replace(shelf, copies=4, grain_rule=GrainRule.EITHER))
    save_project(path, Project(job=replace(job, parts=parts)))
    dress(qapp, Theme.light())
    with desk(tmp_path) as made:
        maker = Maker(made, path)
        try:
            yield maker
        finally:
            made.shoot("at last")
            maker.close()


def lies(project: Project, copy: Copy) -> str:
    """Return the sheet a copy lies on, or nothing."""
    found = project.layout.find(copy)
    return "" if found is None else found.sheet


def places(project: Project) -> set[object]:
    """Return what lies where."""
    return {one for sheet in project.layout.sheets for one in sheet.placements}


def is_planned(project: Project) -> bool:
    """Say whether all lies on sheets, and the cuts are in order, so that nothing more comes."""
    return bool(project.layout.sheets) and not project.layout.waiting and is_in_order(project)


@pytest.mark.timeout(240)
def test_a_morning_with_the_program(maker: Maker) -> None:
    """Type a part, plan, drag, undo, turn, hold, plan again, move a rip, save, come back."""
    planned = type_a_part(maker)
    dragged, copy = drag_to_another_sheet(maker, planned)
    undo(maker, planned, dragged)
    turn_a_part(maker, copy)
    hold_and_plan(maker)
    moved = move_a_rip(maker)
    come_back(maker, moved)


def type_a_part(maker: Maker) -> Project:
    """Type a cleat of L 20 x W 6 and wait for a plan with it."""
    maker.program.key("ctrl+t")
    for text in ("Cleat", "20", "6", "1"):
        maker.program.write(text)
    maker.program.key("Escape")
    typed = maker.until("the cleat", lambda project: len(project.job.parts) == 3)
    cleat = typed.job.parts[-1]
    assert (cleat.name, cleat.length, cleat.width) == ("Cleat", 20 * INCH, 6 * INCH)
    maker.until("all parts on sheets", lambda project: lies(project, (cleat.id, 1)))
    maker.program.key("shift+F5")
    planned = maker.until("the cuts in order", is_planned)
    assert len(planned.layout.sheets) == 2
    maker.desk.shoot("planned")
    return planned


def drag_to_another_sheet(maker: Maker, planned: Project) -> tuple[Project, Copy]:
    """Drag the last part of sheet 1 to sheet 2; both are the maker's then."""
    maker.see_all(planned)
    copy = _shelf_on(planned)
    other = next(s.id for s in planned.layout.sheets if s.id != lies(planned, copy))
    maker.program.take(maker.place_of(copy), maker.far_corner(other, copy))
    maker.desk.shoot("in the hand")
    maker.program.let_go()
    dragged = maker.until("the part on its new sheet", lambda project: lies(project, copy) == other)
    assert all(sheet.yours for sheet in dragged.layout.sheets)
    maker.desk.shoot("dragged")
    return dragged, copy


def _shelf_on(project: Project) -> Copy:
    """Return a copy of the shelf, which may lie either way."""
    shelf = project.job.part("shelf")
    return next((shelf.id, n) for n in range(1, shelf.copies + 1) if lies(project, (shelf.id, n)))


def undo(maker: Maker, planned: Project, dragged: Project) -> None:
    """Take the drag back: all lies as it was planned, and nothing is the maker's."""
    assert places(dragged) != places(planned)
    maker.program.key("ctrl+z")
    back = maker.until("the drag undone", lambda project: places(project) == places(planned))
    assert not any(sheet.yours for sheet in back.layout.sheets)


def turn_a_part(maker: Maker, copy: Copy) -> None:
    """Click on a shelf and press T."""
    before = maker.saved()
    maker.see_all(before)
    lay = before.layout.find(copy)
    assert lay is not None
    maker.program.click(maker.place_of(copy))
    maker.program.key("t")
    maker.until("the part turned", lambda project: _lies_turned(project, copy) != lay.turned)
    maker.desk.shoot("turned")


def _lies_turned(project: Project, copy: Copy) -> bool | None:
    found = project.layout.find(copy)
    return None if found is None else found.turned


def hold_and_plan(maker: Maker) -> None:
    """Lock a side of a sheet that can be cut, and plan all again: it stays where it lies."""
    before = maker.saved()
    maker.see_all(before)
    copy = next(one.key for one in _cuttable(before)[0].placements)
    maker.program.click(maker.place_of(copy))
    maker.program.key("l")
    held = maker.until("the lock", lambda project: project.layout.holds)
    assert [(h.scope, h.part, h.copy) for h in held.layout.holds] == [(Scope.PART, *copy)]
    maker.program.key("ctrl+shift+F5")
    wait_for("the sheets given back", lambda: not _yours(maker.answered()))
    maker.until("all parts on sheets", lambda project: not project.layout.waiting)
    maker.program.key("shift+F5")
    planned = maker.until("the cuts in order", is_planned)
    assert planned.layout.holds
    lay, stays = (project.layout.find(copy) for project in (before, planned))
    assert lay is not None
    assert stays is not None
    assert (lay.x, lay.y, lay.turned) == (stays.x, stays.y, stays.turned)
    maker.desk.shoot("planned around the lock")


def _cuttable(project: Project) -> list[LayoutSheet]:
    return [sheet for sheet in project.layout.sheets if sheet.tree is not None]


def _yours(project: Project) -> list[str]:
    return [sheet.id for sheet in project.layout.sheets if sheet.yours]


def move_a_rip(maker: Maker) -> Project:
    """Make a rip one later with Alt and an arrow; its sheet is the maker's then."""
    before = maker.saved()
    maker.see_all(before)
    lay = maker.free_rip(before)
    maker.program.click(maker.place_of(lay.key))
    maker.program.key("alt+Down")
    moved = maker.until("the rip moved", lambda project: lay.sheet in _yours(project))
    lies_now = moved.layout.find(lay.key)
    assert lies_now is not None
    assert lies_now.y > lay.y
    maker.desk.shoot("rip moved")
    return moved


def come_back(maker: Maker, moved: Project) -> None:
    """Save, quit, and open again: what is saved then is what was saved before."""
    left = maker.saved()
    assert places(left) == places(moved)
    wait_for("a title without a star", lambda: "*" not in maker.program.title)
    assert maker.program.quit() == 0
    maker.start()
    again = maker.saved()
    assert (again.job, again.layout.holds) == (left.job, left.layout.holds)
    assert places(again) == places(left)
    assert _yours(again) == _yours(left)
    maker.desk.shoot("opened again")
    assert maker.program.quit() == 0
