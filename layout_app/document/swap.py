"""Two parts change places."""

from collections.abc import Iterator
from dataclasses import replace
from itertools import product

from layout_app.document import hands, layout_commands
from layout_app.document.document import Document
from layout_app.document.judging_many import judge_all
from layout_app.model import layout_edits
from layout_app.model.project import Copy
from layout_app.model.sawing import resized
from shared.plan import Placement
from shared.stock import orientations


def swap_parts(doc: Document, one: Copy, other: Copy) -> bool:
    """Lay two copies each where the other lies, by their corners, as one step.

    Both have to lie on sheets. They lie as they lay if both fit so, else turned if they fit so,
    as far as their grain rules allow; if they fit in no way, as they lay: it is the maker's.
    """
    lies, there = layout_edits.find(doc.layout, one), layout_edits.find(doc.layout, other)
    if lies is None or there is None or one == other:
        return False
    if reason := doc.held.bars(one) or doc.held.bars(other):
        doc.said.emit(reason)
        return False
    ways = list(_ways(doc, lies, there))
    new = next((both for both in ways if judge_all(doc, both).good), ways[0])
    text = f"swap {hands.named(doc, one)} and {hands.named(doc, other)}"
    return doc.push(layout_commands.LayParts(doc, text, new))


def _ways(
    doc: Document, lies: Placement, there: Placement
) -> Iterator[tuple[Placement, Placement]]:
    """Yield how both could lie in each other's places: first as they do."""
    one = replace(lies, sheet=there.sheet, x=there.x, y=there.y)
    other = replace(there, sheet=lies.sheet, x=lies.x, y=lies.y)
    yield one, other
    yield from product(_turned(doc, one), _turned(doc, other))


def _turned(doc: Document, one: Placement) -> Iterator[Placement]:
    """Yield a placement as it is and turned, where the grain allows it."""
    stock = doc.job.stock_row(layout_edits.sheet_of(doc.layout, one.sheet).stock)
    allowed = orientations(doc.job.part(one.part).grain_rule, stock.grain)
    for turned in (one.turned, not one.turned):
        if turned in allowed:
            yield resized(doc.job, replace(one, turned=turned))
