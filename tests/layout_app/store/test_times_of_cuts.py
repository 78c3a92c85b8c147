"""Times of cuts in a project file: read back, and refused with one sentence where none can be."""

import json
from dataclasses import replace
from pathlib import Path

import pytest

from layout_app.document.ticks import tick
from layout_app.model.project import Project
from layout_app.store.errors import FileProblem
from layout_app.store.project_file import project_text, read_project
from shared.progress import Declined, TakenOver
from tests.layout_app.small_job import document


@pytest.fixture
def timed() -> Project:
    """Return the small job with two cuts ticked, the second after 40 s, and a figure declined."""
    doc = document()
    tick(doc, [1])
    tick(doc, [2], took=40)
    declined = (Declined(figure="setup_s", heard=30),)
    taken = (TakenOver(figure="lift_s", seconds=40, heard=31),)
    progress = replace(doc.progress, declined=declined, taken=taken)
    return replace(doc.project, progress=progress)


def test_times_and_what_was_declined_are_read_back(timed: Project, tmp_path: Path) -> None:
    """What was written; a file from before has neither, and is read."""
    path = tmp_path / "trial.ripfirst.json"
    path.write_text(project_text(timed))
    assert read_project(path).progress == timed.progress
    fields = json.loads(project_text(timed))
    del fields["progress"]["times"]
    del fields["progress"]["declined"], fields["progress"]["taken"]
    path.write_text(json.dumps(fields))
    assert read_project(path).progress == replace(timed.progress, times=(), declined=(), taken=())


@pytest.mark.parametrize(
    ("wrong", "sentence"),
    [
        ({"number": 2, "seconds": -3}, r"progress\.times\[0\]\.seconds: a cut takes from 0 to"),
        ({"number": 2, "seconds": 31_536_000}, r"times\[0\]\.seconds: a cut takes from 0 to 14400"),
        ({"number": 2, "seconds": float("nan")}, "NaN"),
        ({"number": 2, "seconds": 40.5}, r"times\[0\]\.seconds: expected a whole number"),
        ({"number": 2, "seconds": "40 s"}, r"times\[0\]\.seconds: expected a whole number"),
        ({"number": 99, "seconds": 40}, r"times\[0\]\.number: cut 99 is not ticked"),
        ({"number": 3, "seconds": 40}, r"times\[0\]\.number: cut 3 is not ticked"),
        ({"number": 2}, r"times\[0\]: the field .*seconds.* is missing"),
    ],
)
def test_times_that_no_cut_took_are_refused(
    timed: Project, tmp_path: Path, wrong: dict[str, object], sentence: str
) -> None:
    """Negative, no number, a year long, or of a cut that is not made: the place and the reason."""
    fields = json.loads(project_text(timed))
    fields["progress"]["times"] = [wrong]
    path = tmp_path / "trial.ripfirst.json"
    path.write_text(json.dumps(fields))
    with pytest.raises(FileProblem, match=sentence) as told:
        read_project(path)
    assert "\n" not in str(told.value)


@pytest.mark.parametrize(
    ("name", "value", "sentence"),
    [
        ("times", [{"number": 2, "seconds": 40}] * 2, r"times\[0\]\.number: cut 2 stands here"),
        ("declined", [{"figure": "kerf", "heard": 9}], r"declined\[0\]\.figure: expected one of"),
        ("declined", [{"figure": "cut_s", "heard": -1}], r"declined\[0\]\.heard: it cannot"),
        (
            "taken",
            [{"figure": "kerf", "seconds": 9, "heard": 9}],
            r"taken\[0\]\.figure: expected one of",
        ),
    ],
)
def test_doubled_times_and_unknown_figures_are_refused(
    timed: Project, tmp_path: Path, name: str, value: object, sentence: str
) -> None:
    """A cut has one time; what is declined is a figure of the pace."""
    fields = json.loads(project_text(timed))
    fields["progress"][name] = value
    path = tmp_path / "trial.ripfirst.json"
    path.write_text(json.dumps(fields))
    with pytest.raises(FileProblem, match=sentence):
        read_project(path)
