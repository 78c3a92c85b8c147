"""An empty sheet on the bench stands beside what is planned, whatever its number."""

from dataclasses import replace

import pytest
from pytestqt.qtbot import QtBot

from layout_app.document import edit_layout, edit_parts
from layout_app.document.document import Document
from layout_app.planner.process import PlannerProcess
from layout_app.window.main_window import MainWindow
from tests.layout_app.adopting import adopt
from tests.layout_app.closing import close
from tests.layout_app.small_job import document, planned


@pytest.fixture
def doc() -> Document:
    """Return the small job with its plan, and one more sheet laid out by hand."""
    made = document()
    assert edit_layout.add_sheet(made, "full")
    return made


def test_a_plan_that_uses_its_number_is_adopted_whole(doc: Document) -> None:
    """The planner gives the number to a sheet of its own: the empty one takes another."""
    (empty,) = [sheet for sheet in doc.layout.sheets if not sheet.placements]
    edit_parts.edit_part(doc, replace(doc.job.part("side"), copies=9))
    new = planned(doc.job)
    assert empty.id in {sheet.id for sheet in new.sheets}
    adopt(doc, new)
    assert doc.plan is not None
    assert doc.problems == {}
    assert len(doc.plan.sheets) == len(new.sheets)
    assert not doc.layout.waiting
    (still,) = [sheet for sheet in doc.layout.sheets if not sheet.placements]
    assert (still.stock, still.yours) == (empty.stock, True)
    assert len({sheet.id for sheet in doc.layout.sheets}) == len(doc.layout.sheets)


def test_it_keeps_a_number_that_is_free(doc: Document) -> None:
    """Where the plan does not need its number it keeps it."""
    before = [sheet.id for sheet in doc.layout.sheets if not sheet.placements]
    edit_parts.edit_part(doc, replace(doc.job.part("side"), note="oiled"))
    adopt(doc, planned(doc.job))
    assert [sheet.id for sheet in doc.layout.sheets if not sheet.placements] == before


def test_a_sheet_that_is_laid_out_is_in_sight(qtbot: QtBot) -> None:
    """It is put below all others; the bench goes there, so that something is seen to happen."""
    window = MainWindow(document(), planner=PlannerProcess())
    qtbot.addWidget(window)
    window.show()
    for _ in range(3):
        window.menus.actions["bench.sheet"].trigger()
        floor = window.bench.bench.floor
        stand = floor.of(window.document.layout.sheets[-1].id)
        assert stand is not None
        assert window.bench.sight.top() <= floor.room(stand).top()
        assert window.bench.sight.contains(stand.rect.topRight())
    close(window)
