"""The benchmark runner: what it puts into its rows."""

import json
from pathlib import Path

import pytest

from solver.budget.phase import Method
from tests.benchmarks.__main__ import main

SMALL = {
    "name": "small",
    "sheet": {"length": 90, "width": 40},
    "kerf": 1,
    "unit": "1",
    "parts": [{"length": 30, "width": 20, "copies": 5, "may_turn": True}],
}


def test_rows_of_the_runner_hold_the_statistics_of_each_run(tmp_path: Path) -> None:
    """Each row of its JSON says what was done: phases with seconds, and the course."""
    instances, rows = tmp_path / "in", tmp_path / "rows.json"
    instances.mkdir()
    (instances / "small.json").write_text(json.dumps(SMALL), "utf-8")
    assert main([str(instances), "--time-limit", "0.2", "--workers", "1", "--json", str(rows)]) == 0
    (row,) = json.loads(rows.read_text("utf-8"))
    (material,) = row["statistics"]["materials"]
    assert material["stretches"][0]["begin_s"] <= material["stretches"][0]["end_s"]
    first, last = material["course"][0], material["course"][-1]
    assert first["method"] == str(Method.CONSTRUCTION)
    assert (last["value"], last["cuts"], last["setups"]) == (
        row["sheets"],
        row["cuts"],
        row["setups"],
    )


def test_rows_of_the_runner_hold_the_bound_on_cuts(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """Five parts on one sheet: what no plan undercuts is in the row, the line and the totals."""
    instances, rows = tmp_path / "in", tmp_path / "rows.json"
    instances.mkdir()
    (instances / "small.json").write_text(json.dumps(SMALL), "utf-8")
    assert main([str(instances), "--time-limit", "2", "--workers", "1", "--json", str(rows)]) == 0
    (row,) = json.loads(rows.read_text("utf-8"))
    assert 5 <= row["least_cuts"] <= row["cuts"]
    said = capsys.readouterr().out
    assert f"{row['cuts']} cuts >= {row['least_cuts']}" in said
    assert f"{row['cuts']} cuts (>= {row['least_cuts']} of {row['cuts']} where" in said
