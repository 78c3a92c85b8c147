"""What no longer fits where the maker laid it: at the end of planning it is said where it lies."""

from dataclasses import replace

import pytest
from PySide6.QtCore import QObject
from pytestqt.qtbot import QtBot

from layout_app.document import edit_layout, edit_parts
from layout_app.planner.left import WhereLeft
from layout_app.planner.live import Planning
from shared.lengths import INCH
from solver.outcome import Done, EndReason
from tests.layout_app.at_once import sawn_of
from tests.layout_app.bench.two_sheets import document, inches
from tests.layout_app.monkey import silent_planner


@pytest.mark.parametrize(
    ("at_hand", "end"),
    [
        (None, "Side 3 moved to sheet 3: it no longer fits where it lay."),
        (2, "Side 3 is not placed: it no longer fits where it lay."),
    ],
)
def test_it_is_said_where_it_lies_once_it_is_planned(
    qtbot: QtBot, at_hand: int | None, end: str
) -> None:
    """On sheet 2, laid out by hand, a shelf begins 12 1/8 down: a side of 14 has no room there.

    With two sheets at hand, both laid out by hand, there is no other sheet for it.
    """
    del qtbot
    doc, planner, parent = document(), silent_planner(), QObject()
    two = replace(doc.job.stock[0], at_hand=at_hand)
    doc.open(replace(doc.project, job=replace(doc.job, stock=(two,))), None)
    told = WhereLeft(doc, Planning(doc, planner, parent), planner, parent)
    assert told.parent() is parent
    edit_layout.move_part(doc, "shelf", 2, "2", inches(1), inches("97/8"))
    heard: list[str] = []
    doc.said.connect(heard.append)
    edit_parts.resize_part(doc, "side", 40 * INCH, 14 * INCH, copy=1)
    planned, done = sawn_of(doc.project), Done(reason=EndReason.PROVEN, elapsed_s=0)
    doc.adopt(planned)
    planner.done.emit(done)
    planner.done.emit(done)
    planner.close()
    assert heard == ["Side 3 no longer fits where it lay: it is planned anew.", end]
