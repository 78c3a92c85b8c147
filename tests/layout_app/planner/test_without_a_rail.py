"""The demo projects planned for a circular saw along a straightedge, after one switch."""

from dataclasses import replace
from pathlib import Path

import pytest

from layout_app.store.project_file import read_project
from shared.making.recording import records
from shared.practice import running_on
from shared.saw import verify
from shared.shop import RunsOn
from tests.layout_app.small_job import planned

DEMOS = Path(__file__).parents[3] / "assets"


@pytest.mark.parametrize("name", ["herbarium", "press-rack"])
def test_a_demo_is_planned_after_one_switch(name: str) -> None:
    """Every part is placed, the saw accepts the cuts, and a straightedge reaches over each.

    It has to be longer than the cut by one base length at each end (workshop notes, section 3).
    """
    job = read_project(DEMOS / f"{name}.ripfirst.json").job
    shop = running_on(job.shop, RunsOn.STRAIGHTEDGE, job.style.unit)
    plan = planned(replace(job, shop=shop))
    assert plan.unplaced == ()
    assert verify(plan) == ()
    assert shop.base is not None
    laid = [one for one in records([plan], shop) if one.rail is not None]
    assert laid
    for one in laid:
        assert one.rail is not None
        assert one.rail.rail.length >= one.length + 2 * shop.base.length
