"""The shop as a form: every limit can be set, is one named step, and knows common practice."""

from dataclasses import replace

import pytest
from PySide6.QtCore import QEvent, QPoint, QPointF, Qt
from PySide6.QtGui import QKeyEvent, QWheelEvent
from PySide6.QtWidgets import QApplication, QCheckBox, QComboBox, QPushButton
from pytestqt.qtbot import QtBot

from layout_app.document import edit_job, ticks
from layout_app.document.document import Document
from layout_app.look.theme import Theme
from layout_app.panels.entry import Entry
from layout_app.panels.left_region import SHOP, TAKE_OFF, LeftRegion
from layout_app.panels.shop import ShopPanel
from layout_app.panels.shop_rows import USUAL
from shared.lengths import MM, LengthStyle, Unit
from shared.practice import REASONS, USUAL_SHOP, usual, usual_table
from shared.shop import Rail, SawingOrder, Shop, Span
from tests.layout_app.panels.shop_forms import (
    Case,
    box,
    chooser,
    doc_of,
    entry,
    row,
    runs_on,
    texts,
)
from tests.layout_app.tables import doc_of as doc_of_region
from tests.layout_app.tables import type_in

FIELDS: list[Case] = [
    ("kerf", "2.4", "kerf", 24 * MM // 10),
    ("rail beyond the cut, both ends together", "300", "overhang", 300 * MM),
    ("guide from", "200", "guide", Span(least=200 * MM, most=610 * MM)),
    ("guide to", "760", "guide", Span(least=150 * MM, most=760 * MM)),
    ("guide to", "no limit", "guide", None),
    ("stop from", "10", "stop", Span(least=10 * MM, most=1200 * MM)),
    ("stop to", "900", "stop", Span(most=900 * MM)),
    ("longest square", "300", "square", 300 * MM),
    ("width of the rail", "185", "rail_width", 185 * MM),
    ("I can turn", "60", "turn_g", 60_000),
    ("narrowest piece the rail may lie on", "120", "carry", 120 * MM),
    ("narrowest piece the rail may lie on", "no limit", "carry", 0),
    ("smallest piece that can be clamped or held", "250", "hold", 250 * MM),
    ("smallest piece that can be clamped or held", " ", "hold", 0),
    ("I can lift", "18.5", "lift_g", 18_500),
    ("I can lift", "40 lb", "lift_g", 18_144),
    ("I can lift", "none", "lift_g", 0),
    ("seconds for a cut", "90", "cut_s", 90),
    ("seconds for each metre of it", "25", "metre_s", 25),
    ("seconds for a set-up", "45", "setup_s", 45),
    ("seconds for a lift", "40", "lift_s", 40),
    ("seconds for a first piece", "0", "measure_s", 0),
    ("seconds to mark both ends", "120", "unguided_s", 120),
    ("seconds for another rail", "5", "rail_s", 5),
    ("seconds for joining rails", "300", "join_s", 300),
    ("seconds for a turn", "10", "turn_s", 10),
    ("seconds more for a heavy piece", "90", "heavy_s", 90),
    ("seconds more for a skim cut", "30", "skim_s", 30),
    ("pieces begun at most", "8", "loose", 8),
    ("long side at least", "250", "keep_length", 250 * MM),
    ("short side at least", "80", "keep_width", 80 * MM),
]


@pytest.mark.parametrize("case", FIELDS)
def test_every_figure_is_typed_in_one_named_step(
    panel: ShopPanel, qtbot: QtBot, case: Case
) -> None:
    """What is typed changes just that figure, under its name, and can be taken back."""
    words, text, field, value = case
    doc = doc_of(panel)
    type_in(qtbot, entry(panel, words), text)
    assert doc.job.shop == replace(USUAL_SHOP, **{field: value})
    assert doc.undo_stack.undoText() == f"change {words}"
    doc.undo_stack.undo()
    assert doc.job.shop == USUAL_SHOP


BAD = [
    ("rail beyond the cut, both ends together", "-1", "less than 0"),
    ("I can lift", "heavy", "not a weight"),
    ("pieces begun at most", "0", "1 piece or more"),
    ("seconds for a cut", "soon", "Seconds for a cut: “soon” is not a number of seconds: "),
    ("seconds for a lift", "-5", "“-5” is not a number of seconds: enter a whole number from 0 to"),
    (
        "seconds more for a heavy piece",
        "1.5",
        "heavy piece: “1.5” is not a number of seconds",
    ),
    ("seconds for a turn", "  ", "enter a whole number from 0 to 3,600."),
    ("seconds for a lift", "3601", "Seconds for a lift: “3601” is more than an hour for one step"),
    ("seconds to mark both ends", "31536000", "enter 3,600 or less"),
    ("seconds for a turn", "9" * 5_000, "more than an hour"),
    ("saw", "  ", "name"),
    ("guide to", "wide", "."),
    ("stop to", "0", "more than 0"),
    ("width of the rail", "-1", "less than 0"),
]


@pytest.mark.parametrize(("words", "text", "said"), BAD)
def test_what_cannot_be_read_is_said_in_place(
    panel: ShopPanel, qtbot: QtBot, words: str, text: str, said: str
) -> None:
    """The field keeps what was typed, says why it cannot be, and nothing changes."""
    field = entry(panel, words)
    type_in(qtbot, field, text)
    assert field.question is not None
    assert said in field.question.sentence
    assert doc_of(panel).job.shop == USUAL_SHOP


def test_common_practice_is_marked_and_a_way_leads_back(panel: ShopPanel, qtbot: QtBot) -> None:
    """A figure that equals practice says so; another offers practice, by mouse and by key."""
    overhang = row(panel, "rail beyond the cut, both ends together")
    assert USUAL in texts(overhang)
    assert overhang.mark is not None
    assert overhang.mark.back.isHidden()
    type_in(qtbot, entry(panel, "rail beyond the cut, both ends together"), "200")
    assert USUAL not in texts(overhang)
    assert overhang.mark.back.text() == "back to 250"
    why = REASONS["overhang"].why
    its = f"Common practice is 250: {why[0].lower()}{why[1:]}"
    assert [text for text in texts(overhang) if text.startswith(its)]
    assert overhang.setter.accessibleDescription().startswith(its)
    overhang.mark.back.setFocus()
    qtbot.keyClick(overhang.mark.back, Qt.Key.Key_Space)
    assert doc_of(panel).job.shop == USUAL_SHOP
    assert USUAL in texts(overhang)


def test_reasons_stand_where_the_figures_are(panel: ShopPanel) -> None:
    """Every reason of common practice is on the form, with its source where it has one."""
    doc = doc_of(panel)
    edit_job.edit_shop(doc, replace(doc.job.shop, table=usual_table(Unit.MM)))
    link(panel, "7 more kinds of work").click()
    shown = texts(panel)
    runs_on(panel).activated.emit(1)
    shown += texts(panel)
    for key, reason in REASONS.items():
        assert any(text.startswith(reason.why) for text in shown), key
    assert any("NIOSH" in text for text in shown)
    hold = entry(panel, "smallest piece that can be clamped or held")
    assert hold.accessibleDescription() == REASONS["hold"].why


def test_practice_is_said_in_the_units_of_the_maker(panel: ShopPanel) -> None:
    """250 mm is 10 in and 23 kg 51 lb where inches are used; the kerf is the same."""
    doc = doc_of(panel)
    edit_job.edit_style(doc, LengthStyle())
    for words, back in (
        ("rail beyond the cut, both ends together", "back to 10"),
        ("I can lift", "back to 51 lb"),
    ):
        mark = row(panel, words).mark
        assert mark is not None
        assert mark.back.text() == back
    assert entry(panel, "I can lift").text() == "50.7 lb"
    assert USUAL in texts(row(panel, "kerf"))
    edit_job.edit_shop(doc, usual(Unit.INCH))
    assert entry(panel, "rail beyond the cut, both ends together").text() == "10"
    assert USUAL in texts(row(panel, "I can lift"))


def test_the_wheel_passes_over_a_choice(panel: ShopPanel) -> None:
    """Who scrolls the form with the mouse over a list changes nothing in it."""
    box = chooser(panel, "sheets lie on")
    middle = QPointF(box.rect().center())
    turned = QWheelEvent(
        middle,
        QPointF(box.mapToGlobal(middle.toPoint())),
        QPoint(),
        QPoint(0, -120),
        Qt.MouseButton.NoButton,
        Qt.KeyboardModifier.NoModifier,
        Qt.ScrollPhase.NoScrollPhase,
        False,
    )
    QApplication.sendEvent(box, turned)
    assert doc_of(panel).job.shop == USUAL_SHOP


def test_what_is_wrong_stands_at_its_field(panel: ShopPanel, qtbot: QtBot) -> None:
    """Rails that cannot be joined are said below the rails, and no longer once there are two."""
    type_in(qtbot, entry(panel, "how many of rail 1 can be joined"), "2")
    assert any("2 can't be joined where there is 1" in text for text in texts(panel))
    type_in(qtbot, entry(panel, "how many of rail 1 there are"), "2")
    assert not any("can't be joined" in text for text in texts(panel))
    assert doc_of(panel).job.shop.rails[0] == Rail(length=1400 * MM, joined=2, count=2)


def test_a_question_goes_with_its_field(panel: ShopPanel, qtbot: QtBot) -> None:
    """Scrolled, it still hangs below its field; out of sight it is asked no more."""
    field = entry(panel, "kerf")
    type_in(qtbot, field, "wide")
    assert field.question is not None
    gap = field.question.y() - field.mapTo(panel.window(), QPoint()).y()
    panel.verticalScrollBar().setValue(30)
    assert field.question.y() - field.mapTo(panel.window(), QPoint()).y() == gap
    panel.verticalScrollBar().setValue(panel.verticalScrollBar().maximum())
    assert field.question is None


def test_oversize_is_asked_where_there_is_a_table_saw(panel: ShopPanel, qtbot: QtBot) -> None:
    """How much larger a part is cut at the rail stands with the saw that finishes it."""
    doc = doc_of(panel)
    assert row(panel, "oversize before finishing").isHidden()
    box(panel, "there is a table saw").click()
    type_in(qtbot, entry(panel, "oversize before finishing"), "5")
    assert doc.job.shop.oversize == 5 * MM


def test_order_of_sawing_is_chosen(panel: ShopPanel) -> None:
    """By sheet, as is common practice, or another of three, as one step, with a way back."""
    doc = doc_of(panel)
    order = chooser(panel, "order of sawing")
    assert order.currentText() == "sheet by sheet"
    for place, mode in ((2, SawingOrder.LEAST_WALKING), (1, SawingOrder.BY_SETUP)):
        order.setCurrentIndex(place)
        order.activated.emit(place)
        assert doc.job.shop.sawing is mode
    mark = row(panel, "order of sawing").mark
    assert mark is not None
    mark.back.click()
    assert doc.job.shop == USUAL_SHOP
    doc.undo_stack.undo()
    assert order.currentText() == "set-up by set-up"


def test_the_whole_shop_comes_back_to_practice(panel: ShopPanel) -> None:
    """One button, one step; it rests while the shop is common practice."""
    doc = doc_of(panel)
    name = "Shop back to common practice"
    button = next(one for one in panel.findChildren(QPushButton) if one.text() == name)
    assert not button.isEnabled()
    edit_job.edit_shop(doc, Shop())
    button.click()
    assert doc.job.shop == USUAL_SHOP
    doc.undo_stack.undo()
    assert doc.job.shop == Shop()


def test_all_of_the_form_is_reached_with_tab(panel: ShopPanel, qtbot: QtBot) -> None:
    """Tab walks once around the form and meets every field, box and button that is seen."""
    kinds = (Entry, QCheckBox, QComboBox, QPushButton)
    wanted = {one for kind in kinds for one in panel.findChildren(kind) if not one.isHidden()}
    wanted = {one for one in wanted if one.isVisible() and one.isEnabled()}
    first = entry(panel, "title")
    first.setFocus()
    met = set()
    for _ in range(2 * len(wanted)):
        focus = QApplication.focusWidget()
        assert focus is not None
        met.add(focus)
        qtbot.keyClick(focus, Qt.Key.Key_Tab)
    assert not [one.accessibleName() or one.metaObject().className() for one in wanted - met]


def test_everything_on_the_form_has_a_name(panel: ShopPanel) -> None:
    """A screen reader hears what each field, list and button is for."""
    for kind in (Entry, QComboBox):
        assert all(one.accessibleName() for one in panel.findChildren(kind))
    for button in panel.findChildren(QPushButton):
        assert button.accessibleName() or button.text()


def test_a_field_shows_the_whole_of_what_was_entered(panel: ShopPanel, qtbot: QtBot) -> None:
    """A figure off the marks is longer than a round one: the field grows, the front stays."""
    field = entry(panel, "narrowest piece the rail may lie on")
    field.setFocus()
    field.selectAll()
    qtbot.keyClicks(field, "1234.56")
    qtbot.keyClick(field, Qt.Key.Key_Return)
    assert field.text() == "1234.6 - 0.04"
    assert field.cursorPosition() == 0
    assert field.fontMetrics().horizontalAdvance(field.text()) + 12 <= field.width()


def test_what_was_typed_is_shown_as_it_is_written(panel: ShopPanel, qtbot: QtBot) -> None:
    """1 in becomes 25.4 in a metric shop, at once (25.4 mm each, 1959 agreement)."""
    field = entry(panel, "rail beyond the cut, both ends together")
    type_in(qtbot, field, "10 in")
    assert field.text() == "254"


def test_what_is_refused_is_not_shown(left: LeftRegion, qtbot: QtBot) -> None:
    """With all cuts made another kerf is refused, and the field shows what holds."""
    doc = doc_of_region(left)
    before = doc.job
    assert doc.plan is not None
    ticks.tick(doc, [cut.number for cut in doc.plan.cuts])
    left.tabs.setCurrentIndex(SHOP)
    with qtbot.waitSignal(doc.said):
        type_in(qtbot, entry(left.shop, "kerf"), "1/4")
    assert entry(left.shop, "kerf").text() == "1/8"
    assert doc.job == before


def test_an_issue_of_the_shop_leads_to_its_field(left: LeftRegion) -> None:
    """A click on what is said of the overhang opens the shop at that field."""
    left.tabs.setCurrentIndex(TAKE_OFF)
    left.go_to("", "overhang")
    assert left.tabs.currentIndex() == SHOP
    focus = QApplication.focusWidget()
    assert focus is not None
    assert focus.accessibleName() == "rail beyond the cut, both ends together"
    left.go_to("", "rails")
    focus = QApplication.focusWidget()
    assert isinstance(focus, QPushButton)
    assert focus.text() == "Add a rail"


def test_region_needs_no_kept_shop(qtbot: QtBot) -> None:
    """Where nothing is kept, the form says nothing about it."""
    doc = Document()
    region = LeftRegion(doc, Theme.light())
    qtbot.addWidget(region)
    assert not [t for t in texts(region) if "new projects" in t]


def test_keys_of_the_window_are_left_to_it(panel: ShopPanel, qtbot: QtBot) -> None:
    """Ctrl+E writes files wherever the keys are; in a line of text it would go to the end.

    Ctrl+Z is the field's as long as something is being typed there.
    """
    field = entry(panel, "kerf")
    field.setFocus()

    def takes(key: Qt.Key, held: Qt.KeyboardModifier) -> bool:
        event = QKeyEvent(QEvent.Type.ShortcutOverride, key, held)
        event.ignore()
        QApplication.sendEvent(field, event)
        return event.isAccepted()

    ctrl, none = Qt.KeyboardModifier.ControlModifier, Qt.KeyboardModifier.NoModifier
    assert not any(takes(key, ctrl) for key in (Qt.Key.Key_E, Qt.Key.Key_U, Qt.Key.Key_P))
    assert all(takes(key, ctrl) for key in (Qt.Key.Key_C, Qt.Key.Key_V, Qt.Key.Key_X, Qt.Key.Key_A))
    assert takes(Qt.Key.Key_7, none)
    assert not takes(Qt.Key.Key_Z, ctrl)
    qtbot.keyClicks(field, "7")
    assert takes(Qt.Key.Key_Z, ctrl)


def test_tab_goes_from_a_changed_figure_to_the_next(panel: ShopPanel, qtbot: QtBot) -> None:
    """The way back to common practice comes after all figures, not between two of them."""
    type_in(qtbot, entry(panel, "seconds for a cut"), "75")
    field = entry(panel, "seconds for a cut")
    field.setFocus()
    qtbot.keyClick(field, Qt.Key.Key_Tab)
    assert QApplication.focusWidget() is entry(panel, "seconds for each metre of it")


def test_seldom_kinds_of_work_are_folded_away(panel: ShopPanel) -> None:
    """Four kinds stand in the form, seven more when asked for; how many are one's own is said."""
    doc = doc_of(panel)
    for words in ("for a cut", "for each metre of it", "for a set-up", "for a lift"):
        assert entry(panel, f"seconds {words}").isVisible()
    turn = row(panel, "seconds for a turn")
    assert not turn.isVisible()
    link(panel, "7 more kinds of work").click()
    assert turn.isVisible()
    link(panel, "Fewer kinds of work").click()
    assert not turn.isVisible()
    edit_job.edit_shop(doc, replace(doc.job.shop, turn_s=9, rail_s=8))
    assert not turn.isVisible()
    link(panel, "7 more kinds of work, 2 of them yours")


def test_what_is_wrong_with_a_folded_figure_is_seen(panel: ShopPanel) -> None:
    """A year for a turn stands below its field, folded or not; an issue leads to any of them."""
    doc = doc_of(panel)
    edit_job.edit_shop(doc, replace(doc.job.shop, turn_s=31_536_000))
    said = "Seconds for a turn: 31,536,000 is more than an hour for one step: enter 3,600 or less."
    assert said in texts(row(panel, "seconds for a turn"))
    doc.undo_stack.undo()
    assert not row(panel, "seconds for a turn").isVisible()
    panel.go_to("rail_s")
    assert QApplication.focusWidget() is entry(panel, "seconds for another rail")


def link(panel: ShopPanel, words: str) -> QPushButton:
    """Return the line of those words that is pressed."""
    return next(one for one in panel.findChildren(QPushButton) if one.text() == words)
