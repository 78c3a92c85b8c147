"""The form of a shop, as the tests of its fields have it."""

from collections.abc import Iterator

import pytest
from pytestqt.qtbot import QtBot

from layout_app.document.document import Document
from layout_app.model.project import Project
from layout_app.panels.shop import ShopPanel
from shared.job import Job
from shared.practice import USUAL_SHOP
from tests.layout_app.panels.shop_forms import (
    MILLIMETRES,
)


@pytest.fixture
def panel(qtbot: QtBot) -> Iterator[ShopPanel]:
    """Return the form of a metric shop of common practice."""
    doc = Document(Project(job=Job(shop=USUAL_SHOP, style=MILLIMETRES)))
    made = ShopPanel(doc)
    doc.setParent(made)
    qtbot.addWidget(made)
    made.resize(340, 700)
    made.show()
    made.activateWindow()
    yield made
    doc.undo_stack.clear()
