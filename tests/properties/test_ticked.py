"""Whatever is done to a document, cuts that are ticked stay what they are until unticked."""

import gc
from collections.abc import Callable, Iterator
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from PySide6.QtWidgets import QApplication

from layout_app.document import edit_job, edit_layout, edit_parts
from layout_app.document.document import Document
from layout_app.document.ticks import missing_before, tick, ticked_after, untick
from layout_app.model.project import Project
from shared.job import Job
from shared.lengths import MM
from shared.plan import Cut
from shared.progress import changed_in, needed_for
from shared.saw import verify
from shared.shop import SawingOrder
from tests.examples import some_of
from tests.properties.test_mistakes import nothing_lost, plan_around, small_jobs

Do = Callable[[Document, st.DataObject], None]


@pytest.fixture(scope="module", autouse=True)
def _app(qapp: QApplication) -> Iterator[None]:
    """Have the timers of a document, and collect documents while there is a program."""
    del qapp
    yield
    gc.collect()


def set_tick(doc: Document, data: st.DataObject) -> None:
    """Tick a cut with all that comes before it."""
    if doc.plan is not None and doc.plan.cuts:
        number = data.draw(st.sampled_from([cut.number for cut in doc.plan.cuts]))
        tick(doc, [*missing_before(doc, number), number])


def take_tick(doc: Document, data: st.DataObject) -> None:
    """Untick a cut with all that came of it."""
    if doc.progress.made:
        number = data.draw(st.sampled_from(doc.progress.made))
        untick(doc, [number, *ticked_after(doc, number)])


def resize(doc: Document, data: st.DataObject) -> None:
    """Give a part another size, or number of copies."""
    part = data.draw(st.sampled_from(doc.job.parts))
    size = data.draw(st.integers(60, 500)) * MM
    copies = data.draw(st.integers(1, 3))
    edit_parts.edit_part(doc, replace(part, length=size, copies=copies))


def measure(doc: Document, data: st.DataObject) -> None:
    """Measure a part, fit part or not."""
    part = data.draw(st.sampled_from(doc.job.parts))
    length, width = (
        side + data.draw(st.integers(-5, 15)) * MM for side in (part.length, part.width)
    )
    edit_parts.measure(doc, part.id, length, width)


def remove(doc: Document, data: st.DataObject) -> None:
    """Take a row off the take-off."""
    if len(doc.job.parts) > 1:
        edit_parts.remove_parts(doc, [data.draw(st.sampled_from(doc.job.parts)).id])


def change_shop(doc: Document, data: st.DataObject) -> None:
    """Change the kerf, or how cuts are put in order."""
    kerf = data.draw(st.sampled_from([0, 2 * MM, 3 * MM]))
    sawing = data.draw(st.sampled_from(SawingOrder))
    edit_job.edit_shop(doc, replace(doc.job.shop, kerf=kerf, sawing=sawing))


def change_stock(doc: Document, data: st.DataObject) -> None:
    """Change trims or price of the sheets."""
    row = doc.job.stock[0]
    near = data.draw(st.sampled_from([0, 8 * MM, 12 * MM]))
    price = data.draw(st.sampled_from([0, 4000]))
    edit_job.edit_stock(doc, replace(row, price=price, trims=replace(row.trims, near=near)))


def move(doc: Document, data: st.DataObject) -> None:
    """Let a part wait, turn it, or lay it somewhere else."""
    lying = [one for sheet in doc.layout.sheets for one in sheet.placements]
    if not lying:
        return
    one = data.draw(st.sampled_from(lying))
    what = data.draw(st.sampled_from(["wait", "turn", "lay"]))
    if what == "wait":
        edit_layout.set_aside(doc, [one.key])
    elif what == "turn":
        edit_layout.turn_parts(doc, [one.key])
    else:
        sheet = data.draw(st.sampled_from(doc.layout.sheets)).id
        x, y = (data.draw(st.integers(0, 50)) * 10 * MM for _ in range(2))
        edit_layout.move_part(doc, one.part, one.copy, sheet, x, y)


def move_rip(doc: Document, data: st.DataObject) -> None:
    """Let two first-level pieces of a sheet change place."""
    cut = [sheet for sheet in doc.layout.sheets if sheet.tree is not None]
    if cut:
        sheet = data.draw(st.sampled_from(cut))
        tree = doc.layout.sheet(sheet.id).tree
        assert tree is not None
        places = st.integers(0, len(tree.pieces) - 1)
        edit_layout.move_rip(doc, sheet.id, data.draw(places), data.draw(places))


def give_back(doc: Document, data: st.DataObject) -> None:
    """Give all sheets back to planning."""
    del data
    edit_layout.plan_anew(doc)


def plan(doc: Document, data: st.DataObject) -> None:
    """Let the planner place what is free."""
    del data
    plan_around(doc)


def undo(doc: Document, data: st.DataObject) -> None:
    """Take a step back."""
    del data
    if doc.undo_stack.canUndo():
        doc.undo()


def redo(doc: Document, data: st.DataObject) -> None:
    """Take a step again."""
    del data
    if doc.undo_stack.canRedo():
        doc.redo()


TICKING: tuple[Do, ...] = (set_tick, take_tick)
DOING: tuple[Do, ...] = (
    resize,
    measure,
    remove,
    change_shop,
    change_stock,
    move,
    move_rip,
    give_back,
    plan,
    undo,
    redo,
)


def passes(doc: Document) -> list[Cut]:
    """Return the ticked cuts without what only names them."""
    return [replace(cut, key="", tool="", kind=cut.kind) for cut in doc.progress.ticked]


@settings(max_examples=some_of(150))
@given(
    small_jobs(), st.lists(st.sampled_from([set_tick, *TICKING, *DOING]), max_size=12), st.data()
)
def test_ticked_cuts_stay_what_they_are(job: Job, steps: list[Do], data: st.DataObject) -> None:
    """No edit, hand, plan, undo or redo changes number, piece or place of a ticked cut."""
    doc = Document(Project(job=job))
    plan_around(doc)
    set_tick(doc, data)
    for step in steps:
        before = {(cut.number, cut.sheet, cut.piece, cut.off, cut.rect) for cut in passes(doc)}
        step(doc, data)
        after = {(cut.number, cut.sheet, cut.piece, cut.off, cut.rect) for cut in passes(doc)}
        if step not in TICKING and step is not set_tick:
            assert after == before
        assert changed_in(doc.progress, doc.plan) is None
        assert doc.plan is None or verify(doc.plan) == ()
        nothing_lost(doc)
        made = doc.progress.made
        assert all(set(needed_for(doc.progress.fixed, number)) <= set(made) for number in made)
    doc.undo_stack.clear()
