"""The drawer that says what is written, and what it sets going."""

from contextlib import closing
from dataclasses import replace
from pathlib import Path

import pypdfium2
import pytest
from PySide6.QtCore import Qt, QUrl
from PySide6.QtGui import QDesktopServices, QGuiApplication
from PySide6.QtPrintSupport import QPrinter, QPrinterInfo
from pytestqt.qtbot import QtBot

from layout_app.document.edit_parts import edit_part
from layout_app.paper.fitting import fitted_page
from layout_app.paper.pack.book import Paper
from layout_app.paper.printing import print_pages, set_up
from layout_app.window.main_window import MainWindow
from layout_app.window.paper_work import NO_PRINTER
from shared.lengths import MM, Unit
from tests.layout_app.monkey import close, silent_planner
from tests.layout_app.paper.full_sheet import full_matter
from tests.layout_app.small_job import document

WAIT_MS = 10_000


@pytest.fixture
def window(qtbot: QtBot):
    """A window with the small job, its planner silent."""
    made = MainWindow(document(), planner=silent_planner())
    qtbot.addWidget(made)
    made.show()
    yield made
    close(made)


def test_what_is_ticked_is_written(window: MainWindow, qtbot: QtBot, tmp_path: Path) -> None:
    """Opened by its action; only ticked formats come into the folder, as they were wished."""
    window.menus.actions["paper.save"].trigger()
    drawer = window.drawers.paper
    assert drawer.isVisible()
    assert drawer.formats() == ("json", "svg")
    drawer.boxes["json"].setChecked(False)
    drawer.boxes["svg"].setChecked(False)
    assert not drawer.write.isEnabled()
    assert drawer.fault.text()
    drawer.boxes["pdf"].setChecked(True)
    drawer.paper.setCurrentText("Letter")
    drawer.unit.setCurrentText("millimetres")
    assert drawer.wish().paper is Paper.LETTER
    assert drawer.wish().unit is Unit.MM
    assert not drawer.wish().labels.borders
    drawer.borders.setChecked(True)
    assert drawer.wish().labels.borders
    with qtbot.waitSignal(window.projects.files.exported, timeout=WAIT_MS):
        window.paper_work.write_into(tmp_path)
    assert [file.name for file in tmp_path.iterdir()] == ["cut-pack.pdf"]
    assert (tmp_path / "cut-pack.pdf").read_bytes().startswith(b"%PDF")
    qtbot.keyClick(drawer, Qt.Key.Key_Escape)
    assert not drawer.isVisible()
    assert window.sequence.isVisible()


def test_another_project_puts_the_drawer_away(window: MainWindow, qtbot: QtBot) -> None:
    """Cuts stand there again, and what a reader of the piece before has is not kept."""
    drawer = window.drawers.paper
    window.menus.actions["paper.save"].trigger()
    qtbot.keyClicks(drawer.variant.fields["length"], "60")
    window.projects.begin_new()
    assert not drawer.isVisible()
    assert window.sequence.isVisible()
    assert drawer.variant.fields["length"].text() == ""


def test_replacing_is_asked_in_the_window(window: MainWindow, qtbot: QtBot, tmp_path: Path) -> None:
    """What is there stays until the maker says Replace."""
    old = tmp_path / "plan.json"
    old.write_text("mine")
    with qtbot.waitSignal(window.projects.files.in_the_way, timeout=WAIT_MS):
        window.paper_work.write_into(tmp_path)
    assert old.read_text() == "mine"
    assert "would be replaced" in window.bar.sentence
    with qtbot.waitSignal(window.projects.files.exported, timeout=WAIT_MS):
        window.bar.answers[0].click()
    assert old.read_text() != "mine"


def test_success_is_good_news(window: MainWindow, qtbot: QtBot, tmp_path: Path) -> None:
    """What is written is said in the status line; a fault before it leaves the bar."""
    shut = tmp_path / "shut"
    shut.write_text("a file in the folder's place")
    window.menus.actions["paper.save"].trigger()
    with qtbot.waitSignal(window.projects.files.failed, timeout=WAIT_MS):
        window.paper_work.write_into(shut)
    assert window.bar.isVisible()
    with qtbot.waitSignal(window.projects.files.exported, timeout=WAIT_MS):
        window.paper_work.write_into(tmp_path)
    assert not window.bar.isVisible()
    assert window.status.doing.text() == f"2 files written to {tmp_path}."
    assert window.status.doing.isVisible()
    window.projects.files.exported.emit((tmp_path / "plan.json",), tmp_path, window.document.sawn)
    assert window.status.doing.text() == f"plan.json written to {tmp_path}."


def test_a_question_in_the_bar_outlives_a_success(
    window: MainWindow, qtbot: QtBot, tmp_path: Path
) -> None:
    """Only the fault of an earlier try goes; what is asked meanwhile waits for its answer."""
    window.bar.ask("Which?", [("This", lambda: None)])
    with qtbot.waitSignal(window.projects.files.exported, timeout=WAIT_MS):
        window.paper_work.write_into(tmp_path)
    assert window.bar.isVisible()
    assert window.bar.sentence == "Which?"


