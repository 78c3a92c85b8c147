"""What stands in the way of the plan, one sentence a line; a click leads to the row."""

from collections.abc import Iterator, Sequence

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QColor
from PySide6.QtWidgets import QAbstractItemView, QListWidget, QListWidgetItem, QWidget

from layout_app.document.document import Document
from layout_app.look.as_typed import breakable
from layout_app.look.theme import Theme
from layout_app.model.broken_sets import broken_sets, figure_sentence
from layout_app.model.words import shop_limits
from layout_app.model.words.wording import unbroken
from layout_app.planner.unlock import Freeing
from shared.check import check_job
from shared.issues import Issue, Severity
from shared.plan import ASIDE

SUSPENDED = "hold-suspended"
BROKEN = "figure-breaks"
NO_RAIL = "shop-rails-short"
BEYOND = ("stock-beyond-reach", "stock-cut-other-way")
"""Codes of issues about sheets that no rail cuts, or not as the rule wants it."""
MOST_LINES = 6
"""Lines shown before the list scrolls."""


def said_once(found: Sequence[Issue]) -> Iterator[Issue]:
    """Yield issues; where no rail takes any cut, not besides of each sheet that none cuts it."""
    short = any(issue.code == NO_RAIL for issue in found)
    yield from (issue for issue in found if not (short and issue.code in BEYOND))


def all_issues(document: Document, freeing: Freeing | None = None) -> Iterator[Issue]:
    """Yield what is wrong with the job, sheets laid by hand and holds, then what has no sheet.

    ``freeing`` knows which part to move where a sheet cannot be cut.
    """
    job = document.job
    found = check_job(job) if job.parts or job.stock else ()
    yield from said_once(found)
    for sheet, problem in document.problems.items():
        remedy = freeing.said_of(sheet) if freeing is not None else ""
        sentence = f"{problem} {remedy}".rstrip()
        yield Issue(code="sheet-uncut", severity=Severity.ERROR, subject=sheet, sentence=sentence)
    yield from shop_limits.issues_of(document.plan, job)
    yield from _broken(document)
    for hold, sentence in document.held.suspended:
        subject = hold.part or hold.sheet
        yield Issue(code=SUSPENDED, severity=Severity.WARNING, subject=subject, sentence=sentence)
    known = {issue.subject for issue in found if issue.severity is Severity.ERROR}
    waits = {one.part for one in document.layout.waiting if not one.sent} - known
    for row in document.project.unplaced:
        if row.part in waits and row.need != ASIDE:
            part = job.part(row.part)
            what = part.name if part.copies == 1 else f"{row.copies} of {part.name}"
            sentence = f"{what}: {row.need}."
            yield Issue(
                code="part-unplaced", severity=Severity.ERROR, subject=row.part, sentence=sentence
            )


def _broken(document: Document) -> Iterator[Issue]:
    """Name the matched sets whose figures break as they lie, though they need not."""
    job, plan = document.job, document.plan
    for told, _ in broken_sets(job, plan) if plan is not None else ():
        first = next(part.id for part in job.parts if part.group == told.name)
        yield Issue(
            code=BROKEN,
            severity=Severity.WARNING,
            subject=first,
            field="group",
            sentence=figure_sentence(told),
        )


def _tip(issue: Issue) -> str:
    """Say what becomes of the subject meanwhile."""
    if issue.code == SUSPENDED:
        return "In force again as soon as it fits where it was"
    if issue.code == BROKEN:
        return "It need not: Plan looks for a layout in which the figure runs on"
    stands = issue.severity is Severity.ERROR
    return "Not planned until fixed" if stands else "Planned as it stands"


class IssuesList(QListWidget):
    """Takes no room while nothing is wrong."""

    chosen = Signal(str, str)
    """Subject and field of the issue that was chosen."""
    changed = Signal()
    """Something else is wrong now."""

    def __init__(self, document: Document, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._document = document
        self._theme = theme
        self._shown: tuple[Issue, ...] = ()
        self._freeing = Freeing(document, self)
        self._freeing.changed.connect(self.refresh)
        self.setAccessibleName("What is wrong")
        self.setWordWrap(True)
        self.setObjectName("issues")
        self.setVerticalScrollMode(QAbstractItemView.ScrollMode.ScrollPerPixel)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.itemActivated.connect(self._tell)
        self.itemClicked.connect(self._tell)
        document.job_changed.connect(self.refresh)
        document.layout_changed.connect(self.refresh)
        document.proof_changed.connect(self.refresh)
        self.refresh()

    def set_theme(self, theme: Theme) -> None:
        """Paint with other colours."""
        self._theme, self._shown = theme, ()
        self.refresh()

    def refresh(self) -> None:
        """Show what is wrong now."""
        issues = tuple(all_issues(self._document, self._freeing))
        if issues != self._shown or not self.count():
            self._shown = issues
            self.clear()
            for issue in issues:
                self.addItem(self._item(issue))
            self._frame(any(issue.severity is Severity.ERROR for issue in issues))
            self.changed.emit()
        self.setVisible(bool(issues))
        lines = min(MOST_LINES, 3 * len(issues))
        self.setFixedHeight(lines * (self.fontMetrics().height() + 4) + 8)

    @property
    def first(self) -> str:
        """What is wrong first of all, and how much more."""
        if not self._shown:
            return ""
        more = f" And {len(self._shown) - 1} more." if len(self._shown) > 1 else ""
        return f"{self._shown[0].sentence}{more}"

    def _frame(self, wrong: bool) -> None:
        """Frame it in red only where something is not planned or can't be cut."""
        if self.property("wrong") != wrong:
            self.setProperty("wrong", wrong)
            self.style().unpolish(self)
            self.style().polish(self)

    def _item(self, issue: Issue) -> QListWidgetItem:
        stands = issue.severity is Severity.ERROR
        item = QListWidgetItem(f"{'✗' if stands else '?'}  {breakable(unbroken(issue.sentence))}")
        item.setForeground(QColor(self._theme.warning if stands else self._theme.pencil))
        item.setToolTip(_tip(issue))
        item.setData(Qt.ItemDataRole.UserRole, (issue.subject, issue.field))
        return item

    def _tell(self, item: QListWidgetItem) -> None:
        subject, field = item.data(Qt.ItemDataRole.UserRole)
        self.chosen.emit(subject, field)
