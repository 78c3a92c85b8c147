"""Layouts in files from when an order of cuts was held against a count of set-up changes."""

import json
from pathlib import Path

import pytest

from layout_app.store.errors import FileProblem
from layout_app.store.project_file import project_text, read_project

GOLDEN = Path(__file__).with_name("golden") / "version_1.ripfirst.json"


def test_a_count_of_set_up_changes_is_dropped(tmp_path: Path) -> None:
    """Nothing is claimed of seconds; the order, its mode and all sheets are as they were."""
    raw = json.loads(GOLDEN.read_text("utf-8"))
    before = raw["layout"]
    before |= {"order": ["s1/0", "s1/1"], "sawing": "by set-up", "least_changes": 3}
    path = tmp_path / "counted.ripfirst.json"
    path.write_text(json.dumps(raw), "utf-8")
    layout = read_project(path).layout
    assert layout.least_s == -1
    assert list(layout.order) == before["order"]
    assert layout.sawing == before["sawing"]
    assert [one.id for one in layout.sheets] == [one["id"] for one in before["sheets"]]


def test_seconds_are_written_and_read(tmp_path: Path) -> None:
    """Written by this version a layout says its least seconds, and no count of changes."""
    raw = json.loads(project_text(read_project(GOLDEN)))
    assert raw["layout"]["least_s"] == -1
    assert "least_changes" not in raw["layout"]
    raw["layout"]["least_s"] = 4_200
    path = tmp_path / "new.ripfirst.json"
    path.write_text(json.dumps(raw), "utf-8")
    read = read_project(path)
    assert read.layout.least_s == 4_200
    assert json.loads(project_text(read))["layout"]["least_s"] == 4_200


def test_a_layout_that_is_none_is_refused_in_place(tmp_path: Path) -> None:
    """A list where a layout belongs is said to be one."""
    raw = json.loads(GOLDEN.read_text("utf-8"))
    raw["layout"] = ["least_changes"]
    path = tmp_path / "none.ripfirst.json"
    path.write_text(json.dumps(raw), "utf-8")
    with pytest.raises(FileProblem, match="layout: expected named fields"):
        read_project(path)
