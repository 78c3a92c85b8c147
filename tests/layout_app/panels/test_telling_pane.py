"""The full instruction beside the cards, and finishing cuts in cards, table and drawing."""

from dataclasses import replace
from xml.etree.ElementTree import fromstring

import pytest
from PySide6.QtCore import QRect, Qt
from PySide6.QtGui import QImage, QPainter, QTextOption
from PySide6.QtWidgets import QTextBrowser
from pytestqt.qtbot import QtBot

from layout_app.bench.drawings import Drawings
from layout_app.document.document import Document
from layout_app.document.edit_job import edit_shop
from layout_app.look.theme import Theme
from layout_app.model.project import Project
from layout_app.panels.card_painter import CARD_HEIGHT, CARD_WIDTH, CardPainter
from layout_app.panels.card_words import BLANK
from layout_app.panels.cards import Card, brackets, cards_of
from layout_app.panels.cut_columns import HEADINGS, WIDE, fields
from layout_app.panels.sequence_panel import SequencePanel
from layout_app.panels.telling_pane import JOINED, cuts_served, ranges, write_settings
from layout_app.paper.svg import document
from layout_app.paper.titled import drawing_page
from shared.drawing import draw_sheet
from shared.lengths import LengthStyle
from shared.practice import USUAL_SHOP
from shared.shop import SawingOrder
from shared.stock import Stock
from shared.telling import Caution, Instruction, Untold
from tests.finishing_job import JOB, plan
from tests.layout_app.adopting import adopt
from tests.layout_app.small_job import planned, small_job
from tests.layout_app.turns import take_turns

CARDS = cards_of([plan()], JOB)


def usual() -> Document:
    """Return a document of the small job in a usual shop, of a heavy sheet."""
    job = small_job()
    row: Stock = replace(job.stock[0], density=680)
    shop = replace(USUAL_SHOP, kerf=job.shop.kerf, sawing=SawingOrder.BY_SHEET)
    made = Document(Project(job=replace(job, shop=shop, stock=(row,))))
    adopt(made, planned(job))
    return made


@pytest.fixture
def panel(qtbot: QtBot) -> SequencePanel:
    """Return the region of the sequence over the job with blanks."""
    doc = Document(Project(job=JOB))
    adopt(doc, plan())
    assert doc.plan is not None
    made = SequencePanel(doc, Theme.light())
    made.resize(900, 290)
    qtbot.addWidget(made)
    made.show()
    return made


def settings_lines(panel: SequencePanel) -> list[str]:
    """Return the lines of the list of settings, with blanks that may end a line."""
    return panel.telling.toPlainText().replace("\N{NO-BREAK SPACE}", " ").split("\n")


def test_pane_says_all_of_the_selected_cut(panel: SequencePanel) -> None:
    """Every line and caution of cut 7 is in the pane, and spoken."""
    panel._document.selection.select_cut(7)
    text = " ".join(panel.telling.toPlainText().split())
    told = panel.cards.cards[6].told
    for heading, words in told.lines:
        assert f"{heading} {words}" in text
    for caution in told.cautions:
        assert caution.sentence in text
    assert panel.telling.accessibleDescription() == told.spoken


def test_pane_without_a_cut_lists_each_setting_once(panel: SequencePanel) -> None:
    """Ten cuts of ten sizes: four guide, four stop and two fence settings, each with its cut."""
    panel._document.selection.clear()
    take_turns()
    lines = [line.split("\t") for line in settings_lines(panel)]
    found = {line[0]: line[1:] for line in lines}
    assert len(found) == len(lines)
    assert {"Guide 306", "Stop 606", "Fence 600", "Fence 300"} <= found.keys()
    assert found["Fence 300"] == ["cut 8"]


@pytest.mark.parametrize(("width", "narrow"), [(640, True), (900, False)])
def test_cuts_stand_behind_their_setting_where_columns_have_no_room(
    panel: SequencePanel, width: int, narrow: bool
) -> None:
    """In a window of 1024 px the pane is narrow: each setting is one line, and no table."""
    panel.resize(width, 290)
    panel._document.selection.clear()
    take_turns()
    one, other = ("Fence 300  cut 8", "Fence 300\tcut 8")[:: 1 if narrow else -1]
    assert panel.telling.is_narrow is narrow
    assert one in settings_lines(panel)
    panel.resize(1540 - width, 290)
    assert panel.telling.is_narrow is not narrow
    assert other in settings_lines(panel)


