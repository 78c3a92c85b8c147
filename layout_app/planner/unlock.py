"""Which one part to move so that a sheet laid by hand can be cut; found when there is time."""

from collections.abc import Sequence
from functools import partial
from typing import Final

from PySide6.QtCore import QObject, QTimer, Signal

from layout_app.document.document import Document
from layout_app.model import sawing
from layout_app.model.project import Project
from shared.check import plannable
from shared.job import Job
from shared.layout import LayoutSheet
from shared.plan import Placement
from shared.recognise import SheetGround, Trouble, Watch, beyond, problems

QUIET_MS: Final = 200
"""So long the layout stays as it is before anything is looked for."""
PAIRS: Final = (Trouble.OVERLAP, Trouble.TOO_NEAR)


def remedy(project: Project, sheet: LayoutSheet) -> str:
    """Say which parts of a sheet, any one moved away, leave one that can be cut.

    Empty where there is none, where a rule is broken, where the sheet is begun, and where
    the sentence about parts that lock each other says it already.
    """
    job = plannable(project.job)
    if sheet.id in project.progress.sheets or sawing.breaks_rules(project.job, job, sheet):
        return ""
    found = _freeing(job, sheet)
    names = [job.named(one.key) for one in found]
    return f"Moving {' or '.join(names)} frees the sheet." if names else ""


def _freeing(job: Job, sheet: LayoutSheet) -> Sequence[Placement]:
    stock = job.stock_row(sheet.stock)
    ground = sawing.ground_of(job, stock)
    if sheet.tree is not None:
        found = beyond(ground, sheet.tree, sheet.placements)
        return () if found is None else found.frees
    wrong = problems(stock.whole, sheet.placements, job.shop.kerf, stock.trims)
    if not wrong or any(one.trouble not in PAIRS for one in wrong):
        return ()
    in_all = [one for one in wrong[0].parts if all(one in other.parts for other in wrong)]
    return tuple(filter(partial(_would_do, ground, sheet.placements), in_all))


def _would_do(ground: SheetGround, placements: Sequence[Placement], without: Placement) -> bool:
    return Watch(ground, [one for one in placements if one != without]).is_good(())


class Freeing(QObject):
    """Looks for what frees the sheets that cannot be cut, one a time, when nothing is in hand."""

    changed = Signal()
    """Something was found."""

    def __init__(self, document: Document, parent: QObject) -> None:
        super().__init__(parent)
        self._document = document
        self._known: dict[str, tuple[Job, LayoutSheet, str]] = {}
        self._soon = QTimer(self)
        self._soon.setSingleShot(True)
        self._soon.setInterval(QUIET_MS)
        self._soon.timeout.connect(self._look)
        document.job_changed.connect(self._soon.start)
        document.layout_changed.connect(self._soon.start)
        self._soon.start()

    def said_of(self, sheet: str) -> str:
        """Return what was found out about a sheet as it lies now; empty before that."""
        now = self._sheets().get(sheet)
        return self._known[sheet][2] if now is not None and self._is_known(now) else ""

    def _sheets(self) -> dict[str, LayoutSheet]:
        return {one.id: one for one in self._document.layout.sheets}

    def _look(self) -> None:
        """Look at the first sheet that nothing is known about, and come back for the next."""
        document = self._document
        sheets = self._sheets()
        troubled = [sheets[one] for one in document.problems if one in sheets]
        unknown = [one for one in troubled if not self._is_known(one)]
        if not unknown:
            return
        if not document.gestures.in_hand:
            first = unknown[0]
            self._known[first.id] = document.job, first, remedy(document.project, first)
            if self.said_of(first.id):
                self.changed.emit()
        self._soon.start()

    def _is_known(self, sheet: LayoutSheet) -> bool:
        known = self._known.get(sheet.id)
        return known is not None and known[0] is self._document.job and known[1] is sheet
