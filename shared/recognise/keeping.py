"""From the tree a sheet had to one for what lies on it now, as little changed as can be.

What left its place becomes waste; waste beside waste is one piece, and behind the last part
it joins the fall. What came is cut from the free piece it lies in. The cuts of everything
else stay as they were.
"""

from collections.abc import Iterator, Sequence
from typing import NamedTuple

from shared.lengths import Length
from shared.plan import Placement
from shared.recognise.boxes import ENDS, Area, Box, SheetGround, sliced
from shared.recognise.sawn import Bit, SawnRun
from shared.recognise.search import DivisionSearch, Solved
from shared.tree import Piece, Run, places

STATES = 400
"""Bounds the search for cuts in a free piece to a few milliseconds."""


class Kept(NamedTuple):
    """What becomes of a sheet's old tree.

    ``sawn`` are its cuts for what lies there now, ``None`` if they cannot stay: some part lies
    across them, or in a free piece that cannot be cut so. ``came`` says that parts lie where
    none lay, ``same`` that all lies as it lay.
    """

    sawn: SawnRun | None = None
    came: bool = True
    same: bool = False


def keep(
    before: Run, ground: SheetGround, boxes: list[Box], placements: Sequence[Placement]
) -> Kept:
    """Return the cuts of a sheet's old tree for the parts that lie there now."""
    lay = {
        (at.part, at.copy, at.turned, box) for at, box in places(before, ground.rect, ground.kerf)
    }
    now = [(one.part, one.copy, one.turned, one.rect) for one in placements]
    stay = frozenset(box[:4] for box, one in zip(boxes, now, strict=True) if one in lay)
    if not stay:
        return Kept()
    sawn = _Keeper(stay, DivisionSearch(ground, None, STATES)).run(before, ground.area, boxes, 1)
    came, gone = len(stay) < len(boxes), len(stay) < len(lay)
    return Kept(sawn, came, same=not came and not gone)


class _Slot(NamedTuple):
    """A product of a run, begin and end at right angles to its cuts; without a piece it is free."""

    start: Length
    end: Length
    piece: Piece | None = None


class _Keeper:
    """Walks an old tree, a sheet first, with the parts that lie in each piece now."""

    def __init__(self, unmoved: frozenset[Area], search: DivisionSearch) -> None:
        self._unmoved = unmoved
        self._search = search
        self._kerf = search.ground.kerf

    def run(self, run: Run, area: Area, boxes: list[Box], level: int) -> SawnRun | None:
        """Return how a piece is divided that a run divided before."""
        begin, end = ENDS[run.axis]
        slots = list(self._slots(run, area))
        bits: list[Bit] = []
        for slot in slots:
            inside = [box for box in boxes if slot.start <= box[begin] and box[end] <= slot.end]
            boxes = [box for box in boxes if box not in inside]
            bit = self._bit(sliced(area, run.axis, slot.start, slot.end), slot, inside, run, level)
            if bit is None:
                return None
            bits.append(bit)
        last = slots[-1].end if slots else area[begin] + run.trim
        kept = SawnRun(run.axis, run.trim, tuple(bits), area[end] - last, run.kerf)
        return self._with_tail(kept, area, boxes, level) if boxes else kept

    def _slots(self, run: Run, area: Area) -> Iterator[_Slot]:
        """Yield the products up to the last that stays, free ones joined."""
        at, free = area[ENDS[run.axis][0]] + run.trim, None
        for piece in run.pieces:
            slot = _Slot(at, at + piece.size, piece)
            at = slot.end + run.kerf_or(self._kerf)
            if not self._stays(piece, sliced(area, run.axis, slot.start, slot.end)):
                free = _Slot(slot.start if free is None else free.start, slot.end)
                continue
            if free is not None:
                yield free
            free = None
            yield slot

    def _stays(self, piece: Piece, area: Area) -> bool:
        """Say whether any part in a piece lies where it lay."""
        if piece.place is not None:
            return area in self._unmoved
        if piece.run is None:
            return False
        at = area[ENDS[piece.run.axis][0]] + piece.run.trim
        for inner in piece.run.pieces:
            if self._stays(inner, sliced(area, piece.run.axis, at, at + inner.size)):
                return True
            at += inner.size + piece.run.kerf_or(self._kerf)
        return False

    def _bit(self, area: Area, slot: _Slot, boxes: list[Box], run: Run, level: int) -> Bit | None:
        """Return what becomes of a product."""
        size = slot.end - slot.start
        if not boxes:
            return Bit(size)
        if slot.piece is not None and slot.piece.run is not None:
            kept = self.run(slot.piece.run, area, boxes, level + 1)
            if kept is not None:
                return Bit(size, kept)
        way = self._search.piece(area, boxes, run.axis.other, level + 1)
        return way and Bit(size, way.run, way.part)

    def _with_tail(self, kept: SawnRun, area: Area, boxes: list[Box], level: int) -> SawnRun | None:
        """Cut what lies behind the products that stay, or nowhere if it lies across cuts."""
        begin, end = ENDS[kept.axis]
        kerf = kept.kerf or self._kerf
        start = area[end] - kept.left + (kerf if kept.bits else 0)
        if kept.left <= kerf or any(box[begin] < start for box in boxes):
            return None
        tail = sliced(area, kept.axis, start, area[end])
        way = self._tail(kept, tail, boxes, level)
        if way is not None and way.run is not None:
            return kept._replace(bits=(*kept.bits, *way.run.bits), left=way.run.left)
        way = self._search.piece(tail, boxes, kept.axis.other, level + 1)
        bit = way and Bit(area[end] - start, way.run, way.part)
        return bit and kept._replace(bits=(*kept.bits, bit), left=0)

    def _tail(self, kept: SawnRun, tail: Area, boxes: list[Box], level: int) -> Solved | None:
        """Return how a run goes on behind its products, with its own kerf if it has one."""
        if not kept.kerf:
            return self._search.run(tail, boxes, kept.axis, level)
        ground = self._search.ground._replace(kerf=kept.kerf)
        way = DivisionSearch(ground, None, STATES).run(tail, boxes, kept.axis, level)
        # What is in its pieces is sawn with the other saw again.
        deeper = way is None or way.run is None or any(bit.run for bit in way.run.bits)
        return None if deeper else way
