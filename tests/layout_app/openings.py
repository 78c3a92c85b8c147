"""A window that projects are opened in, one after the other, and a second project to open."""

from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import replace
from pathlib import Path

import pytest

from layout_app.model.project import Project
from layout_app.planner import aside
from layout_app.planner.process import PlannerProcess
from layout_app.window.main_window import MainWindow
from tests.layout_app.closing import close
from tests.layout_app.monkey import silent_planner
from tests.layout_app.small_job import document

PATH = Path("other.ripfirst.json")


@contextmanager
def said_window() -> Iterator[MainWindow]:
    """Show a window whose planner says what a test has it say."""
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(aside, "QUIET_MS", 0)
        patch.setattr(PlannerProcess, "order", lambda *_asked: None)
        made = MainWindow(planner=silent_planner())
        made.show()
        yield made
        close(made)


def other() -> Project:
    """Return the small job by another name, planned: same rows, same sheets, same places."""
    project = document().project
    return replace(project, job=replace(project.job, name="Other"))
