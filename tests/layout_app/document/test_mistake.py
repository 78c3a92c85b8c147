"""After a mistake: what really lies there is told, and the rest is planned from it."""

from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QGuiApplication
from PySide6.QtTest import QTest
from pytestqt.qtbot import QtBot

from layout_app.document import edit_job, edit_parts
from layout_app.document.document import Document
from layout_app.document.edit import TICKED_SINCE
from layout_app.document.replan_rest import plan_the_rest
from layout_app.document.ticks import tick
from layout_app.model.pieces_on_hand import Thing, ThingKind, things
from layout_app.model.project import Project
from layout_app.model.replan import Wrong, fault_of
from layout_app.model.words.lying_words import text_of, words_of
from layout_app.model.words.order_words import sequence_words
from layout_app.panels.lying import LyingDrawer
from layout_app.panels.ticks import all_cards
from layout_app.planner.after_replan import Before, need_words
from layout_app.store.project_file import read_project, save_project
from layout_app.window.main_window import MainWindow
from shared.costs import sheet_price
from shared.lengths import INCH, LengthStyle
from shared.plan import Finished
from shared.saw import verify
from shared.stock import NoGo, Trims
from shared.units import Unit
from solver.budget.stop import Budget
from tests.layout_app.adopting import adopt
from tests.layout_app.small_job import KERF, begun_document, document, part, planned, small_job
from tests.properties.test_mistakes import plan_around

WAIT_MS = 30_000


@pytest.fixture
def doc(qtbot: QtBot) -> Document:
    """Return the small job, the first side sawn off."""
    del qtbot
    return begun_document()


def thing(doc: Document, name: str) -> Thing:
    """Return what lies there under a name."""
    return next(one for one in things(doc.project, doc.plan) if one.name == name)


def test_what_lies_there_has_names_and_sizes(doc: Document) -> None:
    """Two 12-inch rips off 48 leave 48 - 2 * (12 + 1/8); the crosscut leaves 96 - 40 - 1/8."""
    sizes = {one.name: one.size for one in things(doc.project, doc.plan)}
    assert sizes == {
        "1": (96 * INCH, 48 * INCH - 2 * (12 * INCH + KERF)),
        "1a": (96 * INCH - 40 * INCH - KERF, 12 * INCH),
        "1b": (96 * INCH, 12 * INCH),
        "1a1": (40 * INCH, 12 * INCH),
    }
    kinds = {one.name: one.kind for one in things(doc.project, doc.plan)}
    assert kinds["1a1"] is ThingKind.PART
    assert {kinds["1"], kinds["1a"], kinds["1b"]} == {ThingKind.PIECE}


@pytest.mark.parametrize(
    ("size", "said"),
    [
        ((97 * INCH, 12 * INCH), "no saw makes it larger"),
        ((96 * INCH, 12 * INCH + 1), "no saw makes it larger"),
        ((0, 12 * INCH), "say that it is ruined"),
        ((96 * INCH, -INCH), "say that it is ruined"),
    ],
)
def test_size_that_cannot_be_is_answered(doc: Document, size: tuple[int, int], said: str) -> None:
    """A larger piece, or one of no size, is refused with what to do."""
    assert said in fault_of(doc.job, thing(doc, "1b"), size)


def test_smaller_piece_is_taken(doc: Document) -> None:
    """A strip that came out narrower is no fault of what was typed."""
    assert fault_of(doc.job, thing(doc, "1b"), (96 * INCH, 11 * INCH)) == ""


def test_rest_is_planned_from_the_pieces(doc: Document) -> None:
    """Strip 1b is too narrow for sides: they come from piece 1, and the sheet is history."""
    assert doc.plan is not None
    before = doc.progress.ticked
    assert plan_the_rest(doc, {"1b": Wrong(size=(96 * INCH, 11 * INCH))})
    assert doc.layout.finished == (Finished(part="side", copy=1),)
    rows = {row.piece: row for row in doc.job.stock if row.is_piece}
    assert set(rows) == {"1", "1a", "1b"}
    assert rows["1"].named == 2
    assert rows["1a"].named == 1
    assert rows["1b"].width == 11 * INCH
    plan_around(doc)
    assert doc.plan is not None
    assert verify(doc.plan) == ()
    assert doc.plan.unplaced == ()
    assert {sheet.id for sheet in doc.plan.sheets} <= {"1", "1a", "1b"}
    assert doc.plan.first == 5
    assert doc.plan.cuts[0].number == 5
    assert doc.progress.past[0].cuts == before
    numbers = [card.number for card in all_cards(doc)]
    assert numbers == [1, 2, 4, *range(5, 5 + len(doc.plan.cuts))]


