"""Choices in the window: they appear, one is taken, taken back, and they go when void."""

from collections.abc import Iterator
from dataclasses import replace
from functools import cache
from pathlib import Path

import pytest
from PySide6.QtCore import QPointF, Qt
from pytestqt.qtbot import QtBot

from layout_app.document import edit_layout, edit_parts
from layout_app.document.edit import Consequence
from layout_app.look.theme import Theme
from layout_app.model.choices import is_shown, with_shown
from layout_app.model.project import Project
from layout_app.model.words.choice_words import difference
from layout_app.panels.choices import GAP, SHOWN, laid_small, small_boxes
from layout_app.planner.choices import Offered, take_choice
from layout_app.window.main_window import MainWindow
from shared.cuts.tally import tally
from shared.drawing.records import Role
from shared.geometry import Rect
from shared.making.timing import Seconds
from shared.plan import Plan
from shared.saw import verify
from shared.shop import SawingOrder, Shop
from solver.budget.stop import Budget
from solver.outcome import Choice, choice_of
from tests.layout_app.adopting import adopt
from tests.layout_app.turns import heard_out, take_turns
from tests.solver.planning.test_choices import chosen, squares

WAIT_MS = 40_000
LIMITS = Budget(time_s=30.0, patience_s=20.0, workers=1, trade=True)


@cache
def offers() -> tuple[Choice, ...]:
    """Return 8 cuts on one sheet and 7 on two, as test_front derives."""
    return chosen(squares(oak=2_000))[1]


@pytest.fixture
def window(qtbot: QtBot) -> Iterator[MainWindow]:
    """Return a window that shows the cheap plan and was offered the dear one."""
    made = MainWindow(limits=LIMITS)
    qtbot.addWidget(made)
    made.show()
    made.document.open(Project(job=squares(oak=2_000)), None)
    adopt(made.document, offers()[0].plan)
    made.planner.offered.emit(Offered(made.document.project, offers()))
    take_turns()
    yield made
    made.document.saved_state.note_saved(made.document.project, Path("not-written"))
    assert made.close()


def shown(window: MainWindow) -> Plan:
    """Return the plan on the bench."""
    assert window.document.plan is not None
    return window.document.plan


def opened(window: MainWindow, qtbot: QtBot) -> None:
    """Open the drawer by its action."""
    window.menus.actions["bench.choices"].trigger()
    take_turns()
    assert window.drawers.choices.isVisible()


def test_the_status_line_counts_the_others_and_opens_the_drawer(
    window: MainWindow, qtbot: QtBot
) -> None:
    """One other choice; a click lays both side by side, the one on the bench marked."""
    button = window.status.choices
    assert button.isVisible()
    assert button.text() == "Other choices: 1"
    assert not window.drawers.choices.isVisible()
    assert window.sequence.isVisible()
    qtbot.mouseClick(button, Qt.MouseButton.LeftButton)
    assert not window.sequence.isVisible()
    cheap, dear = window.drawers.choices.cards
    assert (cheap.isChecked(), dear.isChecked()) == (True, False)
    assert (cheap.words, cheap.text()) == (
        SHOWN,
        "1 sheet, 20.00, about 120 min: 8 cuts, 3 set-up changes",
    )
    assert dear.text() == "2 sheets, 40.00, about 110 min: 7 cuts, 3 set-up changes"
    assert dear.words == "1 sheet more, costs 20.00 more, about 10 min less sawing, 1 cut fewer"
    assert dear.words in dear.accessibleName()


def turned_round(plan: Plan) -> Plan:
    """Return a plan whose strips lie in the other order, as another order of cuts may want it."""
    sheets = []
    for sheet in plan.sheets:
        assert sheet.tree is not None
        tree = replace(sheet.tree, pieces=sheet.tree.pieces[::-1])
        sheets.append(replace(sheet, tree=tree))
    return replace(plan, sheets=tuple(sheets))


def another(plan: Plan, shop: Shop | None = None) -> Plan:
    """Return a plan of the same stock and sawing whose sheets have another number."""
    sheets = tuple(replace(sheet, id=f"{sheet.id}0") for sheet in plan.sheets)
    return replace(plan, sheets=sheets, shop=shop or plan.shop)


def test_the_plan_on_the_bench_is_always_among_the_choices() -> None:
    """It stands at its place with the minutes of the order shown, and is not doubled."""
    cheap, dear = offers()
    job = squares(oak=2_000)
    assert with_shown(offers(), dear.plan, job) == (cheap, dear)
    assert is_shown(dear, turned_round(dear.plan))
    quicker = replace(tally(dear.plan, job.shop), took=Seconds(cutting=100 * 60))
    assert [one.minutes for one in with_shown(offers(), dear.plan, job, quicker)] == [120, 100]


