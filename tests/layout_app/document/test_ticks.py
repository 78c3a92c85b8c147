"""Ticks: what is made is history; nothing that follows may change it."""

from dataclasses import replace
from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from pytestqt.qtbot import QtBot

from layout_app.cli.main import ALL_PLANNED, main
from layout_app.document import edit_job, edit_layout, edit_locks, edit_parts
from layout_app.document.document import Document
from layout_app.document.ticks import missing_before, next_open, tick, ticked_after, untick
from layout_app.look.theme import Theme
from layout_app.model.locks import asked
from layout_app.model.project import Project
from layout_app.panels.sequence_panel import SequencePanel
from layout_app.panels.ticking import OTHER_CUTS
from layout_app.store.errors import FileProblem
from layout_app.store.project_file import project_text, read_project, save_project
from shared.asked import Settled
from shared.lengths import INCH
from shared.parts import Part
from shared.plan import Plan
from shared.progress import needed_for
from shared.saw import verify
from solver.budget.stop import Budget
from solver.run import run
from tests.layout_app.adopting import adopt
from tests.layout_app.small_job import document, part, planned, small_job


def more_parts() -> Part:
    """Return three parts that need no more than a strip of a sheet."""
    return part("rail", "Rail", (20, 4), 3)


@pytest.fixture
def doc(qtbot: QtBot) -> Document:
    """Return the small job with its first plan: three rips, then the crosscuts of each strip."""
    del qtbot
    return document()


@pytest.fixture
def said(doc: Document) -> list[str]:
    """Return what the document says, as it says it."""
    heard: list[str] = []
    doc.said.connect(heard.append)
    return heard


def cuts_made(doc: Document) -> list[tuple[int, str, object]]:
    """Return number, piece and dust of every ticked cut as the plan has it."""
    assert doc.plan is not None
    return [
        (cut.number, cut.piece, cut.rect)
        for cut in doc.plan.cuts
        if cut.number in doc.progress.made
    ]


def test_cuts_that_come_before_are_those_that_make_the_piece(doc: Document) -> None:
    """The crosscuts of strip 1b need both rips that free it, and the crosscut before them."""
    assert doc.plan is not None
    second = next(cut for cut in doc.plan.cuts if cut.off == "1b2")
    first = next(cut for cut in doc.plan.cuts if cut.off == "1b1")
    assert needed_for(doc.plan.cuts, second.number) == (1, 2, first.number)
    assert missing_before(doc, second.number) == (1, 2, first.number)
    tick(doc, [1, 2])
    assert missing_before(doc, second.number) == (first.number,)


def test_sheet_with_a_tick_is_kept_whole(doc: Document) -> None:
    """Planning has to leave a sheet as it lies as soon as one of its cuts is made."""
    assert asked(doc.project).kept == ()
    tick(doc, [1])
    assert [sheet.id for sheet in asked(doc.project).kept] == ["1"]
    untick(doc, [1])
    assert asked(doc.project).kept == ()


def test_new_parts_number_onward(doc: Document) -> None:
    """Parts typed in after two ticks come behind; the ticked cuts are what they were."""
    tick(doc, [1, 2])
    before = cuts_made(doc)
    edit_parts.add_parts(doc, [more_parts()])
    adopt(doc, planned_around(doc))
    assert doc.plan is not None
    assert verify(doc.plan) == ()
    assert cuts_made(doc) == before
    assert not doc.layout.waiting


def planned_around(doc: Document) -> Plan | None:
    """Return a plan of what is not kept."""
    around = asked(doc.project)
    return run(doc.job, Budget(time_s=0.0), lambda event: None, Settled(kept=around.kept))


