"""Numbers of rulers keep apart, stand whole in the ruler, and nothing runs through them."""

import pytest
from PySide6.QtCore import QLineF, QRectF
from PySide6.QtWidgets import QWidget

from layout_app.bench.paper_view import LEAST_SCALE, MOST_SCALE
from layout_app.bench.rulers import MARK_PX, RULER_PX, Reading, Ruler
from layout_app.look.theme import Theme
from shared.lengths import INCH, MM, Length, LengthStyle, Unit
from tests.layout_app.bench.word_notes import SLACK_PX, Noted, Notes, meeting, struck

STYLES = (
    LengthStyle(unit=Unit.INCH),
    LengthStyle(unit=Unit.INCH, denominator=64),
    LengthStyle(unit=Unit.MM),
    LengthStyle(unit=Unit.MM, decimals=2),
)
SHEETS = (24 * INCH, 96 * INCH, 1200 * INCH)
"""A short one, a common one, and one as long as a roll."""
SCALES = (*(LEAST_SCALE * 1.37**step for step in range(22)), MOST_SCALE)


def divided(ruler: Ruler, reading: Reading, length: int, ratio: float) -> Notes:
    """Return what is painted on a ruler of so many pixels, the pointer's mark anywhere on it."""
    notes = Notes(ratio)
    ruler.divide(notes, reading, length)
    return notes


@pytest.mark.parametrize("upright", [False, True])
@pytest.mark.parametrize("style", STYLES)
@pytest.mark.parametrize("sheet", SHEETS)
def test_numbers_stand_whole_and_apart(
    qtbot, style: LengthStyle, sheet: Length, upright: bool
) -> None:
    """From the least zoom to the greatest, wherever the sheet's zero stands, at three scalings."""
    ruler, noted = _ruler(qtbot, upright=upright), 0
    for scale in SCALES:
        for zero in (-4000.3, -57.0, -3.2, 0.0, 11.5, 88.0, 250.0):
            start = -6 * MM
            reading = Reading(zero=zero, start=start, end=sheet + start, scale=scale, style=style)
            for ratio in (1.0, 1.5, 2.0):
                notes = divided(ruler, reading, 261, ratio)
                assert meeting(notes) == [], reading
                assert list(struck(notes)) == [], reading
                assert list(_outside(notes, upright=upright)) == [], reading
                noted += len(notes.boxes)
    assert noted > 500


@pytest.mark.parametrize("upright", [False, True])
def test_the_mark_of_the_pointer_runs_below_the_numbers(qtbot, upright: bool) -> None:
    """Wherever the pointer is along the ruler, its mark meets no number."""
    ruler = _ruler(qtbot, upright=upright)
    reading = Reading(zero=40, start=0, end=96 * INCH, scale=0.3, style=LengthStyle())
    notes = divided(ruler, reading, 900, 1.0)
    inner = RULER_PX - MARK_PX
    for along in range(0, 900, 3):
        ends = (along, inner, along, RULER_PX)
        line = QLineF(inner, along, RULER_PX, along) if upright else QLineF(*ends)
        notes.noted.append(Noted("line", line=line))
    assert len(notes.boxes) > 5
    assert list(struck(notes)) == []


def test_a_number_that_is_seen_in_part_is_left_out(qtbot) -> None:
    """At 58 px a number, of a ruler of 100 px: the one at 90 has no room for "48"."""
    ruler = _ruler(qtbot, upright=False)
    scale = 80 / (24 * 25.4)
    reading = Reading(zero=10, start=0, end=96 * INCH, scale=scale, style=LengthStyle())
    assert [words for words, _ in divided(ruler, reading, 100, 1.0).boxes] == ["0"]
    assert [words for words, _ in divided(ruler, reading, 110, 1.0).boxes] == ["0", "24"]


def _ruler(qtbot, *, upright: bool) -> Ruler:
    parent = QWidget()
    qtbot.addWidget(parent)
    return Ruler(Theme.light(), parent, upright=upright)


def _outside(notes: Notes, *, upright: bool):
    """Yield numbers that reach out of a ruler of 261 px."""
    whole = QRectF(0, 0, RULER_PX, 261) if upright else QRectF(0, 0, 261, RULER_PX)
    whole.adjust(-SLACK_PX, -SLACK_PX, SLACK_PX, SLACK_PX)
    yield from (words for words, box in notes.boxes if not whole.contains(box))
