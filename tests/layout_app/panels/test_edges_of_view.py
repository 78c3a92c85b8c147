"""What goes on beyond the edge of a view is not cut through there."""

import pytest
from PySide6.QtCore import QRect
from PySide6.QtGui import QColor, QImage
from PySide6.QtWidgets import QWidget
from pytestqt.qtbot import QtBot

from layout_app.look.style_sheet import style_sheet
from layout_app.look.theme import Theme
from layout_app.panels.left_region import LeftRegion
from layout_app.panels.sequence import SequenceView
from tests.layout_app.small_job import document

THEMES = [Theme.of(dark=dark, high=high) for dark in (False, True) for high in (False, True)]


def colours(widget: QWidget, rect: QRect) -> set[str]:
    """Return the colours a widget shows in a rectangle."""
    picture = widget.grab(rect).toImage().convertToFormat(QImage.Format.Format_RGB32)
    across, down = range(picture.width()), range(picture.height())
    return {picture.pixelColor(x, y).name() for x in across for y in down}


@pytest.mark.parametrize("over", range(8, 60, 3))
def test_words_of_cells_end_before_the_edge(left: LeftRegion, over: int) -> None:
    """Wherever the table ends inside the grain rules, no letter touches its edge."""
    left.setStyleSheet(style_sheet(Theme.light()))
    table = left.parts
    place = next(at for at, one in enumerate(table.rows.columns) if one.field == "grain_rule")
    table.setFixedWidth(table.columnViewportPosition(place) + over)
    cell = table.visualRect(table.rows.index(1, place))
    view, bar = table.viewport(), table.horizontalHeader().viewport()
    assert cell.right() > view.width(), "the cell goes on beyond the view"
    edge = QRect(view.width() - 1, cell.top() + 1, 1, cell.height() - 2)
    assert len(colours(view, edge)) == 1
    assert len(colours(bar, QRect(bar.width() - 1, 2, 1, bar.height() - 5))) == 1


@pytest.fixture
def cards(qtbot: QtBot) -> SequenceView:
    """Return the cards of a plan in a view too narrow for them."""
    doc = document()
    view = SequenceView(doc, Theme.light())
    qtbot.addWidget(view)
    view.resize(420, 300)
    view.show()
    qtbot.waitUntil(view.isVisible)
    assert len(view.cards) > 4
    return view


def edges(view: SequenceView) -> tuple[set[str], set[str]]:
    """Return the colours at the left and at the right edge of the cards."""
    port = view.viewport()
    strip = QRect(0, 0, 4, port.height())
    return colours(port, strip), colours(port, strip.translated(port.width() - 4, 0))


@pytest.mark.parametrize("theme", THEMES, ids=lambda theme: theme.name)
def test_cards_fade_out_where_there_are_more(cards: SequenceView, theme: Theme) -> None:
    """Scrolled half a card, both edges are bare ground in each theme; so no word is cut there."""
    cards.set_theme(theme)
    bar = cards.horizontalScrollBar()
    bar.setValue(cards.card_rect(cards.cards[1].number).center().x())
    ground = {QColor(theme.panel).name()}
    assert edges(cards) == (ground, ground)


def test_the_last_card_is_whole(cards: SequenceView) -> None:
    """At the end nothing fades: the ground beside the last card is as wide as the margin."""
    bar = cards.horizontalScrollBar()
    bar.setValue(bar.maximum())
    last = cards.card_rect(cards.cards[-1].number)
    assert last.right() < cards.viewport().width()
    inside = QRect(last.right() - 12, last.center().y(), 4, 1)
    assert QColor(Theme.light().card).name() in colours(cards.viewport(), inside)