def test_kerf_cannot_change_under_a_cut_that_is_made(doc: Document, said: list[str]) -> None:
    """A wider kerf is refused with the number of the cut, and is no undo step."""
    tick(doc, [1])
    assert not edit_job.edit_shop(doc, replace(doc.job.shop, kerf=INCH // 16))
    assert said[-1].startswith("Cut 1 on sheet 1 is made, and this would change it: untick it")
    assert doc.job.shop.kerf == INCH // 8
    assert doc.undo_stack.count() == 0


def test_row_of_a_begun_sheet_cannot_change(doc: Document, said: list[str]) -> None:
    """Trims, size and the row itself stay while a cut of the sheet is made; its price may go."""
    tick(doc, [1])
    (row,) = doc.job.stock
    assert not edit_job.edit_stock(doc, replace(row, trims=replace(row.trims, near=INCH)))
    assert not edit_job.remove_stock(doc, [row.id])
    assert len(said) >= 2
    assert edit_job.edit_stock(doc, replace(row, price=6000))


def test_hand_cannot_move_what_a_made_cut_sawed_off(doc: Document, said: list[str]) -> None:
    """A narrower strip cannot come before one that is ripped; those behind still may move."""
    tick(doc, [1])
    assert not edit_layout.move_rip(doc, "1", 2, 0)
    assert "Cut 1 on sheet 1 is made" in said[-1]
    assert edit_layout.move_rip(doc, "1", 1, 2)
    assert doc.plan is not None
    assert verify(doc.plan) == ()


def test_undo_across_an_edit_before_the_ticks_is_refused(doc: Document, said: list[str]) -> None:
    """Undo would bring a plan with other cuts back: it is refused, and the step stays."""
    edit_layout.move_rip(doc, "1", 2, 0)
    tick(doc, [1])
    before = cuts_made(doc)
    doc.undo()
    assert "Cut 1 on sheet 1 is made" in said[-1]
    assert doc.undo_stack.canUndo()
    assert cuts_made(doc) == before
    untick(doc, [1])
    doc.undo()
    assert not doc.undo_stack.canUndo()


def test_ticks_stand_outside_undo(doc: Document) -> None:
    """Undo of an edit leaves the ticks that were made after it."""
    edit_job.rename_job(doc, "Bookcase")
    tick(doc, [1, 2])
    doc.undo()
    assert doc.job.name == "Trial"
    assert doc.progress.made == (1, 2)
    doc.redo()
    assert doc.progress.made == (1, 2)


def test_numbers_hold_when_a_later_cut_is_ticked(doc: Document) -> None:
    """With cut 4 ticked, a rip that is not made keeps its number when strips change place."""
    assert doc.plan is not None
    tick(doc, [1, 2, 4])
    before = cuts_made(doc)
    edit_parts.add_parts(doc, [more_parts()])
    adopt(doc, planned_around(doc))
    assert cuts_made(doc) == before


def test_plan_that_would_change_a_made_cut_is_not_adopted(doc: Document) -> None:
    """A planner that did not hear of the tick cannot take the sheet away."""
    tick(doc, [1])
    before = cuts_made(doc)
    other = planned(replace(small_job(), rule=replace(doc.job.rule, levels=2)))
    adopt(doc, other)
    assert cuts_made(doc) == before


def test_ticks_survive_the_file(doc: Document, tmp_path: Path) -> None:
    """A project is read back with its ticks, and they hold as before."""
    tick(doc, [1, 2])
    path = tmp_path / "trial.ripfirst.json"
    save_project(path, doc.project)
    again = Document(read_project(path))
    assert again.progress == doc.progress
    assert not edit_job.edit_shop(again, replace(again.job.shop, kerf=0))


def test_file_with_a_tick_of_no_cut_is_refused(doc: Document, tmp_path: Path) -> None:
    """A hand-edited file that ticks cut 7 without listing it says where."""
    tick(doc, [1])
    path = tmp_path / "trial.ripfirst.json"
    wrong = replace(doc.project, progress=replace(doc.progress, made=(1, 7)))
    path.write_text(project_text(wrong))
    with pytest.raises(FileProblem, match=r"progress\.made\[1\].*no cut 7"):
        read_project(path)


def test_file_whose_sheets_lack_a_ticked_cut_is_refused(doc: Document, tmp_path: Path) -> None:
    """A kerf that was changed by hand in the file does not go with the cuts that are made."""
    tick(doc, [1])
    path = tmp_path / "trial.ripfirst.json"
    job = replace(doc.job, shop=replace(doc.job.shop, kerf=INCH // 16))
    path.write_text(project_text(replace(doc.project, job=job)))
    with pytest.raises(FileProblem, match=r"progress\.fixed\[0\].*cut 1 is ticked, but"):
        read_project(path)


def test_older_file_has_no_ticks(tmp_path: Path) -> None:
    """A file that knows nothing of ticks is read, with none."""
    path = tmp_path / "old.ripfirst.json"
    save_project(path, Project(job=small_job()))
    text = path.read_text().replace('"progress"', '"unused"')
    assert '"unused"' in text
    assert read_project(path).progress.made == ()


def test_command_line_keeps_ticked_cuts_and_says_so(
    doc: Document, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """Planned from the command line a project with ticks is gone on with."""
    tick(doc, [1])
    path = tmp_path / "trial.ripfirst.json"
    save_project(path, doc.project)
    code = main(["plan", str(path), "--out", str(tmp_path / "out"), "--time-limit", "0"])
    assert code == ALL_PLANNED
    assert "Kept: 1 ticked cut." in capsys.readouterr().out


# --- in the window ------------------------------------------------------------------------


@pytest.fixture
def panel(doc: Document, qtbot: QtBot) -> SequencePanel:
    """Return the cut sequence in a window of its own."""
    made = SequencePanel(doc, Theme.light())
    made.resize(1000, 280)
    qtbot.addWidget(made)
    made.show()
    return made


def test_space_ticks_the_selected_card(panel: SequencePanel, doc: Document) -> None:
    """The first card is ticked and unticked with Space."""
    doc.selection.select_cut(1)
    QTest.keyClick(panel.cards, Qt.Key.Key_Space)
    assert doc.progress.made == (1,)
    assert panel.cards.accessibleDescription().endswith("Made.")
    QTest.keyClick(panel.cards, Qt.Key.Key_Space)
    assert doc.progress.made == ()


def test_out_of_order_it_offers_what_came_before(panel: SequencePanel, doc: Document) -> None:
    """Ticking the fourth card first asks in place; yes ticks both, and nothing is modal."""
    doc.selection.select_cut(4)
    QTest.keyClick(panel.cards, Qt.Key.Key_Space)
    assert doc.progress.made == ()
    question = panel.ticking.question(panel.cards)
    assert question is not None
    assert question.sentence == "Cut 4 needs cut 1, which isn't ticked. Have you made both?"
    QTest.mouseClick(question.buttons[0], Qt.MouseButton.LeftButton)
    assert doc.progress.made == (1, 4)
    assert panel.ticking.question(panel.cards) is None


def test_leaving_the_question_ticks_nothing(panel: SequencePanel, doc: Document) -> None:
    """The other answer leaves the ticks as they are."""
    doc.selection.select_cut(4)
    QTest.keyClick(panel.cards, Qt.Key.Key_Space)
    question = panel.ticking.question(panel.cards)
    assert question is not None
    QTest.mouseClick(question.buttons[1], Qt.MouseButton.LeftButton)
    assert doc.progress.made == ()


def test_a_question_goes_when_its_numbers_mean_other_cuts(
    panel: SequencePanel, doc: Document, said: list[str]
) -> None:
    """A part that leaves its sheet renumbers cuts: what was asked before ticks none of them."""
    doc.selection.select_cut(4)
    QTest.keyClick(panel.cards, Qt.Key.Key_Space)
    question = panel.ticking.question(panel.cards)
    assert question is not None
    edit_layout.set_aside(doc, [("side", 1)])
    assert panel.ticking.question(panel.cards) is None
    assert not question.isVisible()
    assert doc.progress.made == ()
    assert said == [OTHER_CUTS]


def test_a_question_stays_when_the_cuts_do(panel: SequencePanel, doc: Document) -> None:
    """A hold changes the layout and no cut."""
    doc.selection.select_cut(4)
    QTest.keyClick(panel.cards, Qt.Key.Key_Space)
    edit_locks.hold_sheet(doc, "1")
    assert panel.ticking.question(panel.cards) is not None


def test_unticking_what_others_came_of_is_asked_about(panel: SequencePanel, doc: Document) -> None:
    """A tick that others rest on goes only with theirs."""
    tick(doc, [1, 2, 4])
    assert ticked_after(doc, 1) == (2, 4)
    doc.selection.select_cut(1)
    QTest.keyClick(panel.cards, Qt.Key.Key_Space)
    question = panel.ticking.question(panel.cards)
    assert question is not None
    assert question.sentence == "Cuts 2 and 4 need cut 1."
    QTest.mouseClick(question.buttons[0], Qt.MouseButton.LeftButton)
    assert doc.progress.made == ()


def test_table_ticks_as_the_cards_do(panel: SequencePanel, doc: Document) -> None:
    """Space in the table ticks the same cut as on the cards, and its box shows it."""
    panel.switch()
    doc.selection.select_cut(1)
    QTest.keyClick(panel.table, Qt.Key.Key_Space)
    assert doc.progress.made == (1,)
    model = panel.table.model()
    checked = model.data(model.index(0, 0), Qt.ItemDataRole.CheckStateRole)
    assert checked == Qt.CheckState.Checked
    assert next_open(doc.plan, doc.progress) == 2


def test_a_plan_says_which_sheets_stay_as_soon_as_a_cut_of_them_is_ticked() -> None:
    """What is read back from a file with ticks is the plan that was shown when they were set."""
    doc = document()
    assert doc.plan is not None
    assert not any(sheet.stays for sheet in doc.plan.sheets)
    tick(doc, [1])
    assert [sheet.id for sheet in doc.plan.sheets if sheet.stays] == [doc.plan.cut(1).sheet]
    assert Document(doc.project).plan == doc.plan
    untick(doc, [1])
    assert not any(sheet.stays for sheet in doc.plan.sheets)
