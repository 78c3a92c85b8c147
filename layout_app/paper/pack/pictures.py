"""Small pictures of the reading page: pieces of the job seen from above, drawn line by line."""

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass
from typing import Final

from layout_app.paper import ink
from layout_app.paper.pack.book import MEASURE
from layout_app.paper.pack.setting import LEADING, length_of, shortened, words, wrapped
from layout_app.paper.pack.signs import tick_box
from layout_app.paper.pens import HATCH, NARROW, OUTLINE
from shared.drawing import hatch
from shared.geometry import Rect

SIZE: Final = 4.0
"""Text size in mm, as all words of the pack."""
LINE: Final = LEADING * SIZE
GREY, BAND = "#dddddd", "#bbbbbb"
"""What is pointed at, or a bar; a rail."""
THIN: Final = ink.Pen(width=NARROW)
THICK: Final = ink.Pen(width=OUTLINE)

DrawAt = Callable[[float, float, float], Iterable[ink.Item]]
"""Draws with its top left corner at x, y, so many mm long at most."""


@dataclass(frozen=True, slots=True)
class Picture:
    """A picture ``height`` mm high, as long as the column that it stands in."""

    height: float
    draw: DrawAt


def line(*spots: ink.Spot, pen: ink.Pen = THIN) -> ink.Item:
    """Draw a line through spots."""
    return ink.Strokes(lines=(spots,), pen=pen)


def said(text: str, x: float, y: float, *, bold: bool = False) -> ink.Item:
    """Write a text around x, the middle of its capitals at y."""
    return words(text, x, y, SIZE, bold=bold, anchor=ink.Anchor.MIDDLE)


def arrow(tail: ink.Spot, tip: ink.Spot) -> Iterator[ink.Item]:
    """Draw an arrow along x or along y."""
    (x, y), head = tip, 1.6
    yield line(tail, tip)
    if tail[1] == y:
        back = x - head if x > tail[0] else x + head
        yield ink.Patch(outlines=((tip, (back, y - 0.8), (back, y + 0.8)),), fill="#000000")
    else:
        back = y - head if y > tail[1] else y + head
        yield ink.Patch(outlines=((tip, (x - 0.8, back), (x + 0.8, back)),), fill="#000000")


def mark_v(x: float, y: float) -> ink.Item:
    """Draw the V that points down to an edge at x, y."""
    return line((x - 1.6, y - 2.8), (x, y - 0.4), (x + 1.6, y - 2.8), pen=THICK)


def mark_v_aside(x: float, y: float) -> ink.Item:
    """Draw the V that points right to an end at x, y."""
    return line((x - 2.8, y - 1.6), (x - 0.4, y), (x - 2.8, y + 1.6), pen=THICK)


# --- names -----------------------------------------------------------------------------

STEP: Final = 7.0
"""Between two pieces that are sawn from one another, in mm."""
LEAST: Final = 3.0
"""The least height or length of a piece drawn, in mm."""


def names_picture(chain: Sequence[tuple[str, Rect]]) -> Picture:
    """Draw a piece beside the one it is sawn from, each with the next one in it in grey."""
    high = 11.0

    def draw(x: float, y: float, length: float) -> Iterator[ink.Item]:
        room = (length - STEP * (len(chain) - 1)) / len(chain)
        for place, (name, rect) in enumerate(chain):
            left = x + place * (room + STEP)
            inner = chain[place + 1][1] if place + 1 < len(chain) else None
            yield from _within(rect, inner, ink.Spread(x=left, y=y, length=room, width=high))
            yield said(
                shortened(name, room + STEP - 1, SIZE, bold=True),
                left + room / 2,
                y + high + LINE / 2,
                bold=True,
            )
            if inner is not None:
                yield from arrow(
                    (left + room + 1.2, y + high / 2), (left + room + STEP - 1.2, y + high / 2)
                )

    return Picture(high + LINE, draw)


def _within(rect: Rect, inner: Rect | None, room: ink.Spread) -> Iterator[ink.Item]:
    """Draw a piece as large as there is room, and in grey what is sawn from it next."""
    scale = min(room.length / rect.length, room.width / rect.width)
    long, wide = (max(LEAST, side * scale) for side in (rect.length, rect.width))
    x, y = room.x + (room.length - long) / 2, room.y + (room.width - wide) / 2
    if inner is not None:
        kx, ky = long / rect.length, wide / rect.width
        yield ink.Plate(
            x=x + (inner.x - rect.x) * kx,
            y=y + (inner.y - rect.y) * ky,
            length=max(0.8, inner.length * kx),
            width=max(0.8, inner.width * ky),
            fill=BAND,
            pen=THIN,
        )
    yield ink.Plate(x=x, y=y, length=long, width=wide, pen=THICK)


# --- edges and marks -------------------------------------------------------------------


