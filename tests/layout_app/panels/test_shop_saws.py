"""Saws, rails and what leads them in the form of the shop: there or not, and each asked once."""

from dataclasses import replace

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication, QLabel, QPushButton
from pytestqt.qtbot import QtBot

from layout_app.document import edit_job
from layout_app.panels.issues import all_issues
from layout_app.panels.shop import ShopPanel
from layout_app.panels.shop_rails import NO_RAILS, STRAIGHTEDGE
from layout_app.panels.shop_rows import USUAL
from shared.check import check_job
from shared.lengths import INCH, MM, LengthStyle, Unit
from shared.practice import USUAL_SHOP, running_on, usual_base, usual_table
from shared.shop import ABSENT, Hand, Rail, RunsOn, Span, Support
from shared.stock import Stock
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
from tests.layout_app.tables import type_in


def test_guide_and_table_saw_are_there_or_not(panel: ShopPanel) -> None:
    """Their figures are shown while they are there; each tick is one named step."""
    doc = doc_of(panel)
    assert not row(panel, "guide to").isHidden()
    assert row(panel, "fence to").isHidden()
    box(panel, "there is a parallel guide").click()
    assert doc.job.shop.guide == ABSENT
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
    ("longest piece there", "1500", "longest", 1500 * MM),
    ("widest piece there", "500", "widest", 500 * MM),
    ("heaviest piece there", "12 kg", "heaviest_g", 12_000),
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


CHOICES = [
    ("it lies", "rail_side", Hand.RIGHT),
    ("sheets lie on", "support", Support.GRID),
]


@pytest.mark.parametrize(("words", "field", "value"), CHOICES)
def test_side_and_support_are_chosen(
    panel: ShopPanel, words: str, field: str, value: object
) -> None:
    """Each is one step with a way back to common practice, which is the first choice."""
    doc, box = doc_of(panel), chooser(panel, words)
    box.activated.emit(1)
    assert doc.job.shop == replace(USUAL_SHOP, **{field: value})
    mark = row(panel, words).mark
    assert mark is not None
    mark.back.click()
    assert doc.job.shop == USUAL_SHOP
    doc.undo_stack.undo()
    assert box.currentIndex() == 1


