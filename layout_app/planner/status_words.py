"""The status line in words: what was proven, what sawing takes, what is left."""

from collections.abc import Sequence

from layout_app.document.document import Document
from layout_app.model.choices import is_shown, with_shown
from layout_app.model.merge_plan import is_complete
from layout_app.model.project import Project
from layout_app.model.words.wording import (
    LEAST,
    NOT_MONEY,
    at_least,
    at_least_words,
    best_kept,
    counted,
    price_words,
    rests_on,
    sawing_words,
    stock_words,
    uncut_words,
)
from layout_app.planner.live import Standing
from shared.amounts import format_price
from shared.cuts.tally import Tally
from shared.offcuts import offcut_size
from shared.plan import Goal, Placement, Plan, Proof
from shared.proof_rule import is_conditional
from solver.outcome import Choice

NEW_PLAN = (
    "All you entered is saved. The plan was made when the file was opened: save to keep just this"
    " one."
)


def proof_sentence(project: Project, plan: Plan | None, standing: Standing) -> str:
    """Say how many sheets, what they cost, and how good that is known to be."""
    lying = _spoiled(project, plan)
    uncut = list(dict.fromkeys(one.sheet for one in lying))
    spoiled = uncut_words(uncut)
    rows = {sheet.id: sheet.stock for sheet in project.layout.sheets}
    price = price_words(project.job, plan, [rows[sheet] for sheet in uncut])
    if plan is None:
        if standing.running or not spoiled:
            return "planning" if standing.running else _nothing(project)
        return ", ".join(filter(None, (counted(len(uncut), "sheet"), price, spoiled)))
    yours = any(sheet.yours and sheet.placements for sheet in project.layout.sheets)
    stock = stock_words(plan, len(uncut))
    words = [f"yours: {stock}" if yours else stock]
    words += filter(None, (price, spoiled))
    waiting = sum(row.copies for row in plan.unplaced) - len(lying)
    aside = sum(one.sent for one in project.layout.waiting)
    if aside:
        words.append(f"{counted(aside, 'part')} set aside")
    if waiting > aside:
        words.append(f"{counted(waiting - aside, 'part')} not placed")
    left = _not_planned(project) - max(0, waiting)
    if left > 0:
        words.append(f"{counted(left, 'part')} not planned until fixed")
    if spoiled and not (project.proof.proven or standing.running or project.layout.waiting):
        return ", ".join(words)  # nothing is claimed until it can be cut
    some = waiting > 0 or left > 0 or bool(spoiled)
    rest = "for the rest, " if some and project.proof.proven else ""
    joint = "; " if yours else ": "
    return f"{', '.join(words)}{joint}{rest}{_claim(project, standing, yours=yours)}"


def _not_planned(project: Project) -> int:
    """Count the copies that lie on no sheet and are not finished; of rows with an error, all do."""
    lying = sum(len(sheet.placements) for sheet in project.layout.sheets)
    wanted = sum(max(0, part.copies) for part in project.job.parts)
    return wanted - lying - len(project.layout.finished)


def _spoiled(project: Project, plan: Plan | None) -> list[Placement]:
    """Return what lies on sheets that cannot be cut as they lie."""
    cut = {sheet.id for sheet in plan.sheets} if plan is not None else set()
    sheets = (sheet for sheet in project.layout.sheets if sheet.id not in cut)
    return [placement for sheet in sheets for placement in sheet.placements]


def _nothing(project: Project) -> str:
    if not project.job.parts and not project.job.stock:
        return "Nothing to plan yet: enter parts and sheets"
    return "No plan"


def _claim(project: Project, standing: Standing, *, yours: bool = False) -> str:
    """Say what is proven of the layout, or how far it is from that."""
    proof = project.proof
    if proof.proven:
        around = "around what lies there, " if is_conditional(proof.rule) else ""
        return f"{around}{LEAST[proof.goal]} proven ({rests_on(proof)})"
    if not is_complete(project.layout):
        return "planning" if standing.running else _unfinished(project)
    if proof.bound <= 0:
        return "planning" if standing.running else "not proven"
    if yours and not standing.running:
        return f"proven: none {_less(proof)}"
    least = f"at least {_bound(proof)}"
    return f"{least}: proving" if standing.running else f"{least}, not proven least"


def _unfinished(project: Project) -> str:
    """Say why nothing is claimed of a layout that is not whole."""
    return "not everything is placed" if project.layout.waiting else "can't be cut yet"


def _less(proof: Proof) -> str:
    """Say what no plan is; whether one is as good as the bound may not be known."""
    if proof.goal is Goal.LEAST_PRICE:
        return f"for less than {format_price(proof.bound)}"
    if proof.goal in NOT_MONEY:
        return f"for less than {at_least(proof)}"
    return f"with fewer than {proof.bound}"


def _bound(proof: Proof) -> str:
    return str(proof.bound) if proof.goal is Goal.FEWEST_SHEETS else at_least(proof)


def sawing_sentence(takes: Tally | None, *, whole: bool = True) -> str:
    """Say how long sawing takes, and how many cuts; at least, if not all can be cut yet."""
    if takes is None:
        return ""
    minutes = f"about {takes.minutes} min" if whole else at_least_words(takes.minutes)
    return f"{minutes}, {counted(takes.cuts, 'cut')}"


def sawing_hint(plan: Plan | None) -> str:
    """Say what is proven of the sawing, as far as that is known."""
    known = sawing_words(plan) if plan is not None else ""
    if plan is None or not known:
        return ""
    return f"{counted(len(plan.cuts), 'cut')}: {known} ({plan.proof.rule})"


def offcut_sentence(project: Project, plan: Plan | None) -> str:
    """Name the best offcut."""
    if plan is None:
        return ""
    used = {sheet.stock for sheet in project.layout.sheets if sheet.placements}
    best = best_kept(project.job, plan, used)
    if best is None:
        return ""
    return f"best offcut {offcut_size(best.length, best.width, project.job.style)}"


def yield_sentence(takes: Tally | None) -> str:
    """Say which share of the stock becomes parts."""
    return "" if takes is None else f"yield {takes.percent_used:.0f} %"


def choices_words(document: Document, choices: Sequence[Choice]) -> str:
    """Count the plans that could be taken instead of the one that is shown."""
    plan = document.plan
    listed = choices if plan is None else with_shown(choices, plan, document.job, document.takes)
    others = sum(not is_shown(choice, plan) for choice in listed) if choices else 0
    return f"Other choices: {others}" if others else ""


def saved_words(document: Document) -> tuple[str, str]:
    """Say whether the project is saved, in a word or two and in a sentence for the tip."""
    if document.saved_state.modified:
        return "not saved", "Save with Ctrl+S"
    if document.saved_state.path is None:
        return "", ""
    if document.saved_state.plan_is_new:
        return "saved, plan new", NEW_PLAN
    return "saved", str(document.saved_state.path)


def planning_sentence(standing: Standing) -> str:
    """Say what the planner is at."""
    if not standing.running:
        return standing.sentence
    phases = list(dict.fromkeys(str(one.phase) for one in standing.progress.values()))
    at = phases[-1] if phases else "first plan"
    return f"planning: {at}, {standing.elapsed_s:.0f} s"
