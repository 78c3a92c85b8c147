"""What is said beside the pointer fits the bench, however many parts it names."""

import pytest
from PySide6.QtWidgets import QApplication

from layout_app.bench.bubble import WIDEST_PX, Bubble
from layout_app.theme import Theme

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
