"""Odd arguments are refused with one sentence, or do what they say."""

import os
import subprocess
import sys
from pathlib import Path

from layout_app.cli.main import main
from layout_app.model.project import Project
from layout_app.store.project_file import save_project
from solver.line import surroundings
from tests.layout_app.small_job import small_job
from tests.soak.arguments import DONE, REFUSED, end_of


def test_odd_arguments_are_refused_with_one_sentence() -> None:
    """Not one ends in a fault of the program, or is taken without a word."""
    wrong = {words: end for words in REFUSED if (end := end_of(words, refused=True)) != "refused"}
    assert len(REFUSED) >= 82
    assert wrong == {}


def test_odd_but_sensible_arguments_do_what_they_say() -> None:
    """What is named twice counts the last time, and any name serves for a folder."""
    wrong = {words: end for words in DONE if (end := end_of(words, refused=False)) != "done"}
    assert wrong == {}


def test_output_that_knows_no_such_sign_shows_a_plain_one(tmp_path: Path) -> None:
    """The best offcut is L × W; in ASCII an x stands for the sign, and the run ends well."""
    path = tmp_path / "trial.ripfirst.json"
    save_project(path, Project(job=small_job()))
    words = ["plan", str(path), "--out", str(tmp_path / "out"), "--time-limit", "0"]
    ended = subprocess.run(
        [sys.executable, "-m", "layout_app", *words, "--workers", "1", "--format", "json"],
        capture_output=True,
        check=False,
        env=surroundings() | {"PYTHONIOENCODING": "ascii", "LANG": os.environ.get("LANG", "C")},
    )
    assert (ended.returncode, ended.stderr) == (0, b"")
    assert " x W " in ended.stdout.decode("ascii")


def test_the_same_counted_work_gives_the_same_bytes(tmp_path: Path) -> None:
    """Whatever the number of workers and the seed of Python's own hashes."""
    path, here, there = (tmp_path / name for name in ("trial.ripfirst.json", "here", "there"))
    save_project(path, Project(job=small_job()))
    words = ["plan", str(path), "--work", "5", "--format", "json"]
    assert main([*words, "--out", str(here), "--workers", "1"]) == 0
    subprocess.run(
        [sys.executable, "-m", "layout_app", *words, "--out", str(there), "--workers", "2"],
        check=True,
        capture_output=True,
        env=surroundings() | {"PYTHONHASHSEED": "1"},
    )
    assert (here / "plan.json").read_bytes() == (there / "plan.json").read_bytes()
