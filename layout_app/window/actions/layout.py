"""The actions of the menu Bench that lay parts: turn, set aside, move, make, lock, and sheets."""

from collections.abc import Callable
from dataclasses import dataclass
from itertools import groupby
from operator import itemgetter
from typing import Final

from PySide6.QtWidgets import QApplication

from layout_app.bench.view import BenchView
from layout_app.document import edit_layout, edit_locks, edit_parts
from layout_app.document.document import Document
from layout_app.model import locks
from layout_app.model.at_hand import is_left
from layout_app.panels.left_region import LeftRegion
from layout_app.window.actions.row import BENCH, ActionRow
from layout_app.window.offers import Offers
from shared.layout import Scope
from shared.parts import Copy, GrainRule


@dataclass(frozen=True, slots=True)
class LayoutContext:
    """The project, the bench and the tables it is laid at, and what plans a sheet aside."""

    document: Document
    bench: BenchView
    left: LeftRegion
    offers: Offers

    @property
    def chosen(self) -> frozenset[Copy]:
        """The copies that are selected."""
        return self.document.selection.parts


# --- what is meant -----------------------------------------------------------------------


def _placed(context: LayoutContext) -> list[Copy]:
    layout = context.document.layout
    return sorted(key for key in context.chosen if layout.find(key) is not None)


def _some_placed(context: LayoutContext) -> bool:
    return bool(_placed(context))


def _sent(context: LayoutContext) -> list[Copy]:
    waiting = context.document.layout.waiting
    return [w.key for w in waiting if w.sent and w.key in context.chosen]


def _some_to_set_aside(context: LayoutContext) -> bool:
    return bool(context.bench.twins.not_aside)


def _parts(context: LayoutContext) -> set[str]:
    return {part for part, _ in context.chosen}


def _one_part(context: LayoutContext) -> bool:
    return len(_parts(context)) == 1


def _can_hold(context: LayoutContext) -> bool:
    return _some_placed(context) or _can_release(context)


def _can_release(context: LayoutContext) -> bool:
    """Something holds a selected copy, or held it before it had to leave."""
    document = context.document
    return bool(locks.on(document.layout, document.held, None, context.chosen))


def _sheet(context: LayoutContext) -> str | None:
    """Return the sheet of the selected parts or cut, or the only one there is."""
    document = context.document
    found = [document.layout.find(key) for key in context.chosen]
    sheets = {one.sheet for one in found if one is not None}
    plan, cut = document.plan, document.selection.cut
    if plan is not None and cut is not None and plan.has_cut(cut):
        sheets.add(plan.cut(cut).sheet)
    sheets = sheets or {sheet.id for sheet in document.layout.sheets}
    return next(iter(sheets)) if len(sheets) == 1 else None


def _sheet_filled(context: LayoutContext) -> bool:
    sheet = _sheet(context)
    if sheet is None:
        return False
    return bool(context.document.layout.sheet(sheet).placements)


# --- what is done ------------------------------------------------------------------------


def _to_sheet(act: Callable[[LayoutContext, str], object]) -> Callable[[LayoutContext], None]:
    """Return what does something to the sheet that is meant, if it is clear which."""

    def do(context: LayoutContext) -> None:
        sheet = _sheet(context)
        if sheet is not None:
            act(context, sheet)

    return do


def _grain(rule: GrainRule) -> Callable[[LayoutContext], object]:
    """Return what gives the selected part a rule."""
    return lambda c: edit_parts.set_grain_rules(c.document, _parts(c), rule)


def _grain_row(name: str, text: str, tip: str, rule: GrainRule) -> ActionRow[LayoutContext]:
    return ActionRow(
        id=name,
        text=text,
        where=BENCH,
        tip=tip,
        no_key="G goes through the rules",
        enabled=_one_part,
        at_rest=True,
        does=_grain(rule),
        submenu="Set grain &rule",
    )


def _next_grain(context: LayoutContext) -> None:
    """Give the selected part the next rule."""
    rules = list(GrainRule)
    (part,) = _parts(context)
    now = context.document.job.part(part).grain_rule
    _grain(rules[(rules.index(now) + 1) % len(rules)])(context)


def _draw(context: LayoutContext) -> None:
    """Let the next drag on a sheet draw a part."""
    context.bench.setFocus()
    context.bench.hand.draw_on(_sheet(context))


