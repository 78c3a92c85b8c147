"""What can be read of labels and tips, as Qt reads what it is given."""

from PySide6.QtCore import Qt
from PySide6.QtGui import Qt as QtText
from PySide6.QtGui import QTextDocument
from PySide6.QtWidgets import QLabel, QWidget

from layout_app.look.as_typed import BREAK


def seen(words: str) -> str:
    """Return what is read where Qt is left to guess whether words are rich text.

    Places where a line may end cannot be seen.
    """
    if not QtText.mightBeRichText(words):
        return words
    page = QTextDocument()
    page.setHtml(words)
    return page.toPlainText().replace(BREAK, "")


def seen_tip(widget: QWidget) -> str:
    """Return what is read in the tip of a widget."""
    return seen(widget.toolTip())


def seen_in(label: QLabel) -> str:
    """Return what is read on a label."""
    return label.text() if label.textFormat() is Qt.TextFormat.PlainText else seen(label.text())


def labels_of(widget: QWidget) -> list[str]:
    """Return what is read on the labels of a widget that are shown."""
    return [seen_in(one) for one in widget.findChildren(QLabel) if one.isVisibleTo(widget)]
