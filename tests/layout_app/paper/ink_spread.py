"""How far items reach on their page, their lines included: for tests of pages."""

from collections.abc import Iterator, Sequence

from layout_app.paper import ink


def spread_of(item: ink.Item) -> Iterator[tuple[float, float]]:
    """Yield the corners of an item on its page, half its line included."""
    if isinstance(item, ink.Group):
        for inner in item.items:
            for x, y in spread_of(inner):
                yield item.x + item.scale * x, item.y + item.scale * y
        return
    half = item.pen.width / 2 if isinstance(item, ink.Plate | ink.Disc) and item.pen else 0.0
    if isinstance(item, ink.Plate):
        yield item.x - half, item.y - half
        yield item.x + item.length + half, item.y + item.width + half
    elif isinstance(item, ink.Disc):
        reach = item.radius + half
        yield item.x - reach, item.y - reach
        yield item.x + reach, item.y + reach
    elif isinstance(item, ink.Strokes | ink.Patch):
        for line in item.lines if isinstance(item, ink.Strokes) else item.outlines:
            yield from line


def heights(
    items: Sequence[ink.Item], y: float = 0.0, scale: float = 1.0
) -> Iterator[tuple[float, float]]:
    """Yield from where to where each word and box reaches down the page, in mm; no lines."""
    for item in items:
        if isinstance(item, ink.Group):
            yield from heights(item.items, y + scale * item.y, scale * item.scale)
            continue
        found = [] if isinstance(item, ink.Strokes) else [down for _, down in spread_of(item)]
        found += [end for _, room in ink.words_on([item]) for end in (room.y, room.bottom)]
        if found:
            yield y + scale * min(found), y + scale * max(found)
