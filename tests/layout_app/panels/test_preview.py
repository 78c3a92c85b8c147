"""The pages as they will be printed, looked at before."""

import gc
from collections.abc import Callable, Iterator

import pytest
from PySide6.QtCore import QRect, Qt
from PySide6.QtGui import QImage
from PySide6.QtWidgets import QApplication, QGraphicsView, QPushButton
from pytestqt.qtbot import QtBot

from layout_app.look.style_sheet import dress
from layout_app.look.theme import Theme
from layout_app.panels.preview import Preview
from layout_app.window.main_window import MainWindow
from layout_app.window.paper_work import PaperWork
from tests.layout_app.monkey import close, silent_planner
from tests.layout_app.small_job import document

LEAST_WINDOW = (760, 520)


@pytest.fixture
def window(qtbot: QtBot, qapp: QApplication) -> Iterator[MainWindow]:
    """Return a window with the small job, its planner silent."""
    dress(qapp, Theme.light())
    made = MainWindow(document(), planner=silent_planner())
    qtbot.addWidget(made)
    made.show()
    yield made
    close(made)
    dress(qapp, Theme.light())


Look = Callable[[Preview], int]
Opens = Callable[[Look], None]


@pytest.fixture
def opened(window: MainWindow, qtbot: QtBot, monkeypatch: pytest.MonkeyPatch) -> Opens:
    """Return what opens the preview by its action, and looks at it while it is open."""

    def opens(look: Look) -> None:
        def shown(preview: Preview) -> int:
            gc.collect()
            preview.show()
            preview.activateWindow()
            qtbot.waitUntil(lambda: preview.isActiveWindow() and preview.counter.text() != "")
            QApplication.processEvents()
            return look(preview)

        monkeypatch.setattr(Preview, "exec", shown)
        window.menus.actions["paper.preview"].trigger()

    return opens


def test_it_shows_all_pages(window: MainWindow, opened: Opens) -> None:
    """While it is open its printer lives, else the program would end."""
    shown: list[int] = []
    opened(lambda preview: shown.append(preview.view.pageCount()) or 0)
    assert shown == [len(window.paper_work.pages())]


@pytest.mark.parametrize("size", [LEAST_WINDOW, (1024, 700), (1440, 900)])
def test_all_tools_are_in_sight(window: MainWindow, opened: Opens, size: tuple[int, int]) -> None:
    """At its first size and at its least no tool is folded away, none is cut off."""

    def look(preview: Preview) -> int:
        for _ in range(2):
            tools = [*preview.findChildren(QPushButton), preview.counter]
            assert len(tools) == 9
            for tool in tools:
                place = QRect(tool.mapTo(preview, tool.rect().topLeft()), tool.size())
                assert tool.isVisible()
                assert preview.rect().contains(place)
                assert tool.width() >= tool.sizeHint().width()
            preview.resize(preview.minimumSize())
            QApplication.processEvents()
        return 0

    window.resize(*size)
    opened(look)


def test_keys_turn_the_pages(qtbot: QtBot, opened: Opens) -> None:
    """The counter follows keys and scrolling, and stops at the first page and the last."""

    def look(preview: Preview) -> int:
        last = preview.view.pageCount()
        assert preview.counter.text() == f"1 of {last}"
        assert not preview.before.isEnabled()
        qtbot.keyClick(preview, Qt.Key.Key_PageDown)
        assert preview.counter.text() == f"2 of {last}"
        preview.turn_by(10 * last)
        assert preview.counter.text() == f"{last} of {last}"
        assert not preview.after.isEnabled()
        preview.view.findChild(QGraphicsView).verticalScrollBar().setValue(0)
        qtbot.waitUntil(lambda: preview.counter.text() == f"1 of {last}")
        return 0

    opened(look)


def test_pages_get_larger_and_smaller(opened: Opens) -> None:
    """Nearer and farther undo each other; a page across is larger than a page whole."""

    def look(preview: Preview) -> int:
        whole = preview.view.zoomFactor()
        preview.nearer.click()
        assert preview.view.zoomFactor() > whole
        preview.farther.click()
        assert preview.view.zoomFactor() == pytest.approx(whole)
        preview.wide.click()
        QApplication.processEvents()
        assert preview.view.zoomFactor() > whole
        preview.whole.click()
        QApplication.processEvents()
        assert preview.view.zoomFactor() == pytest.approx(whole)
        return 0

    opened(look)


def test_pages_look_the_same_in_a_dark_theme(window: MainWindow, opened: Opens) -> None:
    """Paper is white and its ink dark, also what is drawn before any colour is named."""
    pictures: list[QImage] = []

    def look(preview: Preview) -> int:
        inner = preview.view.findChild(QGraphicsView)
        for theme in (Theme.light(), Theme.of(dark=True, high=False)):
            window.keeping.show_in(theme)
            QApplication.processEvents()
            pictures.append(inner.viewport().grab().toImage())
        return 0

    opened(look)
    assert pictures[0] == pictures[1]


@pytest.mark.parametrize(("key", "printed"), [("print", 1), ("close_button", 0)])
def test_it_leads_to_printing(
    window: MainWindow,
    opened: Opens,
    monkeypatch: pytest.MonkeyPatch,
    key: str,
    printed: int,
) -> None:
    """Print goes on to the choice of a printer, Close does not."""
    asked: list[PaperWork] = []

    def note(work: PaperWork) -> None:
        asked.append(work)

    monkeypatch.setattr(PaperWork, "print", note)

    def look(preview: Preview) -> int:
        getattr(preview, key).click()
        return preview.result()

    opened(look)
    assert asked == [window.paper_work] * printed
