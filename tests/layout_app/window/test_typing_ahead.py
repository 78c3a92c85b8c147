"""Keys that come while the window is busy."""

from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication

from layout_app.panels.left_region import LeftRegion
from shared.lengths import INCH
from tests.layout_app.tables import ENTER, ESC, doc_of


def test_a_row_is_typed_ahead(left: LeftRegion) -> None:
    """Keys that come faster than the window answers go into the cells they are meant for."""
    left.type_part()
    for text in ("Cleat", "20", "6", "2", "Rib", "9", "5", "3"):
        for letter in text:
            QTest.keyClick(QApplication.focusWidget(), letter)
        QTest.keyClick(QApplication.focusWidget(), ENTER)
    typed = doc_of(left).job.parts[-2:]
    assert [(one.name, one.length, one.width, one.copies) for one in typed] == [
        ("Cleat", 20 * INCH, 6 * INCH, 2),
        ("Rib", 9 * INCH, 5 * INCH, 3),
    ]
    QTest.keyClick(QApplication.focusWidget(), ESC)


def test_asking_for_the_row_again_keeps_what_is_typed(left: LeftRegion, qtlog) -> None:
    """The key for a new part pressed a second time changes nothing, and Qt has nothing to say."""
    for open_row in (left.type_part, left.type_sheet):
        open_row()
        before = QApplication.focusWidget()
        QTest.keyClicks(before, "Cle")
        open_row()
        assert QApplication.focusWidget() is before
        assert before.property("text") == "Cle"
        QTest.keyClick(before, ESC)
    assert [one.message for one in qtlog.records if "edit" in one.message] == []
