"""Ctrl+C at many moments of a real run: ``python -m tests.soak.interrupting [--n 60]``.

Each run is a process group of its own, as in a terminal, and the signal goes to the whole
group. Prints how many runs ended how; none may show a traceback, and a plan that is said to
be written must be there, whole.
"""

import argparse
import os
import signal
import subprocess
import sys
import tempfile
import time
from collections import Counter
from collections.abc import Sequence
from pathlib import Path

from layout_app.project import Project
from layout_app.store.errors import FileProblem
from layout_app.store.plan_file import read_plan
from layout_app.store.project_file import save_project
from shared.saw import verify
from solver.planning.processes import surroundings
from tests.benchmarks.furniture import furniture

LAST_S = 3.0
"""Moments are spread from 0 to so many seconds."""
GAP_S = 0.15
"""Between two strokes of Ctrl+C."""
SOUND = ("written", "nothing", "nothing, in Python's own start")
KILLED = (-signal.SIGINT, 130)
"""How a shell tells that a process was interrupted; the first before Python listens."""
TRACES = ("Traceback", "KeyboardInterrupt", "Exception ignored")


def interrupted(path: Path, out: Path, moments: Sequence[float], *more: str) -> tuple[int, str]:
    """Plan a project, interrupt it at some moments (s); return exit code and what was said."""
    words = ["plan", str(path), "--out", str(out), "--time-limit", "600", "--workers", "2", *more]
    began = time.monotonic()
    with subprocess.Popen(
        [sys.executable, "-m", "layout_app", *words],
        stdout=subprocess.PIPE,
        stderr=subprocess.STDOUT,
        text=True,
        env=surroundings(),
        start_new_session=True,
    ) as run:
        for moment in moments:
            time.sleep(max(0.0, began + moment - time.monotonic()))
            if run.poll() is None:
                os.killpg(run.pid, signal.SIGINT)
        said, _ = run.communicate(timeout=120)
    return run.returncode, said


def judged(code: int, said: str, out: Path) -> str:
    """Say how a run ended: ``written``, ``nothing``, or what is wrong with its end."""
    file = out / "plan.json"
    if any(word in said for word in TRACES):
        ours = "layout_app" in said
        return f"traceback: {said[-400:]}" if ours else "nothing, in Python's own start"
    if code not in KILLED:
        return f"exit code {code}: {said[-400:]}"
    if not file.exists():
        leaves = code == KILLED[0] or "nothing was written" in said
        return "nothing" if leaves else f"no plan, and not a word of it: {said[-400:]}"
    try:
        faults = verify(read_plan(file))
    except FileProblem as problem:
        return str(problem)
    if faults or "Interrupted" not in said:
        return f"a plan, but: {said[-400:]}"
    return "written"


def main() -> None:
    """Interrupt runs at moments spread evenly, every other one twice."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--n", type=int, default=60)
    number = parser.parse_args().n
    ends: Counter[str] = Counter()
    with tempfile.TemporaryDirectory() as name:
        path = Path(name) / "trial.ripfirst.json"
        save_project(path, Project(job=furniture(60)))
        for index in range(number):
            moment = LAST_S * index / number
            moments = (moment, moment + GAP_S) if index % 2 else (moment,)
            out = Path(name) / str(index)
            end = judged(*interrupted(path, out, moments), out)
            if end not in SOUND:
                print(f"{moments}: {end}")
            ends[end.split(":")[0]] += 1
    print(dict(ends))


if __name__ == "__main__":
    main()
