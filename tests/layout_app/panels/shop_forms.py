"""Looks into the form of the shop: its fields, rows, boxes and choices by name."""

from typing import Any

from PySide6.QtWidgets import QCheckBox, QComboBox, QLabel, QWidget

from layout_app.document.document import Document
from layout_app.panels.entry import Entry
from layout_app.panels.shop import ShopPanel
from layout_app.panels.shop_rows import FormRow
from shared.lengths import LengthStyle, Unit

MILLIMETRES = LengthStyle(unit=Unit.MM, decimals=1)


def doc_of(panel: ShopPanel) -> Document:
    """Return the document behind the form."""
    found = panel.findChild(Document)
    assert found is not None
    return found


def entry(panel: ShopPanel, name: str) -> Entry:
    """Return the field of that name."""
    return next(one for one in panel.findChildren(Entry) if one.accessibleName() == name)


def row(panel: ShopPanel, name: str) -> FormRow:
    """Return the row of the field of that name."""
    return next(one for one in panel.findChildren(FormRow) if one.setter.accessibleName() == name)


def box(panel: ShopPanel, words: str) -> QCheckBox:
    """Return the tick box of those words."""
    return next(one for one in panel.findChildren(QCheckBox) if one.text() == words)


def texts(widget: QWidget) -> list[str]:
    """Return what the labels that are seen say."""
    seen = (label.text() for label in widget.findChildren(QLabel) if label.isVisible())
    return [text.replace("\N{NO-BREAK SPACE}", " ") for text in seen]


def runs_on(panel: ShopPanel) -> QComboBox:
    """Return the choice of what leads the saw."""
    return chooser(panel, "saw runs on")


def chooser(panel: ShopPanel, name: str) -> QComboBox:
    """Return the choice of that name."""
    return next(one for one in panel.findChildren(QComboBox) if one.accessibleName() == name)


Case = tuple[str, str, str, Any]
"""A figure of the form: its name, what is typed, its field in the shop, and what that is then."""
