"""Keys that come while the window is busy."""

from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication

from layout_app.panels.left_region import LeftRegion
from shared.lengths import INCH
from tests.layout_app.tables import ENTER, ESC, doc_of


def test_a_row_is_typed_ahead(left: LeftRegion) -> None:
    """Keys that come faster than the window answers go into the cells they are meant for."""
    left.type_part()
    for text in ("Cleat", "20", "6", "Rib", "9", "5"):
        for letter in text:
            QTest.keyClick(QApplication.focusWidget(), letter)
        QTest.keyClick(QApplication.focusWidget(), ENTER)
    typed = doc_of(left).job.parts[-2:]
    assert [(one.name, one.length, one.width) for one in typed] == [
        ("Cleat", 20 * INCH, 6 * INCH),
        ("Rib", 9 * INCH, 5 * INCH),
    ]
    QTest.keyClick(QApplication.focusWidget(), ESC)
