"""A part that is drawn ends where the pointer or the keys end it, whichever way it is drawn."""

import pytest
from PySide6.QtCore import Qt

from shared.lengths import step
from tests.layout_app.bench.two_sheets import inches

Key, SHIFT = Qt.Key, Qt.KeyboardModifier.ShiftModifier


def drawn(maker):
    """Return where the part lies that was drawn last."""
    known = {"side", "shelf", "rail"}
    return next(
        one.rect
        for sheet in maker.doc.layout.sheets
        for one in sheet.placements
        if one.part not in known
    )


@pytest.mark.parametrize(
    "ends", [((60, 30), (70, 40)), ((70, 40), (40, 22.125)), ((40, 40), (70, 22.125))]
)
def test_each_way_of_drawing_ends_on_whole_steps(maker, ends):
    """From any corner to the one across, all four edges lie on the finest steps."""
    maker.view.hand.draw_on("2")
    maker.drag(*(("2", *end) for end in ends))
    rect = drawn(maker)
    whole = step(maker.doc.job.style)
    assert [edge % whole for edge in (rect.x, rect.y, rect.right, rect.bottom)] == [0, 0, 0, 0]


def test_e_sizes_what_is_drawn_with_keys(maker):
    """Arrows move the part by the finest step; after E they move its far edges, after E it."""
    maker.view.setFocus()
    maker.view.hand.draw_on("2")
    maker.key(Key.Key_Return)
    begun, by = maker.view.hand.interaction.rect, step(maker.doc.job.style)
    for key in (Key.Key_Right, Key.Key_E, Key.Key_Right, Key.Key_Down, Key.Key_E, Key.Key_Down):
        maker.key(key)
    maker.key(Key.Key_Return)
    rect = drawn(maker)
    assert (rect.x - begun.x, rect.y - begun.y) == (by, by)
    assert (rect.length - begun.length, rect.width - begun.width) == (by, by)


def test_shift_sizes_to_the_next_stop(maker):
    """With nothing beyond it on the sheet, the far edge goes to the edge of the sheet."""
    maker.view.setFocus()
    maker.view.hand.draw_on("2")
    maker.key(Key.Key_Return)
    maker.key(Key.Key_E)
    for _ in range(8):
        maker.key(Key.Key_Right, SHIFT)
    maker.key(Key.Key_Return)
    assert drawn(maker).right == inches(96)
