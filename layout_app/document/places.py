"""Looks up what the document knows of a sheet: what lies there, and where something could."""

from collections.abc import Collection, Iterator
from dataclasses import replace
from itertools import product

from layout_app.document.document import Document
from layout_app.document.judging_many import judge_here
from layout_app.model.carried import Cargo
from layout_app.model.landing import frame_of
from layout_app.model.rooms import rooms
from layout_app.model.stops import SnapGround, Way, high, low
from layout_app.model.table_slots import table_slots
from shared.geometry import Rect
from shared.layout import Layout
from shared.lengths import Length, step
from shared.parts import Copy
from shared.shop import Axis
from shared.stock import Stock
from shared.tree import piece_rects


class Places:
    """Finds sheets by id, what lies on them, and where something could lie."""

    def __init__(self, document: Document) -> None:
        self._document = document
        self._found: tuple[Layout, dict[str, list[Rect]]] | None = None

    def stock(self, sheet: str) -> Stock:
        """Return the stock row a sheet comes from."""
        return self._document.job.stock_row(self._document.layout.sheet(sheet).stock)

    def name_at(self, sheet: str, rect: Rect) -> str:
        """Return the name of the part that lies at a place of a sheet; ``""`` if none does."""
        lying = self._document.layout.sheet(sheet).placements
        return next((self._document.job.named(one.key) for one in lying if one.rect == rect), "")

    def ground(self, sheet: str, *copies: Copy) -> SnapGround:
        """Return what copies in the hand can snap to on a sheet."""
        job, held = self._document.job, set(copies)
        others = tuple(
            one.rect for one in self._document.layout.sheet(sheet).placements if one.key not in held
        )
        stock, show = self.stock(sheet), any(job.part(part).show for part, _ in copies)
        here, away = self._running(sheet, others)
        before, behind = table_slots(
            self._document.layout.sheet(sheet).tree, stock.whole, job.shop.kerf
        )
        return SnapGround(
            usable=stock.usable,
            others=others,
            bad=tuple(bad.rect for bad in stock.no_go if bad.bars(show=show)),
            kerf=job.shop.kerf,
            step=step(job.style),
            rooms=tuple(self._rooms(sheet, held)),
            running_x=here[Way.X],
            running_y=here[Way.Y],
            away_x=away[Way.X],
            away_y=away[Way.Y],
            table_kerf=0 if job.shop.table is None else job.shop.table.kerf,
            before=before,
            behind=behind,
        )

    def _rooms(self, sheet: str, held: Collection[Copy]) -> Iterator[Rect]:
        """Yield what the cuts of a sheet leave free besides what is in the hand, less the trims."""
        tree, stock = self._document.layout.sheet(sheet).tree, self.stock(sheet)
        for room in rooms(tree, stock.whole, self._document.job.shop.kerf, held):
            inside = room.common(stock.usable)
            if inside is not None:
                yield inside

    def _running(
        self, sheet: str, others: tuple[Rect, ...]
    ) -> tuple[dict[Way, tuple[Length, ...]], dict[Way, tuple[Length, ...]]]:
        """Return where first cuts run on this sheet, and on others, all in its frame.

        On this sheet those that saw off nothing but what is in the hand are no matter.
        """
        usable = self.stock(sheet).usable
        here: dict[Way, set[Length]] = {way: set() for way in Way}
        away: dict[Way, set[Length]] = {way: set() for way in Way}
        for each, pieces in self._pieces().items():
            way, from_edge = self.way_of(each), self.stock(each).usable
            by = low(usable, way) - low(from_edge, way)
            found = here if each == sheet else away
            found[way] |= {
                high(piece, way) + by
                for piece in pieces
                if each != sheet or any(piece.contains(other) for other in others)
            }
        return _within(here, usable), _within(away, usable)

    def _pieces(self) -> dict[str, list[Rect]]:
        """Return the first-level pieces of each sheet."""
        layout = self._document.layout
        if self._found is None or self._found[0] is not layout:
            self._found = layout, {one.id: self.first_pieces(one.id) for one in layout.sheets}
        return self._found[1]

    def first_place(self, sheet: str, cargo: Cargo) -> tuple[Length, Length]:
        """Return where parts fit and can be cut: of the first one, its corner on the sheet.

        Nearest the reference corner; in the usable corner of the sheet if there is no such place.
        """
        ground = self.ground(sheet, *cargo.keys)
        frame = frame_of(piece.rect(0, 0) for piece in cargo.pieces)
        for y, x in product(_corners(ground, Way.Y), _corners(ground, Way.X)):
            at = x - frame.x, y - frame.y
            if self._is_free(sheet, cargo, at, ground):
                return at
        return ground.usable.x - frame.x, ground.usable.y - frame.y

    def first_pieces(self, sheet: str) -> list[Rect]:
        """Return the first-level pieces from the reference edge on; none without cuts."""
        tree, stock = self._document.layout.sheet(sheet).tree, self.stock(sheet)
        if tree is None:
            return []
        rect = stock.whole
        kerf = self._document.job.shop.kerf
        return [inside for _, inside in piece_rects(tree, rect, kerf)]

    def way_of(self, sheet: str) -> Way:
        """Return the direction in which the first-level pieces follow each other."""
        tree = self._document.layout.sheet(sheet).tree
        return Way.X if tree is not None and tree.axis is Axis.CROSSCUT else Way.Y

    def rip_at(self, sheet: str, x: Length, y: Length) -> int | None:
        """Return which first-level piece lies at a point of a sheet, in ticks."""
        for index, rect in enumerate(self.first_pieces(sheet)):
            if rect.x <= x <= rect.right and rect.y <= y <= rect.bottom:
                return index
        return None

    def _is_free(
        self, sheet: str, cargo: Cargo, at: tuple[Length, Length], ground: SnapGround
    ) -> bool:
        """Say whether parts can lie together on a sheet, the corner of the first one there."""
        rects = [piece.rect(*at) for piece in cargo.pieces]
        if not ground.usable.contains(frame_of(rects)):
            return False
        if any(rect.overlaps(other) for rect in rects for other in ground.others):
            return False
        laid = (replace(one, sheet=sheet) for one in cargo.placements(sheet, *at))
        return judge_here(self._document, self._document.layout.sheet(sheet), *laid).good


def _within(found: dict[Way, set[Length]], usable: Rect) -> dict[Way, tuple[Length, ...]]:
    return {way: tuple(sorted(at for at in found[way] if at < high(usable, way))) for way in Way}


def _corners(ground: SnapGround, way: Way) -> list[Length]:
    """Return where a part may begin: at the usable edge, or behind a part or a bad place."""
    start = ground.usable.x if way is Way.X else ground.usable.y
    ends = (high(one, way) + ground.kerf_behind(one, way) for one in ground.others)
    bad = (b.right if way is Way.X else b.bottom for b in ground.bad)
    return sorted({start, *ends, *bad})
