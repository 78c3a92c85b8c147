"""A mode that finds the cuts in its order says so: nothing else on screen would change."""

from dataclasses import replace

import pytest
from pytestqt.qtbot import QtBot

from layout_app.document.document import Document
from layout_app.document.edit_job import edit_shop, rename_job
from layout_app.document.ticks import tick
from layout_app.model.sawing import Sawn, saw
from layout_app.planner.live import Planning
from shared.shop import SawingOrder
from tests.layout_app.at_once import AtOnce
from tests.layout_app.small_job import document

ALREADY = "Least walking: the cuts were in that order already."


@pytest.fixture
def shown(qtbot: QtBot) -> tuple[Document, AtOnce, Planning, list[str]]:
    """Return the small job in order sheet by sheet, who orders it, and what is said."""
    del qtbot
    doc, planner, said = document(), AtOnce(), list[str]()
    doc.open(replace(doc.project, layout=replace(doc.layout, sawing=doc.job.shop.sawing)), None)
    doc.said.connect(said.append)
    return doc, planner, Planning(doc, planner), said


def choose(doc: Document, mode: SawingOrder) -> None:
    """Choose a mode, as the heading does."""
    assert edit_shop(doc, replace(doc.job.shop, sawing=mode))


def found(doc: Document, *, another: bool = False) -> Sawn:
    """Return the cuts in order by the mode that is chosen: as they are, or as far as can be not."""
    assert doc.plan is not None
    keys = tuple(cut.key for cut in doc.plan.cuts)
    order = keys[::-1] if another else keys
    layout = replace(doc.layout, order=order, sawing=doc.job.shop.sawing, least_s=-1)
    sawn = saw(replace(doc.project, layout=layout))
    assert sawn.plan is not None
    assert (tuple(cut.key for cut in sawn.plan.cuts) != keys) is another
    return sawn


Shown = tuple[Document, AtOnce, Planning, list[str]]


def test_the_same_order_is_said_once_it_is_found(shown: Shown) -> None:
    """Not before the search is over, and once: a tick or a name later is no choice of a mode."""
    doc, planner, _, said = shown
    choose(doc, SawingOrder.LEAST_WALKING)
    planner.sorted.emit(found(doc))
    assert said == []
    planner.sorted_all.emit()
    assert said == [ALREADY]
    tick(doc, [1])
    planner.sorted_all.emit()
    rename_job(doc, "Another")
    planner.sorted_all.emit()
    assert said.count(ALREADY) == 1


def test_another_order_needs_no_words(shown: Shown) -> None:
    """Where cards change place it is seen; and an order that came back in the end is the same."""
    doc, planner, _, said = shown
    choose(doc, SawingOrder.BY_SETUP)
    planner.sorted.emit(found(doc, another=True))
    planner.sorted_all.emit()
    assert said == []
    choose(doc, SawingOrder.LEAST_WALKING)
    first = found(doc)
    planner.sorted.emit(found(doc, another=True))
    planner.sorted.emit(first)
    planner.sorted_all.emit()
    assert said == [ALREADY]


def test_what_was_found_already_is_undone_without_a_word(shown: Shown) -> None:
    """Undo and redo show orders that are known: nothing is sought, nothing said."""
    doc, planner, _, said = shown
    choose(doc, SawingOrder.LEAST_WALKING)
    planner.sorted.emit(found(doc))
    planner.sorted_all.emit()
    doc.undo()
    doc.redo()
    planner.sorted_all.emit()
    assert said == [ALREADY]


def test_nothing_is_said_of_a_search_that_was_left(shown: Shown) -> None:
    """The end of a search that found nothing for the mode, or of a project that is left."""
    doc, planner, _, said = shown
    choose(doc, SawingOrder.LEAST_WALKING)
    planner.sorted_all.emit()
    assert said == []
    choose(doc, SawingOrder.BY_SETUP)
    doc.open(doc.project, None)
    planner.sorted_all.emit()
    assert said == []
