"""The maker's changes: one small undo command each.

A command says in `change` what the project becomes. The plan belongs to the edit that
caused it: undo brings back what was shown before, and redo what was shown after, with
every improvement that had come in, and neither asks the planner.
"""

from collections.abc import Sequence
from dataclasses import replace
from weakref import ref

from layout_app.document.document import Consequence, Document
from layout_app.document.steps import Step
from layout_app.model import layout_edits
from layout_app.model.carry_over import Settled, Staying, same_problem, settle
from layout_app.model.merge_plan import without_claims
from layout_app.model.project import Copy, Project
from layout_app.model.sawing import Sawn, saw, with_progress
from shared.job import Job, MatchGroup
from shared.lengths import Length, LengthStyle
from shared.parts import GrainRule, Part
from shared.shop import CutRule, Shop
from shared.squaring import squared


class Change(Step):
    """Base of all commands: remembers what was shown on the other side of the step.

    Ticks stand outside undo: whichever side is shown, the ticks are those of now.
    """

    def __init__(self, document: Document, text: str) -> None:
        super().__init__(text)
        # The document owns its commands: were they to hold it too, neither would end in order.
        self._to_document = ref(document)
        self._other: Sawn | None = None
        self._worked_out: tuple[Sawn, Consequence] | None = None
        self._is_slim = False

    @property
    def _document(self) -> Document:
        """The document it belongs to, which lives at least as long."""
        document = self._to_document()
        assert document is not None
        return document

    def change(self, project: Project) -> Project:
        """Return what the project becomes."""
        raise NotImplementedError

    def consequence(self, before: Project, after: Project) -> Consequence:
        """Say what the change means for planning."""
        raise NotImplementedError

    def refusal(self) -> str:
        """Say which cut that is made would be another one on the other side of the step."""
        return self._document.bars(self._ahead()[0])

    def sawn_after(self) -> Sawn:
        """Return what would be shown after the step."""
        return self._ahead()[0]

    def redo(self) -> None:
        """Do it; the second time from memory."""
        self._swap(*self._ahead())

    def undo(self) -> None:
        """Show again what was there before, without solving."""
        if self._other is not None:
            self._swap(*self._ahead())

    def slim(self) -> None:
        """Keep the project of the other side only: its plan is sawn again when it is shown."""
        if self._other is not None and not self._is_slim:
            self._other = Sawn(project=self._other.project)
            self._is_slim = True

    def _ahead(self) -> tuple[Sawn, Consequence]:
        """Return what is on the other side of the step, and what going there means."""
        if self._other is not None and self._is_slim:
            self._other, self._is_slim = saw(self._other.project), False
        if self._other is not None:
            return self.rebased(self._other), Consequence.STOP
        if self._worked_out is None:
            before = self._document.project
            after = self.change(before)
            self._worked_out = saw(after), self.consequence(before, after)
        return self._worked_out

    def rebased(self, sawn: Sawn) -> Sawn:
        """Return what was shown once with the ticks of now."""
        return with_progress(sawn, self._document.project.progress)

    def _swap(self, sawn: Sawn, consequence: Consequence) -> None:
        self._other, self._worked_out = self._document.sawn, None
        self._document.edit(sawn, consequence)


class JobChange(Change):
    """A change in a table: the sheets that are not yours are planned again."""

    by_hand = False
    """Whether changed parts may stay on every sheet, not only on those that are yours."""

    def alter(self, job: Job) -> Job:
        """Return what the job becomes."""
        raise NotImplementedError

    def change(self, project: Project) -> Project:
        """Alter the job and settle the layout to it."""
        job = squared(self.alter(project.job))
        if same_problem(project.job, job):
            same = project.job.shop.loose == job.shop.loose
            layout = project.layout if same else replace(project.layout, sawing=None)
            return replace(project, job=job, layout=layout)
        settled = self._settled(project, job)
        self._document.note_left(job, settled.left)
        self._document.note_let_go(project.job, settled.let_go)
        return without_claims(replace(project, job=job, layout=settled.layout))

    def _settled(self, project: Project, job: Job) -> Settled:
        """Carry the layout over; on begun sheets as much stays as leaves all cuts made alone.

        Once cuts are ticked nothing moves that need not, as on sheets laid out by hand.
        """
        begun = project.progress.dust
        for staying in Staying if begun else [Staying.NONE]:
            settled = settle(
                project.job,
                job,
                project.layout,
                by_hand=self.by_hand or bool(begun),
                begun=begun,
                staying=staying,
            )
            after = replace(project, job=job, layout=settled.layout)
            if not begun or not self._document.bars(saw(after)):
                break
        return settled

    def consequence(self, before: Project, after: Project) -> Consequence:
        """Plan again unless only words changed."""
        same = same_problem(before.job, after.job)
        return Consequence.NOTHING if same else Consequence.PLAN_ANEW