def edges_picture(name: str) -> Picture:
    """Draw a piece with the names of its edges and ends, and what is pencilled on it."""
    high = 12.0

    def draw(x: float, y: float, length: float) -> Iterator[ink.Item]:
        left, right = (length_of(text, SIZE) for text in ("left end", "right end"))
        box = ink.Spread(x=x + left + 5, y=y + LINE, length=length - left - right - 7, width=high)
        middle = box.x + box.length / 2, box.y + high / 2
        yield box.plate(pen=THICK)
        yield said("reference edge", middle[0], y + LINE / 2 - 0.4)
        yield said("far edge", middle[0], box.bottom + LINE / 2 + 0.2)
        yield words("left end", x, middle[1] - 4, SIZE)
        yield words("right end", box.right + 2, middle[1], SIZE)
        yield mark_v_aside(box.x, middle[1] + 3)
        yield mark_v(box.x + 6, box.y)
        yield said("REF", middle[0], box.y + LINE / 2, bold=True)
        yield words("LEFT", box.x + 1.5, box.bottom - LINE / 2, SIZE, bold=True)
        yield said(
            shortened(name, box.length - 28, SIZE, bold=True),
            middle[0],
            box.bottom - LINE / 2,
            bold=True,
        )

    return Picture(2 * LINE + high, draw)


# --- bars and boxes --------------------------------------------------------------------


def bar_picture(bar: str, more: str, title: str, passes: Sequence[tuple[int, str]]) -> Picture:
    """Draw a bar of a set-up, the title of its row, and a box with its number for each pass."""
    box, apart = 5.0, LINE + 0.8
    lines = [(text, True) for text in wrapped(bar, MEASURE - 4, SIZE, bold=True)]
    lines += [(text, False) for text in wrapped(more, MEASURE - 4, SIZE) if more]
    high = len(lines) * LINE + 1

    def draw(x: float, y: float, length: float) -> Iterator[ink.Item]:
        yield ink.Plate(x=x, y=y, length=length, width=high, fill=GREY)
        for place, (text, bold) in enumerate(lines):
            yield words(text, x + 2, y + 0.5 + (place + 0.5) * LINE, SIZE, bold=bold)
        top = y + high + 0.4
        if len(passes) > 1:
            yield words(
                shortened(title, length, SIZE, bold=True), x, top + LINE / 2, SIZE, bold=True
            )
            top += LINE
        for place, (number, makes) in enumerate(passes):
            middle = top + (place + 0.5) * apart
            yield from tick_box(x + 1, middle, box)
            yield words(str(number), x + box + 3, middle, SIZE, bold=True)
            start = x + box + 5 + length_of(str(number), SIZE, bold=True)
            text = shortened(makes or title, x + length - start, SIZE)
            yield words(text, start, middle, SIZE)

    titled = LINE if len(passes) > 1 else 0.0
    return Picture(high + titled + len(passes) * apart + 0.6, draw)


# --- marks -----------------------------------------------------------------------------


def marked_picture(size: str, *, rip: bool) -> Picture:
    """Draw a piece with the size marked at both ends of the line, or at both edges."""
    high = 12.0

    def draw(x: float, y: float, length: float) -> Iterator[ink.Item]:
        box = ink.Spread(x=x + 4, y=y + 3, length=length - 8, width=high)
        yield box.plate(pen=THICK)
        pen = ink.Pen(width=NARROW, dashes=(2.0, 1.2))
        if rip:
            at, middle = box.y + 0.55 * high, box.y + 0.28 * high
            yield mark_v(box.x + box.length / 2, box.y)
            yield line((box.x, at), (box.right, at), pen=pen)
            for end, inside in ((box.x, 3.0), (box.right, -3.0)):
                yield line((end, at), (end + inside, at), pen=THICK)
                yield from arrow((end + 2 * inside, box.y), (end + 2 * inside, at))
                anchor = ink.Anchor.START if inside > 0 else ink.Anchor.END
                yield words(size, end + 2.6 * inside, middle, SIZE, anchor=anchor)
        else:
            at = box.x + 0.45 * box.length
            yield mark_v_aside(box.x, box.y + high / 2)
            yield line((at, box.y), (at, box.bottom), pen=pen)
            for end, inside in ((box.y, 2.4), (box.bottom, -2.4)):
                yield line((at, end), (at, end + inside), pen=THICK)
                yield from arrow((box.x, end + 1.2 * inside), (at, end + 1.2 * inside))
            yield words(size, box.x + 4, box.y + high / 2, SIZE)

    return Picture(high + 4, draw)


# --- sheets, turning, hatching ---------------------------------------------------------


