"""Swap two parts that lie on sheets; what lies about them gives way where they are not alike."""

from collections.abc import Iterator
from dataclasses import replace
from itertools import product
from typing import NamedTuple

from layout_app.document.document import Document
from layout_app.document.edit_layout import lay_parts
from layout_app.document.judging_many import judge_all, judge_here
from layout_app.document.push_aside import PushAside
from layout_app.model.pushing import Pushed
from layout_app.model.sawing import resized
from layout_app.model.stops import Way, high, low, moved, size
from shared.parts import Copy
from shared.plan import Placement
from shared.stock import orientations

NO_ROOM = "no room where the other lies"


class Both(NamedTuple):
    """Where two parts would lie."""

    one: Placement
    other: Placement


def swap_parts(doc: Document, one: Copy, other: Copy) -> bool:
    """Lay two copies each where the other lies, as one step.

    Both have to lie on sheets. They lie as they lay if both fit so, else turned if they fit so,
    as far as their grain rules allow; else others give way. Where the sheets could not be cut,
    nothing moves and it is said why, unless they cannot be cut as it is: then it is the maker's.
    """
    lies, there = doc.layout.find(one), doc.layout.find(other)
    if lies is None or there is None or one == other:
        return False
    if doc.tell(doc.held.bars(one) or doc.held.bars(other)):
        return False
    named = f"{doc.job.named(one)} and {doc.job.named(other)}"
    ways = [*_end_to_end(doc, lies, there), *_ways(doc, lies, there)]
    good = next((both for both in ways if judge_all(doc, both).good), None)
    if good is not None:
        return lay_parts(doc, f"swap {named}", good)
    tried = [PushAside(doc, (one, other)).push(both, each=True) for both in _beside(doc, ways)]
    found = next((pushed for pushed in tried if _is_swapped(pushed, lies, there)), None)
    if found is not None:
        return lay_parts(doc, f"swap {named}{_and_push(doc, found)}", found.lying)
    if not all(
        judge_here(doc, doc.layout.sheet(sheet)).good for sheet in (lies.sheet, there.sheet)
    ):
        return lay_parts(doc, f"swap {named}", ways[0])
    why = next((pushed.why for pushed in tried if pushed.why), NO_ROOM)
    return doc.tell(f"{named} cannot swap: {why}.") and False


def _is_swapped(found: Pushed, lies: Placement, there: Placement) -> bool:
    """Say whether each of two parts has come to lie where the other lay, and all can be cut."""
    places = {lies.key: there, there.key: lies}
    return not found.why and all(
        one.sheet == places[one.key].sheet and one.rect.overlaps(places[one.key].rect)
        for one in found.held
    )


def _and_push(doc: Document, found: Pushed) -> str:
    """Say what gives way."""
    if not found.moved:
        return ""
    alone = len(found.moved) == 1
    return (
        f" and push {doc.job.named(found.moved[0].key) if alone else f'{len(found.moved)} parts'}"
    )


def _end_to_end(doc: Document, lies: Placement, there: Placement) -> Iterator[Both]:
    """Yield how neighbours in one strip, a kerf apart, lie once they change their order."""
    shop = doc.job.shop
    slots = {shop.kerf} if shop.table is None else {shop.kerf, shop.table.kerf}
    for way in Way:
        first, last = sorted((lies, there), key=lambda each: low(each.rect, way))
        level = low(first.rect, way.other) == low(last.rect, way.other)
        apart = low(last.rect, way) - high(first.rect, way)
        if first.sheet == last.sheet and level and apart in slots:
            start, end = low(first.rect, way), high(last.rect, way)
            yield Both(_at(last, way, start), _at(first, way, end - size(first.rect, way)))


def _ways(doc: Document, lies: Placement, there: Placement) -> Iterator[Both]:
    """Yield how both could lie by their corners in each other's places: first as they do."""
    one = replace(lies, sheet=there.sheet, x=there.x, y=there.y)
    other = replace(there, sheet=lies.sheet, x=lies.x, y=lies.y)
    yield Both(one, other)
    yield from (Both(*both) for both in product(_turned(doc, one), _turned(doc, other)))


def _turned(doc: Document, one: Placement) -> Iterator[Placement]:
    """Yield a placement as it is and turned, where the grain allows it."""
    stock = doc.job.stock_row(doc.layout.sheet(one.sheet).stock)
    allowed = orientations(doc.job.part(one.part).grain_rule, stock.grain)
    for turned in (one.turned, not one.turned):
        if turned in allowed:
            yield resized(doc.job, replace(one, turned=turned))


def _beside(doc: Document, ways: list[Both]) -> Iterator[Both]:
    """Yield how both could be laid so that others give way: first end to end in one strip.

    The one that comes to lie nearer to the reference end is laid first.
    """
    for one, other in dict.fromkeys(ways):
        same = one.sheet == other.sheet
        for way in Way if same else ():
            first, last = (
                (other, one) if low(other.rect, way) < low(one.rect, way) else (one, other)
            )
            lay = doc.layout.find(first.key)
            if lay is not None and low(first.rect, way) < low(last.rect, way):
                end = high(lay.rect, way) - size(last.rect, way)
                yield Both(first, _at(last, way, end))
        yield Both(*sorted((one, other), key=lambda each: (each.y, each.x)))


def _at(one: Placement, way: Way, start: int) -> Placement:
    """Return a placement that begins elsewhere in a direction."""
    rect = moved(one.rect, way, start)
    return replace(one, x=rect.x, y=rect.y)
