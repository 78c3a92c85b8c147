"""The small job on the walk, as its tests have it."""

from dataclasses import replace

import pytest
from pytestqt.qtbot import QtBot

from layout_app.document.document import Document
from layout_app.model.project import Project
from layout_app.walk.view import Walk
from shared.lengths import INCH
from shared.practice import USUAL_SHOP
from shared.stock import Trims
from tests.layout_app.adopting import adopt
from tests.layout_app.small_job import planned, small_job


@pytest.fixture
def doc() -> Document:
    """Return the small job in a usual shop, its sheet trimmed, with its first plan."""
    job = small_job()
    trims = Trims(near=INCH // 4, start=INCH // 4)
    job = replace(job, shop=USUAL_SHOP, stock=(replace(job.stock[0], trims=trims, density=680),))
    made = Document(Project(job=job))
    adopt(made, planned(made.job))
    return made


@pytest.fixture
def walk(doc: Document, qtbot: QtBot) -> Walk:
    """Return the walk on a small screen."""
    made = Walk(doc, dark=False)
    qtbot.addWidget(made)
    made.resize(1024, 700)
    made.show()
    return made
