"""The menu Cuts: going through the sequence, ticking it off, and changing its order."""

from dataclasses import dataclass
from typing import Final

from PySide6.QtWidgets import QWidget

from layout_app.bench.view import BenchView
from layout_app.document import edit_layout
from layout_app.document.document import Document
from layout_app.document.edit_cut_order import move_cut, restore_order
from layout_app.model.words.order_words import WHAT_FOR
from layout_app.panels.lying import LyingDrawer
from layout_app.panels.no_cards import in_the_way, no_cuts
from layout_app.panels.sequence_panel import SequencePanel
from layout_app.planner.live import Planning
from layout_app.walk.view import Walk
from layout_app.window.actions.row import ActionRow
from layout_app.window.beside import WALK, Beside
from layout_app.window.faults import Faults
from layout_app.window.offers import TakingBack
from layout_app.window.settings import KeptWindow
from shared.cuts.moves import rip_index, why_not
from shared.plan import Plan
from shared.shop import SawingOrder


@dataclass(frozen=True, slots=True)
class CutsContext:
    """The project, where its sequence is shown and ticked, and what the walk begins with."""

    document: Document
    sequence: SequencePanel
    lying: LyingDrawer
    taking_back: TakingBack
    planning: Planning
    bench: BenchView
    beside: Beside
    keeping: KeptWindow
    faults: Faults


def _has_cuts(context: CutsContext) -> bool:
    plan = context.document.plan
    return plan is not None and bool(plan.cuts)


def _cut_chosen(context: CutsContext) -> bool:
    """A cut of the plan is selected, and in sight."""
    plan = context.document.plan
    if plan is None or context.sequence.isHidden():
        return False
    return plan.has_cut(context.document.selection.cut)


def _has_ticks(context: CutsContext) -> bool:
    """Some cut is made, so something lies there."""
    progress = context.document.progress
    return bool(progress.made or progress.past)


def _tick(context: CutsContext) -> None:
    """Tick the selected cut; take the tick of a ticked one away."""
    number = context.document.selection.cut
    if number is not None:
        context.sequence.toggle_tick(number)


def _rip(context: CutsContext) -> tuple[str, int] | None:
    """Return sheet and place of the selected rip."""
    plan, number = context.document.plan, context.document.selection.cut
    if plan is None or number is None or not plan.has_cut(number):
        return None
    index = rip_index(plan, number)
    return None if index is None else (plan.cut(number).sheet, index)


def _rip_can_go(context: CutsContext, by: int) -> bool:
    """The selected rip has a place before or behind it."""
    found = _rip(context)
    if found is None:
        return False
    sheet, index = found
    tree = context.document.layout.sheet(sheet).tree
    return tree is not None and not why_not(tree, index, index + by)


def _move_rip(context: CutsContext, by: int) -> None:
    """Move the selected rip, and select it where it is now."""
    found, document = _rip(context), context.document
    if found is None:
        return
    sheet, index = found
    if edit_layout.move_rip(document, sheet, index, index + by):
        document.selection.select_cut(_number_of_rip(document.plan, sheet, index + by))


def _number_of_rip(plan: Plan | None, sheet: str, index: int) -> int | None:
    if plan is None:
        return None
    numbers = (cut.number for cut in plan.cuts if cut.sheet == sheet)
    return next((number for number in numbers if rip_index(plan, number) == index), None)


def _move_cut(context: CutsContext, by: int) -> None:
    """Move the selected cut one place in the sequence."""
    document = context.document
    plan, number = document.plan, document.selection.cut
    if plan is None or number is None or not plan.has_cut(number + by):
        return
    if move_cut(document, number, number + by):
        document.selection.select_cut(number + by)


def _begin_walk(context: CutsContext) -> None:
    """Show the walk on the whole screen; one that is open comes to the front.

    A run of the planner ends with the best so far: what is sawn from changes under nobody's
    hands. However the walk ends, the window's next key goes to the bench, where none ticks a cut.
    Where nothing can be sawn before the shop is put right, that is said, and its field opened.
    """
    if not _has_cuts(context):
        context.document.said.emit(no_cuts(context.document.project))
        context.sequence.cards.ask_field()
        return
    window = context.bench.window()

    def make() -> Walk:
        walk = Walk(context.document, dark=context.keeping.theme.is_dark, parent=window)
        walk.left.connect(window.activateWindow)
        context.faults.told.connect(walk.stop)
        return walk

    if context.planning.running:
        context.planning.stop()
    context.bench.setFocus()
    context.beside.show(WALK, make, QWidget.showFullScreen)


def _order(mode: SawingOrder, text: str, key: str) -> ActionRow[CutsContext]:
    return ActionRow(
        id=f"cuts.{mode.replace(' ', '_')}",
        text=text,
        shortcut=key,
        tip=f"{WHAT_FOR[mode][0].upper()}{WHAT_FOR[mode][1:]}",
        enabled=_has_cuts,
        at_rest=True,
        checked=lambda c: c.document.job.shop.sawing is mode,
        does=lambda c: c.sequence.set_order(mode),
        submenu="Order o&f sawing",
    )