def test_what_costs_more_and_takes_as_long_as_what_is_shown_is_no_choice() -> None:
    """The plan shown was put in order for longer: what was worth its price before is not now.

    Of another mode of order no minutes are compared.
    """
    cheap, dear = offers()
    job = squares(oak=2_000)
    for minutes, listed in ((111, 2), (110, 1), (90, 1)):
        takes = replace(tally(cheap.plan, job.shop), took=Seconds(cutting=minutes * 60))
        chosen_from = with_shown(offers(), cheap.plan, job, takes)
        assert len(chosen_from) == listed
        assert chosen_from[0].minutes == minutes
    takes, alike = tally(dear.plan, job.shop), another(dear.plan)
    assert [one.plan for one in with_shown(offers(), alike, job, takes)] == [cheap.plan, alike]
    across = another(dear.plan, replace(job.shop, sawing=SawingOrder.BY_SETUP))
    assert len(with_shown(offers(), across, job, takes)) == 3
    assert "min" not in difference(cheap, choice_of(across, job, takes))


def test_the_drawer_shows_the_plan_on_the_bench_that_was_not_offered(
    window: MainWindow, qtbot: QtBot
) -> None:
    """Two dearer plans were offered, the one on the bench is neither: three cards, it is marked."""
    cheap, dear = offers()
    theirs = replace(dear, plan=another(dear.plan))
    window.planner.offered.emit(Offered(window.document.project, (dear, theirs)))
    opened(window, qtbot)
    assert [card.words == SHOWN for card in window.drawers.choices.cards] == [True, False, False]
    assert [card.isChecked() for card in window.drawers.choices.cards] == [True, False, False]
    assert window.drawers.choices.cards[0].choice.spent == cheap.spent


def test_taking_a_choice_is_one_step_and_undo_shows_the_plan_before(
    window: MainWindow, qtbot: QtBot
) -> None:
    """The other plan is shown at once, sawn and without planning; undo and redo likewise."""
    before = shown(window)
    opened(window, qtbot)
    qtbot.mouseClick(window.drawers.choices.cards[1], Qt.MouseButton.LeftButton)
    assert is_shown(offers()[1], shown(window))
    assert verify(shown(window)) == ()
    assert (len(shown(window).sheets), len(shown(window).cuts)) == (2, 7)
    assert window.document.takes == tally(offers()[1].plan, window.document.job.shop)
    assert not window.planning.running
    assert window.document.undo_stack.count() == 1
    assert window.document.undo_stack.undoText() == "take 2 sheets, 40.00"
    take_turns()
    assert [card.isChecked() for card in window.drawers.choices.cards] == [False, True]
    assert window.drawers.choices.cards[0].words.startswith("1 sheet fewer, costs 20.00 less")
    window.menus.actions["edit.undo"].trigger()
    assert shown(window) == before
    window.menus.actions["edit.redo"].trigger()
    assert len(shown(window).sheets) == 2
    assert not window.planning.running


def test_the_keys_alone_take_a_choice(window: MainWindow, qtbot: QtBot) -> None:
    """F7 opens the drawer on the choice that is shown, arrows go on, Space takes, Esc closes."""
    qtbot.keyClick(window, Qt.Key.Key_F7)
    take_turns()
    card = window.drawers.choices.cards[0]
    assert window.focusWidget() is card
    qtbot.keyClick(card, Qt.Key.Key_Right)
    assert window.focusWidget() is window.drawers.choices.cards[1]
    qtbot.keyClick(window.drawers.choices.cards[1], Qt.Key.Key_Space)
    take_turns()
    assert len(shown(window).sheets) == 2
    assert window.focusWidget() is window.drawers.choices.cards[1]
    qtbot.keyClick(window.drawers.choices.cards[1], Qt.Key.Key_Escape)
    assert not window.drawers.choices.isVisible()
    assert window.sequence.isVisible()


def test_the_choice_on_the_bench_is_not_taken_again(window: MainWindow, qtbot: QtBot) -> None:
    """Choosing what is shown is no step, and it stays marked."""
    opened(window, qtbot)
    qtbot.mouseClick(window.drawers.choices.cards[0], Qt.MouseButton.LeftButton)
    assert window.document.undo_stack.count() == 0
    assert window.drawers.choices.cards[0].isChecked()


def test_choices_go_when_the_job_changes_and_come_back_with_undo(
    window: MainWindow, qtbot: QtBot
) -> None:
    """Another width makes them void: button and drawer vanish; undo makes them choices again."""
    opened(window, qtbot)
    edited: list[Consequence] = []
    window.document.edited.connect(edited.append)
    part = window.document.job.parts[0]
    edit_parts.resize_part(window.document, part.id, part.length, part.width - 1)
    take_turns()
    assert edited == [Consequence.PLAN_TOUCHED]
    assert not window.drawers.choices.isVisible()
    assert not window.status.choices.isVisible()
    assert not window.menus.actions["bench.choices"].isEnabled()
    window.document.undo_stack.undo()
    take_turns()
    assert window.status.choices.text() == "Other choices: 1"


