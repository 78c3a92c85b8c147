"""The round tags of a panel's cuts, in rows along the side of the piece where the saw enters."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from math import hypot
from typing import Final

from layout_app.paper import ink
from layout_app.paper.pack.book import TEXT
from layout_app.paper.pack.setting import length_of, words
from layout_app.paper.pens import CUT, NARROW
from shared.drawing.tags import spread

ARROW: Final = 2.6
"""Length of an arrow head, in mm."""
HALF: Final = 1.0
"""Half its width."""
APART: Final = 0.5
"""Free between two tags."""
STEEP: Final = 0.5
"""A leader that moves 1 mm along the side takes so many mm away from it, at most `SLANT`."""
SLANT: Final = 6.0
CLOSE: Final = 2 * APART
"""Free beyond half a tag between two of two rows."""
FINE: Final = 1000
"""Places are spread in so many steps a millimetre."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Entry:
    """Where the saw enters: place along the side, how deep inside the piece, and the number.

    In mm; ``bold`` for a cut that is to come; ``row`` which of the panel's rows it stands in.
    """

    number: int
    along: float
    inside: float = 0.0
    bold: bool = True
    row: int = 0


@dataclass(frozen=True, slots=True)
class _Tag:
    entry: Entry
    along: float
    far: bool


class SideTags:
    """The tags along one side, in its own frame: along it, and out from it, in mm.

    They stay between ``within``; where one row is too short there are two, and a leader of the
    second runs between two tags of the first. Where even those have no room, tags between the
    first and the last of a row of equal passes are left out: the row names their numbers.
    """

    def __init__(self, entries: Sequence[Entry], within: tuple[float, float]) -> None:
        ordered = sorted(entries, key=lambda one: (one.along, one.number))
        self.radius = max((radius_of(one.number) for one in ordered), default=0.0)
        step = 2 * self.radius + APART
        room = within[1] - within[0] - 2 * self.radius
        several = bool(ordered) and (len(ordered) - 1) * step > room
        if several:
            step = self.radius + CLOSE
            ordered = _thinned(ordered, int(max(room, 0.0) / step) + 1)
        low, high = within[0] + self.radius, within[1] - self.radius
        places = spread(
            [int(FINE * one.along) for one in ordered],
            int(FINE * step),
            (int(FINE * low), int(FINE * high)),
        )
        self._tags = [
            _Tag(one, place / FINE, several and bool(at % 2))
            for at, (one, place) in enumerate(zip(ordered, places, strict=True))
        ]
        moved = max((abs(one.along - one.entry.along) for one in self._tags), default=0.0)
        self._slant = min(SLANT, STEEP * moved) if moved > APART else 0.0
        rows = 2 if several else 1
        near = ARROW + self._slant + APART if ordered else 0.0
        self._near = near + self.radius
        self.depth = near + rows * (2 * self.radius + APART) if ordered else 0.0

    @property
    def reach(self) -> tuple[float, float]:
        """From where to where along the side they reach; 0 and 0 where there are none."""
        if not self._tags:
            return 0.0, 0.0
        places = [one.along for one in self._tags]
        return min(places) - self.radius, max(places) + self.radius

    def items(self, spot: "Spotter") -> Iterator[ink.Item]:
        """Yield arrows, leaders, tags; ``spot`` says where a place of the side's frame lies."""
        for tag in self._tags:
            yield from self._leader(tag, spot)
        for tag in self._tags:
            x, y = spot(tag.along, self._out(tag))
            pen = ink.Pen(width=CUT if tag.entry.bold else NARROW)
            yield ink.Disc(x=x, y=y, radius=self.radius, pen=pen, fill="#ffffff")
            number = str(tag.entry.number)
            yield words(number, x, y, TEXT, bold=tag.entry.bold, anchor=ink.Anchor.MIDDLE)

    def _out(self, tag: _Tag) -> float:
        return self._near + (2 * self.radius + APART) * tag.far

    def _leader(self, tag: _Tag, spot: "Spotter") -> Iterator[ink.Item]:
        one, out = tag.entry, ARROW + self._slant
        tail = ARROW - one.inside
        line = [
            spot(one.along, max(tail, ARROW)),
            spot(tag.along, out),
            spot(tag.along, self._near),
        ]
        if one.inside:
            line.insert(0, spot(one.along, tail))
        if tag.far:
            line.append(spot(tag.along, self._out(tag)))
        yield ink.Strokes(lines=(tuple(line),), pen=ink.Pen(width=NARROW))
        tip = spot(one.along, -one.inside)
        ends = (spot(one.along + side * HALF, tail) for side in (1, -1))
        yield ink.Patch(outlines=((tip, *ends),), fill="#000000")


def room_for(entries: Sequence[Entry]) -> float:
    """Return how long a side has to be for all tags in two rows, in mm."""
    radius = max((radius_of(one.number) for one in entries), default=0.0)
    return 2 * radius + (len(entries) - 1) * (radius + CLOSE)


def radius_of(number: int) -> float:
    """Return the radius of a tag that holds a number, in mm."""
    half = length_of(str(number), TEXT, bold=True) / 2
    return max(3.2, hypot(half, 0.35 * TEXT) + 0.4)


class Spotter:
    """Turns places along a side and out from it into spots on a drawing."""

    def __init__(self, corner: ink.Spot, along: ink.Spot, out: ink.Spot) -> None:
        self._corner, self._along, self._out = corner, along, out

    def __call__(self, along: float, out: float) -> ink.Spot:
        """Return the spot so many mm along the side and out from it."""
        return (
            self._corner[0] + along * self._along[0] + out * self._out[0],
            self._corner[1] + along * self._along[1] + out * self._out[1],
        )


def _thinned(entries: Sequence[Entry], most: int) -> list[Entry]:
    """Leave out tags between the first and the last of a row until so many are left."""
    kept = list(entries)
    every = 2
    while len(kept) > most and every <= len(entries):
        kept = [one for at, one in enumerate(entries) if _ends(entries, at) or at % every == 0]
        every += 1
    return kept


def _ends(entries: Sequence[Entry], at: int) -> bool:
    """Say whether an entry is the first or the last of its row."""
    around = [entries[one].row for one in (at - 1, at + 1) if 0 <= one < len(entries)]
    return len(around) < 2 or any(row != entries[at].row for row in around)
