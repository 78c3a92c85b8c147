"""The command ``ripfirst``.

Exit code 0: all parts are planned; 1: some part lies on no sheet (the plan for the rest is
written); 2: the input cannot be used, and one sentence on standard error says why.
"""

import argparse
import math
import os
import sys
from collections.abc import Callable, Sequence
from dataclasses import replace
from pathlib import Path
from typing import NoReturn

from layout_app import advising, exporting, planning
from layout_app.choice_words import choices_table
from layout_app.cli_paper import add_paper, wish_of
from layout_app.cli_variant import VariantError, add_variant, variant_of
from layout_app.demo_projects import copy_to
from layout_app.display import can_show_window
from layout_app.paper.extras import MissingExtraError
from layout_app.paper.matter import Matter, matter_of_plan
from layout_app.project import Project
from layout_app.run_report import report
from layout_app.store.atomic import check_folder, make_folder, new_folders
from layout_app.store.errors import FileProblem
from layout_app.store.plan_file import read_plan
from layout_app.store.project_file import SUFFIX, read_project, save_project
from layout_app.variant import SIZES, varied
from layout_app.wording import counted, proof_sentence, summary, unplaced_sentences
from shared.check_stock import LEFT_OUT
from shared.issues import Severity
from shared.job import Job
from shared.layout import Layout
from shared.lengths import AmbiguousLength, Length, LengthError, parse_length
from shared.plan import Plan
from shared.saw import verify
from shared.shop import SawingOrder
from solver.outcome import Choice
from solver.stop import Limits

ALL_PLANNED, SOME_UNPLACED, UNUSABLE = 0, 1, 2

TIME_S = 10.0
ADVICE_S = 20.0
"""How long it is looked for what would save a sheet, once there is a plan."""
PATIENCE_S = 9.0
"""A run ends early when nothing has got better for so long, a third of it once proven."""
MOST_PROCESSES = 64
DEMO_FOLDER = Path("demo-out")

BEGUN = (
    "cuts of this project are made; here all of its parts are planned anew, the window goes on"
    " from what lies there."
)


def main(argv: Sequence[str] | None = None) -> int:
    """Run the command; return its exit code."""
    words = list(sys.argv[1:] if argv is None else argv)
    try:
        return _dispatch(words)
    except (FileProblem, VariantError, _UsageError) as problem:
        return _refuse(str(problem))
    except SystemExit as ended:  # --help
        return int(ended.code or 0)
    except BrokenPipeError:
        return ALL_PLANNED
    except Exception as fault:
        if os.environ.get("RIPFIRST_DEBUG"):
            raise
        return _refuse(f"ripfirst: a fault of this program, {type(fault).__name__}: {fault}")


def _dispatch(words: list[str]) -> int:
    """Run a command, or open the window when none is named."""
    if not words or not (words[0] in _COMMANDS or words[0].startswith("-")):
        return _window(words)
    arguments = _parser().parse_args(words)
    return _COMMANDS[arguments.command](arguments)


_SAWING = {"by-sheet": SawingOrder.BY_SHEET, "by-setup": SawingOrder.BY_SETUP}


class _UsageError(Exception):
    """The command line itself cannot be understood."""


class _Parser(argparse.ArgumentParser):
    """Says in one sentence what is wrong with the command line."""

    def error(self, message: str) -> NoReturn:
        raise _UsageError(f"{self.prog}: {message} (see {self.prog} --help).")


def _refuse(sentence: str) -> int:
    print(" ".join(sentence.split()), file=sys.stderr)
    return UNUSABLE


def _plan(arguments: argparse.Namespace) -> int:
    """Plan a project into a folder."""
    path = Path(arguments.project)
    return _plan_into(path, read_project(path), arguments)


def _variant(arguments: argparse.Namespace) -> int:
    """Plan a reader's variant of a project into a folder, and save it there as a project."""
    path, folder = Path(arguments.project), Path(arguments.out)
    project = read_project(path)
    variant = variant_of(arguments, project.job)
    made = varied(project, variant)
    copy = folder / f"variant{SUFFIX}"
    if copy.exists() and not arguments.replace:
        raise _UsageError(f"ripfirst variant: {copy} would be replaced: ask with --replace.")
    code = _plan_into(path, made, arguments)
    make_folder(folder)  # nothing to write, such as no labels, makes none
    save_project(copy, made)
    print(f"The variant as a project: {copy}\nNote: {SIZES}")
    return code


