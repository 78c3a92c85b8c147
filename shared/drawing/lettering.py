"""Fit words into a rectangle: they shrink, turn, or stay away, but never run over.

Works in the back end's own units (pixels, millimetres); only the ratios matter.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import product

LEADING = 1.3
"""Height of a line in text sizes."""
TIGHT = 1.2
"""Height of a line that stands alone between two edges: its letters and a little air."""
PADDING = 0.4
"""Free room before and behind a line in text sizes; half of it above and below."""
JOINT = "  "
"""Stands between a name and a size on one line."""
JOINT_WIDTH = 0.8


@dataclass(frozen=True, slots=True, kw_only=True)
class Space:
    """A rectangle in the back end's units."""

    x: float
    y: float
    length: float
    width: float

    def meets(self, other: "Space") -> bool:
        """Say whether the two share inside."""
        return (
            self.x < other.x + other.length
            and other.x < self.x + self.length
            and self.y < other.y + other.width
            and other.y < self.y + self.width
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class Fitted:
    """Text that found room.

    Attributes
    ----------
    lines
        What is written; a name and a size may have become one line, or the size was left out.
    size
        Text size.
    turned
        Turned a quarter, to be read from the right: line tops face left.
    block
        The room the text takes, as it stands on the drawing.
    """

    lines: tuple[str, ...]
    size: float
    turned: bool
    block: Space


@dataclass(frozen=True, slots=True, kw_only=True)
class _Setting:
    lines: tuple[str, ...]
    width: float


def fit(
    lines: Sequence[str],
    widths: Sequence[float],
    space: Space,
    sizes: Sequence[float],
    obstacles: Sequence[Space] = (),
    *,
    tight: bool = False,
) -> Fitted | None:
    """Find the best setting of a label.

    Parameters
    ----------
    lines
        First the name, then what may be left out.
    widths
        Width of each line at text size 1.
    space
        Where the text must stay inside.
    sizes
        Text sizes to try, the best first.
    obstacles
        What the text must not cover.
    tight
        Lines may reach the long edges: above and below its letters a line has room of its own.

    Returns
    -------
    Fitted | None
        ``None`` when not even the name has room at the last size.
    """
    near = [other for other in obstacles if other.meets(space)]
    full, name = _settings(lines, widths)
    for settings in (full, name):
        for size, turned, setting in product(sizes, (False, True), settings):
            alone = tight and len(setting.lines) == 1
            block = _block(setting, size, TIGHT if alone else LEADING, turned=turned)
            ends, sides = size * PADDING, 0.0 if tight else size * PADDING / 2
            spot = _spot(block, space, (sides, ends) if turned else (ends, sides), near)
            if spot is not None:
                return Fitted(lines=setting.lines, size=size, turned=turned, block=spot)
    return None


def _settings(
    lines: Sequence[str], widths: Sequence[float]
) -> tuple[list[_Setting], list[_Setting]]:
    """Return the settings with all words, and those with the name alone."""
    stacked = _Setting(lines=tuple(lines), width=max(widths))
    name = _Setting(lines=(lines[0],), width=widths[0])
    if len(lines) == 1:
        return [stacked], []
    joined = _Setting(
        lines=(JOINT.join(lines),), width=sum(widths) + JOINT_WIDTH * (len(lines) - 1)
    )
    return [stacked, joined], [name]


def _block(setting: _Setting, size: float, leading: float, *, turned: bool) -> tuple[float, float]:
    length, width = setting.width * size, len(setting.lines) * leading * size
    return (width, length) if turned else (length, width)


def _spot(
    block: tuple[float, float],
    space: Space,
    padding: tuple[float, float],
    obstacles: Sequence[Space],
) -> Space | None:
    """Return the first free place for a block, from the top left corner."""
    if any(
        need + 2 * pad > room
        for need, pad, room in zip(block, padding, (space.length, space.width), strict=True)
    ):
        return None
    behind = [o.x + o.length for o in obstacles], [o.y + o.width for o in obstacles]
    xs = _stops(space.x, space.length, block[0], padding[0], behind[0])
    ys = _stops(space.y, space.width, block[1], padding[1], behind[1])
    for y, x in product(ys, list(xs)):
        spot = Space(x=x, y=y, length=block[0], width=block[1])
        if not any(spot.meets(other) for other in obstacles):
            return spot
    return None


def _stops(
    start: float, room: float, need: float, padding: float, behind: Sequence[float]
) -> Iterator[float]:
    """Yield places along one direction: at the start, behind each obstacle, in the middle, last."""
    last = start + room - need - padding
    yield start + padding
    yield from (stop + padding for stop in behind if start < stop + padding < last)
    yield start + (room - need) / 2
    yield last
