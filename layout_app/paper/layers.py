"""The layers of a drawing: what vector editors call each, and layers of several sheets in one."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from typing import Final

from layout_app.paper import ink

LAYERS: Final = {
    "sheet": "Sheet",
    "waste": "Waste and offcuts",
    "parts": "Parts",
    "grain": "Grain",
    "kept-clear": "Kept clear",
    "cuts": "Cuts",
    "match-groups": "Matched sets",
    "sizes": "Names and sizes",
    "pieces": "Names of pieces",
    "running": "Positions",
    "reference-edge": "Reference edge",
    "numbers": "Cut numbers",
    "words": "Titles and lists",
}
"""What each group of a drawing is called as a layer, from the ground up."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Placed:
    """A drawing among others: its groups, what their names begin with, and how far it is moved."""

    name: str
    prefix: str
    items: tuple[ink.Item, ...]
    x: float
    y: float


def moved(items: Iterable[ink.Item], x: float, y: float) -> Iterator[ink.Item]:
    """Yield the groups of a drawing moved by x, y; each stays a group of its own."""
    for item in items:
        yield replace(item, x=x, y=y) if isinstance(item, ink.Group) else item


def by_layer(drawings: Iterable[Placed]) -> Iterator[ink.Group]:
    """Yield each layer of several drawings once, with the drawings that have it inside.

    So all numbers are hidden at once, and those of one sheet too. Drawings must not overlap.
    """
    found: dict[str, list[ink.Item]] = {name: [] for name in LAYERS}
    for drawing in drawings:
        for item in moved(drawing.items, drawing.x, drawing.y):
            if isinstance(item, ink.Group):
                own = replace(item, layer=drawing.name)
                found[item.name.removeprefix(drawing.prefix)].append(own)
    for name, items in found.items():
        if items:
            yield ink.Group(name=name, layer=LAYERS[name], items=tuple(items))
