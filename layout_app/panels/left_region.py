"""The left region: take-off, sheets & rack, shop, bench as a table, build; what is wrong."""

from functools import cached_property

from PySide6.QtCore import QEvent, QObject, QSize, Qt, Signal
from PySide6.QtWidgets import QFrame, QScrollArea, QSizePolicy, QTabWidget, QWidget

from layout_app.document.document import Document
from layout_app.document.kept_shop import KeptShop
from layout_app.look.theme import Theme
from layout_app.panels.build import BuildPanel
from layout_app.panels.issues import IssuesList
from layout_app.panels.part_card import PartCard
from layout_app.panels.parts import COLUMNS as PART_COLUMNS
from layout_app.panels.parts import PartsModel
from layout_app.panels.paste_line import PasteLine
from layout_app.panels.placements_table import PlacementsTable
from layout_app.panels.shop import ShopPanel
from layout_app.panels.stock import COLUMNS as STOCK_COLUMNS
from layout_app.panels.stock import StockModel
from layout_app.panels.stock_card import StockCard
from layout_app.panels.table import RowTable
from layout_app.panels.widgets import BARE, down

LEAST_PX = 120


class Below(QScrollArea):
    """Scrolls a card where there is too little room for all of it; gone while the card is."""

    def __init__(self, card: QWidget, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._card = card
        self.setAccessibleName("Card of the row")
        self.setFrameShape(QFrame.Shape.NoFrame)
        self.setWidgetResizable(True)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Maximum)
        self.setVisible(not card.isHidden())
        self.setWidget(card)
        card.installEventFilter(self)

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """Follow the card: come and go with it, and take the height it needs."""
        if watched is self._card:
            if event.type() in (QEvent.Type.ShowToParent, QEvent.Type.HideToParent):
                self.setVisible(not self._card.isHidden())
            elif event.type() == QEvent.Type.LayoutRequest:
                self.updateGeometry()
        return super().eventFilter(watched, event)

    def sizeHint(self) -> QSize:
        """Return the room that the whole card needs at this width."""
        hint = self._card.sizeHint()
        width = self.viewport().width()
        height = self._card.heightForWidth(width) if self._card.hasHeightForWidth() else -1
        return QSize(hint.width(), max(height, hint.height() if height < 0 else 0))

    def minimumSizeHint(self) -> QSize:
        """Return the least that shows there is a card."""
        return QSize(0, min(LEAST_PX, self.sizeHint().height()))


TAKE_OFF, SHEETS, SHOP, PLACES = range(4)
LEAST_LINES = 5
"""Of sheets & rack: headings, three rows and a scroll bar stay in sight above a high card."""