def _duplicate(context: LayoutContext) -> None:
    """Make one more copy of the selected parts; a row of the take-off is one part."""
    chosen, parts = context.chosen, context.left.parts
    if parts.hasFocus() or parts.isAncestorOf(QApplication.focusWidget() or context.bench):
        chosen = frozenset(min(group) for _, group in groupby(sorted(chosen), itemgetter(0)))
    edit_parts.duplicate(context.document, chosen)


def _hold(scope: Scope) -> Callable[[LayoutContext], object]:
    """Return what holds the selected copies, their strips or their sheets, or releases them."""
    return lambda c: edit_locks.hold_or_release(c.document, scope, c.chosen)


def _release_suspended(context: LayoutContext) -> None:
    """Forget the holds that are not in force."""
    document = context.document
    edit_locks.release_holds(document, [hold for hold, _ in document.held.suspended])


def _lay_out_sheet(context: LayoutContext) -> None:
    """Put an empty sheet on the bench, in sight: of the row selected, else of one that is left."""
    document = context.document
    before = {sheet.id for sheet in document.layout.sheets}
    job, layout = document.job, document.layout
    wanted = {part.material for part in job.parts if part.id in _parts(context)}
    suiting = [row.id for row in job.stock if row.material in wanted]
    likely = context.left.stock.chosen()[:1] or suiting or [row.id for row in job.stock]
    left = (row for row in likely if is_left(job.stock_row(row), layout))
    edit_layout.add_sheet(document, next(left, likely[0]))
    for sheet in document.layout.sheets:
        if sheet.id not in before:
            context.bench.reveal_sheet(sheet.id)


# --- the rows ----------------------------------------------------------------------------

_LAYING: Final[tuple[ActionRow[LayoutContext], ...]] = (
    ActionRow(
        id="bench.turn",
        text="&Turn",
        tip="Turn the selected parts by a quarter",
        shortcut="T",
        where=BENCH,
        enabled=_some_placed,
        at_rest=True,
        does=lambda c: edit_layout.turn_parts(c.document, _placed(c)),
    ),
    ActionRow(
        id="bench.grain",
        text="&Grain rule",
        shortcut="G",
        where=BENCH,
        tip="Give the selected part the next grain rule",
        enabled=_one_part,
        at_rest=True,
        does=_next_grain,
    ),
    _grain_row(
        "bench.grain_length",
        "Grain along &length",
        "The grain has to run along the part's length",
        GrainRule.ALONG_LENGTH,
    ),
    _grain_row(
        "bench.grain_width",
        "Grain along &width",
        "The grain has to run along the part's width",
        GrainRule.ALONG_WIDTH,
    ),
    _grain_row(
        "bench.grain_either", "&Either way", "The part may be cut either way", GrainRule.EITHER
    ),
    ActionRow(
        id="bench.wait",
        text="Set aside",
        shortcut="W",
        where=BENCH,
        tip="Take the selected parts off their sheets; planning leaves them aside. Delete does it"
        " too, on the bench",
        enabled=_some_to_set_aside,
        at_rest=True,
        does=lambda c: c.bench.twins.set_aside(),
    ),
    ActionRow(
        id="bench.call_back",
        text="Put back",
        shortcut="Shift+W",
        where=BENCH,
        tip="Let planning place the selected parts again that were set aside",
        enabled=lambda c: bool(_sent(c)),
        at_rest=True,
        does=lambda c: edit_layout.put_back(c.document, _sent(c)),
    ),
    ActionRow(
        id="bench.put_all_back",
        text="Put all back",
        shortcut="Ctrl+Shift+W",
        tip="Let planning place all parts again that were set aside",
        enabled=lambda c: bool(c.bench.shelf.aside),
        at_rest=True,
        does=lambda c: c.bench.shelf.put_all_back(),
    ),
    ActionRow(
        id="bench.swap",
        text="Swap two parts",
        tip="Lay the two selected parts each where the other lies",
        shortcut="S",
        where=BENCH,
        enabled=lambda c: len(_placed(c)) == 2,
        at_rest=True,
        does=lambda c: c.bench.twins.swap(),
    ),
    ActionRow(
        id="bench.close_up",
        text="Close up",
        tip="Part what overlaps on this sheet, and push its parts together toward the reference"
        " corner, a kerf between them, in the order they lie in",
        shortcut="C",
        where=BENCH,
        enabled=lambda c: any(sheet.placements for sheet in c.document.layout.sheets),
        at_rest=True,
        does=lambda c: c.bench.twins.close_up(),
    ),
)

