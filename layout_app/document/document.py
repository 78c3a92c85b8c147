"""The document: one frozen project, its plan, and what is selected in it."""

from collections.abc import Callable, Mapping
from dataclasses import replace
from itertools import count
from pathlib import Path

from PySide6.QtCore import QObject, QTimer, Signal
from PySide6.QtGui import QUndoStack

from layout_app.document.edit import Consequence, Edit, Step
from layout_app.document.saved_state import SavedState
from layout_app.document.selection import Gestures, Selection
from layout_app.model.carry_over import opened
from layout_app.model.cut_order import same_parts
from layout_app.model.locks import Held, asked
from layout_app.model.merge_plan import with_bounds
from layout_app.model.move_cut import dropped, without_impossible
from layout_app.model.progress_edits import ticked, would_change
from layout_app.model.project import Project
from layout_app.model.rank import beats
from layout_app.model.recorded import borne_by_records
from layout_app.model.sawing import Sawn, saw
from layout_app.model.tints import Tints
from shared.cuts.tally import Tally, tally
from shared.job import Job
from shared.layout import Layout
from shared.plan import Plan, Proof
from shared.progress import Progress
from shared.remembered import Remembered

TICKS_STAY = "Ticks stay: take them back with Ctrl+U."
"""Said once, where undo follows upon ticks: it leaves them alone."""
STEPS_KEPT = 1000
"""Older steps are forgotten, so that the memory held has an end."""
STEPS_WHOLE = 100
"""Steps that are further back keep no plan; it is sawn again, not solved, when they are undone."""


_tally = Remembered(tally, 4)

_openings = count(1)
"""Numbers that no two openings of a project share, whichever document it is in."""


