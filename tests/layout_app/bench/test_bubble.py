"""What is said beside the pointer fits the bench, however many parts it names."""

import pytest
from PySide6.QtCore import QSizeF
from PySide6.QtWidgets import QApplication

from layout_app.bench.bubble import PAD_PX, SIZES_PX, WIDEST_PX, Bubble, pitch, set_in
from layout_app.look.theme import Theme

MANY = "overlaps " + ", ".join(f"Case top, bottom {n}" for n in range(1, 8))


@pytest.mark.parametrize("words", ["fits", MANY, f"overlaps {'x' * 300}"])
def test_long_words_are_broken_into_lines(words: str, qapp: QApplication) -> None:
    """No line is wider than the bubble may be, and every word that fits one is kept."""
    bubble = Bubble(Theme.light())
    bubble.say((words, "Case top, bottom 1"), good=False)
    assert bubble.bounds.width() <= WIDEST_PX + 42
    kept = [word for word in words.split() if len(word) < 300]
    assert bubble.words.split()[: len(kept)] == kept


def test_short_words_take_one_line_each(qapp: QApplication) -> None:
    """Two short lines stay two lines of 17 pixels."""
    bubble = Bubble(Theme.light())
    bubble.say(("fits and can be cut", "Case side 1"), good=True)
    assert bubble.bounds.height() == 2 * 17 + 13


def heights(room: QSizeF) -> tuple[int, float]:
    """Return the text size in a room, and how high the card is."""
    size, lines = set_in((MANY, MANY, "Case top, bottom 1"), room)
    return size, PAD_PX + len(lines) * pitch(size)


def test_words_are_broken_to_a_narrow_view(qapp: QApplication) -> None:
    """In a view of 200 px no card is wider, in text of the usual size."""
    bubble = Bubble(Theme.light())
    bubble.say((MANY,), good=False)
    bubble.suit(QSizeF(200, 600))
    assert bubble.bounds.width() <= 200
    assert bubble.words == MANY


def test_words_shrink_in_a_low_view_and_then_the_last_give_way(qapp: QApplication) -> None:
    """As high as needed 12 px; a little lower they shrink; much lower the end is left out."""
    usual, needed = heights(QSizeF(400, 600))
    assert usual == SIZES_PX[0]
    smaller, height = heights(QSizeF(400, needed - 1))
    assert smaller < usual
    assert height <= needed - 1
    least, height = heights(QSizeF(400, 60))
    assert least == SIZES_PX[-1]
    assert height <= 60
    _, lines = set_in((MANY, "last"), QSizeF(200, 60))
    assert lines[-1][0].endswith("…")


@pytest.mark.parametrize("width", [10, 60, 103, 239])
def test_one_line_is_always_said(width: int, qapp: QApplication) -> None:
    """Even where no view could be so small, the verdict begins."""
    _, lines = set_in((MANY,), QSizeF(width, 5))
    assert len(lines) == 1
    assert lines[0][0]