def test_naming_goes_on(doc: Document) -> None:
    """Piece 1 has given away 1a and 1b: what is sawn off it next is 1c."""
    plan_the_rest(doc, {})
    plan_around(doc)
    assert doc.plan is not None
    offs = [cut.off for cut in doc.plan.cuts if cut.piece == "1" and cut.off]
    assert offs[0] == "1c"


def test_ruined_part_is_needed_again(doc: Document) -> None:
    """A finished side that is ruined goes back into the demand, and nothing of it is stock."""
    plan_the_rest(doc, {"1a1": Wrong()})
    assert doc.layout.finished == ()
    assert ("side", 1) in {one.key for one in doc.layout.waiting}
    assert "1a1" not in {row.piece for row in doc.job.stock}


def test_part_that_is_too_short_is_stock(doc: Document) -> None:
    """A side sawn an inch too short is needed again, and lies there as a piece of its size."""
    plan_the_rest(doc, {"1a1": Wrong(size=(39 * INCH, 12 * INCH))})
    assert doc.layout.finished == ()
    (row,) = (row for row in doc.job.stock if row.piece == "1a1")
    assert (row.length, row.width) == (39 * INCH, 12 * INCH)


def test_part_of_an_earlier_round_can_turn_out_wrong(doc: Document) -> None:
    """A side that was finished before the plan was made anew may still be ruined later."""
    plan_the_rest(doc, {})
    plan_around(doc)
    assert thing(doc, "1a1").past
    plan_the_rest(doc, {"1a1": Wrong()})
    assert doc.layout.finished == ()


def test_it_is_one_step_until_cuts_are_ticked(doc: Document) -> None:
    """Undo brings sheet and ticks back; once a new cut is ticked it is refused."""
    said: list[str] = []
    doc.said.connect(said.append)
    before = doc.project
    plan_the_rest(doc, {})
    doc.undo()
    assert doc.project == before
    doc.redo()
    plan_around(doc)
    tick(doc, [5])
    doc.undo()
    assert said[-1] == TICKED_SINCE
    assert doc.progress.past


