"""All sheets of the document, drawn to scale as the saw meets them."""

from collections.abc import Iterable, Iterator, Mapping
from functools import partial

from PySide6.QtCore import QObject, QPointF, QRectF, QSize, Signal
from PySide6.QtWidgets import QGraphicsScene

from layout_app.bench.drawings import Drawings, Looks
from layout_app.bench.frame import COMMON_ROOM_PX, Floor, Stand, columns_in_view, lay_out, to_rectf
from layout_app.bench.held_signs import words_of
from layout_app.bench.lettering import uncut_words
from layout_app.bench.overlays import SelectionOutline
from layout_app.bench.pictures import Darkroom
from layout_app.bench.sheet_item import SheetItem, rect_of
from layout_app.document.document import Document
from layout_app.look.theme import Theme
from layout_app.model.locks import HeldArea
from shared.drawing import Role
from shared.layout import Hold, Layout, LayoutSheet
from shared.lengths import Length
from shared.parts import Copy


class BenchScene(QGraphicsScene):
    """Keeps one item for each sheet in step with the document."""

    rebuilt = Signal()
    """Sheets stand where they did not stand before."""

    def __init__(self, document: Document, theme: Theme, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._document = document
        self._drawings = Drawings(document)
        self.darkroom = Darkroom()
        self._found: tuple[Layout, dict[Copy, str]] | None = None
        self.lock_costs: Mapping[Hold, str] = {}
        """What is said of locks that cost something."""
        self.theme = theme
        self._room_px: float = COMMON_ROOM_PX
        self._columns = 1
        self.floor: Floor = lay_out(())
        self._items: dict[str, SheetItem] = {}
        self._selection = SelectionOutline(theme)
        self.addItem(self._selection)
        document.layout_changed.connect(self.refresh)
        document.progress_changed.connect(self.refresh)
        document.job_changed.connect(self.refresh)
        document.selection.changed.connect(self.refresh)
        self.refresh()

    def set_theme(self, theme: Theme) -> None:
        """Draw everything again in other colours."""
        self.theme = self._selection.theme = theme
        self._drop_all()
        self.refresh()

    def show_lock_costs(self, costs: Mapping[Hold, str]) -> None:
        """Say beside the signs of locks what they cost."""
        self.lock_costs = costs
        self.refresh()

    def suit(self, room_px: float) -> None:
        """Give the margins the share they need in a view of that width."""
        self._room_px = room_px
        self.refresh()

    def stand_below(self) -> None:
        """Let sheets stand one below the other."""
        self._columns = 1
        self.refresh()

    def stand_beside(self, view_px: QSize) -> None:
        """Let sheets stand in as many columns as show all of them largest in a view."""
        sizes, across = self._sizes()
        self._columns = columns_in_view(sizes, view_px.width(), view_px.height(), across)
        self.refresh()

    def refresh(self) -> None:
        """Draw anew the sheets that look different now."""
        sizes, across = self._sizes()
        columns = max(1, min(self._columns, len(sizes)))
        floor = lay_out(sizes, self._room_px, across, columns)
        if floor != self.floor:
            self._drop_all()
            self.floor = floor
            self.setSceneRect(floor.bounds)
            self.rebuilt.emit()
        for sheet, stand in zip(self._document.layout.sheets, floor.stands, strict=True):
            self._show(stand, sheet, self._drawings.looks(sheet))
        self.outline()

    def outline(self) -> None:
        """Outline the selected parts; again after a zoom, since handles keep their size."""
        only = len(self._document.selection.parts) == 1
        self._selection.show_rects(self.selected_rects(), handles=only)

    def selected_rects(self) -> list[QRectF]:
        """Return where the selected parts are drawn."""
        return self.rects_of(self._document.selection.parts)

    def rects_of(self, copies: Iterable[Copy]) -> list[QRectF]:
        """Return where copies of parts are drawn, in the scene."""
        found = (rect_of(item, copy) for copy in sorted(copies) for item in self._with(copy))
        return [rect for rect in found if rect is not None]

    def show_selection(self, shown: bool) -> None:
        """Show the outlines of the selected parts, or hide them during a gesture."""
        self._selection.setVisible(shown)

    def tint_of(self, copy: Copy) -> int | None:
        """Return the tint a copy is drawn with, ``None`` where it lies in no strip."""
        boxes = (box for item in self._with(copy) for box in item.drawing.boxes)
        return next((box.tint for box in boxes if box.copy_key == copy), None)

    def sheet_item(self, sheet: str) -> SheetItem | None:
        """Return the item of a sheet."""
        return self._items.get(sheet)

    def sheet_at(self, point: QPointF) -> SheetItem | None:
        """Return the item of the sheet at a point of the scene, its surroundings included."""
        for item in self._items.values():
            if item.sceneBoundingRect().contains(point):
                return item
        return None

    def selected_rect(self) -> QRectF | None:
        """Return what should be in sight: the selected cut's sheet, or a selected part."""
        number, plan = self._document.selection.cut, self._document.plan
        if number is not None and plan is not None and plan.has_cut(number):
            item = self._items.get(plan.cut(number).sheet)
            return None if item is None else item.sceneBoundingRect()
        return next(iter(self.selected_rects()), None)

    def tip_at(self, point: QPointF) -> str:
        """Return name and size of what lies at a point; ``""`` for nothing."""
        item = self.sheet_at(point)
        if item is None:
            return ""
        inside = point - item.pos()
        labels = [one for one in item.drawing.labels if to_rectf(one.rect).contains(inside)]
        held = [words_of(one) for one in item.held if to_rectf(one.rect).contains(inside)]
        words = ", ".join([labels[-1].told, *held[:1]]) if labels else ""
        return "\n".join(filter(None, (words, self._in_the_way(item, inside))))

    def _in_the_way(self, item: SheetItem, inside: QPointF) -> str:
        """Say why a sheet can't be cut where something is in the way, and below its edge."""
        boxes = item.drawing.boxes
        marked = (box for box in boxes if box.problem or box.role in (Role.IN_THE_WAY, Role.KNOT))
        here = any(to_rectf(box.rect).contains(inside) for box in marked)
        below = inside.y() > item.stand.width
        return uncut_words(item.drawing) if here or below else ""

    @property
    def sheet_items(self) -> tuple[SheetItem, ...]:
        """All sheets from top to bottom."""
        return tuple(self._items.values())

    def _sizes(self) -> tuple[list[tuple[str, Length, Length]], set[str]]:
        """Return the sheets with their sizes, and which of them are cut across first."""
        job = self._document.job
        rows = {row.id: row for row in job.stock}
        sheets = self._document.layout.sheets
        stocks = ((sheet.id, rows[sheet.stock]) for sheet in sheets)
        across = {one.id for one in sheets if self._drawings.is_across(one.id)}
        return [(sheet, row.length, row.width) for sheet, row in stocks], across

    def _with(self, copy: Copy) -> Iterator[SheetItem]:
        """Yield the item of the sheet a copy lies on; the others need not be drawn for it."""
        layout = self._document.layout
        if self._found is None or self._found[0] is not layout:
            lies = (one for sheet in layout.sheets for one in sheet.placements)
            self._found = layout, {one.key: one.sheet for one in lies}
        item = self._items.get(self._found[1].get(copy, ""))
        if item is not None:
            yield item

    def _show(self, stand: Stand, sheet: LayoutSheet, looks: Looks) -> None:
        old, held = self._items.get(stand.sheet), self._held_of(sheet.id)
        begun = sheet.id in self._document.progress.sheets
        if old is not None and (old.looks, old.yours, old.held, old.begun) == (
            looks,
            sheet.yours,
            held,
            begun,
        ):
            return
        if old is not None:
            self.removeItem(old)
        item = SheetItem(
            stand,
            self.floor,
            partial(self._drawings.of, sheet),
            self.theme,
            looks=looks,
            darkroom=self.darkroom,
            yours=sheet.yours,
            begun=begun,
            held=held,
            before=old,
        )
        self._items[stand.sheet] = item
        self.addItem(item)

    def _held_of(self, sheet: str) -> tuple[HeldArea, ...]:
        return self._document.held.areas(sheet, self.lock_costs)

    def _drop_all(self) -> None:
        for item in self._items.values():
            self.removeItem(item)
        self._items = {}
        self.darkroom.clear()
