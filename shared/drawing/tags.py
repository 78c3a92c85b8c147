"""Room for the round tags: none covers another, each stays with its own cut."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import count, islice

from shared.drawing.records import CutTag, Point
from shared.geometry import Rect
from shared.lengths import Length
from shared.shop import Axis


@dataclass(frozen=True, slots=True, kw_only=True)
class PlacedTag:
    """A tag with the middle of its circle, in ticks; the leader runs to where the saw enters."""

    tag: CutTag
    x: Length
    y: Length

    @property
    def moved(self) -> bool:
        """Whether it left the line of its cut, so that it needs a leader."""
        return self.y != self.tag.y if self.tag.axis is Axis.RIP else self.x != self.tag.x


def place_tags(
    tags: Sequence[CutTag], diameter: Length, room: Rect | None = None
) -> tuple[PlacedTag, ...]:
    """Find room for tags of that diameter, in ticks.

    Tags outside the sheet keep one row and move along the edge, inside a room if one is given;
    tags inside slide along their own cut, away from where the saw enters. A tag that finds no
    room is left out, the selected cut's last of all.
    """
    ordered = sorted(tags, key=lambda tag: (not tag.current, tag.level, tag.number))
    placed = list(_outside([tag for tag in ordered if tag.outside], diameter, room))
    for tag in ordered:
        if not tag.outside:
            placed.extend(_first_free(tag, placed, diameter))
    return tuple(placed)


def place_every_tag(tags: Sequence[CutTag], diameter: Length) -> tuple[PlacedTag, ...]:
    """Find room for tags as `place_tags` does; one that would be left out stands beside its cut.

    On paper nobody can point at a cut to learn its number, so none may be missing.
    """
    placed = list(place_tags(tags, diameter))
    there = {found.tag.number for found in placed}
    for tag in tags:
        if tag.number not in there:
            free = (spot for spot in _around(tag, diameter) if _is_free(spot, placed, diameter))
            placed.extend(PlacedTag(tag=tag, x=x, y=y) for x, y in islice(free, 1))
    return tuple(placed)


def spread(
    positions: Sequence[Length], least: Length, within: tuple[Length, Length] | None = None
) -> list[Length]:
    """Move positions apart to at least ``least``, each as little as possible, order kept.

    Least squares under an order is isotonic regression; it is solved by pooling
    neighbours that are in each other's way (Ayer et al., 1955). ``within`` are a lowest and a
    highest position; what does not fit between them runs over the highest.
    """
    pools: list[tuple[int, int]] = []
    for index, position in enumerate(positions):
        total, count = position - index * least, 1
        while pools and pools[-1][0] * count > total * pools[-1][1]:
            before = pools.pop()
            total, count = total + before[0], count + before[1]
        pools.append((total, count))
    flat = [total // count for total, count in pools for _ in range(count)]
    if within is not None:
        # Bounds on the first and the last of them clip the solution without bounds.
        low, high = within[0], max(within[0], within[1] - (len(flat) - 1) * least)
        flat = [min(max(value, low), high) for value in flat]
    return [value + index * least for index, value in enumerate(flat)]


def _outside(tags: list[CutTag], diameter: Length, room: Rect | None = None) -> Iterator[PlacedTag]:
    least = diameter * 21 // 20
    for axis in Axis:
        row, within = [tag for tag in tags if tag.axis is axis], None
        if room is not None:
            start, size = (room.y, room.width) if axis is Axis.RIP else (room.x, room.length)
            within = start + diameter // 2, start + size - diameter // 2
            row = row[: max(0, (within[1] - within[0]) // least + 1)]
        row.sort(key=_across)
        places = spread([_across(tag) for tag in row], least, within)
        for tag, place in zip(row, places, strict=True):
            x, y = (-diameter, place) if axis is Axis.RIP else (place, -diameter)
            yield PlacedTag(tag=tag, x=x, y=y)


def _across(tag: CutTag) -> Length:
    return tag.y if tag.axis is Axis.RIP else tag.x


def _first_free(tag: CutTag, placed: list[PlacedTag], diameter: Length) -> list[PlacedTag]:
    for x, y in _along(tag, diameter):
        if _is_free((x, y), placed, diameter):
            return [PlacedTag(tag=tag, x=x, y=y)]
    return []


def _along(tag: CutTag, diameter: Length) -> Iterator[Point]:
    """Yield places on the cut, from where the saw enters to where it leaves."""
    radius = diameter // 2
    for offset in range(radius, max(radius + 1, tag.reach - radius), max(1, diameter // 4)):
        yield (tag.x + offset, tag.y) if tag.axis is Axis.RIP else (tag.x, tag.y + offset)


def _around(tag: CutTag, diameter: Length) -> Iterator[Point]:
    """Yield places ever farther from where the saw enters, below and to the right first."""
    for ring in count(1):
        far = ring * diameter // 2
        for down in range(far, -far - 1, -max(1, diameter // 2)):
            yield from ((tag.x + far, tag.y + down), (tag.x - far, tag.y + down))


def _is_free(spot: Point, placed: Sequence[PlacedTag], diameter: Length) -> bool:
    x, y = spot
    return all((x - o.x) ** 2 + (y - o.y) ** 2 >= diameter * diameter for o in placed)