def test_the_folder_can_be_opened(
    window: MainWindow, qtbot: QtBot, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Once files are written their folder can be seen; where nothing shows it, that is said."""
    asked: list[str] = []

    def show(where: QUrl) -> bool:
        asked.append(where.toLocalFile())
        return len(asked) == 1

    monkeypatch.setattr(QDesktopServices, "openUrl", staticmethod(show))
    window.menus.actions["paper.save"].trigger()
    assert not window.drawers.paper.folder.isVisible()
    with qtbot.waitSignal(window.projects.files.exported, timeout=WAIT_MS):
        window.paper_work.write_into(tmp_path)
    qtbot.keyClick(window.drawers.paper.folder, Qt.Key.Key_Space)
    assert asked == [str(tmp_path)]
    assert not window.bar.isVisible()
    window.drawers.paper.folder.click()
    assert str(tmp_path) in window.bar.sentence


def test_labels_that_have_no_room_are_refused(window: MainWindow) -> None:
    """Too many rows leave no room for words: said below, and nothing can be written."""
    window.drawers.paper.rows.setValue(20)
    assert "need" in window.drawers.paper.fault.text()
    assert not window.drawers.paper.write.isEnabled()
    window.drawers.paper.rows.setValue(7)
    assert window.drawers.paper.write.isEnabled()


def test_a_sheet_goes_to_the_clipboard(window: MainWindow) -> None:
    """The picture is as wide as it should be, and not all white."""
    window.menus.actions["paper.copy"].trigger()
    image = QGuiApplication.clipboard().image()
    assert max(image.width(), image.height()) == 2400
    step = image.width() // 40
    colours = {image.pixel(x, image.height() // 2) for x in range(0, image.width(), step)}
    assert len(colours) > 2


def test_no_printer_is_said(window: MainWindow, monkeypatch: pytest.MonkeyPatch) -> None:
    """No dialog opens; the sentence says what can be done instead."""
    monkeypatch.setattr(QPrinterInfo, "availablePrinterNames", staticmethod(lambda: []))
    window.menus.actions["paper.print"].trigger()
    assert window.bar.sentence == NO_PRINTER


def test_pages_come_out_of_a_printer(window: MainWindow, tmp_path: Path) -> None:
    """A printer that prints into a file gets all pages, or those the dialog asks for."""
    pages = window.paper_work.pages()
    for first, last, wanted in ((0, 0, len(pages)), (2, 3, 2)):
        printer = QPrinter(QPrinter.PrinterMode.HighResolution)
        set_up(printer, "x", Paper.A4)
        printer.setOutputFileName(str(tmp_path / f"{first}.pdf"))
        printer.setFromTo(first, last)
        print_pages(printer, pages)
        text = (tmp_path / f"{first}.pdf").read_bytes()
        assert text.count(b"/Type /Page\n") == wanted


def test_no_printed_page_is_cut_off(window: MainWindow, tmp_path: Path) -> None:
    """Read back by another reader: all paper stands upright, and every letter lies on it.

    The last page is a sheet that lies.
    """
    printer = QPrinter(QPrinter.PrinterMode.HighResolution)
    set_up(printer, "x", Paper.A4)
    printer.setOutputFileName(str(tmp_path / "all.pdf"))
    sheet = full_matter()
    lying = fitted_page(sheet.drawings[0], sheet, Paper.A4, black=True)
    pages = (*window.paper_work.pages(), lying)
    print_pages(printer, pages)
    assert any(page.length > page.width for page in pages)
    with closing(pypdfium2.PdfDocument(tmp_path / "all.pdf")) as printed:
        for page in printed:
            width, height = page.get_size()
            text = page.get_textpage()
            boxes = [text.get_rect(place) for place in range(text.count_rects())]
            assert width < height
            assert boxes
            assert min(min(box[:2]) for box in boxes) > 0
            assert max(box[2] for box in boxes) < width
            assert max(box[3] for box in boxes) < height


def test_a_variant_becomes_a_project_of_its_own(window: MainWindow, qtbot: QtBot) -> None:
    """Nothing written says so; a kerf alone is enough; the project before is asked about."""
    row = window.drawers.paper.variant
    row.plan.click()
    assert window.document.job.name != "Reader's variant"
    window.document.saved_state.note_saved(window.document.project, Path("kept"))
    row.fields["kerf"].setText("2.2 mm")
    row.plan.click()
    assert window.document.job.shop.kerf == 22 * MM // 10
    assert window.document.saved_state.path is None
    assert "work out anew" in window.bar.sentence


def test_a_plan_that_changes_after_it_was_written_is_said_once(
    window: MainWindow, qtbot: QtBot, tmp_path: Path
) -> None:
    """With the number on paper, which stays true however often the plan changes."""
    before = window.document.sawn.number
    with qtbot.waitSignal(window.projects.files.exported, timeout=WAIT_MS):
        window.paper_work.write_into(tmp_path)
    assert window.bar.isHidden()
    parts = window.document.job.parts
    edit_part(window.document, replace(parts[0], length=parts[0].length - 10 * MM))
    after = window.document.sawn.number
    assert after not in {"", before}
    assert before in window.bar.sentence
    window.bar.hide()
    edit_part(window.document, replace(parts[0], length=parts[0].length - 20 * MM))
    assert window.bar.isHidden()


def test_drawings_of_an_earlier_plan_beside_those_written_are_named(
    window: MainWindow, qtbot: QtBot, tmp_path: Path
) -> None:
    """Of the same kind only; the first by its name, the others by their number."""
    for name in ("sheet-8.svg", "sheet-9.svg", "sheet-9.dxf"):
        (tmp_path / name).write_text("old", "utf-8")
    with qtbot.waitSignal(window.projects.files.left_over, timeout=WAIT_MS) as said:
        window.paper_work.write_into(tmp_path)
    assert said.args == [["sheet-8.svg", "sheet-9.svg"], tmp_path]
    assert window.bar.sentence.startswith("sheet-8.svg and 1 more drawing in ")
