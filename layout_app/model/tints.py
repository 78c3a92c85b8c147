"""Which tint each rip width has: the same from plan to plan, for as long as a document is open."""

from collections.abc import Collection, Mapping
from dataclasses import replace

from shared.drawing import SheetDrawing
from shared.drawing.sheet import tints
from shared.lengths import Length
from shared.plan import Plan

APART = 8
"""So many tints of a theme can be told apart; then they come again."""


class Tints:
    """Gives each rip width a number once, and the lowest that is free to a width that is new.

    A width that is gone keeps its number until another needs it; if it comes back then, it alone
    gets another one. What was shown before the maker's last change gives its numbers up last, and
    has them back: the plans of a run come and go, and often end with widths there were before.
    """

    def __init__(self, plan: Plan | None = None) -> None:
        self._known: dict[Length, int] = {}
        self.shown: Mapping[Length, int] = {}
        """The numbers of the rip widths of the plan that is shown."""
        self.follow(plan)

    @property
    def known(self) -> Mapping[Length, int]:
        """The numbers of all rip widths there were."""
        return self._known

    def follow(self, plan: Plan | None, before: Plan | None = None) -> None:
        """Give the rip widths of a plan that is shown now their numbers.

        ``before`` is what was shown before the maker's last change.
        """
        widths, were = _widths(plan), _widths(before)
        kept = {self._known[width] for width in were if width in self._known}
        found: dict[Length, int] = {}
        for width in sorted(widths, key=lambda one: (one not in were, one not in self.shown)):
            if width in self._known and self._known[width] not in found.values():
                found[width] = self._known[width]
        for width in widths:
            if width not in found:
                found[width] = self._free(found, kept)
        self._known |= found
        self.shown = {width: found[width] for width in widths}

    def _free(self, found: Mapping[Length, int], kept: Collection[int]) -> int:
        """Return the lowest number nobody in sight has; one that nobody ever had comes first.

        Those that are kept come last.
        """
        most = max(APART, len(found) + 1)
        taken, ever = set(found.values()), set(self._known.values())
        free = [number for number in range(most) if number not in taken]
        return min(free, key=lambda one: (one in kept, one in ever, one))


def _widths(plan: Plan | None) -> list[Length]:
    return list(tints(plan)) if plan is not None else []


def retinted(drawing: SheetDrawing, plan: Plan, stable: Mapping[Length, int]) -> SheetDrawing:
    """Return a drawing of a plan with the numbers its rip widths have from plan to plan."""
    now = {index: stable[width] for width, index in tints(plan).items()}
    boxes = (
        box if box.tint is None else replace(box, tint=now.get(box.tint, box.tint))
        for box in drawing.boxes
    )
    return replace(drawing, boxes=tuple(boxes))