def _plan_into(path: Path, project: Project, arguments: argparse.Namespace) -> int:
    """Plan a project that was read from a path into the folder that is named."""
    folder = Path(arguments.out)
    job = _sawn_by(project.job, arguments.sawing)
    if project.progress.made or project.progress.past:
        print(f"Note: {BEGUN}")
    for issue in planning.check_usable(path, job):
        if issue.severity is Severity.WARNING or issue.code in LEFT_OUT:
            print(f"Note: {issue.sentence}")
    check_folder(folder)
    planned = planning.plan_job(job, replace(_limits(arguments), trade=True))
    plan = _chosen(planned, arguments.choice)
    ordered = planning.order_cuts(plan, job, _limits(arguments))
    plan, order = ordered.plan, ordered.sentence
    matter = matter_of_plan(job, plan, project.build, arguments.unit)
    written = _written(matter, folder, arguments)
    print(summary(written.plan, job, order))
    _tell_choices(planned.choices, arguments.choice)
    print(f"Written: {counted(len(written.files), 'file')} in {folder}")
    for name in exporting.left_over_drawings(written, folder):
        print(f"Note: {name} there belongs to an earlier plan.")
    _tell_more(planned, arguments)
    return SOME_UNPLACED if written.plan.unplaced else ALL_PLANNED


def _written(matter: Matter, folder: Path, arguments: argparse.Namespace) -> exporting.Exported:
    """Write what was asked for; files that are there are replaced only when that was asked for."""
    try:
        return exporting.write(
            matter, folder, arguments.format, wish_of(arguments), replace=arguments.replace
        )
    except exporting.FilesThereError as present:
        more = len(present.files) - 1
        also = f" and {counted(more, 'more file')}" if more else ""
        raise _UsageError(
            f"ripfirst plan: {present.files[0]}{also} would be replaced: ask for that with"
            " --replace, or name another folder."
        ) from None
    except (MissingExtraError, ValueError) as error:
        raise _UsageError(f"ripfirst plan: {error}") from error


def _sawn_by(job: Job, sawing: str | None) -> Job:
    """Return the job with the order of sawing that was asked for, if any was."""
    if sawing is None:
        return job
    return replace(job, shop=replace(job.shop, sawing=_SAWING[sawing]))


def _chosen(planned: planning.Planned, number: int) -> Plan:
    """Return the plan of that number; the first is the best."""
    if number == 1:
        return planned.plan
    if number > len(planned.choices):
        met = counted(len(planned.choices), "choice")
        raise _UsageError(f"ripfirst plan: there is no choice {number}, planning found {met}.")
    return planned.choices[number - 1].plan


def _tell_choices(choices: Sequence[Choice], written: int) -> None:
    """Print what could be written, if there is anything to choose."""
    if len(choices) > 1:
        print("\nChoices, --choice N writes another one:")
        print("\n".join(choices_table(choices, written)) + "\n")


def _tell_more(planned: planning.Planned, arguments: argparse.Namespace) -> None:
    """Print what the run did to standard error, if it was asked for."""
    if arguments.verbose and planned.statistics is not None:
        print("\n".join(report(planned.statistics)), file=sys.stderr)


def _limits(arguments: argparse.Namespace) -> Limits:
    return Limits(
        time_s=arguments.time_limit,
        patience_s=PATIENCE_S,
        workers=arguments.workers,
        seed=arguments.seed,
    )


def _check(arguments: argparse.Namespace) -> int:
    """Saw a plan again, from its file alone."""
    path = Path(arguments.plan)
    plan = read_plan(path)
    issues = verify(plan)
    if issues:
        first, more = issues[0], len(issues) - 1
        also = f" (and {counted(more, 'more fault')})" if more else ""
        raise FileProblem(path, first.subject, f"{first.sentence.rstrip('.')}{also}")
    sheets, cuts = counted(len(plan.sheets), "sheet"), counted(len(plan.cuts), "cut")
    parts = counted(len(plan.placements), "part")
    print(f"{path}: the simulated saw cut {sheets} with {cuts} and found {parts} as promised.")
    print(proof_sentence(plan.proof, len(plan.sheets)))
    for sentence in unplaced_sentences(plan):
        print(f"On no sheet: {sentence}")
    return SOME_UNPLACED if plan.unplaced else ALL_PLANNED


def _advise(arguments: argparse.Namespace) -> int:
    """Say what would save a sheet of a project."""
    path = Path(arguments.project)
    job = read_project(path).job
    planning.check_usable(path, job)
    up_to = _shorten_up_to(job, arguments.shorten_up_to)
    planned = advising.proven_plan(job, replace(_limits(arguments), time_s=TIME_S))
    limits = Limits(time_s=arguments.time_limit, seed=arguments.seed)
    heard = advising.advise(job, planned, limits, up_to)
    print(advising.advice_in_words(job, planned, heard))
    return SOME_UNPLACED if planned.unplaced else ALL_PLANNED


def _shorten_up_to(job: Job, text: str | None) -> Length | None:
    """Read how much shorter a part may get, in the unit of the job."""
    if text is None:
        return None
    try:
        length = parse_length(text, job.style.unit)
    except (LengthError, AmbiguousLength) as error:
        raise _UsageError(f"ripfirst advise: {error}") from error
    if length <= 0:
        raise _UsageError("ripfirst advise: a part gets shorter by more than 0.")
    return length


def _demo(arguments: argparse.Namespace) -> int:
    """Plan the demo projects, and show the first in the window if there can be one."""
    with new_folders() as make:
        make(arguments.out)
        projects = copy_to(arguments.out)
    codes = [_plan_demo(path, arguments) for path in projects]
    if arguments.no_window:
        return max(codes)
    if not can_show_window():
        print("There is no display here, so no window is opened.")
        return max(codes)
    return max(*codes, _show(projects[0]))


