"""The command ``ripfirst``.

Exit code 0: all parts are planned; 1: some part is not placed (the plan for the rest is
written); 2: the input cannot be used, and one sentence on standard error says why; 130:
interrupted, and what was found so far is written.
"""

import argparse
import os
import sys
from collections.abc import Callable, Sequence
from pathlib import Path
from typing import NoReturn

from layout_app.cli import plan_commands
from layout_app.cli.advise import ADVICE_S, advise
from layout_app.cli.check import check
from layout_app.cli.demo import copy_to
from layout_app.cli.limits import UsageError, a_path, add_limits, number_of_choice
from layout_app.cli.paper import add_paper
from layout_app.cli.plan_commands import ALL_PLANNED, SAWING
from layout_app.cli.variant import add_variant
from layout_app.interrupts import INTERRUPTED, INTERRUPTS
from layout_app.paper.day import day_of_pages
from layout_app.store.atomic import new_folders
from layout_app.store.errors import FileProblem
from layout_app.store.project_file import read_project
from layout_app.window.display import trouble_showing

UNUSABLE = 2

DEMO_FOLDER = Path("demo-out")


def main(argv: Sequence[str] | None = None) -> int:
    """Run the command; return its exit code."""
    words = list(sys.argv[1:] if argv is None else argv)
    command = words[0] if words and words[0] in _COMMANDS else ""
    try:
        return _dispatch(words)
    except (FileProblem, UsageError) as problem:
        return _refuse(command, str(problem))
    except SystemExit as ended:  # --help
        return int(ended.code or 0)
    except BrokenPipeError:
        return ALL_PLANNED
    except Exception as fault:
        if os.environ.get("RIPFIRST_DEBUG"):
            raise
        return _refuse(command, f"a fault of this program, {type(fault).__name__}: {fault}")


def _dispatch(words: list[str]) -> int:
    """Run a command, or open the window when none is named."""
    try:
        day_of_pages()
    except ValueError as error:
        raise UsageError(str(error)) from error
    if not words or not (words[0] in _COMMANDS or words[0].startswith("-")):
        return _window(words)
    arguments = _parser().parse_args(words)
    return _COMMANDS[arguments.command](arguments)


class _Parser(argparse.ArgumentParser):
    """Says in one sentence what is wrong with the command line."""

    def error(self, message: str) -> NoReturn:
        raise UsageError(f"{message} (see {self.prog} --help).")


def _refuse(command: str, sentence: str) -> int:
    name = f"ripfirst {command}".rstrip()
    print(f"{name}: {' '.join(sentence.split())}", file=sys.stderr)
    return UNUSABLE


def _demo(arguments: argparse.Namespace) -> int:
    """Plan the demo projects, and show the first in the window if there can be one."""
    with new_folders() as make:
        make(arguments.out)
        projects = copy_to(arguments.out)
    codes = []
    for path in projects:
        codes.append(plan_commands.plan_demo(path, arguments))
        if INTERRUPTS.times:
            return INTERRUPTED
    if arguments.no_window:
        return max(codes)
    if trouble := trouble_showing():
        print(f"No window is opened: {trouble}")
        return max(codes)
    return max(*codes, _show(projects[0]))


def _window(words: Sequence[str]) -> int:
    """Open the window, with a project if one is named."""
    if len(words) > 1:
        raise UsageError(f"one project at a time, not {len(words)} (see ripfirst --help).")
    path = Path(words[0]) if words else None
    if path is not None:
        if not words[0].strip():
            raise UsageError("the name of the project is empty (see ripfirst --help).")
        read_project(path)
    if trouble := trouble_showing():
        raise UsageError(trouble)
    return _show(path)


def _show(path: Path | None) -> int:
    from layout_app.window.run import run  # noqa: PLC0415 - there may be no Qt where only plans are made

    return run(path)


def _parser() -> argparse.ArgumentParser:
    parser = _Parser(
        prog="ripfirst",
        description="Plans how one person breaks down sheet goods with a saw on a rail, or along"
        " a straightedge.",
        epilog="ripfirst [PROJECT] opens the window. Exit codes: 0 all parts planned, 1 some"
        " part is not placed, 2 the input cannot be used, 130 interrupted.",
    )
    commands = parser.add_subparsers(dest="command", required=True, metavar="COMMAND")
    plan = commands.add_parser("plan", help="plan a project file into a folder")
    _add_planning(plan)
    plan.add_argument(
        "--anew",
        action="store_true",
        help="drop the layout by hand, locks, parts set aside and changes to the cut order;"
        " else they stay; ticked cuts always do",
    )
    variant = commands.add_parser(
        "variant", help="plan the same piece for a reader's sheets, thickness and kerf"
    )
    _add_planning(variant)
    add_variant(variant)
    variant.set_defaults(anew=False)
    advising = commands.add_parser("advise", help="say what would save a sheet")
    advising.add_argument("project", type=a_path, metavar="PROJECT")
    add_limits(advising, ADVICE_S)
    advising.add_argument(
        "--shorten-up-to", metavar="LENGTH", help="how much shorter a part may get at most"
    )
    checking = commands.add_parser("check", help="saw a plan.json again")
    checking.add_argument("plan", type=a_path, metavar="PLAN.json")
    demo = commands.add_parser("demo", help="plan the demo projects and show them")
    demo.add_argument("--out", type=a_path, default=DEMO_FOLDER, metavar="DIR")
    demo.add_argument("--no-window", action="store_true")
    add_limits(demo)
    return parser


def _add_planning(parser: argparse.ArgumentParser) -> None:
    """Add what a command takes that plans a project into a folder."""
    parser.add_argument("project", type=a_path, metavar="PROJECT")
    parser.add_argument(
        "--out", type=a_path, required=True, metavar="DIR", help="made if it is not there"
    )
    add_limits(parser)
    parser.add_argument(
        "--sawing",
        choices=SAWING,
        help="finish sheet after sheet, let one set-up serve all, or lift and turn pieces as seldom"
        " as can be; else as the project says",
    )
    add_paper(parser)
    parser.add_argument(
        "--choice",
        type=number_of_choice,
        default=1,
        metavar="N",
        help="write the N-th plan of the choices: it costs more, but takes less sawing",
    )


_COMMANDS: dict[str, Callable[[argparse.Namespace], int]] = {
    "plan": plan_commands.plan,
    "variant": plan_commands.variant,
    "advise": advise,
    "check": check,
    "demo": _demo,
}
