"""What the actions of the cut sequence do, and when they can be done."""

from typing import TYPE_CHECKING

from layout_app.document import edit_cut_order, edit_layout
from layout_app.document.edit_cut_order import move_cut
from layout_app.model import layout_edits
from shared.cuts.moves import rip_index, why_not

if TYPE_CHECKING:
    from layout_app.window.main_window import MainWindow

# --- when --------------------------------------------------------------------------------


def has_cuts(window: "MainWindow") -> bool:
    """There is a sequence."""
    plan = window.document.plan
    return plan is not None and bool(plan.cuts)


def cut_chosen(window: "MainWindow") -> bool:
    """A cut is selected."""
    return window.document.selection.cut is not None


def cut_of_plan_chosen(window: "MainWindow") -> bool:
    """A cut of the plan is selected, and in sight."""
    plan = window.document.plan
    if window.sequence.isHidden():
        return False
    return plan is not None and plan.has_cut(window.document.selection.cut)


def has_hand_set_order(window: "MainWindow") -> bool:
    """Something of the order was set by hand."""
    return bool(window.document.layout.before)


def rip_can_go_earlier(window: "MainWindow") -> bool:
    """The selected rip has a place before it."""
    return _rip_can_go(window, -1)


def rip_can_go_later(window: "MainWindow") -> bool:
    """The selected rip has a place behind it."""
    return _rip_can_go(window, 1)


def _rip_can_go(window: "MainWindow", by: int) -> bool:
    found = _rip(window)
    if found is None or window.document.gestures.under_way:
        return False
    sheet, index = found
    tree = layout_edits.sheet_of(window.document.layout, sheet).tree
    return tree is not None and not why_not(tree, index, index + by)


def _rip(window: "MainWindow") -> tuple[str, int] | None:
    """Return sheet and place of the selected rip."""
    plan, number = window.document.plan, window.document.selection.cut
    if plan is None or number is None or not plan.has_cut(number):
        return None
    index = rip_index(plan, number)
    return None if index is None else (plan.cut(number).sheet, index)


def has_ticks(window: "MainWindow") -> bool:
    """Some cut is made, so something lies there."""
    progress = window.document.progress
    return bool(progress.made or progress.past) and not window.document.gestures.under_way


# --- what --------------------------------------------------------------------------------


def next_cut(window: "MainWindow") -> None:
    """Select the next cut."""
    window.sequence.cards.step(1)


def previous_cut(window: "MainWindow") -> None:
    """Select the cut before."""
    window.sequence.cards.step(-1)


def leave_sequence(window: "MainWindow") -> None:
    """Select no cut."""
    window.document.selection.select_cut(None)


def tick(window: "MainWindow") -> None:
    """Tick the selected cut; take the tick of a ticked one away."""
    number = window.document.selection.cut
    if number is not None:
        window.sequence.toggle_tick(number)


def open_mistake(window: "MainWindow") -> None:
    """Let the maker say what came out wrong."""
    window.lying.open_for_mistake()


def open_today(window: "MainWindow") -> None:
    """List what lies there."""
    window.lying.open_for_today()


def rip_earlier(window: "MainWindow") -> None:
    """Make the selected rip one place earlier."""
    _move_rip(window, -1)


def rip_later(window: "MainWindow") -> None:
    """Make the selected rip one place later."""
    _move_rip(window, 1)


def _move_rip(window: "MainWindow", by: int) -> None:
    """Move the selected rip, and select it where it is now."""
    found = _rip(window)
    if found is None:
        return
    sheet, index = found
    if edit_layout.move_rip(window.document, sheet, index, index + by):
        window.document.selection.select_cut(_number_of_rip(window, sheet, index + by))


def _number_of_rip(window: "MainWindow", sheet: str, index: int) -> int | None:
    plan = window.document.plan
    numbers = [cut.number for cut in plan.cuts if cut.sheet == sheet] if plan is not None else []
    return next((n for n in numbers if plan is not None and rip_index(plan, n) == index), None)


def cut_earlier(window: "MainWindow") -> None:
    """Move the selected cut one place earlier in the sequence."""
    _move_cut(window, -1)


def cut_later(window: "MainWindow") -> None:
    """Move the selected cut one place later in the sequence."""
    _move_cut(window, 1)


def _move_cut(window: "MainWindow", by: int) -> None:
    document = window.document
    plan, number = document.plan, document.selection.cut
    if plan is None or number is None or not plan.has_cut(number + by):
        return
    if move_cut(document, number, number + by):
        document.selection.select_cut(number + by)


def restore_order(window: "MainWindow") -> None:
    """Forget what was set by hand of the order of cuts."""
    edit_cut_order.restore_order(window.document)


def switch_sequence(window: "MainWindow") -> None:
    """Show the sequence as a table, or as cards."""
    window.sequence.switch()
