"""Every place of the window that shows what the maker typed shows it as it was typed."""

from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

import pytest
from PySide6.QtCore import QAbstractItemModel, QEvent, QModelIndex, QPointF, Qt
from PySide6.QtGui import QHelpEvent
from PySide6.QtWidgets import QApplication, QFileDialog, QLabel, QToolTip
from pytestqt.qtbot import QtBot

from layout_app.document import edit_job, edit_layout, edit_parts
from layout_app.document.document import Document
from layout_app.document.ticks import tick
from layout_app.look.window_settings import RECENT
from layout_app.model.project import Project
from layout_app.panels.question import Question
from layout_app.window.actions.help import Note
from layout_app.window.main_window import MainWindow
from shared.job import Job
from shared.plan import Goal
from solver.outcome import Forcing
from tests.layout_app.adopting import adopt
from tests.layout_app.planner.test_advice import Asked, suggestion
from tests.layout_app.seen import labels_of, seen, seen_in, seen_tip
from tests.layout_app.small_job import planned, small_job

NAMES = [
    '<i>Top</i> <img src="top.png">',
    "A <b> rail &lt; 3/4 &amp; Nut & Bolt",
    "Seitenwand" * 30,
]
"""Names that look like marks, an entity or a key of a menu, and one without an end."""
Role = Qt.ItemDataRole


def job_of(name: str) -> Job:
    """Return the small job with a name at every place where one can be typed."""
    job = small_job()
    side, shelf = job.parts
    side = replace(side, name=name, note=f"note {name}", group=f"group {name}")
    (row,) = job.stock
    sheet = replace(row, name=f"sheet {name}", material=f"ply {name}")
    parts = tuple(replace(one, material=sheet.material) for one in (side, shelf))
    return replace(job, name=f"job {name}", parts=parts, stock=(sheet,))


@pytest.fixture(params=NAMES, ids=["marks", "entity and key", "long"])
def name(request: pytest.FixtureRequest) -> str:
    """Return what was typed."""
    return str(request.param)


@pytest.fixture
def planner() -> Asked:
    """Return a planner that answers nothing."""
    return Asked()


@pytest.fixture
def window(qtbot: QtBot, planner: Asked, name: str) -> Iterator[MainWindow]:
    """Return a window on the job, planned; its planner answers nothing."""
    document = Document(Project(job=job_of(name)))
    adopt(document, planned(document.job))
    made = MainWindow(document, planner=planner)
    qtbot.addWidget(made)
    made.resize(1024, 700)
    made.show()
    yield made
    made.document.saved_state.note_saved(made.document.project, Path("not-written"))
    assert made.close()


def cells(model: QAbstractItemModel) -> Iterator[QModelIndex]:
    """Yield the cells of a table."""
    for row in range(model.rowCount()):
        for column in range(model.columnCount()):
            yield model.index(row, column)


def test_no_label_guesses(window: MainWindow) -> None:
    """Each label of the window is told to show its words as they are."""
    tabs = window.left.tabs
    for tab in range(tabs.count()):  # the shop is made once it is looked at
        tabs.setCurrentIndex(tab)
    labels = window.findChildren(QLabel)
    assert len(labels) > 100
    assert all(one.textFormat() is Qt.TextFormat.PlainText for one in labels)


def test_the_card_of_a_part(window: MainWindow, name: str) -> None:
    """Its name, its note and its match group."""
    window.document.selection.select_parts([("side", 1)])
    assert {name, f"note {name}", f"group {name}"} <= set(labels_of(window.left.card))
    assert window.left.card.minimumSizeHint().width() < window.left.width()


def test_the_card_of_a_sheet(window: MainWindow, name: str) -> None:
    """Its name above what was measured."""
    window.left.stock.go_to("full", "name")
    assert f"sheet {name}, as measured" in labels_of(window.left.stock_card)
    assert window.left.stock_card.minimumSizeHint().width() < window.left.width()


def test_what_would_save_a_sheet(window: MainWindow, planner: Asked, name: str) -> None:
    """The suggestion, its caution and what forces the sheets."""
    window.menus.actions["bench.advice"].trigger()
    planner.advised.emit(
        Forcing(
            material="ply",
            goal=Goal.FEWEST_SHEETS,
            value=2,
            need=1003,
            parts=(),
            sentence=f"Forced by {name}.",
        )
    )
    said = suggestion(sentence=f"Turn {name}.")
    planner.advised.emit(replace(said, caution=f"Mind {name}."))
    QApplication.processEvents()
    told = {f"Forced by {name}.", f"Turn {name}.", f"Mind {name}."}
    assert told <= set(labels_of(window.drawers.advice))


def test_the_list_of_what_is_wrong(window: MainWindow, name: str) -> None:
    """A part that is too large is named, in its row's tip too."""
    side = window.document.job.part("side")
    edit_parts.edit_part(window.document, replace(side, length=10 * side.length, group=""))
    items = (window.left.issues.item(row) for row in range(window.left.issues.count()))
    lines = [item.text().replace("\u200b", "").replace("\u00a0", " ") for item in items]
    assert any(name in line for line in lines)
    rows = window.left.parts.rows
    tips = [seen(str(index.data(Role.ToolTipRole) or "")) for index in cells(rows)]
    assert any(name in said for said in tips)


