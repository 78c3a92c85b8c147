"""What of the project, and of its ticks, is on disk; whether anything of the maker's is not.

A file without a plan, or without an order of its cuts, is planned when it is opened. What comes
of that is nothing the maker did: opening the file again makes it again. So it counts as unsaved
only once it is on paper, where another plan would not match.
"""

from pathlib import Path

from PySide6.QtCore import QObject, Signal

from layout_app.model.project import Project
from shared.progress import Progress


class SavedState(QObject):
    """Knows the project as it was opened or saved, what planning made of that, and what is shown.

    Ticks are written apart from the rest, and at once.
    """

    changed = Signal()
    """The path, or whether there is anything to save."""
    ticks_changed = Signal()
    """Ticks are on disk now, or cannot be written."""

    def __init__(self, project: Project, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._now = self._saved = self._planned = project
        self._path: Path | None = None
        self._is_opening = self._is_used = False
        self._ticks = _Ticks(project.progress)
        self.waits_for_disk = False
        """Whether somebody writes ticks to disk and says when they are there."""

    @property
    def path(self) -> Path | None:
        """Where the project was opened from or saved to."""
        return self._path

    @property
    def modified(self) -> bool:
        """Whether anything is not on disk that the maker would miss."""
        return self._lacks(self._now)

    @property
    def plan_is_new(self) -> bool:
        """Whether the plan alone is not on disk: it was made since the file was opened."""
        return not _same(self._now, self._saved) and _same(self._now, self._planned)

    @property
    def ticks_not_in_file(self) -> tuple[frozenset[int], frozenset[int]]:
        """Cuts that are ticked here and not in the file, and those that are there and not here."""
        now, saved = self._now.progress.all_made, self._saved.progress.all_made
        return now - saved, saved - now

    @property
    def ticks_are_here_only(self) -> bool:
        """Whether some tick is nowhere on disk, and cannot be written for now."""
        return not self.waits_for_disk or bool(self._ticks.here_only)

    def is_done(self, number: int) -> bool:
        """Say whether a cut is ticked, and its tick safe on disk if it can be written there."""
        return number in self._now.progress.made and not self.is_being_saved(number)

    def is_being_saved(self, number: int) -> bool:
        """Say whether a tick is on its way to the disk."""
        return number in self._ticks.being_saved

    def is_here_only(self, number: int) -> bool:
        """Say whether a tick is nowhere on disk, and cannot be written for now."""
        return number in self._ticks.here_only

    def note_opened(self, project: Project, path: Path | None, *, saved: bool) -> None:
        """Note what was opened; ``saved`` says that it is on disk so."""
        self._note(project if saved else Project(), path)
        self._is_opening = saved and path is not None
        self._ticks = _Ticks(project.progress)

    def note_saved(self, project: Project, path: Path) -> None:
        """Note that this project is on disk now; it may not be the latest, nor the one shown."""
        if project.opening == self._now.opening:
            self._note(project, path)
            self.changed.emit()

    def _note(self, project: Project, path: Path | None) -> None:
        self._path = path
        self._saved = self._planned = project
        self._is_opening = self._is_used = False

    def note_written(self, project: Project, *, on_disk: bool = True) -> None:
        """Hear that a project's ticks are on disk, or that they cannot be and why was said."""
        same = project.opening == self._now.opening
        if same and self._ticks.hear(project.progress, on_disk=on_disk):
            self.ticks_changed.emit()

    def note_on_paper(self) -> None:
        """Hear that the plan is on paper: from now on it is unsaved, whoever made it."""
        self._is_opening, self._is_used = False, True
        self.changed.emit()

    def note_edited(self) -> None:
        """Note that the maker did something: plans that come from now on are of that."""
        self._is_opening = False

    def note_planned(self, project: Project) -> None:
        """Note what planning makes of what was opened, before it is shown."""
        if self._is_opening and not self._lacks(self._now):
            self._planned = project

    def note_ticked(self, progress: Progress) -> None:
        """Note that ticks are set, before they are shown: they are being written."""
        if self.waits_for_disk:
            self._ticks.send(self._now.progress, progress)

    def follow(self, project: Project) -> None:
        """Take what is shown now."""
        self._now = project

    def _lacks(self, project: Project) -> bool:
        """Say whether a project holds anything that must not be lost and is not on disk."""
        if _same(project, self._saved):
            return False
        return self._is_used or not _same(project, self._planned)


class _Ticks:
    """Knows which ticks are on their way to the disk, and which cannot be written for now."""

    def __init__(self, progress: Progress) -> None:
        self._safe = frozenset(progress.made)
        self.being_saved: frozenset[int] = frozenset()
        self.here_only: frozenset[int] = frozenset()

    def send(self, before: Progress, now: Progress) -> None:
        """Note that ticks are being written."""
        new = set(now.made) - set(before.made)
        self.being_saved = (self.being_saved | new) & set(now.made)

    def hear(self, progress: Progress, *, on_disk: bool) -> bool:
        """Note what became of ticks that were being written; say whether anything is news."""
        before, made = (self.being_saved, self.here_only), frozenset(progress.made)
        self.being_saved -= made
        self._safe = made if on_disk else self._safe
        self.here_only = frozenset() if on_disk else made - self._safe
        return before != (self.being_saved, self.here_only)


def _same(one: Project, other: Project) -> bool:
    return one is other or one == other