def check_picture() -> Picture:
    """Draw a sheet with a rail along its reference edge, and its diagonals."""
    high = 14.0

    def draw(x: float, y: float, length: float) -> Iterator[ink.Item]:
        box = ink.Spread(x=x + (length - 46) / 2, y=y + 3.5, length=46, width=high)
        yield ink.Plate(x=box.x - 2, y=y, length=box.length + 4, width=3, fill=BAND, pen=THIN)
        yield line((box.x - 2, box.y - 0.5), (box.right + 2, box.y - 0.5), pen=THICK)
        yield box.plate(pen=THICK)
        pen = ink.Pen(width=NARROW, dashes=(2.0, 1.2))
        yield line((box.x, box.y), (box.right, box.bottom), pen=pen)
        yield line((box.x, box.bottom), (box.right, box.y), pen=pen)
        middle = box.x + box.length / 2, box.y + high / 2
        yield said("2", middle[0], box.y + LINE / 2 - 0.4, bold=True)
        yield said("3", box.x + 2.4, middle[1], bold=True)
        yield said("3", box.right - 2.4, middle[1], bold=True)
        yield said("2", middle[0], box.bottom - LINE / 2 + 0.4, bold=True)
        yield words("1", box.right + 3, y + LINE / 2, SIZE, bold=True)
        yield words("4", box.x + 0.24 * box.length + 2, middle[1], SIZE, bold=True)

    return Picture(high + 4, draw)


def turned_picture(*, over: bool) -> Picture:
    """Draw a piece before and after it is turned: a quarter, or over."""
    high = 13.5 if over else 15.2

    def draw(x: float, y: float, length: float) -> Iterator[ink.Item]:
        long, wide = 28.0, 11.0
        first = ink.Spread(x=x + 1, y=y + 1.25, length=long, width=wide)
        yield first.plate(pen=THICK)
        yield said("REF", first.x + 0.62 * long, first.y + LINE / 2, bold=True)
        yield words("LEFT", first.x + 1.2, first.y + wide - LINE / 2, SIZE, bold=True)
        middle = y + high / 2
        yield from arrow((first.right + 4, middle), (first.right + 12, middle))
        if over:
            last = ink.Spread(x=first.right + 16, y=y + 1.25, length=long, width=wide)
            yield last.plate(pen=THICK, fill=GREY)
            yield said("REF", last.x + 0.38 * long, last.y + LINE / 2, bold=True)
            yield words("LEFT", last.x + 1.2, last.y + wide - LINE / 2, SIZE, bold=True)
        else:
            last = ink.Spread(x=first.right + 18, y=y, length=14, width=high)
            yield last.plate(pen=THICK)
            yield ink.Words(
                text="REF",
                x=last.x + LINE / 2,
                y=y + 0.38 * high,
                size=SIZE,
                bold=True,
                anchor=ink.Anchor.MIDDLE,
                turned=True,
                snug=True,
            )
            yield said("LEFT", last.x + last.length / 2 + 0.5, last.bottom - LINE / 2, bold=True)
        del length

    return Picture(high, draw)


def legend_picture(leader: str) -> Picture:
    """Draw an offcut and waste, a cut with its number, and what leads the saw, as on drawings."""
    high, apart = 6.0, 7.4

    def draw(x: float, y: float, length: float) -> Iterator[ink.Item]:
        half, right = x + length / 2, x + length / 2 + 13
        for left, crossed in ((x, False), (half, True)):
            box = ink.Spread(x=left, y=y, length=11, width=high)
            lines = tuple(_hatching(box, crossed=crossed))
            yield ink.Strokes(lines=lines, pen=ink.Pen(width=HATCH))
            yield box.plate(pen=THIN)
        yield words("offcut to keep", x + 13, y + high / 2, SIZE)
        yield words("waste", right, y + high / 2, SIZE)
        middle = y + apart + high / 2
        yield ink.Disc(x=x + 3, y=middle, radius=2.8, pen=THIN)
        yield said("9", x + 3, middle, bold=True)
        yield from arrow((x + 5.8, middle), (x + 11, middle))
        yield words("saw enters", x + 13, middle, SIZE)
        yield ink.Plate(x=half, y=middle - 1.8, length=11, width=3.6, fill=BAND, pen=THIN)
        yield line((half, middle + 1.8), (half + 11, middle + 1.8), pen=ink.Pen(width=0.9))
        yield words(leader, right, middle, SIZE)

    return Picture(high + apart + 0.6, draw)


def _hatching(box: ink.Spread, *, crossed: bool) -> Iterator[tuple[ink.Spot, ...]]:
    """Yield the lines that hatch a box, as on sheets; reckoned in hundredths of a mm."""
    rect = Rect(x=0, y=0, length=int(100 * box.length), width=int(100 * box.width))
    for spots in hatch(rect, 220, crossed=crossed):
        yield tuple((box.x + x / 100, box.y + y / 100) for x, y in spots)
