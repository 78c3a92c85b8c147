"""The commands that plan into a folder: ``plan``, ``variant`` and ``demo``."""

import argparse
import sys
from collections.abc import Iterator, Sequence
from dataclasses import replace
from pathlib import Path
from typing import Final

from layout_app.cli import plan as planning
from layout_app.cli.limits import UsageError, limits_of
from layout_app.cli.paper import wish_of
from layout_app.cli.report import report
from layout_app.cli.variant import variant_of
from layout_app.interrupts import INTERRUPTED, INTERRUPTS
from layout_app.model.broken_sets import broken_sets, figure_sentence
from layout_app.model.carry_over import opened, with_waiting
from layout_app.model.choices import with_shown
from layout_app.model.merge_plan import without_claims
from layout_app.model.project import Project
from layout_app.model.sawing import Sawn
from layout_app.model.variant import SIZES, varied
from layout_app.model.words.choice_words import choices_table, order_of_choices
from layout_app.model.words.order_words import order_words
from layout_app.model.words.wording import counted, summary
from layout_app.paper import exporting
from layout_app.paper.dxf import MissingExtraError
from layout_app.paper.on_paper import matter_of_sawn
from layout_app.store.atomic import check_folder, make_folder
from layout_app.store.errors import FileProblem, is_there
from layout_app.store.project_file import SUFFIX, read_project, save_project
from shared.check_stock import LEFT_OUT
from shared.holding import standing
from shared.issues import Severity
from shared.shop import SawingOrder
from solver.kept_code import without_cache
from solver.outcome import Choice

ALL_PLANNED, SOME_UNPLACED = 0, 1

SAWING: Final = {
    "by-sheet": SawingOrder.BY_SHEET,
    "by-setup": SawingOrder.BY_SETUP,
    "least-walking": SawingOrder.LEAST_WALKING,
}
EARLY: Final = "Interrupted: planning ended early, and this is its best plan so far."
LATE: Final = "Interrupted: the plan was ready, and all of it is written."


def plan(arguments: argparse.Namespace) -> int:
    """Plan a project into a folder."""
    path = arguments.project
    return _plan_into(path, read_project(path), arguments)


def variant(arguments: argparse.Namespace) -> int:
    """Plan a reader's version of a project into a folder, and save it there as a project."""
    path, folder = arguments.project, arguments.out
    project = read_project(path)
    made = varied(project, variant_of(arguments, project.job))
    copy = folder / f"variant{SUFFIX}"
    if copy.exists() and not arguments.replace:
        raise UsageError(f"{copy} would be replaced: ask for that with --replace.")
    code = _plan_into(path, made, arguments)
    with INTERRUPTS.writing():
        make_folder(folder)  # nothing to write, such as no labels, makes none
        save_project(copy, made)
    print(f"The version as a project: {copy}\nNote: {SIZES}")
    return code


def plan_demo(path: Path, arguments: argparse.Namespace) -> int:
    """Plan one demo project, and save it with its plan."""
    project = opened(read_project(path))
    planning.check_usable(path, project.job)
    planned = planning.plan_project(project, limits_of(arguments))
    sawn, early = _in_order(planned.sawn, planned, arguments)
    assert sawn.plan is not None
    with INTERRUPTS.writing():
        written = exporting.write(matter_of_sawn(sawn), path.parent, exporting.USUAL, replace=True)
        save_project(path, sawn.project)
    print(summary(sawn.plan, project.job, order_words(sawn)))
    print(
        f"Written: {counted(len(written.files) + 1, 'file')} in {path.parent};"
        f" the project is {path.name}\n"
    )
    _tell_more(planned, arguments)
    return _code(sawn, early=early)


def _plan_into(path: Path, project: Project, arguments: argparse.Namespace) -> int:
    """Plan a project that was read from a path into the folder that is named."""
    folder, project = arguments.out, _as_wished(project, arguments)
    _check(path, project, arguments)
    limits = replace(limits_of(arguments), trade=True)
    planned = planning.plan_project(project, limits)
    sawn, early = _in_order(_chosen(planned, arguments.choice), planned, arguments)
    if sawn.plan is None:
        raise FileProblem(path, "layout", next(iter(sawn.problems.values()), "nothing to plan"))
    written = _written(sawn, folder, arguments)
    matter = matter_of_sawn(sawn)
    print(
        summary(
            sawn.plan,
            project.job,
            order_words(sawn),
            uncut=tuple(matter.uncut),
            used=matter.uncut.values(),
            unplaced=matter.unplaced,
        )
    )
    _tell_broken(sawn)
    _tell_problems(sawn)
    if not sawn.problems:  # figures of plans of the other sheets mislead
        _tell_choices(planned.choices, arguments.choice, sawn)
    files = written.files
    what = files[0].name if len(files) == 1 else counted(len(files), "file")
    print(f"Written: {what} in {folder}")
    for name in exporting.left_over_drawings(written, folder):
        print(f"Note: {name} there belongs to an earlier plan.")
    _tell_more(planned, arguments)
    return _code(sawn, early=early)


def _as_wished(project: Project, arguments: argparse.Namespace) -> Project:
    """Return the project as it is to be planned: as a window opens it, or anew."""
    if arguments.sawing is not None:
        shop = replace(project.job.shop, sawing=SAWING[arguments.sawing])
        project = replace(project, job=replace(project.job, shop=shop))
    return opened(_planned_anew(project) if arguments.anew else project)


