"""The cut sequence as cards and as a table: what they say, and walking through them."""

from dataclasses import replace
from itertools import pairwise

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QFontMetricsF
from pytestqt.qtbot import QtBot

from layout_app.document import edit_layout
from layout_app.document.document import Document
from layout_app.document.ticks import tick
from layout_app.look import pens
from layout_app.look.set_in import set_in
from layout_app.look.theme import Theme
from layout_app.model.project import Project
from layout_app.panels.card_painter import LINE_PX, label_middle
from layout_app.panels.card_words import BLANK, rail_words
from layout_app.panels.cards import brackets, cards_of
from layout_app.panels.cuts_table import CutsTable
from layout_app.panels.sequence import SequenceView
from shared.job import Job
from shared.lengths import INCH, LengthStyle, Unit, format_length
from shared.making.record import Bed, Guard, Way
from shared.practice import USUAL_SHOP, running_on
from shared.shop import RunsOn
from shared.telling import Untold, instructions
from tests.layout_app.small_job import document, planned, small_job
from tests.layout_app.tables import ESC
from tests.layout_app.turns import take_turns
from tests.shared.good_plans import MIXED


def test_one_card_a_cut_in_order() -> None:
    """Cards follow the numbers; every piece a card cuts is what earlier cards left of it."""
    doc = document()
    assert doc.plan is not None
    cards = cards_of([doc.plan], doc.job)
    assert [card.number for card in cards] == [cut.number for cut in doc.plan.cuts]
    for card, cut in zip(cards, doc.plan.cuts, strict=True):
        stroke = card.told.stroke
        assert stroke.piece.contains(cut.rect)
        assert stroke.near.area + stroke.far.area + cut.rect.area == stroke.piece.area


def test_card_says_what_each_side_becomes() -> None:
    """A side laid 20 in off the end: the blank before it is an offcut, then the side by its name.

    Sheet L 96 × W 48, side L 40 × W 12 at x = 20 in, y = 0: one rip at 12 in, a crosscut for
    the 20 in less a kerf before the side, one behind it. Kept: 300 mm by 100 mm and more.
    """
    doc = Document(Project(job=small_job()))
    edit_layout.add_sheet(doc, "full")
    edit_layout.move_part(doc, "side", 2, "1", 20 * INCH, 0)
    assert doc.plan is not None
    cards = cards_of([doc.plan], doc.job)
    assert [(card.title, card.set_words, card.told.size) for card in cards] == [
        ("Rip 1", "Set guide", "12"),
        ("Crosscut 1a", "Set stop", "19 7/8"),
        ("Crosscut 1a", "Set stop", "40"),
    ]
    assert [tuple(map(plain, card.lines)) for card in cards] == [
        (
            "rail on 1a",
            "Keep 1a (V side)",
            "Makes 1a for cut 2",
            "Left: offcut of sheet 1 to label",
        ),
        (
            "rail on offcut 1a1",
            "Keep offcut 1a1 (V side)",
            "Makes offcut 1a1 to label",
            "Left: 1a for cut 3",
        ),
        ("rail on 1a2", "Keep 1a2 (V side)", "Makes 1a2 Side 2", "Left: offcut of 1a to label"),
    ]


def plain(words: str) -> str:
    """Return words with blanks that may end a line."""
    return words.replace(BLANK, " ")


def test_card_names_the_rail_what_it_lies_on_and_what_is_set_already() -> None:
    """Of the small job in a usual shop: every card names the rail in its record, and its bed.

    A word for all that is set: ``Set`` where the record says it is to be set, else ``as before``.
    """
    job = replace(small_job(), shop=USUAL_SHOP)
    cards = cards_of([planned(job)], job)
    assert {card.record.anew for card in cards if card.record.setting.name} == {True, False}
    for card in cards:
        laid = card.record.rail
        length = format_length(laid.rail.length, job.style) if laid else card.told.tool
        said = next(line for line in map(plain, card.lines) if length in line)
        bed = {Bed.KEEP: card.record.makes.name, Bed.PACKED: "scrap"}.get(card.record.bed, "")
        assert bed in said
        if card.record.setting.name:
            assert card.set_words.startswith("Set ") is card.record.anew
            assert card.set_words.endswith(", as before") is not card.record.anew


