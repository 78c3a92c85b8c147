"""Changes that make or take away: parts drawn on the bench, more copies, sheets, whole plans."""

from collections.abc import Mapping, Sequence
from dataclasses import replace

from layout_app.document.commands import Change, JobChange
from layout_app.document.document import Consequence, Document
from layout_app.document.layout_commands import LayoutChange
from layout_app.model import layout_edits
from layout_app.model.merge_plan import after_hands
from layout_app.model.project import Copy, Project
from layout_app.model.sawing import Sawn
from shared.cuts.sequence import layout_sheet
from shared.job import Job
from shared.layout import Layout
from shared.parts import Part
from shared.plan import Placement
from shared.tree import Run


class _Laid(JobChange):
    """A change of the take-off whose new copies are laid on sheets at once."""

    _placements: Sequence[Placement] = ()

    def change(self, project: Project) -> Project:
        """Alter the job, then lay the copies as a hand would."""
        project = super().change(project)
        layout = project.layout
        for placement in self._placements:
            layout = layout_edits.place(project.job, layout, placement)
        return after_hands(replace(project, layout=layout))

    def consequence(self, before: Project, after: Project) -> Consequence:
        """Plan only if a copy lies nowhere."""
        del before
        waits = any(not one.sent for one in after.layout.waiting)
        return Consequence.PLAN_ANEW if waits else Consequence.PLAN_ON


class DrawPart(_Laid):
    """Add a part to the take-off that was drawn on a sheet, and lay it there."""

    def __init__(self, document: Document, text: str, part: Part, placement: Placement) -> None:
        super().__init__(document, text)
        self._part, self._placements = part, (placement,)

    def alter(self, job: Job) -> Job:
        """Append its row."""
        return replace(job, parts=(*job.parts, self._part))


class Duplicate(_Laid):
    """Make more copies of parts; those with a placement are laid there."""

    def __init__(
        self,
        document: Document,
        text: str,
        more: Mapping[str, int],
        placements: Sequence[Placement],
    ) -> None:
        super().__init__(document, text)
        self._more, self._placements = dict(more), tuple(placements)

    def alter(self, job: Job) -> Job:
        """Raise the numbers needed."""
        rows = (replace(row, copies=row.copies + self._more.get(row.id, 0)) for row in job.parts)
        return replace(job, parts=tuple(rows))


class RemoveSheet(LayoutChange):
    """Take a sheet off the bench; what lies on it waits until it is called back."""

    def __init__(self, document: Document, text: str, sheet: str, keys: Sequence[Copy]) -> None:
        super().__init__(document, text)
        self._sheet, self._keys = sheet, tuple(keys)

    def lay(self, job: Job, layout: Layout) -> Layout:
        """Let its parts wait, and leave it out."""
        layout = layout_edits.let_wait(job, layout, self._keys)
        rest = tuple(sheet for sheet in layout.sheets if sheet.id != self._sheet)
        return replace(layout, sheets=rest)


class TidySheet(LayoutChange):
    """Lay the parts of one sheet as the planner would."""

    def __init__(self, document: Document, text: str, sheet: str, tree: Run) -> None:
        super().__init__(document, text)
        self._sheet, self._tree = sheet, tree

    def lay(self, job: Job, layout: Layout) -> Layout:
        """Put its tree of cuts in place of the one there was."""
        old = layout_edits.sheet_of(layout, self._sheet)
        row = job.stock_row(old.stock)
        new = layout_sheet(old.id, row, job.shop.kerf, self._tree, yours=True)
        sheets = tuple(new if sheet.id == old.id else sheet for sheet in layout.sheets)
        return replace(layout, sheets=sheets)


class TakeWhole(Change):
    """Take the better plan that was made aside."""

    def __init__(self, document: Document, text: str, offered: Sawn) -> None:
        super().__init__(document, text)
        self._offered = offered

    def change(self, project: Project) -> Project:
        """Show what was planned, with the ticks of now."""
        return replace(self._offered.project, progress=project.progress)

    def consequence(self, before: Project, after: Project) -> Consequence:
        """It is planned already."""
        del before, after
        return Consequence.STOP
