"""Ctrl+C at many moments of a real run: ``python -m tests.soak.interrupting [--n 60]``.

Each run is a process group of its own, as in a terminal, and the signal goes to the whole
group. One run in two is long, and interrupted while it loads and searches; the others are
short, and interrupted while they put cuts in order and write, too; by one process or by two.
Prints how many runs ended how, and with which exit codes; none may show a traceback, and a
plan that is said to be written must be there, whole. Before the first line of the program
Ctrl+C is for Python itself, which shows a traceback: such a run is counted apart, and known by
a mark that never came.
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

from layout_app.model.project import Project
from layout_app.store.errors import FileProblem
from layout_app.store.plan_file import read_plan
from layout_app.store.project_file import save_project
from shared.saw import verify
from solver.line import surroundings
from tests.benchmarks.furniture import furniture

LAST_S = 3.0
"""Moments are spread from 0 to so many seconds."""
GAP_S = 0.15
"""Between two strokes of Ctrl+C."""
LONG_S, SHORT_S = 600.0, 0.5
"""Time limits."""
MARK = "-- the program begins --"
ENTRY = f"""
import os, sys
def mark(event, its, marked=[]):
    if event == "exec" and not marked and os.path.basename(its[0].co_filename) in FIRST:
        marked.append(os.write(2, b"{MARK}\\n"))
FIRST = ("command.py", "cli.py")
sys.addaudithook(mark)
from layout_app.__main__ import main
sys.exit(main())
"""
"""As the installed command begins, but that the first line of its first module is marked."""
BEFORE = "before the first line"
SOUND = ("written", "nothing", "ended before", BEFORE)
STARTING = (-signal.SIGINT, 130, 1)
"""How Python's own start ends when interrupted; 1 where it was looking for its packages."""
TRACES = ("Traceback", "KeyboardInterrupt", "Exception ignored")


def interrupted(
    path: Path, out: Path, moments: Sequence[float], seconds: float = LONG_S, workers: int = 2
) -> tuple[int, str]:
    """Plan a project, interrupt it at some moments (s); return exit code and what was said."""
    words = ["plan", str(path), "--out", str(out)]
    words += ["--time-limit", str(seconds), "--workers", str(workers)]
    began = time.monotonic()
    with subprocess.Popen(
        [sys.executable, "-c", ENTRY, *words],
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
    """Say how a run ended: one of ``SOUND``, or what is wrong with its end."""
    if MARK not in said:
        return BEFORE if code in STARTING and not out.exists() else f"exit code {code}: {said}"
    if any(word in said for word in TRACES):
        return f"traceback: {said[-400:]}"
    if code not in (0, 130):
        return f"exit code {code}: {said[-400:]}"
    if (out / "plan.json").exists():
        return _of_a_plan(code, said, out / "plan.json")
    leaves = code == 130 and "nothing was written" in said
    return "nothing" if leaves else f"no plan, and not a word of it: {said[-400:]}"


def _of_a_plan(code: int, said: str, file: Path) -> str:
    try:
        faults = verify(read_plan(file))
    except FileProblem as problem:
        return f"no whole plan: {problem}"
    if faults or ("nterrupted" in said) != (code == 130):
        return f"a plan, but: {said[-400:]}"
    return "written" if code else "ended before"


def main() -> None:
    """Interrupt runs at moments spread evenly, every other one twice."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--n", type=int, default=60)
    number = parser.parse_args().n
    ends: Counter[str] = Counter()
    codes: Counter[int] = Counter()
    with tempfile.TemporaryDirectory() as name:
        path = Path(name) / "trial.ripfirst.json"
        save_project(path, Project(job=furniture(60)))
        for index in range(number):
            moment = LAST_S * index / number
            moments = (moment, moment + GAP_S) if index // 2 % 2 else (moment,)
            out = Path(name) / str(index)
            seconds, workers = SHORT_S if index % 2 else LONG_S, 1 + index // 4 % 2
            code, said = interrupted(path, out, moments, seconds, workers)
            end = judged(code, said, out)
            if end not in SOUND:
                print(f"{moments}: {end}", flush=True)
            ends[end.split(":")[0]] += 1
            codes[code] += 1
    print(f"ends={dict(ends)}, exit_codes={dict(codes)}")


if __name__ == "__main__":
    main()
