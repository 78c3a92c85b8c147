"""Write a plan and its drawings into a folder."""

from collections.abc import Sequence
from pathlib import Path
from typing import NamedTuple

from layout_app.paper.svg import sheet_svg
from layout_app.store import atomic
from layout_app.store.plan_file import save_plan
from shared.job import Job
from shared.plan import Plan

FORMATS = ("json", "svg")


class Exported(NamedTuple):
    """A plan, and the files it was written to."""

    plan: Plan
    files: tuple[Path, ...]


def write(plan: Plan, job: Job, folder: Path, formats: Sequence[str] = FORMATS) -> Exported:
    """Write ``plan.json`` and one SVG a sheet, as the formats ask."""
    files: list[Path] = []
    if "json" in formats:
        files.append(folder / "plan.json")
        save_plan(files[-1], plan)
    for sheet in plan.sheets if "svg" in formats else ():
        files.append(folder / f"sheet-{sheet.id}.svg")
        atomic.save(files[-1], sheet_svg(plan, sheet.id, job.style, job).encode())
    return Exported(plan, tuple(files))


def left_over_drawings(exported: Exported, folder: Path) -> list[str]:
    """Name drawings of an earlier plan in the folder, which do not belong to this one."""
    ours = {file.name for file in exported.files}
    return sorted(file.name for file in folder.glob("sheet-*.svg") if file.name not in ours)
