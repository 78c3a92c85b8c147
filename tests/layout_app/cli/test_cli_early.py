"""What cannot be written is refused before anything is planned."""

from dataclasses import replace
from pathlib import Path

import pytest

from layout_app.cli import plan as planning
from layout_app.cli.main import main
from layout_app.model.project import Project
from layout_app.paper import dxf, exporting
from layout_app.paper.exporting import FORMATS, made_files
from layout_app.paper.wish import ExportWish
from layout_app.store.project_file import save_project
from tests.layout_app.paper.matters import matter_of_plan
from tests.layout_app.small_job import part, planned, small_job

USAGE = 2


@pytest.fixture
def project(tmp_path: Path) -> Path:
    """Return the file of the small job."""
    path = tmp_path / "trial.ripfirst.json"
    save_project(path, Project(job=small_job()))
    return path


def planned_in_vain(path: Path, monkeypatch: pytest.MonkeyPatch, *words: str) -> list[object]:
    """Ask for a plan that is refused; return what was planned till then."""
    asked: list[object] = []
    monkeypatch.setattr(planning, "plan_project", lambda *_: asked.append(path))
    assert main(["plan", str(path), *words]) == USAGE
    return asked


def test_files_that_would_be_replaced_are_named_before_planning(
    project: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """A minute of planning is not thrown away for a word that was forgotten."""
    out = project.parent / "out"
    out.mkdir()
    for name in ("plan.json", "parts.csv"):
        (out / name).write_text("mine")
    words = ("--out", str(out), "--format", "json,csv")
    assert planned_in_vain(project, monkeypatch, *words) == []
    said = capsys.readouterr().err
    assert f"{out / 'plan.json'} and 1 more file would be replaced" in said
    assert "--replace" in said
    assert (out / "plan.json").read_text() == "mine"


def test_a_library_that_is_missing_is_said_before_planning(
    project: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """The sentence says what to install; the other formats can be asked for without it."""
    monkeypatch.setattr(dxf, "find_spec", lambda name: None)
    words = ("--out", str(project.parent / "out"), "--format", "json,dxf")
    assert planned_in_vain(project, monkeypatch, *words) == []
    assert "DXF needs one more library: python -m pip install" in capsys.readouterr().err
    exporting.check_libraries(["json", "svg"])


def test_files_that_are_sure_are_written_whatever_the_plan_is() -> None:
    """Each name that is looked for beforehand is one that its format makes."""
    job = small_job()
    matter = matter_of_plan(job, planned(job))
    for one in FORMATS:
        made = [file for file, _ in made_files(matter, [one.name], ExportWish())]
        assert set(one.sure) <= set(made)
    assert any(one.sure for one in FORMATS)


def test_one_file_is_named(project: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Several are counted."""
    out = project.parent / "out"
    for formats, said in (("json", "plan.json"), ("csv", "3 files")):
        words = ["--out", str(out), "--format", formats, "--time-limit", "0"]
        assert main(["plan", str(project), *words]) == 0
        assert f"Written: {said} in {out}\n" in capsys.readouterr().out


def test_what_is_true_of_several_rows_is_said_once(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """Three rows of one name: one note, not one for each of them."""
    job = small_job()
    same = tuple(part(one, "Side", (20, 8)) for one in ("second", "third"))
    path = tmp_path / "trial.ripfirst.json"
    save_project(path, Project(job=replace(job, parts=(*job.parts, *same))))
    words = ["--out", str(tmp_path / "out"), "--format", "json", "--time-limit", "0"]
    assert main(["plan", str(path), *words]) == 0
    assert capsys.readouterr().out.count("Note: Side: 3 rows have this name.") == 1
