"""What would save a sheet, list by list: ``python -m tests.benchmarks.advice [NAME ...]``.

Names are workshop lists (``shop02``) or project files. Each is planned until proven, 10 s at
most, then it is looked for 20 s at most with one process; printed are the times at which
things were said, and how many changes save, are ruled out, or stay undecided.
"""

import argparse
import time
from dataclasses import replace
from pathlib import Path

from layout_app.cli.advise import proven_plan
from layout_app.store.project_file import read_project
from shared.job import Job
from shared.lengths import LengthStyle, Unit
from shared.saw import verify
from solver.advice.suggesting import suggestions
from solver.budget.stop import Budget
from solver.outcome import Advice, AdviceEnded, Suggestion
from tests.benchmarks.neutral import load

HERE = Path(__file__).parent
LISTS = ("shop02", "shop05", "shop11", "shop15", "shop22")
DEMOS = tuple(str(path) for path in sorted((HERE.parents[1] / "assets").glob("*.ripfirst.json")))
PLANNING = Budget(time_s=10.0, workers=2)
LOOKING = Budget(time_s=20.0)


def main() -> None:
    """Look at each list that is named, or at all of them."""
    parser = argparse.ArgumentParser(description="Looks for what would save a sheet.")
    parser.add_argument("names", nargs="*", default=[*LISTS, *DEMOS])
    for name in parser.parse_args().names:
        _look(Path(name).stem, _job(name))


def _job(name: str) -> Job:
    if name.endswith(".json"):
        return read_project(Path(name)).job
    [benchmark] = load(HERE / "workshop" / f"{name}.json")
    metric = "mm" in (HERE / "workshop" / f"{name}.json").read_text("utf-8")
    style = LengthStyle(unit=Unit.MM) if metric else LengthStyle()
    return replace(benchmark.job, style=style)


def _look(name: str, job: Job) -> None:
    plan = proven_plan(job, PLANNING)
    proven = "proven" if plan.proof.proven else f"at least {plan.proof.bound}"
    print(f"{name}: {len(job.parts)} rows, {len(plan.sheets)} sheets ({proven})")
    began = time.monotonic()

    def say(event: Advice) -> None:
        if isinstance(event, Suggestion) and verify(event.plan):
            raise AssertionError(f"{name}: the saw refuses the plan of {event.sentence}")
        print(f"  {time.monotonic() - began:5.1f} s  {event.sentence}", flush=True)
        if isinstance(event, AdviceEnded):
            print(f"           {event.found} save, {event.ruled_out} not, {event.open} undecided")

    suggestions(job, plan, LOOKING, say)


if __name__ == "__main__":
    main()