def test_card_clamps_a_straightedge_where_paper_does() -> None:
    """A crosscut trim is laid out square, so its straightedge is laid back from the squared line.

    A factory end may lean; what is measured from it along the cut would lean with it.
    """
    style = LengthStyle(unit=Unit.MM)
    told = instructions(MIXED, running_on(USUAL_SHOP, RunsOn.STRAIGHTEDGE, Unit.MM), style)
    clamped = [one for one in told if one.record.way is Way.STRAIGHTEDGE]
    assert any(one.stroke.is_trim and one.record.squared is not None for one in clamped)
    for one in clamped:
        at, whence = rail_words(one.record, style).split(", ")[1].split(f" from{BLANK}")
        assert one.bed.endswith(f"its edge {at} from the {whence}")


def test_card_says_what_is_done_before_the_saw_is_laid_on() -> None:
    """A piece to be turned over, and a line to be scored, stand above rail and keep side."""
    job = small_job()
    card = cards_of([planned(job)], job)[0]
    assert not card.told.position
    record = replace(card.record, turn_over=True, guards=(Guard.SCORE,))
    told = replace(card, untold=Untold(record, card.untold._tell))
    assert told.lines == ("Turn it over first", "Score the line", *card.lines)


@pytest.mark.parametrize("words", [("Makes 1a1 Case top, bottom 1", "Left: 1a"), ("x" * 60,) * 3])
def test_lines_are_set_as_large_as_lets_all_of_them_in(
    qtbot: QtBot, words: tuple[str, ...]
) -> None:
    """No line is wider than its room, nor all of them higher; type is never under 10 pixels."""
    size, pitch, lines = set_in(words, 132.0, 72.0, LINE_PX)
    assert size >= 10
    assert pitch * len(lines) <= 72.0
    wide = QFontMetricsF(pens.font(size))
    assert max(map(wide.horizontalAdvance, lines)) <= 132.0
    if "…" not in "".join(lines):
        assert " ".join(lines) == " ".join(words)


def test_brackets_hold_consecutive_cuts_of_one_setting() -> None:
    """No two neighbouring brackets share a setting, and none mixes two."""
    doc = document()
    assert doc.plan is not None
    groups = brackets(cards_of([doc.plan], doc.job))
    keys = [{card.told.setting for card in group.cards} for group in groups]
    assert all(len(key) == 1 for key in keys)
    assert all(one != other for one, other in pairwise(keys))
    assert groups[0].label == "Guide 12"
    assert sum(len(group.cards) for group in groups) == len(doc.plan.cuts)


@pytest.mark.parametrize(
    ("seen", "middle"),
    [((0, 2000), 550), ((400, 2000), 700), ((900, 2000), 922), ((0, 300), 200), ((0, 120), 178)],
)
def test_label_of_a_long_bracket_stays_in_view(seen: tuple[int, int], middle: float) -> None:
    """Over a bracket from 100 to 1000 px the label keeps to the middle of what is seen of it.

    At the ends it stops half a card, 78 px, inside.
    """
    assert label_middle(100, 1000, seen) == middle


@pytest.fixture
def cards(qtbot: QtBot) -> SequenceView:
    """Return the cards of a planned document."""
    view = SequenceView(document(), Theme.light())
    view.resize(640, 260)
    qtbot.addWidget(view)
    view.show()
    return view


def test_keys_walk_through_the_sequence(cards: SequenceView, qtbot: QtBot) -> None:
    """Right, End, Left, Home and Esc select the first, last, last but one, first, and none."""
    chosen, last = cards._document.selection, len(cards.cards)
    walked = []
    for key in (Qt.Key.Key_Right, Qt.Key.Key_End, Qt.Key.Key_Left, Qt.Key.Key_Home, ESC):
        qtbot.keyClick(cards, key)
        walked.append(chosen.cut)
    assert walked == [1, last, last - 1, 1, None]


