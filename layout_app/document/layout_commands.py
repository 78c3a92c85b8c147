"""Changes of the layout by hand: one small undo command each."""

from collections.abc import Sequence
from dataclasses import replace

from layout_app.document.commands import Change
from layout_app.document.document import Consequence, Document
from layout_app.model import layout_edits
from layout_app.model.locks import given_back
from layout_app.model.merge_plan import after_hands
from layout_app.model.project import Copy, Project
from shared.job import Job
from shared.layout import Layout
from shared.plan import Placement


class LayoutChange(Change):
    """A change by hand on the bench: the sheets it touches are yours from now on."""

    def lay(self, job: Job, layout: Layout) -> Layout:
        """Return what the layout becomes."""
        raise NotImplementedError

    def change(self, project: Project) -> Project:
        """Lay it, and hold what is proven against the new layout."""
        layout = self.lay(project.job, project.layout)
        layout = layout_edits.cut_on(project.job, project.layout, layout, project.progress.sheets)
        return after_hands(replace(project, layout=layout))

    def consequence(self, before: Project, after: Project) -> Consequence:
        """Let planning that is under way start over around the maker's sheets."""
        del before, after
        return Consequence.PLAN_ON


class MovePart(LayoutChange):
    """Lay a copy somewhere else, on the same sheet or another."""

    def __init__(self, document: Document, text: str, placement: Placement) -> None:
        super().__init__(document, text)
        self._placement = placement

    def lay(self, job: Job, layout: Layout) -> Layout:
        """Take the copy up and put it down."""
        return layout_edits.place(job, layout, self._placement)


class LetPartsWait(LayoutChange):
    """Take copies from their sheets."""

    def __init__(self, document: Document, text: str, keys: Sequence[Copy]) -> None:
        super().__init__(document, text)
        self._keys = tuple(keys)

    def lay(self, job: Job, layout: Layout) -> Layout:
        """Send them to wait."""
        return layout_edits.let_wait(job, layout, self._keys)


class CallPartsBack(LayoutChange):
    """Let planning place copies again that were sent to wait."""

    def __init__(self, document: Document, text: str, keys: Sequence[Copy]) -> None:
        super().__init__(document, text)
        self._keys = tuple(keys)

    def lay(self, job: Job, layout: Layout) -> Layout:
        """Forget that they were sent."""
        return layout_edits.call_back(job, layout, self._keys)

    def consequence(self, before: Project, after: Project) -> Consequence:
        """Place them."""
        del before, after
        return Consequence.PLAN_ANEW


class LayParts(LayoutChange):
    """Lay several copies somewhere else, as one step: turned, or each in the other's place."""

    def __init__(self, document: Document, text: str, placements: Sequence[Placement]) -> None:
        super().__init__(document, text)
        self._placements = tuple(placements)

    def lay(self, job: Job, layout: Layout) -> Layout:
        """Take the copies up and put them down."""
        return layout_edits.place_all(job, layout, self._placements)


class MoveRip(LayoutChange):
    """Make a rip of a sheet earlier or later."""

    def __init__(self, document: Document, text: str, sheet: str, frm: int, to: int) -> None:
        super().__init__(document, text)
        self._move = (sheet, frm, to)

    def lay(self, job: Job, layout: Layout) -> Layout:
        """Let the strips change place."""
        return layout_edits.reorder_rips(job, layout, *self._move)


class AddSheet(LayoutChange):
    """Put one more sheet on the bench, to lay parts on by hand."""

    def __init__(self, document: Document, text: str, stock: str) -> None:
        super().__init__(document, text)
        self._stock = stock

    def lay(self, job: Job, layout: Layout) -> Layout:
        """Add it, empty."""
        return layout_edits.add_sheet(layout, job.stock_row(self._stock))


class TakeSheetsBack(Change):
    """Give sheets laid out by hand back to planning, but begun and locked ones."""

    def change(self, project: Project) -> Project:
        """Forget whose they are."""
        return after_hands(given_back(project))

    def consequence(self, before: Project, after: Project) -> Consequence:
        """Plan all of it."""
        del before, after
        return Consequence.PLAN_ANEW
