"""Counted work makes the same plans again, so that two builds can be compared."""

import shutil
from pathlib import Path

import pytest

from tests.benchmarks.__main__ import main

ONE = Path(__file__).parent / "workshop" / "shop00.json"


def test_the_same_work_prints_the_same_lines(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """Each line names the digest of a plan that was kept, and no seconds."""
    shutil.copy(ONE, tmp_path)
    said = []
    for folder in ("a", "b"):
        assert main([str(tmp_path), "--work", "20", "--plans", str(tmp_path / folder)]) == 0
        said.append(capsys.readouterr().out)
    assert said[0] == said[1]
    assert " s  last " not in said[0]
    assert (tmp_path / "a" / "shop00.json").read_bytes() == (
        tmp_path / "b" / "shop00.json"
    ).read_bytes()
