"""What is said to be wrong, and the fields of the shop."""

from dataclasses import replace

from PySide6.QtGui import QColor
from PySide6.QtWidgets import QComboBox, QWidget
from pytestqt.qtbot import QtBot

from layout_app.document import edit_job, edit_layout, edit_parts
from layout_app.document.document import Document
from layout_app.look.style_sheet import style_sheet
from layout_app.look.theme import Theme
from layout_app.model.project import Project
from layout_app.panels.entry import Entry
from layout_app.panels.issues import IssuesList
from layout_app.panels.left_region import SHEETS, TAKE_OFF, LeftRegion
from layout_app.panels.shop import ShopPanel
from shared.job import Job
from shared.lengths import INCH, MM
from shared.parts import Part
from tests.layout_app.adopting import adopt
from tests.layout_app.small_job import document, planned, small_job
from tests.layout_app.tables import LENGTH, doc_of, type_in


def test_issue_leads_to_its_cell(left: LeftRegion) -> None:
    """A part without sheets is said below the tables, and a click leads to its material."""
    doc = doc_of(left)
    edit_parts.add_parts(doc, [Part(id="x", name="Stray", length=INCH, width=INCH, material="oak")])
    left.tabs.setCurrentIndex(SHEETS)
    texts = [left.issues.item(i).text() for i in range(left.issues.count())]
    line = next(i for i, text in enumerate(texts) if "Stray" in text and "oak" in text)
    left.issues.itemClicked.emit(left.issues.item(line))
    assert left.tabs.currentIndex() == TAKE_OFF
    assert left.parts.rows.entry(left.parts.currentIndex().row()) == doc.job.part("x")


def test_what_was_sent_to_wait_is_no_issue(qtbot: QtBot) -> None:
    """A part the maker let wait is not said to be wrong; one that found no sheet is."""
    doc = document()
    shown = IssuesList(doc, Theme.light())
    qtbot.addWidget(shown)
    edit_layout.set_aside(doc, [("side", 1)])
    assert shown.isHidden()
    doc = Document(Project(job=only_one_sheet(small_job())))
    adopt(doc, planned(doc.job))
    other = IssuesList(doc, Theme.light())
    qtbot.addWidget(other)
    texts = [other.item(i).text() for i in range(other.count())]
    assert any("needs one more sheet of birch ply" in text for text in texts)


def only_one_sheet(job: Job) -> Job:
    """Return the job with a single sheet at hand, too little for ten sides."""
    stock = tuple(replace(row, at_hand=1) for row in job.stock)
    parts = tuple(replace(row, copies=10) for row in job.parts)
    return replace(job, stock=stock, parts=parts)


def test_issues_take_no_room_when_there_are_none(qtbot: QtBot) -> None:
    """The list is hidden for a sound job, and shown for a sheet that cannot be cut."""
    doc = document()
    shown = IssuesList(doc, Theme.light())
    qtbot.addWidget(shown)
    assert shown.isHidden()
    edit_layout.add_sheet(doc, "full")
    edit_layout.move_part(doc, "side", 1, doc.layout.sheets[-1].id, 90 * INCH, 0)
    assert not shown.isHidden()
    assert "Side 1" in shown.item(0).text()


def test_shop_field_commits_and_asks_in_place(qtbot: QtBot) -> None:
    """The kerf is read like any length; what is no length stays, with its sentence."""
    doc = document()
    panel = ShopPanel(doc)
    qtbot.addWidget(panel)
    panel.show()
    kerf = next(f for f in panel.findChildren(Entry) if f.accessibleName() == "kerf")
    type_in(qtbot, kerf, "2.2 mm")
    assert doc.job.shop.kerf == 22 * MM // 10
    type_in(qtbot, kerf, "thin")
    assert kerf.question is not None
    assert doc.job.shop.kerf == 22 * MM // 10


def test_units_change_what_is_written_not_what_is(qtbot: QtBot) -> None:
    """In millimetres the same part reads 1016 for 40 in (25.4 mm each, 1959 agreement)."""
    doc = document()
    panel = ShopPanel(doc)
    qtbot.addWidget(panel)
    region = LeftRegion(doc, Theme.light())
    qtbot.addWidget(region)
    box = next(b for b in panel.findChildren(QComboBox) if b.accessibleName() == "units")
    box.setCurrentText("millimetres to 0.1")
    box.activated.emit(box.currentIndex())
    assert region.parts.rows.index(1, LENGTH).data() == "1016"
    assert doc.job.part("side").length == 40 * INCH


def reds(of: QWidget) -> int:
    """Count the points of a widget in the colours of a warning, as a dark red or a pale one."""
    picture = of.grab().toImage()
    colours = [
        picture.pixelColor(x, y) for x in range(picture.width()) for y in range(picture.height())
    ]
    wanted = [QColor(Theme.light().warning), QColor(Theme.light().warning_wash)]
    return sum(colour in wanted for colour in colours)


def test_a_sound_sheet_is_never_marked_in_red(left: LeftRegion) -> None:
    """A row that is planned as it is, though too heavy for one person, is a quiet question."""
    doc = doc_of(left)
    left.setStyleSheet(style_sheet(Theme.light()))
    left.tabs.setCurrentIndex(SHEETS)
    shop = replace(doc.job.shop, lift_g=1_000)
    edit_job.edit_shop(doc, shop)
    edit_job.edit_stock(doc, replace(doc.job.stock[0], density=700))
    assert [left.issues.item(row).text()[0] for row in range(left.issues.count())] == ["?"]
    assert reds(left.issues) == reds(left.stock) == 0
    edit_job.edit_stock(doc, replace(doc.job.stock[0], length=-1))
    assert reds(left.issues) > 0
    assert reds(left.stock) > 0
