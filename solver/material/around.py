"""Sheets with bad places as rows of slots: full strips beside a bad place, bands across it.

A band is one strip that crosses bad places. Its blocks lie in cells before, between and
behind them, and each bad place is crosscut out of it as a block of waste. Every free slot
and every cell enters the instance as a room that is there once.
"""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import NamedTuple

from shared.lengths import Length
from shared.shop import Axis
from shared.stock import Stock
from shared.tree import Piece, Run
from solver.material.rooms import Room
from solver.material.started_sheets import in_a_row


class DefectBox(NamedTuple):
    """A bad place in the frame of a room: from where to where across and along its strips."""

    top: Length
    bottom: Length
    left: Length
    right: Length


@dataclass(frozen=True, slots=True, kw_only=True)
class Cell:
    """A part of a band that is free, and where it begins behind the strip's trim."""

    begin: Length
    room: Room


@dataclass(frozen=True, slots=True, kw_only=True)
class Lane:
    """A slot along the first level: where it begins behind the sheet's trim.

    Attributes
    ----------
    begin, width
        In ticks, one kerf in the width.
    room
        Full strips beside the bad places; ``None`` in a band.
    cells
        What is free of a band; none elsewhere.
    """

    begin: Length
    width: Length
    room: Room | None = None
    cells: tuple[Cell, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class SheetAroundDefects:
    """A new sheet that is used on all sides of its bad places.

    ``whole`` is the room it would be without them, ``lanes`` lie from the reference edge on.
    """

    whole: Room
    lanes: tuple[Lane, ...]

    @property
    def stock(self) -> Stock:
        """Its row."""
        return self.whole.stock

    @property
    def rooms(self) -> Iterator[Room]:
        """All that is free."""
        for lane in self.lanes:
            if lane.room is not None:
                yield lane.room
            yield from (cell.room for cell in lane.cells)


class Gap(NamedTuple):
    """A stretch of a run: where it begins, how much it takes, a kerf included."""

    begin: Length
    size: Length


def spots_of(whole: Room) -> list[DefectBox]:
    """Return the bad places of a sheet, in the frame of its room; those of show faces too."""
    usable = whole.stock.usable
    found = [bad.rect.common(usable) for bad in whole.stock.no_go]
    spots = [
        DefectBox(
            rect.y - usable.y, rect.bottom - usable.y, rect.x - usable.x, rect.right - usable.x
        )
        for rect in found
        if rect is not None
    ]
    if whole.transposed:
        spots = [DefectBox(one.left, one.right, one.top, one.bottom) for one in spots]
    return spots


def gaps(taken: Iterable[tuple[Length, Length]], size: Length, kerf: Length) -> Iterator[Gap]:
    """Yield what is free between stretches of a run that must become waste.

    Parameters
    ----------
    taken
        From where to where nothing may lie.
    size
        Of the run, one kerf included.
    kerf
        Width of the slot. A piece of waste is a kerf wide at least.
    """
    at: Length = 0
    for begin, end in sorted(taken):
        if begin >= size - kerf or (at and end <= at):
            continue
        if begin > at:
            yield Gap(at, begin + kerf - at)
            at = begin + kerf
        at = max(end, at + 2 * kerf)
    if size - at > kerf:
        yield Gap(at, size - at)


def lanes_of(whole: Room, key: str, strips: Sequence[Length | None]) -> tuple[Lane, ...]:
    """Return the lanes of a sheet on which strips lie in an order.

    Parameters
    ----------
    whole
        The sheet without its bad places.
    key
        Name of the sheet among the rooms.
    strips
        Widths with a kerf, and one ``None`` for what they leave of the sheet.
    """
    spots = spots_of(whole)
    made: list[Lane] = []
    for begin, width, is_strip in _stretches(whole, strips, spots):
        across = crossing(spots, begin, width, whole.kerf)
        if across:
            made.append(Lane(begin=begin, width=width, cells=_cells(whole, begin, width, across)))
        elif made and _goes_on(whole, made[-1], begin, width, spots):
            made[-1] = replace(made[-1], width=made[-1].width + width, room=whole)
        elif is_strip or width > whole.kerf:
            made.append(Lane(begin=begin, width=width, room=whole))
    return _named(key, tuple(_measured(whole, lane) for lane in made))


def _goes_on(
    whole: Room, lane: Lane, begin: Length, width: Length, spots: Sequence[DefectBox]
) -> bool:
    """Whether a lane can go on to what follows: there may be a bad place in the slot between."""
    if lane.room is None or lane.begin + lane.width != begin:
        return False
    return not crossing(spots, lane.begin, lane.width + width, whole.kerf)


def crossing(
    spots: Sequence[DefectBox], begin: Length, width: Length, kerf: Length
) -> list[DefectBox]:
    """Return the bad places that a strip of a width with a kerf lies on."""
    return [one for one in spots if begin < one.bottom and one.top < begin + width - kerf]


def _stretches(
    whole: Room, strips: Sequence[Length | None], spots: Sequence[DefectBox]
) -> Iterator[tuple[Length, Length, bool]]:
    """Yield begin and width of strips, and of what they leave, split at its bad places."""
    spare = whole.width - sum(width for width in strips if width is not None)
    at: Length = 0
    for width in strips:
        if width is not None:
            yield at, width, True
            at += width
            continue
        inside = crossing(spots, at, spare, whole.kerf)
        yield from _split(at, spare, inside, whole.kerf)
        at += spare


def _split(
    at: Length, width: Length, inside: Sequence[DefectBox], kerf: Length
) -> Iterator[tuple[Length, Length, bool]]:
    """Yield free stretches, and bands just as wide as the bad places that lie in them."""
    end = at + width
    for spot in sorted(inside):
        begin = max(at, spot.top + kerf)
        if begin - at > kerf:
            yield at, begin - at, False
            at = begin
        stop = min(end, max(spot.bottom + kerf, at + 2 * kerf))
        if stop > at:
            yield at, stop - at, False
            at = stop
    if end > at:
        yield at, end - at, False


def _cells(
    whole: Room, begin: Length, width: Length, across: Sequence[DefectBox]
) -> tuple[Cell, ...]:
    """Return the cells of a band between the bad places it crosses."""
    free = gaps([(one.left, one.right) for one in across], whole.length, whole.kerf)
    return tuple(Cell(begin=one.begin, room=_cell(whole, one, width)) for one in free)


def _cell(whole: Room, span: Gap, width: Length) -> Room:
    behind = whole.length - span.begin - span.size
    return replace(
        whole,
        length=span.size,
        width=width,
        exact=(whole.exact[0] and not behind, True),
        trimmed=(whole.trimmed[0] and not span.begin, False),
        beyond=(whole.beyond[0] + behind, 0),
        fixed=True,
    )


def _measured(whole: Room, lane: Lane) -> Lane:
    """Return a lane whose room, if it is one, is as wide as the lane."""
    if lane.room is None:
        return lane
    behind = whole.width - lane.begin - lane.width
    room = replace(
        whole,
        width=lane.width,
        exact=(whole.exact[0], whole.exact[1] and not behind),
        trimmed=(whole.trimmed[0], whole.trimmed[1] and not lane.begin),
        beyond=(whole.beyond[0], whole.beyond[1] + behind),
    )
    return replace(lane, room=room)


def _named(key: str, lanes: Sequence[Lane]) -> tuple[Lane, ...]:
    """Return the lanes with a name in every room."""
    named, number = [], 0
    for lane in lanes:
        room, cells = lane.room, []
        if room is not None:
            room, number = replace(room, place=(key, number)), number + 1
        for cell in lane.cells:
            cells.append(replace(cell, room=replace(cell.room, place=(key, number))))
            number += 1
        named.append(replace(lane, room=room, cells=tuple(cells)))
    return tuple(named)


def sawn_around(
    sheet: SheetAroundDefects, contents: Mapping[tuple[str, int], Sequence[Piece]]
) -> Run | None:
    """Return the tree of cuts of a sheet with its rooms filled; ``None`` if nothing lies on it.

    Parameters
    ----------
    sheet
        The sheet.
    contents
        By place of a room what lies in it, in order: strips, or blocks of a band.
    """
    axis = Axis.CROSSCUT if sheet.whole.transposed else Axis.RIP
    trims = sheet.stock.trims
    first, second = trims.near, trims.start
    if sheet.whole.transposed:
        first, second = second, first
    rows = [
        (lane.begin, _pieces(lane, sheet.whole.kerf, axis, second, contents))
        for lane in sheet.lanes
    ]
    pieces = in_a_row(rows, sheet.whole.kerf, axis)
    return Run(axis=axis, trim=first, pieces=pieces) if pieces else None


def _pieces(
    lane: Lane,
    kerf: Length,
    axis: Axis,
    trim: Length,
    contents: Mapping[tuple[str, int], Sequence[Piece]],
) -> Sequence[Piece]:
    """Return the strips that a lane is sawn into."""
    if lane.room is not None:
        return _in(lane.room, contents)
    blocks = in_a_row(
        [(cell.begin, _in(cell.room, contents)) for cell in lane.cells], kerf, axis.other
    )
    run = Run(axis=axis.other, trim=trim, pieces=blocks)
    return (Piece(size=lane.width - kerf, run=run),) if blocks else ()


def _in(room: Room, contents: Mapping[tuple[str, int], Sequence[Piece]]) -> Sequence[Piece]:
    return () if room.place is None else contents.get(room.place, ())