def test_list_of_settings_begins_at_its_top_and_stays_where_it_is(panel: SequencePanel) -> None:
    """Written anew it stays as it was scrolled; after a cut it is seen from its top."""
    doc, pane = panel._document, panel.telling
    panel.resize(640, 200)
    for cut in (7, None):
        doc.selection.select_cut(cut)
        take_turns()
    bar = pane.verticalScrollBar()
    assert bar.maximum() > 0
    assert bar.value() == 0
    bar.setValue(bar.maximum() // 2)
    scrolled = bar.value()
    edit_shop(doc, replace(doc.job.shop, guide=None), "no guide")
    take_turns()
    assert ", marked" not in pane.toPlainText()
    assert bar.value() == scrolled


def test_cuts_of_a_setting_keep_to_their_column(panel: SequencePanel) -> None:
    """Behind the longest setting, and on the lines that follow where there are many cuts."""
    panel._document.selection.clear()
    take_turns()
    pane, served = panel.telling, {"Guide 306": "cuts " + ", ".join(map(str, range(1, 90, 2)))}
    write_settings(pane.document(), {**served, "Stop 34 19/32": "cut 2"}, Theme.light())
    assert pane.document().size().height() > 0
    block = pane.document().find("guide").block()
    lines = [block.layout().lineAt(place) for place in range(block.layout().lineCount())]
    assert len(lines) > 1
    at = block.text().index("\t") + 1
    column = lines[0].cursorToX(at)[0]
    assert {round(line.x()) for line in lines[1:]} == {round(column)}


@pytest.mark.parametrize("narrow", [False, True])
def test_no_line_ends_inside_a_setting(qtbot: QtBot, narrow: bool) -> None:
    """However narrow the pane is, a rest behind a hyphen stays with its size."""
    label = "Guide 19 11/32 - 1/64"
    card = replace(CARDS[0], label=label)
    pane = QTextBrowser()
    qtbot.addWidget(pane)
    pane.setWordWrapMode(QTextOption.WrapMode.WordWrap)
    pane.resize(60, 200)
    pane.show()
    write_settings(pane.document(), cuts_served([card]), Theme.light(), narrow=narrow)
    document = pane.document()
    assert document.documentLayout().documentSize().height() > 0
    block = document.find("Guide 19").block()
    assert block.layout().lineCount() > 0
    first = block.text()[: block.layout().lineAt(0).textLength()]
    assert first.replace(JOINED, "").replace("\N{NO-BREAK SPACE}", " ").startswith(label)


def test_pane_is_beside_cards_and_table(panel: SequencePanel) -> None:
    """The pane tells the cut whose row is selected in the table."""
    panel.switch()
    panel.table.selectRow(3)
    assert panel.telling.isVisible()
    assert panel.telling.toPlainText().startswith("4")


def test_pane_is_never_clipped_but_scrolls(panel: SequencePanel) -> None:
    """What is wider than the pane is wrapped, what is longer can be scrolled to."""
    panel._document.selection.select_cut(7)
    pane = panel.telling
    assert pane.document().size().width() <= pane.viewport().width()
    hidden = pane.document().size().height() - pane.viewport().height()
    assert pane.verticalScrollBar().maximum() >= hidden - 1
    assert pane.fontInfo().pixelSize() >= 11


def test_pane_waits_for_a_plan(qtbot: QtBot) -> None:
    """Without cuts there is nothing to tell, and the cards have all the room; then there is."""
    doc = Document(Project(job=JOB))
    panel = SequencePanel(doc, Theme.light())
    qtbot.addWidget(panel)
    panel.show()
    assert not panel.telling.isVisible()
    adopt(doc, plan())
    assert panel.telling.isVisible()
    assert panel.telling.toPlainText().startswith("Settings, and the cuts")


def test_cards_of_finishing_cuts_say_the_table_saw() -> None:
    """Cuts 7 and 8 are made at the table saw's fence, 9 and 10 at stop and guide of the rail."""
    said = [(card.title, card.set_words, card.told.long) for card in CARDS[5:10]]
    assert said == [
        ("Crosscut 1c", "Set stop", "154 long"),
        ("Finish 1a1", "Set fence", "306 long"),
        ("Finish 1a1a", "Set fence", "600 long"),
        ("Finish 1b1", "Set stop", "206 long"),
        ("Finish 1b1a", "Set guide", "403 long"),
    ]
    lines = [" ".join(card.lines).replace(BLANK, " ") for card in CARDS[5:10]]
    assert ["table saw" in line for line in lines] == [False, True, True, False, False]
    made = ["1c1 Back, oversize", "1a1a Side, blank", "1a1a1 Side", "1b1a Front, blank"]
    assert all(f"Makes {one}" in line for one, line in zip(made, lines, strict=False))
    no_rail = [card.told.rail_side is None for card in CARDS[5:10]]
    assert no_rail == [False, True, True, False, False]
    assert not CARDS[6].told.position


def test_settings_keep_their_names_over_plans_that_follow_each_other() -> None:
    """A plan sawn after another, numbered on, sets what was set before under the same names."""
    both = cards_of([plan(), plan(first=11)], JOB)
    assert [card.number for card in both] == list(range(1, 21))
    assert [card.label for card in both[10:]] == [card.label for card in both[:10]]


def test_cautions_of_the_usual_shop_show_as_a_sign(qtbot: QtBot) -> None:
    """The first rip lifts a sheet of 3/4 birch, over 23 kg: a sign, and the reason in full."""
    doc = usual()
    panel = SequencePanel(doc, Theme.light())
    qtbot.addWidget(panel)
    panel.show()
    doc.selection.select_cut(1)
    card = panel.cards.cards[0]
    assert "heavy" in {caution.code for caution in card.told.cautions}
    assert "Get help" in panel.telling.toPlainText()


@pytest.mark.parametrize("danger", [True, False])
def test_each_sign_is_painted_only_where_its_class_applies(danger: bool) -> None:
    """A card with one caution differs from the same card without, in the corner of the signs.

    The sign of danger is of the colour of what warns; that of handling never is.
    """
    bare = replace(CARDS[0].told, cautions=())
    one = Caution(code="one", sentence="One.", danger=danger)
    marked = replace(bare, cautions=(one,))
    quiet, signed = (_painted(_saying(said)).copy(CORNER) for said in (bare, marked))
    assert quiet != signed
    assert _has(signed, Theme.light().warning) is danger
    assert not _has(quiet, Theme.light().warning)


CORNER = QRect(CARD_WIDTH - 48, 104, 40, 18)


def _saying(told: Instruction) -> Card:
    return replace(CARDS[0], untold=Untold(CARDS[0].record, lambda _record: told))


def _has(image: QImage, colour: str) -> bool:
    spots = [(x, y) for x in range(image.width()) for y in range(image.height())]
    return any(image.pixelColor(*spot).name() == colour for spot in spots)


def _painted(card: Card) -> QImage:
    image = QImage(CARD_WIDTH, CARD_HEIGHT, QImage.Format.Format_ARGB32)
    image.fill(Qt.GlobalColor.white)
    painter = QPainter(image)
    CardPainter(Theme.light()).card(painter, card, selected=False)
    painter.end()
    return image


def test_shop_with_another_guide_renames_at_once() -> None:
    """The label follows the shop: what the guide cannot be set to is measured at both ends."""
    doc = usual()
    assert doc.plan is not None
    labels = [one.label for one in brackets(cards_of([doc.plan], doc.job))]
    assert labels[0] == "Guide 12"
    narrow = replace(doc.job, shop=replace(doc.job.shop, guide=replace(USUAL_SHOP.guide, most=10)))
    assert brackets(cards_of([doc.plan], narrow))[0].label == "12, marked"


def test_table_has_a_field_for_every_heading() -> None:
    """Headings, samples of their widths and fields go together; the tick has no words."""
    assert len(HEADINGS) == len(WIDE)
    assert all(len(fields(card)) == len(HEADINGS) - 1 for card in CARDS)


def test_svg_and_bench_draw_finished_blanks_alike(qtbot: QtBot) -> None:
    """Both show the part at 600 × 300 inside the dashed outline of its blank."""
    doc = Document(Project(job=JOB))
    adopt(doc, plan())
    assert doc.plan is not None
    drawing = Drawings(doc).of(doc.layout.sheets[0])
    bench = {box.key: (box.rect.length, box.rect.width) for box in drawing.boxes}
    on_paper = draw_sheet(doc.plan, "1", LengthStyle())
    root = fromstring(document(drawing_page(on_paper, LengthStyle(), doc.job)))
    drawn = {node.get("id"): node for node in root.iter("{http://www.w3.org/2000/svg}rect")}
    for key in ("part-side-1", "blank-side-1"):
        node = drawn[key]
        shown = tuple(round(float(node.get(side, "")) * 40_000) for side in ("width", "height"))
        assert shown == bench[key.replace("-", ":")]
    assert "stroke-dasharray" in drawn["blank-side-1"].attrib
    assert "at the table saw" in "".join(root.itertext())


def test_ranges_are_short() -> None:
    """Runs of numbers are written as first and last."""
    assert ranges([1, 2, 3, 7, 9, 10]) == "1-3, 7, 9-10"
    assert ranges([4]) == "4"
