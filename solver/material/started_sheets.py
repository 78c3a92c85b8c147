"""Sheets that are begun: what their holds freeze, and the rooms that are left between.

Along the first level of cuts a begun sheet is a row of slots: strips that stay, and free
rooms. In a strip of which only the near part is held, a room of the strip's own width
lies behind what stays. Each room enters the instance as a kind of its own, paid for and
there once.
"""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from shared.geometry import Rect
from shared.layout import Hold, LayoutSheet, Scope
from shared.lengths import Length
from shared.parts import Copy
from shared.shop import Axis
from shared.stock import Stock
from shared.tree import Piece, Place, Run, slice_of
from solver.material.rooms import Room, whole_sheet


@dataclass(frozen=True, slots=True, kw_only=True)
class Slot:
    """One place along the first level: a piece that stays, a free room, or both.

    With both, the room lies in the piece, behind the blocks that stay.
    """

    piece: Piece | None = None
    room: Room | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class StartedSheet:
    """A sheet with holds: its number, its row, and its slots from the reference edge on."""

    sheet: str
    stock: Stock
    run: Run
    slots: tuple[Slot, ...]

    @property
    def rooms(self) -> tuple[Room, ...]:
        """All that is free and clear of the sheet's bad places."""
        bad = [place.rect for place in self.stock.no_go]
        return tuple(
            room for room, rect in self._placed() if not any(rect.overlaps(one) for one in bad)
        )

    def _placed(self) -> Iterator[tuple[Room, Rect]]:
        """Yield each room with its rectangle on the sheet."""
        axis = self.run.axis
        for slot, at, size in self.placed:
            if (room := slot.room) is not None:
                strip = slice_of(self.stock.whole, axis, self.run.trim + at, size)
                yield room, _far_end(strip, self.stock.usable, axis, room.length - room.kerf)

    @property
    def kerf(self) -> Length:
        """Width of the slot, in ticks; 0 where there is no room to fill."""
        return max((slot.room.kerf for slot in self.slots if slot.room is not None), default=0)

    @property
    def placed(self) -> Iterator[tuple[Slot, Length, Length]]:
        """Yield each slot, where it begins behind the trim, and how wide it is, in ticks."""
        at: Length = 0
        for slot in self.slots:
            size: Length = 0
            if slot.piece is not None:
                size = slot.piece.size
            elif slot.room is not None:
                size = slot.room.width - self.kerf
            yield slot, at, size
            at += size + self.kerf

    @property
    def lying(self) -> frozenset[Copy]:
        """All that stays."""
        pieces = [slot.piece for slot in self.slots if slot.piece is not None]
        return frozenset(place.key for place in _places(pieces))


def _far_end(strip: Rect, usable: Rect, axis: Axis, long: Length) -> Rect:
    """Return so much of a strip before the end of what can be used."""
    end = usable.right - strip.x if axis is Axis.RIP else usable.bottom - strip.y
    return slice_of(strip, axis.other, end - long, long)


def begin(
    sheet: LayoutSheet,
    stock: Stock,
    kerf: Length,
    holds: Iterable[Hold],
    reach: Length | None = None,
) -> StartedSheet | None:
    """Return a sheet with what its holds freeze; ``None`` when they freeze nothing.

    Parameters
    ----------
    sheet
        As it lies, with its tree.
    stock, kerf
        Its row, and the width of the slot in ticks.
    holds
        Of strips and parts; those of other sheets are passed over.
    reach
        The longest cut a rail takes, in ticks; ``None`` for no limit.
    """
    run = sheet.tree
    if run is None:
        return None
    mine = [hold for hold in holds if hold.sheet == sheet.id]
    whole = whole_sheet(stock, run.axis is Axis.CROSSCUT, kerf, reach)
    kept = [_kept(piece, run, whole, mine) for piece in run.pieces]
    if not any(kept):
        return None
    slots = tuple(
        slot if slot.room is None else replace(slot, room=replace(slot.room, place=(sheet.id, n)))
        for n, slot in enumerate(_slots(run, whole, kept))
    )
    return StartedSheet(sheet=sheet.id, stock=stock, run=run, slots=slots)


def _kept(piece: Piece, run: Run, whole: Room, holds: Sequence[Hold]) -> Slot | None:
    """Return what stays of a strip, ``None`` when it is free."""
    held = {hold.key: hold.scope for hold in holds}
    found = [held[key] for key in _keys([piece]) if key in held]
    if not found:
        return None
    inner = piece.run
    if Scope.STRIP in found or inner is None or inner.axis is run.axis or inner.kerf:
        return Slot(piece=piece)
    last = max(i for i, block in enumerate(inner.pieces) if held.keys() & set(_keys([block])))
    near = replace(piece, run=replace(inner, pieces=inner.pieces[: last + 1]))
    taken = sum(block.size + whole.kerf for block in inner.pieces[: last + 1])
    return Slot(piece=near, room=_behind(whole, piece.size, whole.length - taken))


