"""Pages of the walk: read from afar, within their margins, and spoken as they read."""

from math import ceil

import pytest
from PySide6.QtCore import QRectF, Qt
from PySide6.QtGui import QImage, QPainter
from pytestqt.qtbot import QtBot

from layout_app.document.document import Document
from layout_app.panels.ticks import all_cards
from layout_app.walk.blocks import Cautions, Columns, Stacked
from layout_app.walk.colours import DARK, LIGHT, Colours
from layout_app.walk.moments import (
    MOST_CAUTIONS,
    End,
    Start,
    moments_of,
    same_place,
)
from layout_app.walk.pages import HEAD, MOST_OF_BODY, WalkPage
from layout_app.walk.view import Walk
from shared.cautions import CAUTIONS, DEFER, cautions_for
from tests.layout_app.contrast import contrast
from tests.layout_app.walk.pressing import press


@pytest.mark.parametrize("colours", [LIGHT, DARK])
def test_type_stands_out_from_its_ground(colours: Colours) -> None:
    """Contrast is at least 7 to 1 (WCAG 2.2, success criterion 1.4.6, level AAA)."""
    pairs = [
        (colours.ink, colours.ground),
        (colours.quiet, colours.ground),
        (colours.alarm, colours.alarm_ground),
        (colours.ink, colours.wood),
        (colours.ink, colours.off),
    ]
    assert all(contrast(*pair) >= 7.0 for pair in pairs)


@pytest.mark.parametrize("size", [(1024, 700), (1440, 900), (800, 480)])
@pytest.mark.parametrize("dark", [False, True])
def test_nothing_is_painted_into_the_margin(
    doc: Document, qtbot: QtBot, size: tuple[int, int], dark: bool
) -> None:
    """Whatever is shown, a margin of the ground's colour stays free at all four edges."""
    walk = Walk(doc, dark=dark)
    qtbot.addWidget(walk)
    walk.resize(*size)
    walk.show()
    shown = 0
    for _ in range(60):
        assert free_margin(walk.grab().toImage(), 6)
        shown += 1
        if isinstance(walk.moment, End):
            break
        walk.next()
    assert shown > 10


def free_margin(image: QImage, wide: int) -> bool:
    """Say whether the outermost pixels of a picture all have one colour."""
    ground = image.pixel(0, 0)
    across, down = image.width(), image.height()
    rows = [*range(wide), *range(down - wide, down)]
    columns = [*range(wide), *range(across - wide, across)]
    return all(image.pixel(x, y) == ground for y in rows for x in range(0, across, 3)) and all(
        image.pixel(x, y) == ground for x in columns for y in range(0, down, 3)
    )


def test_each_moment_is_spoken_as_its_page_says_it(walk: Walk) -> None:
    """The cautions, then rail, check of the sheet and cut; each once, while it is shown."""
    said: list[str] = []
    walk.voice.said.connect(said.append)
    walk.voice.speak()
    for _ in range(4):
        press(walk, Qt.Key.Key_Space)
        walk.voice.speak()
        walk.voice.speak()
    assert len(said) == 5
    assert said[0].startswith(f"Before the first cut, 1 of 2. {DEFER} {CAUTIONS[0]}")
    assert said[1].startswith("Before the first cut, 2 of 2. ")
    assert said[2].startswith("Lay the rail. ")
    assert said[3].startswith("Check sheet 1. ")
    assert said[4].startswith("Cut 1, ")
    assert all(words == walk.accessibleDescription() for words in said[-1:])


def test_what_holds_at_every_cut_is_read_from_afar(doc: Document) -> None:
    """No page has more than eight cautions, all of them are there, and a change keeps the page."""
    starts = [one for one in moments_of((), cautions_for(doc.job.shop)) if isinstance(one, Start)]
    assert sum((one.cautions for one in starts), ()) == cautions_for(doc.job.shop)
    assert max(len(one.cautions) for one in starts) <= MOST_CAUTIONS
    assert [one.is_last for one in starts] == [False] * (len(starts) - 1) + [True]
    assert [same_place(starts, one) for one in starts] == list(range(len(starts)))


def test_more_dangers_make_the_picture_smaller_before_the_type(doc: Document) -> None:
    """Thirteen facts and three dangers still have type of 1/28 of the page, for two metres."""
    image = QImage(1440, 900, QImage.Format.Format_RGB32)
    painter = QPainter(image)
    page = WalkPage(painter, QRectF(image.rect()), LIGHT)
    body = page._part(0, HEAD + 0.015, 1, 0.89)
    told = all_cards(doc)[0].told
    few = Stacked([Columns([("piece", "sheet 1, 96 x 48, whole sheet")] * 13)])
    many = Stacked([Cautions([one.sentence for one in told.dangers] * 3, ()), *few.blocks])
    sizes = [page._size(one, body) for one in (few, many)]
    painter.end()
    assert sizes[0] > 900 / 28
    assert sizes[1] == ceil(900 / 28)
    assert many.height(body.width(), sizes[1]) > body.height() * MOST_OF_BODY