class RowChange(JobChange):
    """A change of rows that are there: sheets it does not touch stay, unless it asks for more."""

    def consequence(self, before: Project, after: Project) -> Consequence:
        """Plan what was touched; new copies and materials may need any sheet."""
        plain = super().consequence(before, after)
        if plain is not Consequence.PLAN_ANEW or _more(before.job, after.job):
            return plain
        return Consequence.PLAN_TOUCHED


def _more(before: Job, after: Job) -> bool:
    """Say whether a job asks for more copies of a part, or for a part of another material."""
    were = {part.id: part for part in before.parts}
    return any(
        part.copies > were[part.id].copies or part.material != were[part.id].material
        for part in after.parts
    )


class EditPart(RowChange):
    """Change a row of the take-off."""

    def __init__(self, document: Document, text: str, part: Part) -> None:
        super().__init__(document, text)
        self._part = part

    def alter(self, job: Job) -> Job:
        """Put the row in place of the one with its id."""
        rows = (self._part if row.id == self._part.id else row for row in job.parts)
        return replace(job, parts=tuple(rows))


class ResizePart(EditPart):
    """Change a part's size by its edges on the bench: the sheet it lies on becomes yours."""

    by_hand = True

    def __init__(
        self,
        document: Document,
        text: str,
        part: Part,
        moved: tuple[Copy, tuple[Length, Length] | None] | None,
    ) -> None:
        super().__init__(document, text, part)
        self._moved = moved

    def change(self, project: Project) -> Project:
        """Take the sheet into the maker's hands first, so that what lies there may stay."""
        if self._moved is None:
            return super().change(project)
        mine = layout_edits.make_yours(project.layout, *self._moved)
        return super().change(replace(project, layout=mine))


class SetGrainRule(RowChange):
    """Change how parts want the grain to run."""

    def __init__(
        self, document: Document, text: str, parts: Sequence[str], rule: GrainRule
    ) -> None:
        super().__init__(document, text)
        self._parts, self._rule = frozenset(parts), rule

    def alter(self, job: Job) -> Job:
        """Set the rule of those parts."""
        rows = (
            replace(row, grain_rule=self._rule) if row.id in self._parts else row
            for row in job.parts
        )
        return replace(job, parts=tuple(rows))


class SetColumns(RowChange):
    """Change how many parts of a match group lie in a row."""

    def __init__(self, document: Document, text: str, group: MatchGroup) -> None:
        super().__init__(document, text)
        self._group = group

    def alter(self, job: Job) -> Job:
        """Put the group in place of the one of its name; leave out groups no part names."""
        named = {part.group for part in job.parts}
        others = (one for one in job.groups if one.name in named and one.name != self._group.name)
        return replace(job, groups=(*others, self._group))


class AddParts(JobChange):
    """Add rows to the take-off."""

    def __init__(self, document: Document, text: str, parts: Sequence[Part]) -> None:
        super().__init__(document, text)
        self._parts = tuple(parts)

    def alter(self, job: Job) -> Job:
        """Append them."""
        return replace(job, parts=(*job.parts, *self._parts))


class RemoveParts(RowChange):
    """Take rows off the take-off."""

    def __init__(self, document: Document, text: str, parts: Sequence[str]) -> None:
        super().__init__(document, text)
        self._gone = frozenset(parts)

    def alter(self, job: Job) -> Job:
        """Leave them out."""
        return replace(job, parts=tuple(row for row in job.parts if row.id not in self._gone))


class EditShop(JobChange):
    """Change saws, rails, limits, pace, or what is worth keeping."""

    def __init__(self, document: Document, text: str, shop: Shop) -> None:
        super().__init__(document, text)
        self._shop = shop

    def alter(self, job: Job) -> Job:
        """Set the shop."""
        return replace(job, shop=self._shop)


class EditRule(JobChange):
    """Change how deep, and in which direction first, sheets are broken down."""

    def __init__(self, document: Document, text: str, rule: CutRule) -> None:
        super().__init__(document, text)
        self._rule = rule

    def alter(self, job: Job) -> Job:
        """Set the rule."""
        return replace(job, rule=self._rule)


class EditStyle(JobChange):
    """Change how lengths are written."""

    def __init__(self, document: Document, text: str, style: LengthStyle) -> None:
        super().__init__(document, text)
        self._style = style

    def alter(self, job: Job) -> Job:
        """Set the style."""
        return replace(job, style=self._style)


class RenameJob(JobChange):
    """Change the title of the job."""

    def __init__(self, document: Document, text: str, name: str) -> None:
        super().__init__(document, text)
        self._name = name

    def alter(self, job: Job) -> Job:
        """Set the name."""
        return replace(job, name=self._name)
