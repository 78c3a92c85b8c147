"""The shop as a form: every limit can be set, is one named step, and knows common practice."""

from collections.abc import Iterator
from dataclasses import replace
from typing import Any

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication, QCheckBox, QComboBox, QLabel, QPushButton, QWidget
from pytestqt.qtbot import QtBot

from layout_app.document import edit_job, ticks
from layout_app.document.document import Document
from layout_app.look.theme import Theme
from layout_app.model.project import Project
from layout_app.panels.entry import Entry
from layout_app.panels.left_region import SHOP, TAKE_OFF, LeftRegion
from layout_app.panels.shop import ShopPanel
from layout_app.panels.shop_rows import NO_RAILS, STRAIGHTEDGE, USUAL, FormRow
from shared.job import Job
from shared.lengths import INCH, MM, LengthStyle, Unit
from shared.practice import REASONS, USUAL_SHOP, usual, usual_table
from shared.shop import Rail, SawingOrder, Shop, Span
from tests.layout_app.tables import doc_of as doc_of_region
from tests.layout_app.tables import type_in

MILLIMETRES = LengthStyle(unit=Unit.MM, decimals=1)


@pytest.fixture
def panel(qtbot: QtBot) -> Iterator[ShopPanel]:
    """Return the form of a metric shop of common practice."""
    doc = Document(Project(job=Job(shop=USUAL_SHOP, style=MILLIMETRES)))
    made = ShopPanel(doc)
    doc.setParent(made)
    qtbot.addWidget(made)
    made.resize(340, 700)
    made.show()
    made.activateWindow()
    yield made
    doc.undo_stack.clear()


def doc_of(panel: ShopPanel) -> Document:
    """Return the document behind the form."""
    found = panel.findChild(Document)
    assert found is not None
    return found


def entry(panel: ShopPanel, name: str) -> Entry:
    """Return the field of that name."""
    return next(one for one in panel.findChildren(Entry) if one.accessibleName() == name)


def row(panel: ShopPanel, name: str) -> FormRow:
    """Return the row of the field of that name."""
    return next(one for one in panel.findChildren(FormRow) if one.setter.accessibleName() == name)


def box(panel: ShopPanel, words: str) -> QCheckBox:
    """Return the tick box of those words."""
    return next(one for one in panel.findChildren(QCheckBox) if one.text() == words)


def texts(widget: QWidget) -> list[str]:
    """Return what the labels that are seen say."""
    return [label.text() for label in widget.findChildren(QLabel) if label.isVisible()]


