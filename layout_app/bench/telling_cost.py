"""What a gesture costs, found out once its place has been still: never said of another place."""

from collections.abc import Callable

from PySide6.QtCore import QObject, QTimer

from layout_app.document.costing import cost_of, note_told
from layout_app.document.document import Document
from layout_app.model.project import Project
from layout_app.model.words.cost_words import cost_lines

STILL_MS = 80
"""How long the place has to stay the same."""


class CostTold:
    """Tells what letting go would cost.

    Parameters
    ----------
    owner
        Whose timers these are; it lives at least as long.
    document
        What is shown now.
    after
        Returns what the project would become if the hand let go; ``None`` if nothing.
    told
        Called when `lines` has something to say.
    """

    def __init__(
        self,
        owner: QObject,
        document: Document,
        after: Callable[[], Project | None],
        told: Callable[[], object],
    ) -> None:
        self._document, self._after, self._told = document, after, told
        self.lines: tuple[str, ...] = ()
        """What is said now; nothing while it is not known."""
        self._place: object = None
        self._project: Project | None = None
        self._still = QTimer(owner, singleShot=True, interval=STILL_MS)
        self._still.timeout.connect(self._lay)
        self._idle = QTimer(owner, singleShot=True, interval=0)
        self._idle.timeout.connect(self._count)

    def follow(self, place: object) -> None:
        """Find out what letting go there costs, once it is still; what was said of another goes.

        ``place`` is told from others by being equal; ``None`` is one that cannot be cut.
        """
        if place == self._place:
            return
        self._place, self._project, self.lines = place, None, ()
        self._idle.stop()
        if place is None:
            self._still.stop()
        else:
            self._still.start()

    def end(self) -> None:
        """Say no more; the gesture is over."""
        self.follow(None)
        for timer in (self._still, self._idle):
            timer.deleteLater()

    def _lay(self) -> None:
        """Find the cuts there would be; they are counted once the window has had its turn."""
        self._project = self._after()
        if self._project is not None:
            self._idle.start()

    def _count(self) -> None:
        assert self._project is not None
        cost = cost_of(self._document, self._project)
        if cost is not None:
            note_told(self._project)
            self.lines = cost_lines(cost, self._document.job.style)
            self._told()
