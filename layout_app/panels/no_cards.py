"""What stands in place of the cards where there are none: what to do, or what stands in the way."""

from typing import Final

from PySide6.QtCore import QRect, Qt
from PySide6.QtGui import QPainter

from layout_app.look import pens
from layout_app.look.theme import Theme
from layout_app.model.project import Project
from layout_app.panels.card_row import MARGIN
from shared.check import check_job
from shared.issues import Issue, Severity
from shared.job import Job

NOTHING_ENTERED: Final = "No cuts yet: enter parts and sheets, and the sequence appears here."
NO_CUTS: Final = "No cuts yet. If something stands in the way, it is said at the left."
NO_SHEET: Final = "No cuts yet: no sheet lies on the bench. Lay one out, or put all parts back."
NO_PART: Final = "No cuts yet: no part lies on a sheet."
TO_THE_FIELD: Final = "Click here to go to the field."


def in_the_way(job: Job) -> Issue | None:
    """Return the first error of the shop or of the job as a whole: nothing is planned with one."""
    found = (one for one in check_job(job) if not one.subject and one.severity is Severity.ERROR)
    return next(found, None)


def no_cuts(project: Project) -> str:
    """Say what there is to do where no card can be shown."""
    job, layout = project.job, project.layout
    if not (job.parts and job.stock):
        return NOTHING_ENTERED
    if wrong := in_the_way(job):
        return f"No cuts until this is put right: {wrong.sentence}"
    if not layout.sheets and any(one.sent for one in layout.waiting):
        return NO_SHEET
    if layout.sheets and not any(sheet.placements for sheet in layout.sheets):
        return NO_PART
    return NO_CUTS


def paint_no_cards(painter: QPainter, theme: Theme, room: QRect, project: Project) -> None:
    """Write it in the middle of a room in pixels, and that a click leads to what is wrong."""
    words = no_cuts(project)
    if in_the_way(project.job):
        words = f"{words}\n{TO_THE_FIELD}"
    painter.setPen(pens.colour(theme.warning if in_the_way(project.job) else theme.faint))
    painter.setFont(pens.font(13))
    flags = int(Qt.AlignmentFlag.AlignCenter) | int(Qt.TextFlag.TextWordWrap)
    painter.drawText(room.adjusted(MARGIN, 0, -MARGIN, 0), flags, words)