def test_the_status_line(window: MainWindow, name: str) -> None:
    """What was just said, and its tip where it has no room."""
    window.document.said.emit(f"{name} was turned.")
    assert seen_in(window.status.doing) == f"{name} was turned."
    assert seen_tip(window.status.doing) == f"{name} was turned."


def test_what_is_asked(window: MainWindow, qtbot: QtBot, name: str) -> None:
    """Across the window, and below a field."""
    window.bar.say(f"{name} was not saved.")
    assert f"{name} was not saved." in labels_of(window.bar)
    question = Question(window.left.card)
    question.say(f"What is {name}?")
    assert f"What is {name}?" in labels_of(question)


def test_what_a_build_step_lacks(window: MainWindow, name: str) -> None:
    """A part there is none of is named as it was typed; a semicolon ends its name."""
    build = window.left.build
    build.steps.setPlainText(f"band (no {name}): front")
    build.steps.done.emit()
    assert f"no {name.partition(';')[0][:20]}" in seen_in(build.fault)


def test_a_text_beside_the_work(window: MainWindow, qtbot: QtBot, name: str) -> None:
    """A note shows its text as it is."""
    note = Note("About", f"The job {name}", window)
    qtbot.addWidget(note)
    assert labels_of(note) == [f"The job {name}"]


def test_tips_of_what_lies_on_the_bench(window: MainWindow, name: str) -> None:
    """Each cell of the table tells the same in its tip as it shows."""
    window.left.placements.show()
    window.left.tabs.setCurrentIndex(3)
    model = window.left.placements.model()
    said = {seen(str(index.data(Role.ToolTipRole))) for index in cells(model)}
    assert name in said


def test_tips_of_cuts(window: MainWindow, name: str) -> None:
    """Each cell of the cut sequence as a table tells in its tip what it shows."""
    window.sequence.switch()
    model = window.sequence.table.model()
    pairs = [(index.data(), seen(index.data(Role.ToolTipRole))) for index in cells(model)]
    assert any(name in str(shown) for shown, _ in pairs)
    assert all(shown == told for shown, told in pairs)


def test_all_of_a_cut(window: MainWindow, name: str) -> None:
    """The pane beside the cards is rich text, and names the part that is sawn off."""
    for card in window.sequence.cards.cards:
        window.document.selection.select_cut(card.number)
        text = window.sequence.telling.toPlainText()
        if any(name in words for _, words in card.told.lines):
            break
    assert name in text


def test_what_lies_there(window: MainWindow, name: str) -> None:
    """Tips of the table and the words below it, once a part is sawn off."""
    tick(window.document, [card.number for card in window.sequence.cards.cards])
    window.drawers.lying.open_for_mistake()
    model = window.drawers.lying.table.model()
    pairs = [(index.data(), seen(index.data(Role.ToolTipRole))) for index in cells(model)]
    assert any(name in str(shown) for shown, _ in pairs)
    assert all(shown == told for shown, told in pairs)


def test_tips_of_the_bench_and_of_what_waits(window: MainWindow, name: str) -> None:
    """Under the pointer, and at the side of the bench."""
    stand = window.bench.hand.sheets.stand("1")
    at = window.bench.mapFromScene(QPointF(stand.x + 100, stand.y + 100))
    port = window.bench.viewport()
    event = QHelpEvent(QEvent.Type.ToolTip, at, port.mapToGlobal(at))
    QApplication.sendEvent(port, event)
    assert seen(QToolTip.text()).startswith(f"{name}, L 40")
    QToolTip.hideText()
    edit_layout.set_aside(window.document, [("side", 1)])
    assert seen(window.bench.shelf.tokens.item(0).toolTip()).startswith(f"{name}, L 40")


def test_title_and_menus(window: MainWindow, name: str, tmp_path: Path) -> None:
    """The job, the last step and the projects of before."""
    edit_job.rename_job(window.document, f"[*] {name}")
    QApplication.processEvents()
    assert window.windowHandle().title().startswith(f"[*] {name}* — ")
    side = window.document.job.part("side")
    edit_parts.edit_part(window.document, replace(side, copies=3))
    undo = window.menus.actions["edit.undo"].text().removeprefix("&")
    said = undo.replace("&&", "\0").replace("&", "").replace("\0", "&")
    assert name[:40] in said
    assert (name in said) is not said.endswith("…")
    path = tmp_path / f"{name.replace('/', '-')[:60]}.json"
    window.keeping.opened(path)
    rows = [window.menus.actions[f"project.recent_{place}"] for place in range(1, RECENT + 1)]
    assert seen(rows[0].toolTip()) == str(path)
    assert path.name.replace("&", "&&") in rows[0].text()


def test_a_file_name_is_proposed(window: MainWindow, monkeypatch: pytest.MonkeyPatch) -> None:
    """A stroke in the name of a job is no folder: what no system takes becomes a dash."""
    proposed: list[str] = []

    def asked(_parent: MainWindow, _title: str, path: str, _filter: str) -> tuple[str, str]:
        proposed.append(path)
        return "", ""

    monkeypatch.setattr(QFileDialog, "getSaveFileName", asked)
    edit_job.rename_job(window.document, "Shelf 3/4 <b>")
    window.projects.save()
    assert [Path(one).name for one in proposed] == ["Shelf 3-4 -b.ripfirst.json"]