class TestStraightedge:
    """A circular saw that is led by a clamped straightedge."""

    def test_the_switch_is_one_step_either_way(self, panel: ShopPanel) -> None:
        """One choice, one step of undo; back again the rail's figures are as they were."""
        doc = doc_of(panel)
        edit_job.edit_shop(doc, replace(doc.job.shop, carry=120 * MM))
        before, steps = doc.job.shop, doc.undo_stack.count()
        runs_on(panel).activated.emit(1)
        assert doc.undo_stack.count() == steps + 1
        assert doc.undo_stack.undoText() == "saw along a straightedge"
        assert doc.job.shop == running_on(before, RunsOn.STRAIGHTEDGE, Unit.MM)
        assert check_job(doc.job)[0].field not in {"rails", "base.left_near"}
        runs_on(panel).activated.emit(0)
        assert replace(doc.job.shop, base=None, aside=None) == before
        doc.undo_stack.undo()
        doc.undo_stack.undo()
        assert doc.job.shop == before

    def test_only_what_such_a_saw_has_is_asked(self, panel: ShopPanel) -> None:
        """Its base, straightedges and edge guide; no run-up of a rail, splinter guard or stop."""
        rail = ("rail beyond the cut, both ends together", "width of the rail", "stop to")
        bare = ("a: left edge to near face", "length of the base", "edge guide to")
        assert not any(row(panel, words).isHidden() for words in rail)
        assert all(row(panel, words).isHidden() for words in bare)
        runs_on(panel).activated.emit(1)
        assert all(row(panel, words).isHidden() for words in rail)
        assert not any(row(panel, words).isHidden() for words in bare)
        assert not box(panel, "there is a splinter guard").isVisible()
        assert box(panel, "there is an edge guide").isChecked()
        assert "Straightedges" in texts(panel)

    def test_a_figure_of_the_base_is_typed(self, panel: ShopPanel, qtbot: QtBot) -> None:
        """The farther face goes along; one that disagrees with the kerf is said below it."""
        doc, field = doc_of(panel), entry(panel, "a: left edge to near face")
        runs_on(panel).activated.emit(1)
        type_in(qtbot, field, "35")
        assert entry(panel, "b: left edge to far face").text() == "37.2"
        assert not [t for t in texts(panel) if "the kerf is 2.2 mm" in t]
        type_in(qtbot, entry(panel, "b: left edge to far face"), "40")
        said = texts(row(panel, "b: left edge to far face"))
        assert any("the kerf is 2.2 mm" in text for text in said)
        type_in(qtbot, entry(panel, "b: left edge to far face"), "37.2")
        assert doc.job.shop.base is not None
        assert doc.job.shop.base.left_far == 372 * MM // 10
        assert not [t for t in texts(panel) if "the kerf is 2.2 mm" in t]

    def test_an_emptied_field_is_not_measured(self, panel: ShopPanel, qtbot: QtBot) -> None:
        """The sentence stands at that field and says what to measure."""
        runs_on(panel).activated.emit(1)
        field = entry(panel, "d: right edge to far face")
        field.clear()
        qtbot.keyClick(field, Qt.Key.Key_Return)
        assert (field.text(), field.placeholderText()) == ("", "measure")
        said = [
            text for text in texts(row(panel, "d: right edge to far face")) if "measure" in text
        ]
        assert said == [
            "The base of the saw is not measured:"
            " measure from the right edge to the blade's farther face."
        ]

    def test_a_base_of_practice_goes_with_the_kerf(self, panel: ShopPanel, qtbot: QtBot) -> None:
        """It was never measured, so another blade does not make it wrong."""
        doc = doc_of(panel)
        runs_on(panel).activated.emit(1)
        type_in(qtbot, entry(panel, "kerf"), "1.6")
        assert doc.job.shop.base == usual_base(Unit.MM, 16 * MM // 10)
        assert not [text for text in texts(panel) if "but the kerf is" in text]
        assert USUAL in texts(row(panel, "b: left edge to far face"))

    def test_issues_lead_to_the_field_that_is_seen(self, panel: ShopPanel) -> None:
        """Of two rows for one figure the one that is asked takes the keys."""
        runs_on(panel).activated.emit(1)
        panel.go_to("carry")
        focus = QApplication.focusWidget()
        assert focus is entry(panel, "narrowest piece to clamp the straightedge to")

    def test_without_an_edge_guide(self, panel: ShopPanel) -> None:
        """Its figures go with it, and come back as common practice of such a saw."""
        doc = doc_of(panel)
        runs_on(panel).activated.emit(1)
        box(panel, "there is an edge guide").click()
        assert doc.job.shop.guide == ABSENT
        assert row(panel, "edge guide to").isHidden()
        box(panel, "there is an edge guide").click()
        assert doc.job.shop.guide == Span(most=180 * MM)

    def test_back_to_practice_keeps_the_saw(self, panel: ShopPanel) -> None:
        """All figures return to common practice, but not from one saw to the other."""
        doc = doc_of(panel)
        runs_on(panel).activated.emit(1)
        usually = doc.job.shop
        edit_job.edit_shop(doc, replace(usually, carry=0, kerf=16 * MM // 10))
        name = "Shop back to common practice"
        next(one for one in panel.findChildren(QPushButton) if one.text() == name).click()
        assert doc.job.shop == usually


def test_sheets_that_no_rail_cuts_are_said_at_the_rails(panel: ShopPanel) -> None:
    """The sentence of the sheet, with the rail it would take, stands at the rails as well."""
    doc = doc_of(panel)
    sheet = Stock(
        id="s", name="Full", material="birch", length=2440 * MM, width=1220 * MM, thickness=18 * MM
    )
    edit_job.add_stock(doc, [sheet])
    edit_job.edit_shop(doc, replace(doc.job.shop, rails=(Rail(length=1400 * MM),)))
    assert any("a rail of at least 1470 mm" in text for text in texts(panel))


class TestRails:
    """Rails are a small table."""

    def test_reach_is_the_rail_less_the_overhang(self, panel: ShopPanel) -> None:
        """1400 and 2700 mm reach 1150 and 2450 (workshop notes, section 3), 2 × 1400 2550."""
        doc = doc_of(panel)
        rails = (*USUAL_SHOP.rails, Rail(length=1400 * MM, joined=2, count=2))
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
        type_in(qtbot, entry(panel, "how many of rail 2 can be joined"), "2")
        assert doc.job.shop.rails[1] == Rail(length=1600 * MM, joined=2)
        assert doc.undo_stack.undoText() == "change rail 2"
        assert STRAIGHTEDGE in texts(panel)
        doc.undo_stack.undo()
        doc.undo_stack.undo()
        assert doc.job.shop.rails == USUAL_SHOP.rails

    def test_no_more_are_joined_than_there_are_left(self, panel: ShopPanel, qtbot: QtBot) -> None:
        """With one of two rails taken away none can be joined any more, in the same step."""
        doc = doc_of(panel)
        both = (Rail(length=1400 * MM, joined=2, count=2),)
        edit_job.edit_shop(doc, replace(doc.job.shop, rails=both))
        type_in(qtbot, entry(panel, "how many of rail 1 there are"), "1")
        assert doc.job.shop.rails == (Rail(length=1400 * MM),)
        doc.undo()
        assert doc.job.shop.rails == both

    @pytest.mark.parametrize("name", ["length of rail 1", "how many of rail 1 can be joined"])
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


def test_a_rail_that_takes_no_cut_is_said_once(panel: ShopPanel) -> None:
    """Not besides for every sheet that it does not cut; and rails too few to join reach nothing."""
    doc = doc_of(panel)
    sheet = Stock(
        id="s", name="Full", material="birch", length=2440 * MM, width=1220 * MM, thickness=18 * MM
    )
    edit_job.add_stock(doc, [sheet, replace(sheet, id="t", name="Other")])
    edit_job.edit_shop(doc, replace(doc.job.shop, rails=(Rail(length=200 * MM),)))
    said = [issue for issue in all_issues(doc) if "rail" in issue.sentence]
    assert [issue.code for issue in said] == ["shop-rails-short"]
    assert sum("takes any cut" in text for text in texts(panel)) == 1
    assert not any("of at least" in text for text in texts(panel))
    few = Rail(length=1400 * MM, joined=2, count=1)
    edit_job.edit_shop(doc, replace(doc.job.shop, rails=(few,)))
    assert "none" in texts(panel)
    edit_job.edit_shop(doc, replace(doc.job.shop, rails=(replace(few, count=2),)))
    assert "2550" in texts(panel)
