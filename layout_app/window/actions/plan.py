"""The first actions of the menu Bench: planning it, ending that, and what else could be had."""

from dataclasses import dataclass
from typing import Final

from layout_app.bench.view import BenchView
from layout_app.document import edit_layout
from layout_app.document.document import Document
from layout_app.look.asking_bar import AskingBar
from layout_app.model import locks
from layout_app.model.words.left_words import aside_words
from layout_app.model.words.wording import all_of
from layout_app.planner.live import Planning
from layout_app.window.actions.row import ActionRow
from layout_app.window.drawers import Drawers


@dataclass(frozen=True, slots=True)
class PlanContext:
    """The project, who plans it, and where that is asked about and told."""

    document: Document
    planning: Planning
    bench: BenchView
    drawers: Drawers
    bar: AskingBar


def _has_parts(context: PlanContext) -> bool:
    return bool(context.document.job.parts)


def _aside(context: PlanContext) -> str:
    """Say how many parts planning leaves aside."""
    return aside_words(sum(one.sent for one in context.document.layout.waiting))


def _plan(context: PlanContext) -> None:
    """Plan around what is laid out by hand, locked, begun and set aside."""
    edit_layout.plan(context.document)
    if left := _aside(context):
        context.document.said.emit(left)
    context.planning.say_if_it_stands(context.document.layout)


def _plan_anew(context: PlanContext) -> None:
    """Plan everything, once it is asked whether a layout by hand may go."""
    document = context.document
    mine = [sheet.id for sheet in locks.laid_by_hand(document.project)]
    if not mine:
        _plan(context)
        return
    question = (
        f"Plan everything anew? This plans {all_of('sheet', mine)} again, laid out by hand."
        f" Ticked cuts and locks stay. {_aside(context)}".rstrip()
    )

    def anew() -> None:
        before = document.layout
        edit_layout.plan_anew(document)
        context.planning.say_if_it_stands(before)

    context.bar.ask(
        question, (("Plan everything anew", anew), ("Keep my layout", context.bench.setFocus))
    )


PLANNING: Final[tuple[ActionRow[PlanContext], ...]] = (
    ActionRow(
        id="bench.plan",
        text="&Plan",
        shortcut="F5",
        enabled=_has_parts,
        at_rest=True,
        tip="Plan again; your layout, locked parts and parts set aside stay put",
        does=_plan,
    ),
    ActionRow(
        id="bench.anew",
        text="Plan everything anew",
        shortcut="Ctrl+Shift+F5",
        enabled=_has_parts,
        at_rest=True,
        tip="Plan your layout anew as well; asks first. Ticked cuts and locks stay",
        does=_plan_anew,
    ),
    ActionRow(
        id="bench.again",
        text="Pla&n again",
        shortcut="Ctrl+F5",
        enabled=lambda c: c.planning.standing.broken,
        tip="Plan again after planning broke off; your sheets and the best plan so far stay",
        does=lambda c: c.planning.run_again(),
    ),
    ActionRow(
        id="bench.choices",
        text="Choices side &by side",
        tip="Compare plans: cost against minutes",
        shortcut="F7",
        enabled=lambda c: bool(c.planning.choices),
        does=lambda c: c.drawers.choices.toggle(),
    ),
    ActionRow(
        id="bench.stop",
        text="&Stop planning",
        tip="End planning and keep the best so far",
        shortcut="Shift+F5",
        enabled=lambda c: c.planning.running,
        does=lambda c: c.planning.stop(),
    ),
    ActionRow(
        id="bench.advice",
        text="What would sa&ve a sheet?",
        tip="Name what forces the last sheet, and small changes that save one",
        shortcut="Shift+F7",
        enabled=lambda c: c.document.plan is not None and bool(c.document.plan.cuts),
        does=lambda c: c.drawers.advice.open(),
        ends_group=True,
    ),
)