class Document(QObject):
    """Holds a project and tells who asks what changed.

    Every change by the maker comes as an `Edit` and becomes an undo step; a planner's result
    replaces the layout in place and is none.
    """

    leaving = Signal()
    """Another project is about to be held: all that was asked, offered or begun here ends."""
    job_changed = Signal()
    layout_changed = Signal()
    """The layout, its plan or its problems."""
    proof_changed = Signal()
    edited = Signal(object)
    """The maker changed something; carries the `Consequence` for planning."""
    build_changed = Signal()
    """Build steps or hardware."""
    progress_changed = Signal()
    """Cuts were ticked or unticked, or ticks are on disk now."""
    ticks_set = Signal(object, bool)
    """The maker ticked cuts, or took their ticks away: their numbers, and whether ticked."""
    pushing = Signal(object)
    """A `Step` is about to be taken, for those who want to know how it was before."""
    said = Signal(str)
    """A sentence about what just happened to the layout."""
    not_in_file = Signal(str)
    """A sentence why ticks are not in the project's file, and where they are."""

    def __init__(self, project: Project | None = None, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._sawn = borne_by_records(saw(_begun(project or Project())))
        self.tints = Tints(self._sawn.plan)
        self.before_edit = self._sawn
        """What was shown before the maker's last change."""
        self.saved_state = SavedState(self.project, self)
        self.saved_state.ticks_changed.connect(self.progress_changed)
        self.edited.connect(self.saved_state.note_edited)
        self.gestures = Gestures(self)
        self.gestures.ended.connect(self._adopt_soon)
        self._held: Held | None = None
        self._takes: Tally | None = None
        self._pending: Sawn | None = None
        self.asks: Callable[[Edit], bool] = lambda _edit: False
        """Asks about an edit that would change a cut that is made; whether it does, else it is
        only said why not."""
        self.ticks_last = False
        """Whether ticks were set since a step was undone last: undo says then that they stay."""
        self.undo_stack = QUndoStack(self)
        self.undo_stack.setUndoLimit(STEPS_KEPT)
        self.selection = Selection(self)

    @property
    def project(self) -> Project:
        """What the document holds now."""
        return self._sawn.project

    @property
    def job(self) -> Job:
        """The project's job."""
        return self.project.job

    @property
    def layout(self) -> Layout:
        """Where the parts lie."""
        return self.project.layout

    @property
    def plan(self) -> Plan | None:
        """The cuttable sheets, sequenced and accepted by the simulated saw."""
        return self._sawn.plan

    @property
    def problems(self) -> Mapping[str, str]:
        """One sentence for each sheet that cannot be cut, by sheet id."""
        return self._sawn.problems

    @property
    def progress(self) -> Progress:
        """Which cuts are made."""
        return self.project.progress

    @property
    def held(self) -> Held:
        """What is held, and what of it is suspended."""
        if self._held is None:
            self._held = Held(self.project)
        return self._held

    @property
    def takes(self) -> Tally | None:
        """What the plan takes in sheets, cuts and time; counted once for all who show it."""
        if self._takes is None and self.plan is not None:
            self._takes = _tally(self.plan, self.job.shop)
        return self._takes

    @property
    def sawn(self) -> Sawn:
        """Project, plan and problems as one value."""
        return self._sawn

    def open(self, project: Project, path: Path | None, *, saved: bool = True) -> None:
        """Hold another project, with nothing to undo; ``saved`` says that it is on disk so."""
        self.leaving.emit()
        sawn, against = without_impossible(saw(_begun(project)))
        self.saved_state.note_opened(sawn.project, path, saved=saved)
        self._pending, self.ticks_last = None, False
        self.selection.clear()
        self.undo_stack.clear()
        self.tints = Tints()
        self._show(sawn)
        self.before_edit = self._sawn
        self.saved_state.changed.emit()
        self.tell(against)

    def shows(self, project: Project) -> bool:
        """Say whether a project is a state of the one that is open, and not merely like it."""
        return project.opening == self.project.opening

    def edit(self, sawn: Sawn, consequence: Consequence) -> None:
        """Show the result of the maker's change; steps call this, nobody else."""
        self._pending = None
        self.before_edit = self._sawn
        self._show(sawn)
        self.edited.emit(consequence)

    def set_progress(self, progress: Progress) -> None:
        """Tick or untick cuts; no undo step, and planning goes around sheets that are begun."""
        before = self.project
        self.ticks_last |= len(progress.made) > len(before.progress.made)
        self.saved_state.note_ticked(progress)
        self._show(ticked(self._sawn, progress))
        self._pending = None
        same = asked(before) == asked(self.project)
        self.edited.emit(Consequence.NOTHING if same else Consequence.PLAN_ON)

    def undo(self) -> None:
        """Take the last step back, unless that would change a cut that is made."""
        if self._may_step(self.undo_stack.index() - 1):
            self.undo_stack.undo()
            if self.ticks_last and self.progress.made:
                self.said.emit(TICKS_STAY)
            self.ticks_last = False

    def redo(self) -> None:
        """Take the step again, unless that would change a cut that is made."""
        if self._may_step(self.undo_stack.index()):
            self.undo_stack.redo()

    def push(self, edit: Edit) -> bool:
        """Make an edit, unless it would change a cut that is made; then that is asked, or said."""
        step = Step(self, edit)
        if refusal := step.refusal():
            if not self.asks(edit):
                self.said.emit(refusal)
            return False
        self.pushing.emit(step)
        self.undo_stack.push(step)
        far = self._step(self.undo_stack.index() - 1 - STEPS_WHOLE)
        if far is not None:
            far.slim()
        for sentence in filter(None, edit.says):
            self.said.emit(sentence)
        return True

    def may_push(self, edit: Edit) -> bool:
        """Say whether an edit could be made, without saying why not."""
        return not Step(self, edit).refusal()

    def _may_step(self, index: int) -> bool:
        step = self._step(index)
        return step is None or not self.tell(step.refusal())

    def _step(self, index: int) -> Step | None:
        step = self.undo_stack.command(index) if index >= 0 else None
        return step if isinstance(step, Step) else None

    def tell(self, *sentences: str) -> bool:
        """Say the first of some sentences that is not empty; return whether there is one."""
        first = next(filter(None, sentences), "")
        if first:
            self.said.emit(first)
        return bool(first)

    def _show(self, sawn: Sawn) -> None:
        """Hold this value and say what differs."""
        before, self._sawn = self._sawn, borne_by_records(sawn)
        sawn = self._sawn
        self.tints.follow(sawn.plan, self.before_edit.plan)
        self.saved_state.follow(sawn.project)
        self._held = self._takes = None
        now = sawn.project
        mended = self.selection.follow(now, before.plan, sawn.plan)
        if before.project.job != now.job:
            self.job_changed.emit()
        if before.plan != sawn.plan or before.project.layout != now.layout:
            self.layout_changed.emit()
        if before.project.build != now.build:
            self.build_changed.emit()
        if before.project.progress != now.progress:
            self.progress_changed.emit()
        if before.project.proof != now.proof or before.project.unplaced != now.unplaced:
            self.proof_changed.emit()
        if mended:
            self.selection.changed.emit()
        self.saved_state.changed.emit()

    def adopt(self, sawn: Sawn) -> None:
        """Let a planner's result for the current job replace the layout, unless it is worse.

        It was joined with your sheets, which stay, and sawn, elsewhere.
        """
        if not self.shows(sawn.project):
            return
        if self.gestures.in_hand:
            self._pending = sawn
        elif beats(sawn, self._sawn) or sawn.project.layout == self.layout:
            self._show_planned(sawn)
        elif sawn.project.proof != self.project.proof:
            self.take_bounds(sawn.project.proof)

    def adopt_order(self, sawn: Sawn) -> bool:
        """Show another order of the cuts; say whether it is of what lies there now.

        Nothing is shown during a gesture, nor what a sheet could not be cut in.
        """
        now = self.project
        layout = replace(
            now.layout,
            sheets=sawn.project.layout.sheets,
            order=sawn.project.layout.order,
            before=sawn.project.layout.before,
            sawing=sawn.project.layout.sawing,
            least_s=sawn.project.layout.least_s,
        )
        same = replace(now, layout=layout) == sawn.project and same_parts(now.layout, layout)
        same = same and self.shows(sawn.project)
        spoils = would_change(self.progress, sawn) or sawn.problems.keys() - self.problems.keys()
        if same and not self.gestures.in_hand and not spoils:
            self.tell(dropped(now.layout, sawn))
            self._show_planned(sawn)
        return same

    def _show_planned(self, sawn: Sawn) -> None:
        """Hold what planning has made."""
        self.saved_state.note_planned(sawn.project)
        self._show(sawn)

    def _adopt_soon(self) -> None:
        QTimer.singleShot(0, self, self._adopt_pending)

    def _adopt_pending(self) -> None:
        pending, self._pending = self._pending, None
        if pending is not None:
            self.adopt(pending)

    def take_bounds(self, proof: Proof) -> None:
        """Let what was proven about the current job stand beside the layout that is shown."""
        self._show_planned(with_bounds(self._sawn, proof))


def _begun(project: Project) -> Project:
    """Return a project as it is when it is opened, told from every other opening."""
    return replace(opened(project), opening=next(_openings))
