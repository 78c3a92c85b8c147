"""What of the project, and of its ticks, is on disk; whether anything of the maker's is not.

A file without a plan, or without an order of its cuts, is planned when it is opened. What comes
of that is nothing the maker did: opening the file again makes it again. So it counts as unsaved
only once it is on paper, where another plan would not match.
"""

from pathlib import Path

from layout_app.model.project import Project
from shared.progress import Progress


class OnDisk:
    """Knows the project as it was opened or saved, and what planning made of that since."""

    def __init__(self, project: Project) -> None:
        self.path: Path | None = None
        self._saved = self._planned = project
        self._is_opening = self._is_used = False

    def open(self, project: Project, path: Path | None, *, saved: bool) -> None:
        """Note what was opened; ``saved`` says that it is on disk so."""
        self.saved(project if saved else Project(), path)
        self._is_opening = saved and path is not None

    def saved(self, project: Project, path: Path | None) -> None:
        """Note what is on disk now."""
        self.path = path
        self._saved = self._planned = project
        self._is_opening = self._is_used = False

    def end_opening(self) -> None:
        """Note that the maker did something: plans that come from now on are of that."""
        self._is_opening = False

    def planned(self, before: Project, now: Project) -> None:
        """Note what planning makes of what was opened."""
        if self._is_opening and not self.lacks(before):
            self._planned = now

    def used(self) -> None:
        """Note that the plan is on paper: the project would not be the same without it."""
        self._is_opening, self._is_used = False, True

    def lacks(self, project: Project) -> bool:
        """Say whether a project holds anything that must not be lost and is not on disk."""
        if _same(project, self._saved):
            return False
        return self._is_used or not _same(project, self._planned)

    def other_ticks(self, progress: Progress) -> tuple[frozenset[int], frozenset[int]]:
        """Return the cuts that are ticked but not on disk, and those that are only there."""
        now, saved = progress.all_made, self._saved.progress.all_made
        return now - saved, saved - now

    def lacks_plan(self, project: Project) -> bool:
        """Say whether all that a project has beyond what is on disk is a plan."""
        return not _same(project, self._saved) and _same(project, self._planned)


class TicksOnDisk:
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
