"""A sheet that is not at hand is neither laid out, nor sawn, nor said to cost nothing."""

from dataclasses import replace
from pathlib import Path

import pytest
from pytestqt.qtbot import QtBot

from layout_app.cli.main import main
from layout_app.document import edit_job, edit_layout
from layout_app.document.document import Document
from layout_app.document.ticks import tick
from layout_app.model.project import Project
from layout_app.panels.issues import all_issues
from layout_app.planner.live import Standing
from layout_app.planner.process import PlannerProcess
from layout_app.planner.status_words import proof_sentence
from layout_app.store.project_file import save_project
from layout_app.window.main_window import MainWindow
from shared.job import Job
from shared.lengths import INCH
from shared.plan import Goal, Proof
from tests.layout_app.adopting import adopt
from tests.layout_app.at_once import plan_of
from tests.layout_app.closing import close
from tests.layout_app.small_job import planned, small_job

NONE_AT_HAND = (
    "Sheet 2: no sheet of my offcut is at hand. Lay its parts on another, or type how many there"
    " are in its row."
)


def owned(at_hand: int) -> Job:
    """Return the small job with so many offcuts of L 40 x W 30 in of the maker's own."""
    job = small_job()
    own = replace(
        job.stock[0],
        id="own",
        name="my offcut",
        length=40 * INCH,
        width=30 * INCH,
        price=None,
        at_hand=at_hand,
    )
    return replace(job, stock=(*job.stock, own))


def bought(at_hand: int) -> Document:
    """Return a document in which all lies on a sheet that is bought, whatever is at hand."""
    plan = planned(small_job())
    doc = Document(Project(job=small_job()))
    adopt(doc, plan)
    project = replace(doc.project, job=owned(at_hand))
    made = Document(project)
    assert {sheet.stock for sheet in made.layout.sheets} == {"full"}
    return made


def laid_on_one(yours: bool = True) -> Document:
    """Return that document with one offcut at hand, and a shelf laid on it."""
    doc = bought(1)
    assert edit_layout.add_sheet(doc, "own")
    assert edit_layout.move_part(doc, "shelf", 3, "2", 0, 0)
    assert doc.problems == {}
    if yours:
        return doc
    mine = (replace(one, yours=False) for one in doc.layout.sheets)
    return Document(replace(doc.project, layout=replace(doc.layout, sheets=tuple(mine))))


def without_sheets(doc: Document) -> Project:
    """Return the project as a file says it in which someone wrote that none is at hand."""
    return replace(doc.project, job=owned(0))


@pytest.mark.parametrize(
    ("at_hand", "said"),
    [
        (
            0,
            "No further sheet of my offcut can be laid out: none is at hand. Type how many there"
            " are in its row.",
        ),
        (
            1,
            "No further sheet of my offcut can be laid out: the one at hand is on the bench"
            " already.",
        ),
        (
            2,
            "No further sheet of my offcut can be laid out: all 2 at hand are on the bench"
            " already.",
        ),
    ],
)
def test_no_more_sheets_are_laid_out_than_there_are(at_hand: int, said: str) -> None:
    """As many as are at hand, and then a sentence says why not."""
    doc = bought(at_hand)
    heard: list[str] = []
    doc.said.connect(heard.append)
    for _ in range(at_hand):
        assert edit_layout.add_sheet(doc, "own")
    before = doc.layout
    assert not edit_layout.add_sheet(doc, "own")
    assert doc.layout == before
    assert heard == [said]
    assert edit_layout.add_sheet(doc, "full")


def test_the_window_says_so_of_the_selected_row(qtbot: QtBot) -> None:
    """With that row selected nothing is laid out; with none selected, another row is taken."""
    job = owned(0)
    window = MainWindow(
        Document(Project(job=replace(job, stock=job.stock[::-1]))), planner=PlannerProcess()
    )
    qtbot.addWidget(window)
    window.show()
    doc, heard = window.document, list[str]()
    doc.said.connect(heard.append)
    window.left.stock.show_chosen({"own"})
    window.menus.actions["bench.sheet"].trigger()
    assert not doc.layout.sheets
    assert "none is at hand" in heard[0]
    window.left.stock.show_chosen(set())
    window.menus.actions["bench.sheet"].trigger()
    assert [sheet.stock for sheet in doc.layout.sheets] == ["full"]
    close(window)


