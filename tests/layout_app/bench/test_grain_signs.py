"""The sign of the grain rule finds room on its part, or gives way."""

from itertools import combinations

from PySide6.QtCore import Qt
from PySide6.QtGui import QImage, QPainter

from layout_app.bench.grain_signs import (
    ACROSS_PX,
    INSET_PX,
    LONG_PX,
    WrittenSign,
    paint_grain_signs,
    placed_signs,
)
from layout_app.look.theme import Theme
from shared.drawing import GrainSign, RuleState, Space
from shared.geometry import Rect
from shared.lengths import MM


def sign(side, state=RuleState.MET, *, along_x=True):
    """Return the sign of a square part, its side in millimetres."""
    rect = Rect(x=0, y=0, length=side * MM, width=side * MM)
    return GrainSign(key="part:a:1", rect=rect, state=state, along_x=along_x, words="")


def test_it_stands_in_the_far_corner():
    """100 px wide: 15 px long and 4 from the edge it begins at 81, 8 px wide at 88."""
    (placed,) = placed_signs([sign(100)], 1.0, [])
    at = 100 - INSET_PX
    assert placed.space == Space(x=at - LONG_PX, y=at - ACROSS_PX, length=LONG_PX, width=ACROSS_PX)


def test_it_gives_way_to_words():
    """With words in the far corner it takes another; with words everywhere there is no sign."""
    words = Space(x=50, y=50, length=50, width=50)
    (placed,) = placed_signs([sign(100)], 1.0, [words])
    assert not placed.space.meets(words)
    assert placed_signs([sign(100)], 1.0, [Space(x=0, y=0, length=100, width=100)]) == []


def test_small_parts_have_none():
    """At 29 px it is left out, at 30 px it is there."""
    assert placed_signs([sign(29)], 1.0, []) == []
    assert len(placed_signs([sign(30)], 1.0, [])) == 1


def pixels(state, theme):
    """Return which pixels a sign inks on wood, whatever their colour."""
    image = QImage(24, 16, QImage.Format.Format_RGB32)
    image.fill(Qt.GlobalColor.gray)
    blank = image.pixel(0, 0)
    painter = QPainter(image)
    space = Space(x=4, y=4, length=LONG_PX, width=ACROSS_PX)
    paint_grain_signs(painter, [WrittenSign(sign=sign(100, state), space=space)], theme)
    painter.end()
    return {(x, y) for x in range(24) for y in range(16) if image.pixel(x, y) != blank}


def test_shape_alone_tells_them_apart(qapp):
    """Any two of the three differ in at least 20 inked pixels, so colour is not needed."""
    inked = [pixels(state, Theme.light()) for state in RuleState]
    assert all(len(one ^ other) >= 20 for one, other in combinations(inked, 2))