def test_factory_edges_keep_their_trims() -> None:
    """The strip along the reference edge, not yet crosscut, still has the two short edges."""
    job = small_job()
    trims = Trims(near=INCH // 4, far=INCH // 8, start=INCH // 2, end=INCH)
    bad = NoGo(x=0, y=46 * INCH, length=4 * INCH, width=2 * INCH)
    job = replace(job, stock=(replace(job.stock[0], trims=trims, no_go=(bad,), density=600),))
    doc = Document(Project(job=job))
    adopt(doc, planned(job))
    assert doc.plan is not None
    tick(doc, [1, 2])
    plan_the_rest(doc, {})
    rows = {row.piece: row for row in doc.job.stock if row.is_piece}
    assert rows["1a"].trims == Trims(start=INCH // 2, end=INCH)
    assert rows["1"].trims == Trims(far=INCH // 8, start=INCH // 2, end=INCH)
    assert rows["1a"].no_go == ()
    (moved,) = rows["1"].no_go
    assert (moved.x, moved.length, moved.width) == (0, bad.length, bad.width)
    assert moved.rect.bottom == rows["1"].width
    assert rows["1"].density == 600
    assert all(sheet_price(doc.job, row) == 0 and row.at_hand == 1 for row in rows.values())


def test_sheets_at_hand_are_fewer_by_those_cut(qtbot: QtBot) -> None:
    """Of two sheets at hand one is cut: one is left, and is taken when the pieces do not do."""
    del qtbot
    job = small_job()
    job = replace(job, stock=(replace(job.stock[0], at_hand=2),))
    doc = Document(Project(job=job))
    adopt(doc, planned(job))
    tick(doc, [1, 2])
    plan_the_rest(doc, {"1": Wrong(), "1b": Wrong()})
    assert doc.job.stock_row("full").at_hand == 1
    plan_around(doc)
    assert doc.plan is not None
    assert {sheet.id for sheet in doc.plan.sheets if not sheet.piece} == {"2"}
    words = need_words(doc.job, doc.plan, Before())
    assert words.startswith(
        "This takes 1 more sheet of yours (full sheet, birch ply) than was planned, for "
    )
    assert words.endswith("; nothing has to be bought for that.")


def test_parts_that_need_stock_are_named(qtbot: QtBot) -> None:
    """With the only sheet cut and most of it ruined the plan names what is lacking."""
    del qtbot
    job = small_job()
    doc = Document(Project(job=replace(job, stock=(replace(job.stock[0], at_hand=1),))))
    adopt(doc, planned(doc.job))
    tick(doc, [1])
    plan_the_rest(doc, {"1": Wrong()})
    plan_around(doc)
    assert doc.plan is not None
    words = need_words(doc.job, doc.plan, Before())
    assert "2 × Side: needs one more sheet of birch ply" in words
    assert "3 × Shelf: needs one more sheet of birch ply" in words


def test_blank_of_a_fit_part_stays_reserved(qtbot: QtBot) -> None:
    """A blank that is sawn waits for its opening on a piece of its own, held."""
    del qtbot
    front = replace(part("front", "Front", (20, 10)), fit_allowance=INCH // 4)
    job = replace(small_job(), parts=(front, part("side", "Side", (40, 12), 2)))
    doc = Document(Project(job=job))
    adopt(doc, planned(job))
    assert doc.plan is not None
    tick(doc, [cut.number for cut in doc.plan.cuts])
    (blank,) = (one for one in things(doc.project, doc.plan) if one.kind is ThingKind.BLANK)
    plan_the_rest(doc, {})
    assert {one.key for one in doc.layout.finished} == {("side", 1), ("side", 2)}
    assert [sheet.id for sheet in doc.layout.sheets] == [blank.name]
    measured = replace(front, measured_length=20 * INCH, measured_width=10 * INCH)
    edit_parts.edit_part(doc, measured)
    assert doc.plan is not None
    assert verify(doc.plan) == ()
    assert [cut.size for cut in doc.plan.cuts] == [20 * INCH, 10 * INCH]
    assert doc.plan.first > 1


def test_finished_part_of_another_size_is_needed_again(doc: Document) -> None:
    """Once its size is changed in the take-off a finished side is the wrong one."""
    plan_the_rest(doc, {})
    assert doc.layout.finished
    side = doc.job.part("side")
    edit_parts.edit_part(doc, replace(side, length=41 * INCH))
    assert doc.layout.finished == ()
    assert ("side", 1) in {one.key for one in doc.layout.waiting}


def test_history_survives_the_file(doc: Document, tmp_path: Path) -> None:
    """Pieces, finished parts and what was sawn before are read back as they were written."""
    plan_the_rest(doc, {"1b": Wrong(size=(96 * INCH, 11 * INCH))})
    plan_around(doc)
    tick(doc, [5])
    path = tmp_path / "trial.ripfirst.json"
    save_project(path, doc.project)
    again = Document(read_project(path))
    assert again.project == doc.project
    assert again.plan == doc.plan


# --- the drawer ---------------------------------------------------------------------------


@pytest.fixture
def drawer(doc: Document, qtbot: QtBot) -> LyingDrawer:
    """Return the drawer, opened for a mistake."""
    made = LyingDrawer(doc)
    qtbot.addWidget(made)
    made.resize(900, 260)
    made.open_for_mistake()
    return made


def typed(drawer: LyingDrawer, text: str) -> None:
    """Type a real W, and leave it where it is."""
    field = drawer.width_field
    field.setFocus()
    field.setText(text)
    field.commit()


def test_real_size_is_typed_in_any_usual_way(drawer: LyingDrawer, doc: Document) -> None:
    """``11-1/2"`` is taken as the real width of strip 1b, and the rest planned with it."""
    drawer.choose("1b")
    typed(drawer, '11-1/2"')
    QTest.mouseClick(drawer.rest, Qt.MouseButton.LeftButton)
    (row,) = (row for row in doc.job.stock if row.piece == "1b")
    assert row.width == 23 * INCH // 2
    assert not drawer.isVisible()


@pytest.mark.parametrize("text", ["13", "0", "-3", "twelve", ""])
def test_nonsense_is_answered_at_the_field(drawer: LyingDrawer, text: str) -> None:
    """What cannot be stays typed, with a sentence below it; nothing is corrected."""
    drawer.choose("1b")
    typed(drawer, text)
    assert drawer.width_field.question is not None
    assert len(drawer.width_field.question.sentence) > 20
    model = drawer.table.model()
    row = next(n for n, one in enumerate(drawer.things) if one.name == "1b")
    assert model.index(row, 5).data() == "Side 3, Side 4"


def test_ruined_and_right_again(drawer: LyingDrawer) -> None:
    """What is marked ruined says so in the list, and can be put right."""
    drawer.choose("1b")
    row = next(n for n, one in enumerate(drawer.things) if one.name == "1b")
    QTest.mouseClick(drawer.ruined, Qt.MouseButton.LeftButton)
    assert drawer.table.model().index(row, 5).data() == "ruined"
    QTest.mouseClick(drawer.right, Qt.MouseButton.LeftButton)
    assert drawer.table.model().index(row, 5).data() == "Side 3, Side 4"


def test_size_fields_say_what_the_list_says(drawer: LyingDrawer, doc: Document) -> None:
    """23 3/4 in is 603.25 mm there too, no sum with a remainder; left alone, it marks nothing."""
    edit_job.edit_style(doc, LengthStyle(unit=Unit.MM))
    for one in drawer.things:
        drawer.choose(one.name)
        said = words_of(doc.job, one)
        assert (drawer.length.text(), drawer.width_field.text()) == (said.length, said.width)
        assert drawer.width_field.commit()
        assert not drawer.right.isEnabled()
    drawer.choose("1")
    assert drawer.width_field.text() == "603.25"


def test_list_is_copied_as_text(drawer: LyingDrawer, doc: Document) -> None:
    """Every thing is a line with its name, size, and what it becomes."""
    drawer.copy_text()
    text = QGuiApplication.clipboard().text()
    assert text == text_of(doc.job, drawer.things)
    assert text.startswith("Trial: what lies there now, in inches\n")
    assert len(text.splitlines()) == 2 + len(drawer.things)
    for one in drawer.things:
        line = next(line for line in text.splitlines() if line.split()[0] == one.name)
        assert words_of(doc.job, one).becomes in line


def test_last_cut_made_is_told_as_it_is_now(drawer: LyingDrawer, doc: Document) -> None:
    """A cut ticked while the list is open is the last one made from then on."""
    drawer.open_to_go_on()
    assert drawer.hint.text() == "cut 4 was the last one made; F8 goes on"
    tick(doc, [5])
    assert drawer.hint.text() == "cut 5 was the last one made; F8 goes on"


def test_with_all_cuts_made_nothing_is_offered_to_go_on_with(
    drawer: LyingDrawer, doc: Document
) -> None:
    """All are made, so there is no rest to plan; a part that is ruined after all makes one."""
    assert doc.plan is not None
    count = len(doc.plan.cuts)
    drawer.open_to_go_on()
    assert drawer.rest.isVisible()
    tick(doc, range(1, count + 1))
    assert drawer.hint.text() == f"all {count} cuts are made"
    assert not drawer.rest.isVisible()
    drawer.choose(next(one.name for one in drawer.things if one.kind is ThingKind.PART))
    QTest.mouseClick(drawer.ruined, Qt.MouseButton.LeftButton)
    assert drawer.rest.isVisible()
    QTest.mouseClick(drawer.right, Qt.MouseButton.LeftButton)
    assert not drawer.rest.isVisible()


def test_heading_counts_the_cuts_made_before(doc: Document) -> None:
    """Planned anew, the three cuts ticked before are told beside the cuts that are left."""
    assert sequence_words(doc.sawn, doc.takes).startswith("3 made, ")
    assert plan_the_rest(doc, {})
    plan_around(doc)
    assert sequence_words(doc.sawn, doc.takes).startswith("3 made before, ")


@pytest.fixture
def window(qtbot: QtBot) -> Iterator[MainWindow]:
    """Return a window on an empty project."""
    made = MainWindow(limits=Budget(time_s=20.0, patience_s=1.0, workers=1))
    qtbot.addWidget(made)
    made.show()
    yield made
    made.document.saved_state.note_saved(made.document.project, Path("not-written"))
    assert made.close()


def test_window_plans_the_rest_and_says_what_it_needs(window: MainWindow, qtbot: QtBot) -> None:
    """With most of the sheet ruined the planner buys another, and the window says for what."""
    window.projects.show(document().project, None)
    tick(window.document, [1])
    window.menus.actions["cuts.mistake"].trigger()
    assert window.drawers.lying.isVisible()
    assert not window.sequence.isVisible()
    window.drawers.lying.choose("1")
    QTest.mouseClick(window.drawers.lying.ruined, Qt.MouseButton.LeftButton)
    QTest.mouseClick(window.drawers.lying.rest, Qt.MouseButton.LeftButton)
    assert window.sequence.isVisible()
    qtbot.waitUntil(window.bar.isVisible, timeout=WAIT_MS)
    assert window.bar.sentence.startswith("This takes 1 more sheet of birch ply than was")
    assert window.document.plan is not None
    assert verify(window.document.plan) == ()


def test_going_on_another_day_shows_what_lies_there(
    window: MainWindow, qtbot: QtBot, tmp_path: Path, doc: Document
) -> None:
    """A project that was left half sawn is opened with the list of what lies there."""
    path = tmp_path / "trial.ripfirst.json"
    save_project(path, doc.project)
    window.projects.open(path)
    qtbot.waitUntil(window.drawers.lying.isVisible, timeout=WAIT_MS)
    assert [one.name for one in window.drawers.lying.things] == ["1", "1a", "1b", "1a1"]
    window.projects.show(Project(), None)
    assert not window.drawers.lying.isVisible()