def _check(path: Path, project: Project, arguments: argparse.Namespace) -> None:
    """Refuse what cannot be planned or written, before anything is planned; say what stays."""
    notes = (
        issue.sentence
        for issue in planning.check_usable(path, project.job)
        if issue.severity is Severity.WARNING or issue.code in LEFT_OUT
    )
    for note in dict.fromkeys(notes):
        print(f"Note: {note}")
    for fault in arguments.labels.faults(wish_of(arguments).paper):
        raise UsageError(fault)
    try:
        exporting.check_libraries(arguments.format)
    except MissingExtraError as missing:
        raise UsageError(str(missing)) from missing
    check_folder(arguments.out)
    there = [
        file for file in exporting.sure_files(arguments.out, arguments.format) if is_there(file)
    ]
    if there and not arguments.replace:
        raise UsageError(_in_the_way(there))
    if kept := list(_kept(project)):
        print(f"Kept: {', '.join(kept)}.")


def _in_order(
    sawn: Sawn, planned: planning.Planned, arguments: argparse.Namespace
) -> tuple[Sawn, bool]:
    """Return a plan with its cuts in order, and whether planning was interrupted."""
    sawn = planning.order_cuts(sawn, limits_of(arguments), planned.left_s)
    return sawn, bool(INTERRUPTS.times)


def _code(sawn: Sawn, *, early: bool) -> int:
    """Return the exit code of a plan that is written; say it if it was interrupted."""
    if INTERRUPTS.times:
        print(f"ripfirst: {EARLY if early else LATE}", file=sys.stderr)
        return INTERRUPTED
    whole = sawn.plan is not None and not sawn.plan.unplaced and not sawn.problems
    return ALL_PLANNED if whole else SOME_UNPLACED


def _written(sawn: Sawn, folder: Path, arguments: argparse.Namespace) -> exporting.Exported:
    """Write what was asked for; files that are there are replaced only when that was asked for."""
    matter = matter_of_sawn(sawn, arguments.unit)
    try:
        with INTERRUPTS.writing():
            return exporting.write(
                matter, folder, arguments.format, wish_of(arguments), replace=arguments.replace
            )
    except exporting.FilesThereError as present:
        raise UsageError(_in_the_way(present.files)) from None
    except (MissingExtraError, ValueError) as error:
        raise UsageError(str(error)) from error


def _in_the_way(files: Sequence[Path]) -> str:
    """Say which files would be replaced."""
    more = len(files) - 1
    also = f" and {counted(more, 'more file')}" if more else ""
    return (
        f"{files[0]}{also} would be replaced: ask for that with --replace, or name another folder."
    )


def _chosen(planned: planning.Planned, number: int) -> Sawn:
    """Return the project with the plan of that number; the first is the best."""
    if number == 1:
        return planned.sawn
    if number > len(planned.choices):
        met = counted(len(planned.choices), "choice")
        raise UsageError(f"there is no choice {number}, planning found {met}.")
    return planning.taken(planned.sawn.project, planned.choices[number - 1].plan)


def _tell_problems(sawn: Sawn) -> None:
    """Print which sheets laid out by hand cannot be cut yet, and why."""
    if sawn.problems:
        print("Can't be cut yet:")
        print("\n".join(f"  {sentence}" for sentence in sawn.problems.values()))


def _tell_broken(sawn: Sawn) -> None:
    """Print which matched sets of a plan lie in more blocks than they have to."""
    if sawn.plan is not None:
        for told, _ in broken_sets(sawn.project.job, sawn.plan):
            print(f"Note: {figure_sentence(told)}")


def _tell_choices(choices: Sequence[Choice], written: int, sawn: Sawn) -> None:
    """Print what could be written, if there is anything to choose.

    What is written has the minutes of its order, the others those of a first order: what is worse
    than it all the same is left out.
    """
    plan = sawn.plan
    if len(choices) < 2 or plan is None:
        return
    listed = with_shown(choices, plan, sawn.project.job)
    numbered = {number: one for number, one in enumerate(choices, 1) if one in listed}
    numbered[written] = next(one for one in listed if one.plan is plan)
    print(f"\nChoices, --choice N writes another one (other {order_of_choices(choices)}):")
    print("\n".join(choices_table(dict(sorted(numbered.items())), written)) + "\n")


def _tell_more(planned: planning.Planned, arguments: argparse.Namespace) -> None:
    """Print what the run did to standard error, if it was asked for."""
    if arguments.verbose and (sentence := without_cache()):
        print(sentence, file=sys.stderr)
    if arguments.verbose and planned.statistics is not None:
        print("\n".join(report(planned.statistics)), file=sys.stderr)


def _planned_anew(project: Project) -> Project:
    """Return a project without layout, locks, parts set aside and hand-set order.

    Sheets with ticked cuts stay as they lie, and so does what was sawn before.
    """
    begun = project.progress.sheets
    bare = replace(project.layout, waiting=(), holds=(), before=(), order=(), sawing=None)
    sheets = tuple(sheet for sheet in project.layout.sheets if sheet.id in begun)
    layout = replace(with_waiting(project.job, sheets, bare), least_s=-1)
    return without_claims(replace(project, layout=layout))


def _kept(project: Project) -> Iterator[str]:
    """Yield what planning leaves as it is, such as ``3 locks`` and ``12 ticked cuts``."""
    layout, progress = project.layout, project.progress
    in_force, suspended = standing(project.job, layout)
    by_hand = sum(sheet.yours and bool(sheet.placements) for sheet in layout.sheets)
    ticked = len(progress.made) + sum(len(plan.cuts) for plan in progress.past)
    aside = sum(one.sent for one in layout.waiting)
    if by_hand:
        yield f"{counted(by_hand, 'sheet')} laid out by hand"
    if in_force:
        yield counted(len(in_force), "lock")
    if suspended:
        yield f"{counted(len(suspended), 'lock')} not in force"
    if ticked:
        yield counted(ticked, "ticked cut")
    if layout.before:
        yield f"{counted(len(layout.before), 'change')} to the cut order"
    if aside:
        yield f"{counted(aside, 'part')} set aside"
