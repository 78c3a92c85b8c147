"""Odd arguments are refused with one sentence, or do what they say."""

import os
import subprocess
import sys
from pathlib import Path

import pytest

from layout_app.project import Project
from layout_app.store.project_file import save_project
from solver.planning.processes import surroundings
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


@pytest.mark.parametrize("encoding", ["ascii", "cp1252"])
def test_output_that_knows_no_such_sign_shows_a_plain_one(tmp_path: Path, encoding: str) -> None:
    """The best offcut is L × W; in ASCII an x stands for the sign, and the run ends well."""
    path = tmp_path / "trial.ripfirst.json"
    save_project(path, Project(job=small_job()))
    words = ["plan", str(path), "--out", str(tmp_path / "out"), "--time-limit", "0"]
    ended = subprocess.run(
        [sys.executable, "-m", "layout_app", *words, "--workers", "1", "--format", "json"],
        capture_output=True,
        check=False,
        env=surroundings() | {"PYTHONIOENCODING": encoding, "LANG": os.environ.get("LANG", "C")},
    )
    assert (ended.returncode, ended.stderr) == (0, b"")
    sign = "x" if encoding == "ascii" else "×"
    assert f" {sign} W " in ended.stdout.decode(encoding)


def test_the_same_counted_work_gives_the_same_bytes(tmp_path: Path) -> None:
    """Whatever the number of workers and the seed of Python's own hashes."""
    path = tmp_path / "trial.ripfirst.json"
    save_project(path, Project(job=small_job()))
    made = set()
    for number, workers in enumerate("12"):
        out = tmp_path / str(number)
        words = ["plan", str(path), "--out", str(out), "--work", "300", "--workers", workers]
        subprocess.run(
            [sys.executable, "-m", "layout_app", *words, "--format", "json"],
            check=True,
            capture_output=True,
            env=surroundings() | {"PYTHONHASHSEED": str(number)},
        )
        made.add((out / "plan.json").read_bytes())
    assert len(made) == 1