class LeftRegion(QWidget):
    """What the maker enters; selects parts together with the bench."""

    said = Signal(str)

    def __init__(
        self,
        document: Document,
        theme: Theme,
        parent: QWidget | None = None,
        kept: KeptShop | None = None,
    ) -> None:
        super().__init__(parent)
        self._document = document
        self.setObjectName("page")
        self.parts = RowTable(PartsModel(document, PART_COLUMNS, self), theme, self)
        self.stock = RowTable(StockModel(document, STOCK_COLUMNS, self), theme, self)
        self.pasted_parts = PasteLine(self.parts, self)
        self.pasted_stock = PasteLine(self.stock, self)
        self.parts.setAccessibleName("Take-off")
        self.stock.setAccessibleName("Sheets and rack")
        self._kept, self._shop_page = kept, QWidget(self)
        self.placements = PlacementsTable(document, theme, self)
        self.build = BuildPanel(document, self)
        self.issues = IssuesList(document, theme, self)
        self.card = PartCard(document, self)
        self.stock_card = StockCard(document, self)
        self.tabs = QTabWidget(self)
        self._arrange()
        self._connect()

    def _arrange(self) -> None:
        self.stock.setMinimumHeight(LEAST_LINES * self.stock.verticalHeader().defaultSectionSize())
        self.tabs.setAccessibleName("Tables")
        self.tabs.setDocumentMode(True)
        self.tabs.tabBar().setDrawBase(False)
        for widget, name in (
            (_page(self.pasted_parts, self.parts, self.card), "Take-off"),
            (_page(self.pasted_stock, self.stock, Below(self.stock_card, self)), "Sheets && rack"),
            (self._shop_page, "Shop"),
            (self.placements, "Bench"),
            (self.build, "Build"),
        ):
            self.tabs.addTab(widget, name)
        down((self.tabs, 1), self.issues, on=self, edges=(8, 4, 8, 8))

    @cached_property
    def shop(self) -> ShopPanel:
        """The form of the shop, made when it is first looked at."""
        made = ShopPanel(self._document, self._shop_page, self._kept)
        down((made, 1), on=self._shop_page, edges=BARE)
        return made

    def _see(self, tab: int) -> None:
        if tab == SHOP:
            self.shop.show()

    def _connect(self) -> None:
        self.tabs.currentChanged.connect(self._see)
        self.pasted_parts.said.connect(self.said)
        self.pasted_stock.said.connect(self.said)
        self.parts.rows_chosen.connect(self._select_parts)
        self.stock.rows_chosen.connect(self.stock_card.show_rows)
        self.stock_card.set_apart.connect(self.stock.go_to)
        self.issues.chosen.connect(self.go_to)
        self._document.selection.changed.connect(self._show_selection)

    def set_theme(self, theme: Theme) -> None:
        """Paint with other colours."""
        for part in (self.parts, self.stock, self.placements, self.issues):
            part.set_theme(theme)

    def go_to(self, subject: str, field: str) -> None:
        """Lead to the row, field or sheet an issue is about."""
        job = self._document.job
        if any(part.id == subject for part in job.parts):
            self._open(TAKE_OFF, self.parts, subject, field)
        elif any(row.id == subject for row in job.stock):
            self._open(SHEETS, self.stock, subject, field)
            self.stock_card.go_to(field)
        elif not subject:
            places = {"parts": TAKE_OFF, "stock": SHEETS}
            self.tabs.setCurrentIndex(places.get(field, SHOP))
            self.shop.go_to(field)
        else:
            sheets = [one for one in self._document.layout.sheets if one.id == subject]
            lying = [one.key for sheet in sheets for one in sheet.placements]
            self._document.selection.select_parts(lying)

    def take_typed(self) -> None:
        """Take what is typed in the tables but not left yet."""
        self.parts.take_typed()
        self.stock.take_typed()

    def focused_table(self) -> RowTable | None:
        """Return the table in front, if there is one."""
        return {TAKE_OFF: self.parts, SHEETS: self.stock}.get(self.tabs.currentIndex())

    def go_to_card(self) -> None:
        """Give the keys to the card of the selected row; from there Tab goes on."""
        first = {TAKE_OFF: self.card.finishing.show_face, SHEETS: self.stock_card.diagonals}
        setter = first.get(self.tabs.currentIndex())
        if setter is not None and setter.isVisible():
            setter.setFocus()

    def type_part(self) -> None:
        """Open the row in which a part is typed."""
        self.tabs.setCurrentIndex(TAKE_OFF)
        self.parts.type_new()

    def paste_parts(self) -> None:
        """Read rows of parts from the text on the clipboard."""
        self.tabs.setCurrentIndex(TAKE_OFF)
        self.parts.paste()

    def name_part(self, part: str) -> None:
        """Open the name of a part to be typed."""
        self._open(TAKE_OFF, self.parts, part, "name")
        self.parts.edit(self.parts.currentIndex())

    def type_sheet(self) -> None:
        """Open the row in which a sheet is typed."""
        self.tabs.setCurrentIndex(SHEETS)
        self.stock.type_new()

    def _open(self, tab: int, table: RowTable, row: str, field: str) -> None:
        self.tabs.setCurrentIndex(tab)
        table.go_to(row, field)

    def _select_parts(self, ids: list[str]) -> None:
        chosen = set(ids)
        keys = [
            (part.id, copy)
            for part in self._document.job.parts
            if part.id in chosen
            for copy in range(1, part.copies + 1)
        ]
        self._document.selection.select_parts(keys)

    def _show_selection(self) -> None:
        self.parts.show_chosen({part for part, _ in self._document.selection.parts})


def _page(pasted: PasteLine, table: RowTable, card: QWidget) -> QWidget:
    """Return a table with what was pasted above and the card of its selected row below."""
    page = QWidget()
    down(pasted, (table, 1), card, on=page, edges=BARE)
    return page