def _plan_demo(path: Path, arguments: argparse.Namespace) -> int:
    """Plan one demo project, and save it with its plan."""
    project = read_project(path)
    planning.check_usable(path, project.job)
    planned = planning.plan_job(project.job, _limits(arguments))
    ordered = planning.order_cuts(planned.plan, project.job, _limits(arguments))
    plan, order = ordered.plan, ordered.sentence
    matter = matter_of_plan(project.job, plan, project.build)
    written = exporting.write(matter, path.parent, exporting.USUAL, replace=True)
    save_project(path, ordered.laid_out(replace(project, layout=Layout())))
    print(summary(plan, project.job, order))
    print(f"Written: {counted(len(written.files), 'file')} in {path.parent}\n")
    _tell_more(planned, arguments)
    return SOME_UNPLACED if plan.unplaced else ALL_PLANNED


def _window(words: Sequence[str]) -> int:
    """Open the window, with a project if one is named."""
    if len(words) > 1:
        return _refuse(f"ripfirst: one project at a time, not {len(words)} (see ripfirst --help).")
    path = Path(words[0]) if words else None
    if path is not None:
        read_project(path)
    if not can_show_window():
        return _refuse("ripfirst: there is no display here to open a window on.")
    return _show(path)


def _show(path: Path | None) -> int:
    from layout_app.running import run  # noqa: PLC0415 - Qt's libraries may lack where only plans are made

    return run(path)


def _parser() -> argparse.ArgumentParser:
    parser = _Parser(
        prog="ripfirst",
        description="Plans how one person breaks down sheet goods with a saw on a guide rail.",
        epilog="ripfirst [PROJECT] opens the window. Exit codes: 0 all parts planned, 1 some"
        " part lies on no sheet, 2 the input cannot be used.",
    )
    commands = parser.add_subparsers(dest="command", required=True, metavar="COMMAND")
    plan = commands.add_parser("plan", help="plan a project file into a folder")
    _add_planning(plan)
    variant = commands.add_parser(
        "variant", help="plan the same piece for a reader's sheets, thickness and kerf"
    )
    _add_planning(variant)
    add_variant(variant)
    advise = commands.add_parser("advise", help="say what would save a sheet")
    advise.add_argument("project", metavar="PROJECT")
    _add_limits(advise, ADVICE_S)
    advise.add_argument(
        "--shorten-up-to", metavar="LENGTH", help="how much shorter a part may get at most"
    )
    check = commands.add_parser("check", help="saw a plan.json again")
    check.add_argument("plan", metavar="PLAN.json")
    demo = commands.add_parser("demo", help="plan the demo projects and show them")
    demo.add_argument("--out", type=Path, default=DEMO_FOLDER, metavar="DIR")
    demo.add_argument("--no-window", action="store_true")
    _add_limits(demo)
    return parser


def _add_planning(parser: argparse.ArgumentParser) -> None:
    """Add what a command takes that plans a project into a folder."""
    parser.add_argument("project", metavar="PROJECT")
    parser.add_argument("--out", required=True, metavar="DIR", help="made if it is not there")
    _add_limits(parser)
    parser.add_argument(
        "--sawing",
        choices=_SAWING,
        help="finish sheet after sheet, or let one set-up serve all; else as the project says",
    )
    add_paper(parser)
    parser.add_argument(
        "--choice",
        type=_number,
        default=1,
        metavar="N",
        help="write the N-th plan of the choices: dearer, but with less sawing",
    )


def _add_limits(parser: argparse.ArgumentParser, seconds: float = TIME_S) -> None:
    parser.add_argument("--time-limit", type=_seconds, default=seconds, metavar="S")
    parser.add_argument("--workers", type=_count, default=planning.processes(), metavar="N")
    parser.add_argument("--seed", type=int, default=0, metavar="N")
    parser.add_argument(
        "--verbose", action="store_true", help="say on standard error what planning did"
    )


def _seconds(text: str) -> float:
    try:
        seconds = float(text)
    except ValueError:
        seconds = math.nan
    if not (math.isfinite(seconds) and seconds >= 0):
        raise argparse.ArgumentTypeError(f"{text!r} is no time limit, write seconds like 10")
    return seconds


def _count(text: str) -> int:
    count = int(text) if text.isdecimal() else 0
    if not 1 <= count <= MOST_PROCESSES:
        raise argparse.ArgumentTypeError(f"{text!r} must be a number from 1 to {MOST_PROCESSES}")
    return count


def _number(text: str) -> int:
    number = int(text) if text.isdecimal() else 0
    if number < 1:
        raise argparse.ArgumentTypeError(f"{text!r} is no number of a choice, the first is 1")
    return number


_COMMANDS: dict[str, Callable[[argparse.Namespace], int]] = {
    "plan": _plan,
    "variant": _variant,
    "advise": _advise,
    "check": _check,
    "demo": _demo,
}
