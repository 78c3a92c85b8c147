"""Looks up what the document and the scene know of a sheet, for gestures."""

from itertools import product

from layout_app import laying
from layout_app.bench.frame import Stand
from layout_app.bench.judge import judge
from layout_app.bench.scene import BenchScene
from layout_app.bench.snapping import Ground, Way
from layout_app.document import Document
from layout_app.selection import Copy
from shared.geometry import Rect
from shared.layout import LayoutSheet
from shared.lengths import Length, step
from shared.plan import Placement
from shared.shop import Axis
from shared.stock import Stock
from shared.tree import piece_rects


class Places:
    """Finds sheets by id, what lies on them, and where something could lie."""

    def __init__(self, document: Document) -> None:
        self._document = document

    def layout(self, sheet: str) -> LayoutSheet:
        """Return a sheet of the layout; KeyError if there is none."""
        return laying.sheet_of(self._document.layout, sheet)

    def stock(self, sheet: str) -> Stock:
        """Return the stock row a sheet comes from."""
        return self._document.job.stock_row(self.layout(sheet).stock)

    def placement(self, copy: Copy) -> Placement | None:
        """Return where a copy lies, or ``None`` when it waits."""
        return laying.find(self._document.layout, copy)

    def ground(self, sheet: str, copy: Copy) -> Ground:
        """Return what a copy can snap to on a sheet."""
        job = self._document.job
        others = tuple(
            one.rect for one in self.layout(sheet).placements if (one.part, one.copy) != copy
        )
        stock, show = self.stock(sheet), job.part(copy[0]).show
        return Ground(
            usable=stock.usable,
            others=others,
            bad=tuple(bad.rect for bad in stock.no_go if bad.bars(show=show)),
            kerf=job.shop.kerf,
            step=step(job.style),
        )

    def first_place(self, sheet: str, copy: Copy, turned: bool) -> tuple[Length, Length]:
        """Return the corner nearest the reference corner where a copy fits and can be cut.

        The usable corner of the sheet if there is none.
        """
        ground, part = self.ground(sheet, copy), self._document.job.part(copy[0])
        length, width = part.cut_length, part.cut_width
        if turned:
            length, width = width, length
        for y, x in product(_corners(ground, Way.Y), _corners(ground, Way.X)):
            rect = Rect(x=x, y=y, length=length, width=width)
            if self._is_free(sheet, copy, turned, rect, ground):
                return x, y
        return ground.usable.x, ground.usable.y

    def first_pieces(self, sheet: str) -> list[Rect]:
        """Return the first-level pieces from the reference edge on; none without cuts."""
        tree, stock = self.layout(sheet).tree, self.stock(sheet)
        if tree is None:
            return []
        rect = Rect(x=0, y=0, length=stock.length, width=stock.width)
        kerf = self._document.job.shop.kerf
        return [inside for _, inside in piece_rects(tree, rect, kerf)]

    def way_of(self, sheet: str) -> Way:
        """Return the direction in which the first-level pieces follow each other."""
        tree = self.layout(sheet).tree
        return Way.X if tree is not None and tree.axis is Axis.CROSSCUT else Way.Y

    def rip_at(self, sheet: str, x: Length, y: Length) -> int | None:
        """Return which first-level piece lies at a point of a sheet, in ticks."""
        for index, rect in enumerate(self.first_pieces(sheet)):
            if rect.x <= x <= rect.right and rect.y <= y <= rect.bottom:
                return index
        return None

    def _is_free(self, sheet: str, copy: Copy, turned: bool, rect: Rect, ground: Ground) -> bool:
        if not ground.usable.contains(rect) or any(rect.overlaps(o) for o in ground.others):
            return False
        placement = Placement(
            part=copy[0],
            copy=copy[1],
            sheet=sheet,
            x=rect.x,
            y=rect.y,
            length=rect.length,
            width=rect.width,
            turned=turned,
        )
        return judge(self._document.job, self.layout(sheet), placement).good


class Sheets(Places):
    """Knows besides where each sheet stands on the bench."""

    def __init__(self, document: Document, scene: BenchScene) -> None:
        super().__init__(document)
        self._scene = scene

    def stand(self, sheet: str) -> Stand:
        """Return where a sheet stands in the scene; KeyError if there is none."""
        return {stand.sheet: stand for stand in self._scene.floor.stands}[sheet]


def _corners(ground: Ground, way: Way) -> list[Length]:
    """Return where a part may begin: at the usable edge, or behind a part or a bad place."""
    start = ground.usable.x if way is Way.X else ground.usable.y
    ends = ((o.right if way is Way.X else o.bottom) + ground.kerf for o in ground.others)
    bad = (b.right if way is Way.X else b.bottom for b in ground.bad)
    return sorted({start, *ends, *bad})
