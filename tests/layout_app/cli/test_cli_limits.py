"""The command line and a shop whose limits bind."""

from pathlib import Path

import pytest

from layout_app.store.plan_file import read_plan
from shared.saw import verify
from tests.layout_app.cli.test_cli import plan, project, written


def test_a_sheet_no_rail_cuts_is_told_and_its_parts_wait(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """A rail of 12 in reaches 2 in: the row is left out, and the parts say which rail they need."""
    shop = {"rails": [{"length": "12"}], "overhang": "10"}
    code, out = plan(written(tmp_path, project(shop=shop)))
    said = capsys.readouterr().out
    assert code == 1
    assert "within the reach of the rails, 2 in" in said
    assert "needs a longer rail" in said
    assert verify(read_plan(out / "plan.json")) == ()