_MAKING: Final[tuple[ActionRow[LayoutContext], ...]] = (
    ActionRow(
        id="bench.draw",
        text="&Draw a part",
        tip="Drag a rectangle on free stock: it becomes a part of the take-off, laid there",
        shortcut="D",
        where=BENCH,
        enabled=lambda c: bool(c.document.layout.sheets),
        at_rest=True,
        does=_draw,
        submenu="Parts and sheets",
    ),
    ActionRow(
        id="bench.duplicate",
        text="D&uplicate",
        tip="One more copy of the selected parts, laid on the same sheet where it fits; of each row"
        " in the take-off",
        shortcut="Ctrl+D",
        enabled=lambda c: bool(c.chosen),
        at_rest=True,
        does=_duplicate,
        submenu="Parts and sheets",
    ),
    ActionRow(
        id="bench.tidy",
        text="&Tidy this sheet",
        tip="Lay the parts of this sheet anew on it, as the planner would",
        shortcut="Ctrl+Shift+Y",
        enabled=_sheet_filled,
        at_rest=True,
        does=_to_sheet(lambda c, sheet: c.offers.tidying.tidy(sheet)),
        submenu="Parts and sheets",
    ),
    ActionRow(
        id="bench.remove_sheet",
        text="Remo&ve sheet",
        tip="Take the sheet of the selection off the bench; what lies on it is set aside",
        shortcut="Ctrl+Shift+Delete",
        enabled=lambda c: _sheet(c) is not None,
        at_rest=True,
        does=_to_sheet(lambda c, sheet: edit_layout.remove_sheet(c.document, sheet)),
        submenu="Parts and sheets",
    ),
    ActionRow(
        id="bench.offer",
        text="Use the better plan",
        tip="Use the plan that is offered; undo brings back the one before",
        shortcut="Ctrl+F6",
        enabled=lambda c: bool(c.offers.offering.sentence),
        at_rest=True,
        does=lambda c: c.offers.offering.take(),
        ends_group=True,
    ),
)

_HOLDING: Final[tuple[ActionRow[LayoutContext], ...]] = (
    ActionRow(
        id="bench.hold",
        text="Loc&k part",
        shortcut="L",
        where=BENCH,
        tip="Lock the selected parts, with what lies before them in their strips, or unlock them;"
        " planning goes around what is locked",
        enabled=_can_hold,
        at_rest=True,
        does=_hold(Scope.PART),
    ),
    ActionRow(
        id="bench.hold_strip",
        text="Lock str&ip",
        shortcut="Shift+L",
        where=BENCH,
        tip="Lock the strip of the selected part with all that lies in it, or unlock it",
        enabled=_can_hold,
        at_rest=True,
        does=_hold(Scope.STRIP),
    ),
    ActionRow(
        id="bench.hold_sheet",
        text="Lock sh&eet",
        shortcut="Ctrl+L",
        where=BENCH,
        tip="Lock the sheet of the selected part whole, or unlock it",
        enabled=_can_hold,
        at_rest=True,
        does=_hold(Scope.SHEET),
    ),
    ActionRow(
        id="bench.release",
        text="Unlock &all",
        no_key="L, Shift+L and Ctrl+L unlock what they lock",
        where=BENCH,
        tip="Take every lock off the selected parts, their strips and their sheets",
        enabled=_can_release,
        at_rest=True,
        does=lambda c: edit_locks.release(c.document, None, c.chosen),
    ),
    ActionRow(
        id="bench.release_suspended",
        text="Locks not in &force: unlock them",
        no_key="seldom needed",
        tip="Forget the locks that are not in force, since what they lock no longer fits",
        enabled=lambda c: bool(c.document.held.suspended),
        at_rest=True,
        does=_release_suspended,
        ends_group=True,
    ),
    ActionRow(
        id="bench.sheet",
        text="Lay &out a sheet",
        tip="Put an empty sheet on the bench: of the row selected in sheets & rack, or one that"
        " suits the selected part",
        shortcut="Ctrl+Shift+N",
        enabled=lambda c: bool(c.document.job.stock),
        at_rest=True,
        does=_lay_out_sheet,
        ends_group=True,
    ),
)

LAYING: Final = (*_LAYING, *_MAKING, *_HOLDING)