def _behind(whole: Room, width: Length, length: Length) -> Room | None:
    """Return the room behind the blocks of a strip that stay, if there is any."""
    if length <= whole.kerf:
        return None
    return replace(
        whole,
        length=length,
        width=width + whole.kerf,
        exact=(whole.exact[0], True),
        trimmed=(False, False),
        fixed=True,
        beyond=(whole.beyond[0], 0),
    )


def _slots(run: Run, whole: Room, kept: Sequence[Slot | None]) -> Iterator[Slot]:
    """Yield what stays, and the rooms between."""
    free: Length = 0
    at: Length = 0
    for piece, slot in zip(run.pieces, kept, strict=True):
        size = piece.size + whole.kerf
        at += size
        if slot is None:
            free += size
            continue
        if free:
            behind = whole.width - at + size + whole.beyond[1]
            yield Slot(room=_between(whole, free, exact=True, behind=behind))
        yield slot
        free = 0
    free += whole.width - at
    if free > whole.kerf:
        yield Slot(room=_between(whole, free, exact=whole.exact[1], behind=whole.beyond[1]))


def _between(whole: Room, width: Length, *, exact: bool, behind: Length) -> Room:
    return replace(
        whole,
        width=width,
        exact=(whole.exact[0], exact),
        trimmed=(whole.trimmed[0], False),
        beyond=(whole.beyond[0], behind),
    )


def _keys(pieces: Iterable[Piece]) -> list[Copy]:
    return [place.key for place in _places(pieces)]


def _places(pieces: Iterable[Piece]) -> Iterator[Place]:
    for piece in pieces:
        if piece.place is not None:
            yield piece.place
        if piece.run is not None:
            yield from _places(piece.run.pieces)


def finished(begun: StartedSheet, contents: Mapping[tuple[str, int], Sequence[Piece]]) -> Run:
    """Return the tree of cuts of a begun sheet with its rooms filled.

    Parameters
    ----------
    begun
        The sheet.
    contents
        By place of a room what lies in it, in order: strips, or blocks behind those that
        stay.

    Notes
    -----
    What stays must not move, so what the strips leave of a room before it becomes a piece
    of waste; less than a kerf cannot, and widens the last strip instead, whose parts are
    ripped to width then.
    """
    rows: list[tuple[Length, Sequence[Piece]]] = []
    for number, (slot, at, _) in enumerate(begun.placed):
        filled = contents.get((begun.sheet, number), ())
        rows.append((at, filled if slot.piece is None else (_joined(slot.piece, filled),)))
    return replace(begun.run, pieces=in_a_row(rows, begun.kerf, begun.run.axis))


def _joined(piece: Piece, blocks: Sequence[Piece]) -> Piece:
    if not blocks or piece.run is None:
        return piece
    return replace(piece, run=replace(piece.run, pieces=(*piece.run.pieces, *blocks)))


def in_a_row(
    groups: Iterable[tuple[Length, Sequence[Piece]]], kerf: Length, axis: Axis
) -> tuple[Piece, ...]:
    """Return pieces of a run that begin where they have to, with waste between.

    Less than a kerf cannot be a piece; it widens the strip before it.
    """
    row: list[Piece] = []
    at: Length = 0
    for begin, pieces in groups:
        if not pieces:
            continue
        if begin - at > kerf:
            row.append(Piece(size=begin - at - kerf))
        elif begin > at:
            row[-1] = _widened(row[-1], begin - at, axis)
        at = begin + sum(piece.size + kerf for piece in pieces)
        row += pieces
    return tuple(row)


def _widened(strip: Piece, by: Length, axis: Axis) -> Piece:
    """Return a strip that is wider, with its blocks ripped to the width they have."""
    assert strip.run is not None
    blocks = tuple(_ripped(block, strip.size, axis) for block in strip.run.pieces)
    return Piece(size=strip.size + by, run=replace(strip.run, pieces=blocks))


def _ripped(block: Piece, width: Length, axis: Axis) -> Piece:
    """Return a block of a wider strip: what filled its width is ripped off it first."""
    if block.run is not None and block.run.axis is axis:
        return block
    inner = Piece(size=width, run=block.run, place=block.place)
    return Piece(size=block.size, run=Run(axis=axis, pieces=(inner,)))
