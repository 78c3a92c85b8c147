"""Hostile names through saving, reading and every export.

``python -m tests.soak.names --n 60`` prints what went wrong.
"""

import argparse
import json
import os
import tempfile
import unicodedata
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path
from typing import Final
from xml.etree import ElementTree

from layout_app.document.document import Document
from layout_app.model.project import Project
from layout_app.paper.exporting import FORMAT_NAMES, Exported, write
from layout_app.paper.matter import Matter
from layout_app.paper.wish import ExportWish
from layout_app.store.file_names import safe_name
from layout_app.store.plan_file import read_plan
from layout_app.store.project_file import SUFFIX, read_project, save_project
from shared.building import Build, BuildStep, Hardware, StepKind
from shared.job import Job
from shared.saw import verify
from tests.layout_app.adopting import adopt
from tests.layout_app.paper.matters import matter_of_plan
from tests.layout_app.small_job import planned, small_job

NAMES: Final = (
    *("", " ", "\t", "\n", "a\nb", "\r", "a\0b", "\x07", "\x1b[31m", "\x7f", "\x85", "\u2028"),
    *("\ud800", "\udc00\ud800", "a\udfffb", "\ufffe", "\uffff", "\U0010ffff", "\ufeff", "\ufffd"),
    *(
        "\u202e4/3",
        "\u2066a",
        "\u200b",
        "\u200d",
        "e\u0301",
        "é",
        "a" + "\u0301" * 200,
        "שלום",
        "工",
    ),
    *(
        "\U0001fa9a",
        "\U0001f468\u200d\U0001f527",
        "½",
        "<b>",
        "</text>",
        "]]>",
        "&amp;",
        "&",
        '"',
        "'",
    ),
    *(
        "<!--",
        "%%c",
        "%s",
        "{0}",
        "\\U+0041",
        "^J",
        "=1+1",
        "@SUM(1)",
        "-1",
        "+1",
        "|",
        "# a",
        "[a](b)",
    ),
    *(
        "a/b",
        "a:b",
        "../../x",
        "CON",
        "nul.json",
        "x.",
        "*?",
        "x" * 10_000,
        "y " * 3_000,
        "~",
        "`",
        "1,5",
    ),
)
"""Controls, halves of letters, marks that turn or join, marks of formats, names of devices."""


def named(name: str) -> Project:
    """Return a planned project in which all that can have a name has this one."""
    job: Job = small_job()
    side, shelf = job.parts
    material = f"{name} ply"
    parts = (
        replace(side, name=name, note=name, material=material, copies=2),
        replace(shelf, name=f"{name} 2", material=material, copies=1),
    )
    stock = (replace(job.stock[0], name=name, material=material, id=name or "full"),)
    step = BuildStep(kind=StepKind.GROOVE, text=name or "x", parts=(side.id,))
    build = Build(steps=(step,), hardware=(Hardware(name=name or "x", count=2),))
    made = Document(Project(job=replace(job, name=name, parts=parts, stock=stock), build=build))
    adopt(made, planned(made.job))
    return made.project


def faults(name: str, folder: Path) -> Iterator[str]:
    """Yield what is wrong with what comes of a name."""
    project = named(name)
    path = folder / f"{safe_name(name)}{SUFFIX}"
    save_project(path, project)
    again = read_project(path)
    save_project(path, again)
    if read_project(path) != again:
        yield "what was saved differs from what is read"
    matter = _matter(project, name)
    written = write(matter, folder / "out", FORMAT_NAMES, ExportWish())
    yield from _unreadable(written)


def _matter(project: Project, name: str) -> Matter:
    """Return what is exported, with two sheets whose ids are this name and one like it."""
    plan = planned(project.job)
    matter = matter_of_plan(project.job, plan, project.build)
    like = name.swapcase().replace("/", ":")
    (first, *_) = matter.drawings
    ids = dict.fromkeys((name or "2", like or "3"))
    twins = tuple(replace(first, sheet=one) for one in ids if one != first.sheet)
    return replace(matter, drawings=(*matter.drawings, *twins))


def _unreadable(written: Exported) -> Iterator[str]:
    alike = {unicodedata.normalize("NFC", str(file)).casefold() for file in written.files}
    if len(alike) < len(written.files):
        yield "two files have one name"
    for file in written.files:
        data = file.read_bytes()
        if not data:
            yield f"{file.name} is empty"
        if file.suffix == ".svg":
            ElementTree.fromstring(data)
        elif file.suffix == ".json":
            json.loads(data)
            if verify(read_plan(file)):
                yield "the saw refuses what was written"
        elif file.suffix in {".csv", ".md", ".dxf"}:
            data.decode("utf-8-sig")


def try_names(folder: Path, number: int) -> list[str]:
    """Try so many names; return what went wrong."""
    found = []
    for place, name in enumerate(NAMES[:number]):
        at = folder / str(place)
        at.mkdir()
        try:
            found += [f"{name[:20]!a}: {fault}" for fault in faults(name, at)]
        except Exception as fault:
            found.append(f"{name[:20]!a}: {type(fault).__name__}: {str(fault)[:100]!a}")
    return found


def main() -> None:
    """Print the counts."""
    from PySide6.QtWidgets import QApplication  # noqa: PLC0415 - fonts of PDF and pictures need it

    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--n", type=int, default=len(NAMES))
    wish = parser.parse_args()
    os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")
    app = QApplication([])
    with tempfile.TemporaryDirectory() as name:
        found = try_names(Path(name), wish.n)
    print(f"{min(wish.n, len(NAMES))} names, {len(found)} faults")
    for fault in found:
        print(fault)
    app.quit()


if __name__ == "__main__":
    main()
