"""What the actions do that make parts and take sheets away, and when they can be done."""

from itertools import groupby
from operator import itemgetter
from typing import TYPE_CHECKING

from PySide6.QtWidgets import QApplication

from layout_app.document import edit_layout, edit_parts
from layout_app.model import layout_edits

if TYPE_CHECKING:
    from layout_app.window.main_window import MainWindow


def parts_chosen(window: "MainWindow") -> bool:
    """Some copy is selected, and no gesture is under way."""
    return bool(window.document.selection.parts) and not window.document.gestures.under_way


def sheet_chosen(window: "MainWindow") -> bool:
    """It is clear which sheet is meant, and no gesture is under way."""
    return chosen_sheet(window) is not None and not window.document.gestures.under_way


def sheet_filled(window: "MainWindow") -> bool:
    """It is clear which sheet is meant, and something lies on it."""
    sheet = chosen_sheet(window)
    if sheet is None or window.document.gestures.under_way:
        return False
    return bool(layout_edits.sheet_of(window.document.layout, sheet).placements)


def some_sheet(window: "MainWindow") -> bool:
    """There is a sheet to draw on, and no gesture is under way."""
    return bool(window.document.layout.sheets) and not window.document.gestures.under_way


def is_offered(window: "MainWindow") -> bool:
    """A better plan is offered."""
    return bool(window.offering.sentence) and not window.document.gestures.under_way


def chosen_sheet(window: "MainWindow") -> str | None:
    """Return the sheet of the selected parts or cut, or the only one there is."""
    document = window.document
    found = [layout_edits.find(document.layout, key) for key in document.selection.parts]
    sheets = {one.sheet for one in found if one is not None}
    plan, cut = document.plan, document.selection.cut
    if plan is not None and cut is not None and plan.has_cut(cut):
        sheets.add(plan.cut(cut).sheet)
    sheets = sheets or {sheet.id for sheet in document.layout.sheets}
    return next(iter(sheets)) if len(sheets) == 1 else None


def take_offer(window: "MainWindow") -> None:
    """Use the better plan that is offered."""
    window.offering.take()


def draw(window: "MainWindow") -> None:
    """Let the next drag on a sheet draw a part."""
    window.bench.setFocus()
    window.bench.hand.draw_on(chosen_sheet(window))


def duplicate(window: "MainWindow") -> None:
    """Make one more copy of the selected parts; a row of the take-off is one part."""
    chosen = window.document.selection.parts
    parts = window.left.parts
    if parts.hasFocus() or parts.isAncestorOf(QApplication.focusWidget() or window):
        chosen = frozenset(min(group) for _, group in groupby(sorted(chosen), itemgetter(0)))
    edit_parts.duplicate(window.document, chosen)


def remove_sheet(window: "MainWindow") -> None:
    """Take the sheet that is meant off the bench."""
    sheet = chosen_sheet(window)
    if sheet is not None:
        edit_layout.remove_sheet(window.document, sheet)


def tidy(window: "MainWindow") -> None:
    """Lay the parts of the sheet that is meant anew."""
    sheet = chosen_sheet(window)
    if sheet is not None:
        window.tidying.tidy(sheet)
