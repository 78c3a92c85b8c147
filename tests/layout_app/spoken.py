"""What a screen reader finds in a window: its accessible objects, as Qt hands them out."""

from collections.abc import Iterator

from PySide6.QtGui import QAccessible, QAccessibleInterface
from PySide6.QtWidgets import QWidget

CELLS = {QAccessible.Role.Cell, QAccessible.Role.ListItem}
"""What is not walked one by one: the text of a cell is its name, and many are empty."""


def objects(root: QWidget) -> Iterator[tuple[tuple[str, ...], QAccessibleInterface]]:
    """Yield what is seen of a window, with the way to it."""
    yield from _within(QAccessible.queryAccessibleInterface(root), ())


def _within(
    one: QAccessibleInterface, way: tuple[str, ...]
) -> Iterator[tuple[tuple[str, ...], QAccessibleInterface]]:
    here = (*way, f"{one.role().name} {one.text(QAccessible.Text.Name)}".strip())
    yield here, one
    for index in range(one.childCount()):
        child = one.child(index)
        if child is None or not child.isValid() or child.role() in CELLS:
            continue
        if not child.state().invisible:
            yield from _within(child, here)


def mute(root: QWidget) -> list[str]:
    """Return the ways to what takes the keys in a window and says nothing."""
    return [
        " > ".join(way) for way, one in objects(root) if one.state().focusable and not said_of(one)
    ]


def said_of(one: QAccessibleInterface) -> str:
    """Return name and description of an object."""
    return "".join(
        one.text(kind) for kind in (QAccessible.Text.Name, QAccessible.Text.Description)
    ).strip()