def test_selected_card_is_brought_into_view(cards: SequenceView) -> None:
    """A cut selected on the bench scrolls its card into view."""
    last = len(cards.cards)
    cards._document.selection.select_cut(last)
    assert cards.viewport().rect().contains(cards.card_rect(last))


def test_click_selects_the_card_under_the_mouse(cards: SequenceView, qtbot: QtBot) -> None:
    """A click on a card selects its cut, a click between cards none."""
    point = cards.card_rect(2).center()
    qtbot.mouseClick(cards.viewport(), Qt.MouseButton.LeftButton, pos=point)
    assert cards._document.selection.cut == 2
    qtbot.mouseClick(
        cards.viewport(), Qt.MouseButton.LeftButton, pos=cards.card_rect(2).topLeft() / 2
    )
    assert cards._document.selection.cut is None


def test_only_cards_in_view_are_painted(cards: SequenceView) -> None:
    """However long the sequence, one painting handles what fits the viewport."""
    painted: list[int] = []
    paint = cards._painter.card
    cards._painter.card = lambda painter, card, selected: (
        painted.append(card.number),
        paint(painter, card, selected=selected),
    )[1]
    cards.grab()
    assert 0 < len(painted) <= 6 < len(cards.cards)


def test_table_twin_selects_the_same_cut(qtbot: QtBot) -> None:
    """The table of cuts and the cards select each other through the document."""
    doc = document()
    table = CutsTable(doc)
    qtbot.addWidget(table)
    table.show()
    table.selectRow(2)
    assert doc.selection.cut == 3
    doc.selection.select_cut(1)
    assert [index.row() for index in table.selectionModel().selectedRows()] == [0]


def test_empty_project_has_no_cards(qtbot: QtBot) -> None:
    """Without a plan there is nothing to walk through, and nothing breaks."""
    view = SequenceView(Document(Project(job=Job())), Theme.light())
    qtbot.addWidget(view)
    view.show()
    qtbot.keyClick(view, Qt.Key.Key_Right)
    assert view.cards == ()


def test_the_next_cut_is_in_sight_after_a_tick(qtbot: QtBot) -> None:
    """Also when a project with ticks is opened; without ticks the row stays where it is."""
    doc = document()
    assert doc.plan is not None
    view = SequenceView(doc, Theme.light())
    qtbot.addWidget(view)
    view.resize(500, 300)
    view.show()
    bar = view.horizontalScrollBar()
    bar.setValue(bar.maximum())
    doc.selection.clear()
    assert bar.value() == bar.maximum()
    for number in (1, 2, 3, 4, 5, 6):
        tick(doc, [number])
        assert view.viewport().rect().contains(view.card_rect(number + 1))
    begun = doc.project
    doc.open(Project(job=small_job()), None)
    doc.open(begun, None)
    assert view.viewport().rect().contains(view.card_rect(7))


def test_the_row_of_the_next_cut_is_in_sight_after_a_tick(qtbot: QtBot) -> None:
    """In the table as among the cards; not all of its ten rows have room."""
    doc = document()
    table = CutsTable(doc)
    qtbot.addWidget(table)
    table.resize(600, 140)
    table.show()
    assert table.viewport().height() < 10 * table.rowHeight(0)
    for number in (1, 2, 3, 4, 5, 6):
        tick(doc, [number])
        box = table.visualRect(table.model().index(number, 1))
        assert table.viewport().rect().contains(box)


def test_the_row_of_the_selected_cut_is_in_sight_when_the_table_is_shown(qtbot: QtBot) -> None:
    """Selected while the cards are shown, then the table instead; not all rows have room."""
    doc = document()
    table = CutsTable(doc)
    qtbot.addWidget(table)
    table.resize(600, 140)
    doc.selection.select_cut(10)
    table.show()
    take_turns()
    box = table.visualRect(table.model().index(9, 1))
    assert table.viewport().rect().contains(box)