Case = tuple[str, str, str, Any]
FIELDS: list[Case] = [
    ("kerf", "2.4", "kerf", 24 * MM // 10),
    ("overhang of the rail", "300", "overhang", 300 * MM),
    ("guide from", "200", "guide", Span(least=200 * MM, most=610 * MM)),
    ("guide to", "760", "guide", Span(least=150 * MM, most=760 * MM)),
    ("least width that carries the rail", "120", "carry", 120 * MM),
    ("least width that carries the rail", "no limit", "carry", 0),
    ("smallest piece to hold", "250", "hold", 250 * MM),
    ("smallest piece to hold", " ", "hold", 0),
    ("lifted alone", "18.5", "lift_g", 18_500),
    ("lifted alone", "40 lb", "lift_g", 18_144),
    ("lifted alone", "none", "lift_g", 0),
    ("seconds for a cut", "90", "cut_s", 90),
    ("seconds for a set-up", "45", "setup_s", 45),
    ("seconds more for a skim cut", "30", "skim_s", 30),
    ("seconds more for an unguided rip", "120", "unguided_s", 120),
    ("loose pieces at most", "8", "loose", 8),
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
    ("overhang of the rail", "-1", "less than 0"),
    ("lifted alone", "heavy", "not a weight"),
    ("loose pieces at most", "0", "1 piece or more"),
    ("seconds for a cut", "soon", "not a count"),
    ("saw", "  ", "name"),
    ("guide to", "wide", "."),
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
    overhang = row(panel, "overhang of the rail")
    assert USUAL in texts(overhang)
    assert overhang.mark is not None
    assert overhang.mark.back.isHidden()
    type_in(qtbot, entry(panel, "overhang of the rail"), "200")
    assert USUAL not in texts(overhang)
    assert overhang.mark.back.text() == "back to 250"
    overhang.mark.back.setFocus()
    qtbot.keyClick(overhang.mark.back, Qt.Key.Key_Space)
    assert doc_of(panel).job.shop == USUAL_SHOP
    assert USUAL in texts(overhang)


def test_reasons_stand_where_the_figures_are(panel: ShopPanel) -> None:
    """Every reason of common practice is on the form, with its source where it has one."""
    doc = doc_of(panel)
    edit_job.edit_shop(doc, replace(doc.job.shop, table=usual_table(Unit.MM)))
    shown = texts(panel)
    for key, reason in REASONS.items():
        assert any(text.startswith(reason.why) for text in shown), key
    assert any("NIOSH" in text for text in shown)
    hold = entry(panel, "smallest piece to hold")
    assert hold.accessibleDescription() == REASONS["hold"].why


def test_practice_is_said_in_the_units_of_the_maker(panel: ShopPanel) -> None:
    """250 mm is 10 in and 23 kg 51 lb where inches are used; the kerf is the same."""
    doc = doc_of(panel)
    edit_job.edit_style(doc, LengthStyle())
    for words, back in (("overhang of the rail", "back to 10"), ("lifted alone", "back to 51 lb")):
        mark = row(panel, words).mark
        assert mark is not None
        assert mark.back.text() == back
    assert entry(panel, "lifted alone").text() == "50.7 lb"
    assert USUAL in texts(row(panel, "kerf"))
    edit_job.edit_shop(doc, usual(Unit.INCH))
    assert entry(panel, "overhang of the rail").text() == "10"
    assert USUAL in texts(row(panel, "lifted alone"))


def test_guide_and_table_saw_are_there_or_not(panel: ShopPanel) -> None:
    """Their figures are shown while they are there; each tick is one named step."""
    doc = doc_of(panel)
    assert not row(panel, "guide to").isHidden()
    assert row(panel, "fence to").isHidden()
    box(panel, "there is a parallel guide").click()
    assert doc.job.shop.guide is None
    assert row(panel, "guide to").isHidden()
    assert doc.undo_stack.undoText() == "remove the guide"
    box(panel, "there is a table saw").click()
    assert doc.job.shop.table == usual_table(Unit.MM)
    assert not row(panel, "fence to").isHidden()
    doc.undo_stack.undo()
    assert doc.job.shop.table is None
    assert not box(panel, "there is a table saw").isChecked()


TABLE: list[Case] = [
    ("table saw", "the old saw", "tool", "the old saw"),
    ("kerf of the table saw", "2.4", "kerf", 24 * MM // 10),
    ("fence from", "30", "fence", Span(least=30 * MM, most=610 * MM)),
    ("fence to", "760", "fence", Span(least=25 * MM, most=760 * MM)),
]


@pytest.mark.parametrize("case", TABLE)
def test_the_table_saw_has_its_own_figures(panel: ShopPanel, qtbot: QtBot, case: Case) -> None:
    """Name, kerf and fence of the table saw are typed like those of the other."""
    words, text, field, value = case
    doc = doc_of(panel)
    table = usual_table(Unit.MM)
    edit_job.edit_shop(doc, replace(doc.job.shop, table=table))
    type_in(qtbot, entry(panel, words), text)
    assert doc.job.shop.table == replace(table, **{field: value})
    assert doc.job.shop.kerf == USUAL_SHOP.kerf


def test_oversize_is_asked_where_there_is_a_table_saw(panel: ShopPanel, qtbot: QtBot) -> None:
    """How much larger a part is cut at the rail stands with the saw that finishes it."""
    doc = doc_of(panel)
    assert row(panel, "oversize at the rail").isHidden()
    box(panel, "there is a table saw").click()
    type_in(qtbot, entry(panel, "oversize at the rail"), "5")
    assert doc.job.shop.oversize == 5 * MM


def test_order_of_sawing_is_chosen(panel: ShopPanel) -> None:
    """By sheet, as is common practice, or by set-up, as one step, with a way back."""
    doc = doc_of(panel)
    chooser = next(
        one for one in panel.findChildren(QComboBox) if one.accessibleName() == "order of sawing"
    )
    assert chooser.currentText() == "by sheet"
    chooser.setCurrentIndex(1)
    chooser.activated.emit(1)
    assert doc.job.shop.sawing is SawingOrder.BY_SETUP
    mark = row(panel, "order of sawing").mark
    assert mark is not None
    mark.back.click()
    assert doc.job.shop == USUAL_SHOP
    doc.undo_stack.undo()
    assert chooser.currentText() == "by set-up"


class TestRails:
    """Rails are a small table."""

    def test_reach_is_the_rail_less_the_overhang(self, panel: ShopPanel) -> None:
        """1400 and 2700 mm reach 1150 and 2450 (workshop notes, section 3), 2 × 1400 2550."""
        doc = doc_of(panel)
        rails = (*USUAL_SHOP.rails, Rail(length=1400 * MM, joined=2))
        edit_job.edit_shop(doc, replace(doc.job.shop, rails=rails))
        reaches = [self.reach(panel, number) for number in (1, 2, 3)]
        assert reaches == ["1150", "2450", "2550"]

    def test_no_reach_is_said(self, panel: ShopPanel) -> None:
        """A rail that is no longer than the overhang cuts nothing."""
        doc = doc_of(panel)
        edit_job.edit_shop(doc, replace(doc.job.shop, rails=(Rail(length=250 * MM),)))
        assert self.reach(panel, 1) == "none"

    def test_reach_in_inches_is_rounded_down(self, panel: ShopPanel) -> None:
        """2700 mm less 10 in are 96.299 in: 96 9/32, never more than the rail takes."""
        doc = doc_of(panel)
        edit_job.edit_style(doc, LengthStyle())
        edit_job.edit_shop(doc, replace(doc.job.shop, overhang=10 * INCH))
        assert self.reach(panel, 2) == "96 9/32"

    def test_length_and_number_are_typed(self, panel: ShopPanel, qtbot: QtBot) -> None:
        """Each is a step, and a joined rail carries its caution."""
        doc = doc_of(panel)
        type_in(qtbot, entry(panel, "length of rail 2"), "1600")
        assert doc.job.shop.rails[1] == Rail(length=1600 * MM)
        assert STRAIGHTEDGE not in texts(panel)
        type_in(qtbot, entry(panel, "how many make up rail 2"), "2")
        assert doc.job.shop.rails[1] == Rail(length=1600 * MM, joined=2)
        assert doc.undo_stack.undoText() == "change rail 2"
        assert STRAIGHTEDGE in texts(panel)
        doc.undo_stack.undo()
        doc.undo_stack.undo()
        assert doc.job.shop.rails == USUAL_SHOP.rails

    @pytest.mark.parametrize("name", ["length of rail 1", "how many make up rail 1"])
    def test_none_is_refused(self, panel: ShopPanel, qtbot: QtBot, name: str) -> None:
        """A rail of no length, or made of no rail, is asked about in place."""
        field = entry(panel, name)
        type_in(qtbot, field, "0")
        assert field.question is not None
        assert doc_of(panel).job.shop == USUAL_SHOP

    def test_rails_are_added_and_removed_with_keys(self, panel: ShopPanel, qtbot: QtBot) -> None:
        """A new rail takes the keys; removed, it is gone; with none there is no limit."""
        doc = doc_of(panel)
        add = self.button(panel, "Add a rail")
        add.setFocus()
        qtbot.keyClick(add, Qt.Key.Key_Space)
        assert doc.job.shop.rails == (*USUAL_SHOP.rails, USUAL_SHOP.rails[-1])
        assert QApplication.focusWidget() is entry(panel, "length of rail 3")
        for _ in range(3):
            remove = self.button(panel, "remove rail 1")
            remove.setFocus()
            qtbot.keyClick(remove, Qt.Key.Key_Space)
        assert doc.job.shop.rails == ()
        assert NO_RAILS in texts(panel)
        doc.undo_stack.undo()
        assert entry(panel, "length of rail 1").text() == "2700"

    def test_usual_rails_come_back(self, panel: ShopPanel) -> None:
        """The mark behind the table leads back to the two rails of common practice."""
        doc = doc_of(panel)
        edit_job.edit_shop(doc, replace(doc.job.shop, rails=()))
        self.button(panel, "rails: back to 1400 and 2700, common practice").click()
        assert doc.job.shop == USUAL_SHOP

    def reach(self, panel: ShopPanel, number: int) -> str:
        """Return what stands as reach of a rail."""
        name = f"reach of rail {number}"
        return next(o.text() for o in panel.findChildren(QLabel) if o.accessibleName() == name)

    def button(self, panel: ShopPanel, name: str) -> QPushButton:
        """Return the button of that name or text."""
        return next(
            one
            for one in panel.findChildren(QPushButton)
            if name in (one.accessibleName(), one.text()) and not one.isHidden()
        )


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


def test_what_was_typed_is_shown_as_it_is_written(panel: ShopPanel, qtbot: QtBot) -> None:
    """1 in becomes 25.4 in a metric shop, at once (25.4 mm each, 1959 agreement)."""
    field = entry(panel, "overhang of the rail")
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
    assert focus.accessibleName() == "overhang of the rail"
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