def test_a_sheet_there_is_not_is_named_and_nothing_of_it_is_claimed() -> None:
    """A file with a part laid on a sheet that is not at hand: a fault, no proof, no price of 0."""
    project = without_sheets(laid_on_one())
    proof = Proof(goal=Goal.FEWEST_SHEETS, value=2, bound=2, proven=True)
    doc = Document(replace(project, proof=proof))
    assert doc.problems == {"2": NONE_AT_HAND}
    assert NONE_AT_HAND in {issue.sentence for issue in all_issues(doc)}
    assert doc.plan is not None
    assert {sheet.stock for sheet in doc.plan.sheets} == {"full"}
    assert not doc.plan.proof.proven
    words = proof_sentence(doc.project, doc.plan, Standing())
    assert "sheet 2 can't be cut yet" in words
    assert "proven" not in words
    assert "nothing to buy" not in words
    doc.take_bounds(proof)
    assert not doc.project.proof.proven
    adopt(doc, plan_of(doc.project))
    assert not doc.project.proof.proven
    assert doc.problems == {"2": NONE_AT_HAND}


def test_a_file_with_one_is_not_changed_by_opening_it(tmp_path: Path) -> None:
    """What is claimed in it is not shown, and that alone is nothing to save."""
    proof = Proof(goal=Goal.FEWEST_SHEETS, value=2, bound=2, proven=True)
    doc = Document()
    doc.open(replace(without_sheets(laid_on_one()), proof=proof), tmp_path / "shelf.ripfirst.json")
    assert not doc.project.proof.proven
    assert not doc.saved_state.modified


def test_a_number_lowered_afterwards_makes_it_one() -> None:
    """The maker's own sheet stays, and is named; with the number typed again all is well."""
    doc = laid_on_one()
    row = doc.job.stock_row("own")
    edit_job.edit_stock(doc, replace(row, at_hand=0))
    assert doc.problems == {"2": NONE_AT_HAND}
    edit_job.edit_stock(doc, row)
    assert doc.problems == {}


def test_two_of_one_are_told_from_none() -> None:
    """The sentence tells how many there are, and who has them."""
    doc = bought(2)
    for sheet, copy in (("2", 2), ("3", 3)):
        assert edit_layout.add_sheet(doc, "own")
        assert edit_layout.move_part(doc, "shelf", copy, sheet, 0, 0)
    edit_job.edit_stock(doc, replace(doc.job.stock_row("own"), at_hand=1))
    assert doc.problems == {
        "3": "Sheet 3: only one of my offcut is at hand, and other sheets of the layout take it."
        " Lay its parts on another, or type how many there are in its row."
    }


def test_planned_on_a_sheet_there_is_not_it_is_planned_again() -> None:
    """What the planner laid there waits for a place, and gets one on what there is."""
    doc = laid_on_one(yours=False)
    edit_job.edit_stock(doc, replace(doc.job.stock_row("own"), at_hand=0))
    assert {sheet.stock for sheet in doc.layout.sheets} == {"full"}
    assert [one.key for one in doc.layout.waiting] == [("shelf", 3)]
    adopt(doc, plan_of(doc.project))
    assert not doc.layout.waiting
    assert doc.problems == {}


def test_a_begun_sheet_is_there_whatever_its_row_says() -> None:
    """A cut of it is made: the maker takes it off the row, and goes on sawing."""
    doc = laid_on_one()
    assert doc.plan is not None
    numbers = [cut.number for cut in doc.plan.cuts if cut.sheet == "2"]
    tick(doc, [cut.number for cut in doc.plan.cuts if cut.number <= numbers[0]])
    edit_job.edit_stock(doc, replace(doc.job.stock_row("own"), at_hand=0))
    assert doc.job.stock_row("own").at_hand == 0
    assert doc.problems == {}


def test_the_command_line_says_so_too(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Planning keeps what lies there by hand, names it, and ends with 1; the saw never sees it."""
    path = tmp_path / "shelf.ripfirst.json"
    save_project(path, without_sheets(laid_on_one()))
    code = main(
        ["plan", str(path), "--out", str(tmp_path / "out"), "--time-limit", "1", "--workers", "1"]
    )
    told = capsys.readouterr().out
    assert code == 1
    assert NONE_AT_HAND in told
    assert [line for line in told.splitlines() if line.startswith("2 sheets")] == [
        "2 sheets, 52.00 and 1 sheet without a price, sheet 2 can't be cut yet"
    ]
