"""The list of what is wrong says which part to move, and that comes true."""

from dataclasses import replace

import pytest
from pytestqt.qtbot import QtBot

from layout_app.document import edit_layout
from layout_app.look.theme import Theme
from layout_app.model.project import Project
from layout_app.model.sawing import saw, tree_of
from layout_app.panels.issues import IssuesList
from layout_app.planner import unlock
from layout_app.planner.unlock import remedy
from shared.layout import Layout, LayoutSheet
from shared.lengths import INCH
from shared.plan import Placement
from shared.shop import Shop
from tests.layout_app.model.test_shop_limits import laid
from tests.layout_app.small_job import document, small_job
from tests.layout_app.turns import take_turns

Lies = tuple[str, int, float, float]
"""Part, copy, and its corner in inches."""
SIZES = {"side": (40, 12), "shelf": (30, 10)}


def by_hand(*lies: Lies) -> Project:
    """Return a project with one sheet on which parts lie so, without a tree of cuts."""
    placements = tuple(
        Placement(
            part=part,
            copy=copy,
            sheet="1",
            x=round(x * INCH),
            y=round(y * INCH),
            length=SIZES[part][0] * INCH,
            width=SIZES[part][1] * INCH,
        )
        for part, copy, x, y in lies
    )
    sheet = LayoutSheet(id="1", stock="full", placements=placements, yours=True)
    return Project(job=small_job(), layout=Layout(sheets=(sheet,)))


OVER_TWO = (("side", 1, 0, 0), ("side", 2, 30, 0), ("side", 3, 50, 20), ("shelf", 1, 65, 5))
"""Side 2 reaches over side 1 (40 in long) and over the shelf; side 3 lies below."""


def said(project: Project) -> str:
    """Return what is said of the one sheet of a project."""
    return remedy(project, project.layout.sheets[0])


@pytest.mark.parametrize(
    ("lies", "words"),
    [
        ((("side", 1, 0, 0), ("side", 2, 30, 0)), "Moving Side 1 or Side 2 frees the sheet."),
        (OVER_TWO, "Moving Side 2 frees the sheet."),
        ((("side", 1, 0, 0), ("side", 2, 30, 0), ("side", 3, 0, 30), ("side", 4, 9, 30)), ""),
        ((("side", 1, 0, 0), ("side", 2, 40.05, 0)), "Moving Side 1 or Side 2 frees the sheet."),
    ],
)
def test_what_frees_a_sheet_with_overlaps(lies: tuple[Lies, ...], words: str) -> None:
    """Named is each part that is in every overlap, and without which the rest can be cut."""
    assert said(by_hand(*lies)) == words


def test_what_is_named_frees_the_sheet() -> None:
    """Without side 2 the simulated saw accepts the sheet, without any other part it does not."""
    for gone in OVER_TWO:
        rest = by_hand(*(one for one in OVER_TWO if one != gone))
        (sheet,) = rest.layout.sheets
        tree = tree_of(rest.job, rest.job.stock[0], sheet.placements)
        sawn = saw(replace(rest, layout=Layout(sheets=(replace(sheet, tree=tree),))))
        assert (not sawn.problems) == (gone == ("side", 2, 30, 0))


def test_what_frees_a_sheet_beyond_a_limit() -> None:
    """The shelf behind a strip of 28 in is the part whose rip leaves nothing to carry the rail."""
    project = laid(Shop(carry=12 * INCH), 28)
    assert "carry" in saw(project).problems["1"]
    assert said(project) == "Moving Shelf 1 frees the sheet."


def test_nothing_is_said_where_a_rule_is_broken() -> None:
    """A part turned against its grain is not freed by moving another."""
    project = by_hand(("side", 1, 0, 0), ("side", 2, 30, 0))
    (sheet,) = project.layout.sheets
    turned = replace(sheet.placements[0], turned=True, length=12 * INCH, width=40 * INCH)
    sheet = replace(sheet, placements=(turned, *sheet.placements[1:]))
    assert remedy(replace(project, layout=Layout(sheets=(sheet,))), sheet) == ""


def test_the_list_says_it_when_there_is_time(qtbot: QtBot, monkeypatch: pytest.MonkeyPatch) -> None:
    """A drop shows the sentence at once; what to move is added when nothing is in the hand."""
    monkeypatch.setattr(unlock, "QUIET_MS", 0)
    doc = document()
    shown = IssuesList(doc, Theme.light())
    qtbot.addWidget(shown)
    first, second = doc.layout.sheets[0].placements[:2]
    doc.gestures.pressed = True
    edit_layout.move_part(doc, second.part, second.copy, "1", first.x + INCH, first.y)
    sentence = doc.problems["1"]
    assert shown.item(0).text().endswith(sentence.split()[-1])
    assert "frees" not in shown.item(0).text()
    take_turns()
    assert "frees" not in shown.item(0).text()
    doc.gestures.pressed = False
    qtbot.waitUntil(lambda: "frees the sheet." in shown.item(0).text(), timeout=2000)
    doc.undo()
    assert shown.isHidden()
    doc.undo_stack.clear()
