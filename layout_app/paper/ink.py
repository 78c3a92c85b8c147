"""What lies on a drawing or a page, in millimetres, with no word about who puts it there.

`layout_app.paper.svg` writes it as SVG, `painting` paints it on a PDF page, a picture or a
printer, `dxf` as DXF, and `boxes` says where words stand. x runs to the right, y down.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from enum import StrEnum

from layout_app.paper.letters import SNUG, width_of

Spot = tuple[float, float]
"""x and y in mm."""

CAP_MIDDLE = 0.36
"""From the baseline up to the middle of capitals, in text sizes."""
ASCENT, DESCENT = 0.78, 0.24
"""What letters take above and below the baseline, in text sizes; accents included."""


class Anchor(StrEnum):
    """Which end of a line of words stands at its x."""

    START = "start"
    MIDDLE = "middle"
    END = "end"


@dataclass(frozen=True, slots=True, kw_only=True)
class Pen:
    """A line: width in mm, colour as ``#rrggbb``, lengths of dashes and gaps in mm."""

    width: float
    colour: str = "#000000"
    dashes: tuple[float, ...] = ()
    opacity: float = 1.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Plate:
    """A rectangle; ``fill`` is ``""`` for none."""

    x: float
    y: float
    length: float
    width: float
    pen: Pen | None = None
    fill: str = ""
    opacity: float = 1.0
    name: str = ""
    title: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Strokes:
    """Lines of one pen, each through two points or more."""

    lines: tuple[tuple[Spot, ...], ...]
    pen: Pen


@dataclass(frozen=True, slots=True, kw_only=True)
class Patch:
    """Closed outlines filled with one colour."""

    outlines: tuple[tuple[Spot, ...], ...]
    fill: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Disc:
    """A circle around x, y."""

    x: float
    y: float
    radius: float
    pen: Pen | None = None
    fill: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Words:
    """One line of text.

    Attributes
    ----------
    x, y
        Of the end that ``anchor`` names, and of the middle of capitals.
    size
        Text size in mm.
    turned
        Turned a quarter about x, y, to be read from the right: line tops face left.
    snug
        It may be squeezed a little: reckoned for the usual office font, not for the widest.
    """

    text: str
    x: float
    y: float
    size: float
    anchor: Anchor = Anchor.START
    bold: bool = False
    colour: str = "#000000"
    turned: bool = False
    snug: bool = False

    @property
    def length(self) -> float:
        """What the text takes at most, in mm; back ends squeeze what their fonts make longer."""
        width = width_of(self.text, bold=self.bold) * self.size
        return SNUG[self.bold] * width if self.snug else width


@dataclass(frozen=True, slots=True, kw_only=True)
class Group:
    """Items that belong together: named for other programs, moved by x, y after scaling.

    ``layer`` is what vector editors call it where it can be hidden or locked as one.
    """

    name: str = ""
    layer: str = ""
    title: str = ""
    items: tuple["Item", ...] = ()
    x: float = 0.0
    y: float = 0.0
    scale: float = 1.0


Item = Plate | Strokes | Patch | Disc | Words | Group


@dataclass(frozen=True, slots=True, kw_only=True)
class Page:
    """A drawing or a page of paper: its size in mm, what lies on it, and the chapter it is of."""

    length: float
    width: float
    items: tuple[Item, ...]
    title: str = ""
    description: str = ""
    chapter: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Spread:
    """Where an item lies on its page: a rectangle in mm."""

    x: float
    y: float
    length: float
    width: float

    @property
    def right(self) -> float:
        """x of the right edge."""
        return self.x + self.length

    @property
    def bottom(self) -> float:
        """y of the bottom edge."""
        return self.y + self.width

    def plate(self, fill: str = "", pen: Pen | None = None, opacity: float = 1.0) -> Plate:
        """Return a rectangle as large as it."""
        return Plate(
            x=self.x,
            y=self.y,
            length=self.length,
            width=self.width,
            fill=fill,
            pen=pen,
            opacity=opacity,
        )

    def inside(self, margin: float) -> "Spread":
        """Return what is left of it within a margin."""
        return Spread(
            x=self.x + margin,
            y=self.y + margin,
            length=self.length - 2 * margin,
            width=self.width - 2 * margin,
        )

    def meets(self, other: "Spread", slack: float = 0.01) -> bool:
        """Say whether the two share more than so many mm of their inside."""
        return (
            self.x + slack < other.right
            and other.x + slack < self.right
            and self.y + slack < other.bottom
            and other.y + slack < self.bottom
        )


def words_on(
    items: Sequence[Item], x: float = 0.0, y: float = 0.0, scale: float = 1.0
) -> Iterator[tuple[Words, Spread]]:
    """Yield all words with the room they take on the page at most, in mm."""
    for item in items:
        if isinstance(item, Group):
            yield from words_on(
                item.items, x + scale * item.x, y + scale * item.y, scale * item.scale
            )
        elif isinstance(item, Words) and item.text:
            room = _room(item)
            yield (
                item,
                Spread(
                    x=x + scale * room.x,
                    y=y + scale * room.y,
                    length=scale * room.length,
                    width=scale * room.width,
                ),
            )


_BEFORE = {Anchor.START: 0.0, Anchor.MIDDLE: 0.5, Anchor.END: 1.0}


def _room(words: Words) -> Spread:
    before = _BEFORE[words.anchor] * words.length
    above = (ASCENT - CAP_MIDDLE) * words.size
    below = (DESCENT + CAP_MIDDLE) * words.size
    if words.turned:
        return Spread(
            x=words.x - above,
            y=words.y - words.length + before,
            length=above + below,
            width=words.length,
        )
    return Spread(x=words.x - before, y=words.y - above, length=words.length, width=above + below)
