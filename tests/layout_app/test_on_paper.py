"""What goes on paper of a project with a sheet that cannot be cut."""

from dataclasses import replace

import pytest

from layout_app.document import Document
from layout_app.on_paper import matter_of_sawn
from layout_app.paper.matter import Matter
from layout_app.paper.pack.cover import figures
from layout_app.project import Project
from layout_app.sawing import saw
from tests.layout_app.small_job import part, planned, small_job


@pytest.fixture(scope="module")
def matter() -> Matter:
    """Two sheets of sides; on the second one lies on another."""
    made = Document(Project(job=replace(small_job(), parts=(part("s", "Side", (40, 12), 12),))))
    made.adopt(planned(made.job))
    project = made.project
    first, second = project.layout.sheets
    ahead, *others = second.placements
    slipped = replace(others[0], x=ahead.x, y=ahead.y)
    laid = replace(second, placements=(ahead, slipped, *others[1:]), tree=None, yours=True)
    return matter_of_sawn(
        saw(replace(project, layout=replace(project.layout, sheets=(first, laid))))
    )


def test_parts_on_a_sheet_that_cannot_be_cut_are_not_said_to_wait(matter: Matter) -> None:
    """They lie on a sheet, and the list of parts says on which; the banner names the sheet."""
    assert matter.unplaced == ()
    assert matter.banner == "NOT A WHOLE PLAN: sheet 2 cannot be cut as drawn."


def test_a_sheet_left_out_of_the_price_is_named(matter: Matter) -> None:
    """One of two sheets is counted: 52.00, and the other is said not to be."""
    said = list(figures(matter))
    assert "Price of the sheets: 52.00." in said
    assert said[-1] == "Not counted in this: sheet 2, without cuts."