def test_choices_go_when_a_sheet_becomes_yours(window: MainWindow, qtbot: QtBot) -> None:
    """What was planned without the maker's sheet is no plan beside it; undo brings it back."""
    part = window.document.job.parts[1]
    edit_layout.set_aside(window.document, [(part.id, 1)])
    take_turns()
    assert not window.planning.choices
    assert not window.status.choices.isVisible()
    window.document.undo_stack.undo()
    take_turns()
    assert window.status.choices.text() == "Other choices: 1"


def test_no_choices_while_a_sheet_cannot_be_cut(
    window: MainWindow, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The plan on the bench would stand among them as if that sheet cost nothing."""
    assert len(window.planning.choices) == 2
    problems = property(lambda _: {"2": "Sheet 2: two parts overlap."})
    monkeypatch.setattr(type(window.document), "problems", problems)
    assert window.planning.choices == ()


def test_new_words_leave_choices_alone(window: MainWindow, qtbot: QtBot) -> None:
    """A part that is called otherwise is cut the same; the plan taken carries the new name."""
    part = window.document.job.parts[0]
    edit_parts.edit_part(window.document, replace(part, name="Seat"))
    take_turns()
    assert window.status.choices.text() == "Other choices: 1"
    assert take_choice(window.document, offers()[1])
    assert "Seat" in {one.name for one in shown(window).parts}


def test_planning_does_not_replace_a_choice_that_was_taken(
    window: MainWindow, qtbot: QtBot
) -> None:
    """A run is under way when the dear plan is taken: it ends, and its cheap plan stays out."""
    window.planning.start()
    assert window.planning.running
    with heard_out(window.planner, qtbot):
        assert take_choice(window.document, offers()[1])
        assert not window.planning.running
    assert len(shown(window).sheets) == 2


def test_the_real_planner_offers_choices(window: MainWindow, qtbot: QtBot) -> None:
    """Plan asks the real process; it ends with both choices, and the best on the bench."""
    assert take_choice(window.document, offers()[1])
    window.menus.actions["bench.plan"].trigger()
    qtbot.waitUntil(lambda: not window.planning.running, timeout=WAIT_MS)
    assert [(one.sheets, one.cuts) for one in window.planning.choices] == [(1, 8), (2, 7)]
    assert len(shown(window).sheets) == 1


def test_a_choice_that_cannot_be_sawn_is_not_taken(window: MainWindow) -> None:
    """A plan that lost its trees is refused in a sentence, and nothing changes."""
    said: list[str] = []
    window.document.said.connect(said.append)
    plan = offers()[1].plan
    bad = replace(plan, sheets=tuple(replace(sheet, tree=None) for sheet in plan.sheets))
    before = shown(window)
    assert not take_choice(window.document, replace(offers()[1], plan=bad))
    assert shown(window) is before
    assert window.document.undo_stack.count() == 0
    (sentence,) = said
    assert sentence.startswith("This choice cannot be taken: Sheet 1")


def test_sheets_in_small_fit_their_room_and_do_not_overlap() -> None:
    """Eleven full sheets in the room of a card."""
    sheets = [Rect(x=0, y=0, length=2440, width=1220)] * 11
    scale, corners = laid_small(sheets, 192.0, 74.0)
    assert scale > 0
    boxes = [(c.x(), c.y(), c.x() + 2440 * scale, c.y() + 1220 * scale) for c in corners]
    assert all(right <= 192.0 + 1e-6 and low <= 74.0 + 1e-6 for _, _, right, low in boxes)
    for one, other in ((a, b) for i, a in enumerate(boxes) for b in boxes[:i]):
        apart_x = one[0] >= other[2] + GAP - 1e-6 or other[0] >= one[2] + GAP - 1e-6
        apart_y = one[1] >= other[3] + GAP - 1e-6 or other[1] >= one[3] + GAP - 1e-6
        assert apart_x or apart_y


def test_a_card_draws_every_part_and_both_themes_differ(qtbot: QtBot, window: MainWindow) -> None:
    """Each sheet in small has a box for each of its parts; lamplight paints other colours."""
    plan = offers()[1].plan
    drawn = [box for sheet in plan.sheets for box in small_boxes(plan, sheet)]
    assert sum(box.role is Role.PART for box in drawn) == 6
    opened(window, qtbot)
    by_day = window.drawers.choices.cards[1].grab().toImage()
    window.keeping.show_in(Theme.dark())
    take_turns()
    by_night = window.drawers.choices.cards[1].grab().toImage()
    window.keeping.show_in(Theme.light())
    assert by_day.size() == by_night.size()
    assert by_day != by_night
    assert by_day.pixelColor(QPointF(4, 90).toPoint()) != by_night.pixelColor(4, 90)
