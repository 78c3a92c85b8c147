"""Ctrl+C: what is found so far is written, and no traceback is ever shown."""

import subprocess
import sys
from pathlib import Path

import pytest

from layout_app.project import Project
from layout_app.store.plan_file import read_plan
from layout_app.store.project_file import save_project
from shared.saw import verify
from solver.planning.processes import surroundings
from tests.benchmarks.furniture import furniture
from tests.soak.interrupting import SOUND, interrupted, judged

pytestmark = pytest.mark.skipif(sys.platform == "win32", reason="signals of POSIX")

STRIKES = """
import os, signal, sys
from layout_app import command, planning
run, told = planning.run, []
def early(job, limits, say, **rest):
    def heard(event):
        say(event)
        if type(event).__name__ == "Better" and not told:
            told.append(event)
            for _ in range(int(times)):
                os.kill(os.getpid(), signal.SIGINT)
    return run(job, limits, heard, **rest)
planning.run = early
times = sys.argv.pop(1)
sys.exit(command.main())
"""


@pytest.fixture
def project(tmp_path: Path) -> Path:
    """Return a file with sixty parts, which take longer than these tests do."""
    path = tmp_path / "trial.ripfirst.json"
    save_project(path, Project(job=furniture(60)))
    return path


@pytest.mark.parametrize("times", ["1", "2"])
def test_the_plan_so_far_is_written_and_said_to_be_interrupted(project: Path, times: str) -> None:
    """Once or twice: the plan is whole, the exit code 130, and standard error one sentence."""
    out = project.parent / "out"
    words = ["plan", str(project), "--out", str(out), "--format", "json", "--workers", "1"]
    ended = subprocess.run(
        [sys.executable, "-c", STRIKES, times, *words, "--time-limit", "600"],
        capture_output=True,
        text=True,
        check=False,
        env=surroundings(),
        timeout=100,
    )
    assert ended.returncode == 130
    assert ended.stderr.startswith("ripfirst: Interrupted: planning ended early")
    assert ended.stderr.count("\n") == 1
    assert verify(read_plan(out / "plan.json")) == ()


@pytest.mark.parametrize("moments", [(0.1,), (0.6, 0.8), (2.0, 2.1)])
def test_a_real_ctrl_c_at_any_moment_ends_in_order(
    project: Path, moments: tuple[float, ...]
) -> None:
    """The signal reaches all processes of the terminal, before, while and after they plan."""
    out = project.parent / "out"
    code, said = interrupted(project, out, moments)
    assert judged(code, said, out) in SOUND