CUTS: Final[tuple[ActionRow[CutsContext], ...]] = (
    ActionRow(
        id="cuts.next",
        text="&Next cut",
        shortcut="Ctrl+Right",
        tip="Select the next cut; the bench shows the sheet just before it",
        enabled=_has_cuts,
        does=lambda c: c.sequence.cards.step(1),
    ),
    ActionRow(
        id="cuts.back",
        text="&Previous cut",
        shortcut="Ctrl+Left",
        tip="Select the cut before",
        enabled=_has_cuts,
        does=lambda c: c.sequence.cards.step(-1),
    ),
    ActionRow(
        id="cuts.leave",
        text="&Leave the sequence",
        shortcut="Ctrl+Up",
        tip="Select no cut; the bench shows the sheets with all cuts made",
        enabled=lambda c: c.document.selection.cut is not None,
        does=lambda c: c.document.selection.select_cut(None),
        ends_group=True,
    ),
    ActionRow(
        id="cuts.tick",
        text="&Tick the cut",
        no_key="Space does it where a cut is selected",
        tip="Tick the selected cut as made, as Space does; once more takes the tick away",
        enabled=_cut_chosen,
        does=_tick,
    ),
    ActionRow(
        id="cuts.take_back",
        text="Take the last tick bac&k",
        shortcut="Ctrl+U",
        tip="Take back the tick that was set last; again, the one before; no tick is set by it",
        enabled=lambda c: c.taking_back.possible,
        at_rest=True,
        does=lambda c: c.taking_back.do(),
    ),
    ActionRow(
        id="cuts.walk",
        text="At the sa&whorses",
        shortcut="F8",
        tip="Walk through the cuts on the whole screen, one a press of a key or a foot pedal",
        enabled=lambda c: _has_cuts(c) or in_the_way(c.document.job) is not None,
        does=_begin_walk,
    ),
    ActionRow(
        id="cuts.mistake",
        text="A p&iece came out wrong",
        shortcut="Shift+F8",
        tip="List what lies there, say what came out wrong, and plan the rest from it",
        enabled=_has_ticks,
        at_rest=True,
        does=lambda c: c.lying.open_for_mistake(),
    ),
    ActionRow(
        id="cuts.today",
        text="Stop here for toda&y",
        shortcut="Ctrl+F8",
        tip="List everything that lies there, with names and sizes, to label it or to copy it",
        enabled=_has_ticks,
        at_rest=True,
        does=lambda c: c.lying.open_for_today(),
        ends_group=True,
    ),
    ActionRow(
        id="cuts.rip_earlier",
        text="Rip &earlier",
        shortcut="Alt+Up",
        tip="Make the selected rip one place earlier in its sheet",
        enabled=lambda c: _rip_can_go(c, -1),
        at_rest=True,
        does=lambda c: _move_rip(c, -1),
    ),
    ActionRow(
        id="cuts.rip_later",
        text="Rip l&ater",
        shortcut="Alt+Down",
        tip="Make the selected rip one place later in its sheet",
        enabled=lambda c: _rip_can_go(c, 1),
        at_rest=True,
        does=lambda c: _move_rip(c, 1),
        ends_group=True,
    ),
    ActionRow(
        id="cuts.earlier",
        text="C&ut earlier",
        shortcut="Alt+Left",
        tip="Move the selected cut one place earlier in the sequence, if it may go there",
        enabled=_cut_chosen,
        does=lambda c: _move_cut(c, -1),
    ),
    ActionRow(
        id="cuts.later",
        text="Cut late&r",
        shortcut="Alt+Right",
        tip="Move the selected cut one place later in the sequence, if it may go there",
        enabled=_cut_chosen,
        does=lambda c: _move_cut(c, 1),
    ),
    _order(SawingOrder.BY_SHEET, "&Sheet by sheet", "Ctrl+1"),
    _order(SawingOrder.BY_SETUP, "Set-&up by set-up", "Ctrl+2"),
    _order(SawingOrder.LEAST_WALKING, "&Least walking", "Ctrl+3"),
    ActionRow(
        id="cuts.restore",
        text="Restore the planned &order",
        shortcut="Ctrl+Shift+R",
        tip="Discard your changes to the cut order, and look for the best again",
        enabled=lambda c: bool(c.document.layout.before),
        does=lambda c: restore_order(c.document),
        ends_group=True,
    ),
    ActionRow(
        id="cuts.table",
        text="As a ta&ble",
        shortcut="Ctrl+B",
        tip="Show the sequence as a table, or as cards",
        does=lambda c: c.sequence.switch(),
    ),
)
