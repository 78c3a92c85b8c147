"""What the actions of the bench do, and when they can be done."""

from typing import TYPE_CHECKING

from layout_app.document import close_up as closing_up
from layout_app.document import edit_layout, edit_locks, edit_parts
from layout_app.look.theme import Theme
from layout_app.look.wished_theme import wish_of
from layout_app.model import layout_edits, locks
from layout_app.model.at_hand import is_left
from layout_app.model.words.wording import all_of
from layout_app.window.actions.making_deeds import chosen_sheet
from shared.layout import Scope
from shared.parts import Copy, GrainRule

if TYPE_CHECKING:
    from layout_app.window.main_window import MainWindow

# --- when --------------------------------------------------------------------------------


def has_parts(window: "MainWindow") -> bool:
    """There is something to plan."""
    return bool(window.document.job.parts) and not window.document.gestures.under_way


def has_stock(window: "MainWindow") -> bool:
    """There is a sheet to lay out."""
    return bool(window.document.job.stock) and not window.document.gestures.under_way


def run_broke_off(window: "MainWindow") -> bool:
    """The last run has ended without an end of its own."""
    return window.planning.standing.broken


def is_planning(window: "MainWindow") -> bool:
    """A run is under way."""
    return window.planning.running


def one_part(window: "MainWindow") -> bool:
    """Copies of just one part are selected, and no gesture is under way."""
    parts = {part for part, _ in window.document.selection.parts}
    return len(parts) == 1 and not window.document.gestures.under_way


def some_placed(window: "MainWindow") -> bool:
    """Some selected copy lies on a sheet, and no gesture is under way."""
    return bool(_placed(window)) and not window.document.gestures.under_way


def two_placed(window: "MainWindow") -> bool:
    """Just two selected copies lie on sheets, and no gesture is under way."""
    return len(_placed(window)) == 2 and not window.document.gestures.under_way


def one_sent(window: "MainWindow") -> bool:
    """Some selected copy was sent to wait."""
    return bool(_sent(window)) and not window.document.gestures.under_way


def can_hold(window: "MainWindow") -> bool:
    """Some selected copy lies on a sheet, or is held, and no gesture is under way."""
    return (bool(_placed(window)) or can_release(window)) and not window.document.gestures.under_way


def can_release(window: "MainWindow") -> bool:
    """Something holds a selected copy, or held it before it had to leave."""
    document = window.document
    found = locks.on(document.layout, document.held, None, document.selection.parts)
    return bool(found) and not document.gestures.under_way


def some_suspended(window: "MainWindow") -> bool:
    """Some hold is not in force."""
    return bool(window.document.held.suspended) and not window.document.gestures.under_way


def _placed(window: "MainWindow") -> list[Copy]:
    chosen, layout = window.document.selection.parts, window.document.layout
    return sorted(key for key in chosen if layout_edits.find(layout, key) is not None)


def _sent(window: "MainWindow") -> list[Copy]:
    chosen = window.document.selection.parts
    waiting = window.document.layout.waiting
    return [w.key for w in waiting if w.sent and w.key in chosen]


# --- deeds -------------------------------------------------------------------------------


def plan(window: "MainWindow") -> None:
    """Plan around what is laid out by hand, locked, begun and set aside."""
    edit_layout.plan(window.document)
    window.planning.say_if_it_stands(window.document.layout)


def plan_anew(window: "MainWindow") -> None:
    """Plan everything, once it is asked whether a layout by hand may go."""
    document = window.document
    mine = [sheet.id for sheet in locks.laid_by_hand(document.project)]
    if not mine:
        plan(window)
        return
    question = (
        f"Plan everything anew? This plans {all_of('sheet', mine)} again, laid out by hand."
        " Ticked cuts and locks stay."
    )

    def anew() -> None:
        before = document.layout
        edit_layout.plan_anew(document)
        window.planning.say_if_it_stands(before)

    window.bar.ask(
        question, (("Plan everything anew", anew), ("Keep my layout", window.bench.setFocus))
    )


def plan_again(window: "MainWindow") -> None:
    """Run again what broke off; sheets laid by hand stay."""
    window.planning.run_again()


def stop(window: "MainWindow") -> None:
    """End the run and keep what it has found."""
    window.planning.stop()


