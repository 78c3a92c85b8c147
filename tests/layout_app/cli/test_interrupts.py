"""Ctrl+C: what is found so far is written, and no traceback is ever shown."""

import os
import signal
import subprocess
import sys
import threading
from pathlib import Path

import pytest

from layout_app.interrupts import Interrupts
from layout_app.model.project import Project
from layout_app.store.plan_file import read_plan
from layout_app.store.project_file import save_project
from shared.saw import verify
from solver.budget.stop import Stop
from solver.line import surroundings
from solver.proof.stoppable import Reach, solve
from tests.benchmarks.furniture import furniture
from tests.soak.interrupting import SOUND, interrupted, judged
from tests.solver.proof.test_stoppable import pigeons

pytestmark = pytest.mark.skipif(sys.platform == "win32", reason="signals of POSIX")

STRIKES = """
import os, signal, sys
from layout_app import command
from layout_app.cli import plan as planning
run, told = planning.run, []
def early(job, limits, say, around, **rest):
    def heard(event):
        say(event)
        if type(event).__name__ == "Better" and not told:
            told.append(event)
            for _ in range(2):
                os.kill(os.getpid(), signal.SIGINT)
    return run(job, limits, heard, around, **rest)
planning.run = early
sys.exit(command.main())
"""


@pytest.fixture
def project(tmp_path: Path) -> Path:
    """Return a file with sixty parts, which take longer than these tests do."""
    path = tmp_path / "trial.ripfirst.json"
    save_project(path, Project(job=furniture(60)))
    return path


def test_the_plan_so_far_is_written_and_said_to_be_interrupted(project: Path) -> None:
    """Even twice: the plan is whole, the exit code 130, and standard error one sentence."""
    out = project.parent / "out"
    words = ["plan", str(project), "--out", str(out), "--format", "json", "--workers", "1"]
    ended = subprocess.run(
        [sys.executable, "-c", STRIKES, *words, "--time-limit", "600"],
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


def test_ctrl_c_is_heard_while_a_solver_keeps_from_python() -> None:
    """A solve that would take ages ends, although the solver never comes back to look."""
    interrupts, stop, model = Interrupts(), Stop(), pigeons(60)
    before = [signal.getsignal(number) for number in (signal.SIGINT, signal.SIGTERM)]
    interrupts.listen()
    timer = threading.Timer(0.2, os.kill, (os.getpid(), signal.SIGINT))
    timer.start()
    try:
        answer = interrupts.asking(stop, lambda: solve(model, Reach(), stop))
    finally:
        timer.join()
        for number, handler in zip((signal.SIGINT, signal.SIGTERM), before, strict=True):
            signal.signal(number, handler)
    assert stop.asked
    assert not answer.is_impossible


@pytest.mark.parametrize("moments", [(0.1,), (1.8, 1.9)])
def test_a_real_ctrl_c_at_any_moment_ends_in_order(
    project: Path, moments: tuple[float, ...]
) -> None:
    """The signal reaches all processes of the terminal, while they load and while they plan."""
    out = project.parent / "out"
    code, said = interrupted(project, out, moments)
    assert judged(code, said, out) in SOUND
