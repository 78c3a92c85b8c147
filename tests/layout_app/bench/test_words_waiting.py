"""Words on the slips of the tray stand whole inside them, in a narrow view and a wide one."""

from dataclasses import replace
from itertools import pairwise

import pytest
from PySide6.QtCore import QRectF
from PySide6.QtWidgets import QStyleOptionViewItem

from layout_app.bench.slips import Lines, slip_rows
from layout_app.bench.tokens import LINES
from layout_app.document import edit_job, edit_layout, edit_parts
from shared.lengths import INCH, LengthStyle, Unit
from tests.layout_app.bench.word_notes import SLACK_PX, Notes, meeting

STYLES = (LengthStyle(unit=Unit.INCH, denominator=64), LengthStyle(unit=Unit.MM, decimals=2))
WIDTHS = (373, 1000)
"""Of the bench: beside the first the tray is narrow."""
NAMES = {
    "side": "Drawer side, left, upper chest",
    "shelf": "W" * 60,
    "rail": "Boden übergroß der langen Reihe",
}


@pytest.fixture
def waiting(maker):
    """Return a maker whose parts are all set aside, of long names and odd sizes."""
    for part_id, name in NAMES.items():
        part = maker.doc.job.part(part_id)
        size = part.length - INCH // 64, part.width - INCH // 64
        edit_parts.edit_part(maker.doc, replace(part, name=name, length=size[0], width=size[1]))
    lying = [one for sheet in maker.doc.layout.sheets for one in sheet.placements]
    edit_layout.set_aside(maker.doc, [one.key for one in lying])
    return maker


@pytest.mark.parametrize("style", STYLES)
@pytest.mark.parametrize("width", WIDTHS)
@pytest.mark.parametrize("height", [135, 900])
def test_words_stand_inside_their_slip(waiting, style, width, height) -> None:
    """With and without a scroll bar; sizes are written whole."""
    edit_job.edit_style(waiting.doc, style)
    waiting.view.resize(width, height)
    tokens = waiting.view.shelf.tokens
    tokens.doItemsLayout()
    assert tokens.count() == 3
    for row in range(tokens.count()):
        index = tokens.model().index(row, 0)
        option = QStyleOptionViewItem()
        option.rect = tokens.visualRect(index)
        for ratio in (1.0, 1.5, 2.0):
            notes = Notes(ratio)
            tokens.itemDelegate().paint(notes, option, index)
            slip = QRectF(option.rect).adjusted(-SLACK_PX, -SLACK_PX, SLACK_PX, SLACK_PX)
            assert meeting(notes) == []
            assert [words for words, box in notes.boxes if not slip.contains(box)] == []
            said = " ".join(words for words, _ in notes.boxes).replace(" × ", " ")
            assert index.data(LINES)[1].replace(" × ", " ") in said


def test_slips_lie_apart(waiting) -> None:
    """However many rows each takes."""
    waiting.view.resize(373, 900)
    tokens = waiting.view.shelf.tokens
    tokens.doItemsLayout()
    slips = [tokens.visualItemRect(tokens.item(row)) for row in range(tokens.count())]
    assert all(one.bottom() < two.top() for one, two in pairwise(slips))


def test_a_long_name_takes_more_rows(qapp) -> None:
    """What tells two names apart stands in the later rows; what is too long is cut short."""
    found = slip_rows(Lines("Drawer side, left", "L 4 × W 2", "1 set aside"), 60)
    assert " ".join(row.words for row in found) == "Drawer side, left L 4 × W 2 1 set aside"
    assert len(found) > 3
    (cut, *rest) = slip_rows(Lines("W" * 60, "L 4 × W 2", "1 set aside"), 80)
    assert cut.words.endswith("…")
    assert len(rest) == 2


def test_l_and_w_part_where_both_have_no_room(qapp) -> None:
    """Each stands whole in a row of its own."""
    found = slip_rows(Lines("Side", "L 2438.25 × W 1219.75", "1 set aside"), 70)
    assert [row.words for row in found[1:3]] == ["L 2438.25", "W 1219.75"]
