"""What the maker has selected, copies of parts or one cut, and whether a hand is at a gesture."""

from collections.abc import Iterable

from PySide6.QtCore import QObject, Signal

from layout_app.model.project import Project
from shared.parts import Copy
from shared.plan import Plan

__all__ = ["Copy", "Selection", "same_cut"]


class Selection(QObject):
    """Copies of parts, or one cut; never both, so that one thing is spoken of."""

    changed = Signal()

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._parts: frozenset[Copy] = frozenset()
        self._cut: int | None = None

    @property
    def parts(self) -> frozenset[Copy]:
        """The selected copies."""
        return self._parts

    @property
    def cut(self) -> int | None:
        """The number of the selected cut."""
        return self._cut

    def select_parts(self, parts: Iterable[Copy]) -> None:
        """Select these copies and nothing else."""
        self._select(frozenset(parts), None)

    def select_cut(self, number: int | None) -> None:
        """Select one cut and nothing else; ``None`` selects nothing."""
        self._select(frozenset(), number)

    def clear(self) -> None:
        """Select nothing."""
        self._select(frozenset(), None)

    def follow(self, project: Project, before: Plan | None, now: Plan | None) -> bool:
        """Follow the selected cut to its new number, and forget what is gone.

        Says whether anything became of the selection and tells nobody, to be told once the plan
        itself is: who hears of a new number looks it up in what is shown.
        """
        cut, parts = self._cut, self._parts
        if cut is not None and cut >= project.progress.first:
            self._cut = same_cut(before, cut, now)
        copies = {part.id: part.copies for part in project.job.parts}
        self._parts = frozenset(key for key in parts if key[1] <= copies.get(key[0], 0))
        return (cut, parts) != (self._cut, self._parts)

    def _select(self, parts: frozenset[Copy], cut: int | None) -> None:
        if (parts, cut) != (self._parts, self._cut):
            self._parts, self._cut = parts, cut
            self.changed.emit()


def same_cut(before: Plan | None, number: int, now: Plan | None) -> int | None:
    """Return the number that a cut has in another plan, if it is in it."""
    if before is None or now is None or not before.has_cut(number):
        return None
    old = before.cut(number)
    return next((cut.number for cut in now.cuts if cut.key == old.key), None)


class Gestures(QObject):
    """Notes when a drag or the like begins and ends, and when a button is held.

    Nothing that planning finds is shown meanwhile.
    """

    changed = Signal()
    """A drag or the like began or ended."""
    let_go = Signal()
    """A button that was held on the bench is up again."""
    ended = Signal()
    """Either is over, and whoever wanted to know has heard of it."""

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._under_way = self._pressed = False

    @property
    def under_way(self) -> bool:
        """Whether a drag or the like is under way."""
        return self._under_way

    @under_way.setter
    def under_way(self, now: bool) -> None:
        if now == self._under_way:
            return
        self._under_way = now
        self.changed.emit()
        if not now:
            self.ended.emit()

    @property
    def pressed(self) -> bool:
        """Whether a button is held that may become a drag."""
        return self._pressed

    @pressed.setter
    def pressed(self, held: bool) -> None:
        if held != self._pressed:
            self._pressed = held
            if not held:
                self.let_go.emit()
                self.ended.emit()

    @property
    def in_hand(self) -> bool:
        """Whether a gesture is under way or a button held."""
        return self._under_way or self._pressed
