"""Odd arguments of the command line: ``python -m tests.soak.arguments``.

Each list is run in a folder of its own. It has to end with exit code 1 or 2 and one sentence,
or do what it says; never with a traceback or "a fault of this program". Prints the counts.
"""

import contextlib
import io
import os
import tempfile
from collections import Counter
from collections.abc import Iterator
from pathlib import Path

from layout_app.cli.main import main as ripfirst
from layout_app.model.project import Project
from layout_app.store.project_file import save_project
from shared.job import Job
from tests.solver.some_jobs import PLY, part, sheet

QUICK = ("--time-limit", "0", "--workers", "1", "--format", "json")
PLAN = ("plan", "p.json", "--out", "out")
MM = "2440 mm"

REFUSED: tuple[tuple[str, ...], ...] = (
    *((*PLAN, *QUICK, "--time-limit", odd) for odd in ("nan", "inf", "-inf", "-1", "", "1e300")),
    *((*PLAN, *QUICK, "--time-limit", odd) for odd in ("ten", "1,5", "0x10", "--")),
    *((*PLAN, *QUICK, "--workers", odd) for odd in ("0", "-1", "65", "1.5", "", "two", "9" * 5000)),
    *((*PLAN, *QUICK, "--seed", odd) for odd in ("-1", "nan", "", "1.5", "9" * 30)),
    *((*PLAN, "--work", odd) for odd in ("0", "-5", "nan", "", "1e6", "9" * 30)),
    *((*PLAN, *QUICK, "--choice", odd) for odd in ("0", "-1", "9", "", "one", "9" * 5000)),
    *((*PLAN, "--labels", odd) for odd in ("3x8,nan,0", "3x8,0,inf", "0x8", "-3x8", "3x8,-5,0")),
    *((*PLAN, "--labels", odd) for odd in ("", "x", "3by8", "3x8,1", "99999x99999", "3x8,500,0")),
    *((*PLAN, "--format", odd) for odd in ("", "jpg", "json,", ",", "JSON", "json,,svg")),
    *((*PLAN, "--paper", odd) for odd in ("", "a9", "A4")),
    *((*PLAN, "--unit", odd) for odd in ("", "ell", "IN")),
    *((*PLAN, "--sawing", odd) for odd in ("", "by-moon")),
    ("plan", "p.json", "--out", ""),
    ("plan", "p.json", "--out", " "),
    ("plan", "", "--out", "out"),
    ("plan", "--out", "out"),
    ("plan", "folder", "--out", "out"),
    ("plan", "missing.json", "--out", "out"),
    ("plan", "p.json", "--out", "p.json"),
    ("plan", "p.json", "--out", "p.json/below"),
    ("plan", "p.json", "--out", "n" * 300),
    ("plan", "text.txt", "--out", "out"),
    ("plan", "p.json", "p.json", "--out", "out"),
    (*PLAN, "--time-limit", "0", "--work", "5"),
    (*PLAN, "--fast"),
    ("variant", "p.json", "--out", "out"),
    ("variant", "p.json", "--out", "out", "--kerf", "nan"),
    ("variant", "p.json", "--out", "out", "--kerf", "-3 mm"),
    ("variant", "p.json", "--out", "out", "--thickness", ""),
    ("variant", "p.json", "--out", "out", "--sheet-length", "1e99 mm"),
    ("variant", "p.json", "--out", "out", "--kerf", "3 mm", "--material", "cheese"),
    ("variant", "p.json", "--out", "out", "--kerf", "3 mm", "--anew"),
    ("advise", "p.json", "--shorten-up-to", "nan"),
    ("advise", "p.json", "--shorten-up-to", ""),
    ("advise", "p.json", "--shorten-up-to=-1"),
    ("check", ""),
    ("check", "folder"),
    ("check", "p.json"),
    ("demo", "--out", "", "--no-window"),
    ("demo", "--out", "p.json", "--no-window"),
    ("plan", "p.json", "--out", "out", "\udcff"),
    ("",),
    ("missing.json",),
    ("folder",),
    ("p.json", "p.json"),
)
DONE: tuple[tuple[str, ...], ...] = (
    (*PLAN, *QUICK),
    (*PLAN, *QUICK, "--seed", "1", "--seed", "2"),
    (*PLAN, *QUICK, "--time-limit", "0.0", "--time-limit", "0"),
    (*PLAN, *QUICK, "--workers", "\N{ARABIC-INDIC DIGIT ONE}"),
    (*PLAN, *QUICK, "--anew", "--anew"),
    ("plan", "p.json", "--out", "d/\N{GREEK SMALL LETTER PI}/\N{SNOWMAN} x", *QUICK),
    ("variant", "p.json", "--out", "out", *QUICK, "--sheet-length", MM, "--material", PLY),
    ("--help",),
    ("plan", "--help"),
)
"""Odd but sensible: what they ask for is done."""


@contextlib.contextmanager
def in_a_folder() -> Iterator[None]:
    """Work in a new folder with a project, a folder and a text in it."""
    before = Path.cwd()
    with tempfile.TemporaryDirectory() as name:
        os.chdir(name)
        try:
            job = Job(name="Odd", parts=(part("a", 254 * 40_000, 254 * 40_000),), stock=(sheet(),))
            save_project(Path("p.json"), Project(job=job))
            Path("folder").mkdir()
            Path("text.txt").write_text("no project")
            yield
        finally:
            os.chdir(before)


def end_of(words: tuple[str, ...], *, refused: bool) -> str:
    """Run the command; return ``"refused"`` or ``"done"``, or what is wrong with its end."""
    out, err = io.StringIO(), io.StringIO()
    with in_a_folder(), contextlib.redirect_stdout(out), contextlib.redirect_stderr(err):
        try:
            code = ripfirst(words)
        except BaseException as fault:
            return f"raised {type(fault).__name__}: {fault}"
    said = err.getvalue()
    if "fault of this program" in said:
        return said.strip()
    if not refused:
        return "done" if code == 0 and not said else f"exit code {code}: {said.strip()}"
    whole = code in {1, 2} and said.startswith("ripfirst") and said.count("\n") == 1
    return "refused" if whole else f"exit code {code}: {said.strip() or 'not a word'}"


def main() -> None:
    """Run all of them."""
    ends: Counter[str] = Counter()
    for refused, lists in ((True, REFUSED), (False, DONE)):
        for words in lists:
            end = end_of(words, refused=refused)
            ends[end if end in {"refused", "done"} else "wrong"] += 1
            if end not in {"refused", "done"}:
                print([word[:40] for word in words], "->", end[:160].encode("ascii", "replace"))
    print(len(REFUSED) + len(DONE), "lists:", dict(ends))


if __name__ == "__main__":
    main()