def turn(window: "MainWindow") -> None:
    """Turn the selected copies."""
    edit_layout.turn_parts(window.document, _placed(window))


def swap(window: "MainWindow") -> None:
    """Lay the two selected copies each where the other lies."""
    window.bench.twins.swap()


def close_up(window: "MainWindow") -> None:
    """Push the parts of the sheet that is meant together."""
    sheet = chosen_sheet(window)
    if sheet is not None:
        closing_up.close_up(window.document, sheet)


def next_grain(window: "MainWindow") -> None:
    """Give the selected part the next rule."""
    rules = list(GrainRule)
    part = _one_part(window)
    now = window.document.job.part(part).grain_rule
    _set_grain(window, rules[(rules.index(now) + 1) % len(rules)])


def grain_length(window: "MainWindow") -> None:
    """Let the grain run along the part's length."""
    _set_grain(window, GrainRule.ALONG_LENGTH)


def grain_width(window: "MainWindow") -> None:
    """Let the grain run along the part's width."""
    _set_grain(window, GrainRule.ALONG_WIDTH)


def grain_either(window: "MainWindow") -> None:
    """Let the grain run either way."""
    _set_grain(window, GrainRule.EITHER)


def _set_grain(window: "MainWindow", rule: GrainRule) -> None:
    edit_parts.set_grain_rule(window.document, _one_part(window), rule)


def _one_part(window: "MainWindow") -> str:
    (part,) = {part for part, _ in window.document.selection.parts}
    return part


def let_wait(window: "MainWindow") -> None:
    """Send the selected copies to wait, as one step."""
    edit_layout.wait_parts(window.document, _placed(window))


def call_back(window: "MainWindow") -> None:
    """Let planning place the selected copies again."""
    edit_layout.call_back(window.document, _sent(window))


def hold_part(window: "MainWindow") -> None:
    """Hold the selected copies, or release them."""
    edit_locks.hold_or_release(window.document, Scope.PART, window.document.selection.parts)


def hold_strip(window: "MainWindow") -> None:
    """Hold the strips of the selected copies, or release them."""
    edit_locks.hold_or_release(window.document, Scope.STRIP, window.document.selection.parts)


def hold_sheet(window: "MainWindow") -> None:
    """Hold the sheets of the selected copies, or release them."""
    edit_locks.hold_or_release(window.document, Scope.SHEET, window.document.selection.parts)


def release(window: "MainWindow") -> None:
    """Release all that holds the selected copies."""
    edit_locks.release(window.document, None, window.document.selection.parts)


def release_suspended(window: "MainWindow") -> None:
    """Forget the holds that are not in force."""
    edit_locks.release_holds(window.document, [hold for hold, _ in window.document.held.suspended])


def lay_out_sheet(window: "MainWindow") -> None:
    """Put an empty sheet on the bench, in sight: of the row selected, else of one that is left."""
    before = {sheet.id for sheet in window.document.layout.sheets}
    job = window.document.job
    chosen = window.left.stock.chosen()
    parts = {part for part, _ in window.document.selection.parts}
    wanted = {part.material for part in job.parts if part.id in parts}
    suiting = [row.id for row in job.stock if row.material in wanted]
    likely = chosen[:1] or suiting or [row.id for row in job.stock]
    layout = window.document.layout
    left = (row for row in likely if is_left(job.stock_row(row), layout))
    edit_layout.add_sheet(window.document, next(left, likely[0]))
    for sheet in window.document.layout.sheets:
        if sheet.id not in before:
            window.bench.reveal_sheet(sheet.id)


def fit_width(window: "MainWindow") -> None:
    """Show the sheets as wide as the bench."""
    window.bench.fit_width()


def switch_theme(window: "MainWindow") -> None:
    """Change between light and dark, with as much contrast as before."""
    other = Theme.of(dark=not window.theme.is_dark, high=window.theme.is_high)
    window.keeping.wish(wish_of(other))


def has_choices(window: "MainWindow") -> bool:
    """There are other plans to take."""
    return bool(window.planning.choices)


def show_choices(window: "MainWindow") -> None:
    """Lay the choices side by side, or put them away."""
    window.choices.toggle()


def open_advice(window: "MainWindow") -> None:
    """Open the drawer that says what would save a sheet, and look."""
    window.advice.open()
