"""The window: three regions, one document, one planner."""

from collections.abc import Callable
from pathlib import Path
from typing import TypeVar

from PySide6.QtGui import QAction, QCloseEvent
from PySide6.QtWidgets import QAbstractItemView, QApplication, QMainWindow

from layout_app.bench.view import BenchView
from layout_app.document.document import Document
from layout_app.document.kept_shop import KeptShop
from layout_app.look.as_typed import in_menu, tip, title
from layout_app.look.asking_bar import AskingBar
from layout_app.look.style_sheet import dress
from layout_app.look.theme import Theme
from layout_app.model.project import Project
from layout_app.panels.advice import AdvicePanel
from layout_app.panels.choices import ChoicesDrawer
from layout_app.panels.entry import Entry
from layout_app.panels.left_region import LeftRegion
from layout_app.panels.lying import LyingDrawer
from layout_app.panels.paper_drawer import PaperDrawer
from layout_app.panels.sequence_panel import SequencePanel
from layout_app.panels.styles import style_text
from layout_app.planner.advice import Looking
from layout_app.planner.after_replan import Aftermath
from layout_app.planner.aside import Aside, Offering, Tidying
from layout_app.planner.going_on import GoingOn
from layout_app.planner.live import Planning
from layout_app.planner.process import PlannerProcess
from layout_app.window import build
from layout_app.window.actions import deeds
from layout_app.window.actions.table import ACTIONS
from layout_app.window.actions.walk import follow_walk
from layout_app.window.banner import Banner
from layout_app.window.beside import Beside
from layout_app.window.context_menus import offer_menus
from layout_app.window.faults import Faults
from layout_app.window.files import Files
from layout_app.window.notes import Note
from layout_app.window.paper_work import PaperWork
from layout_app.window.regions import Regions
from layout_app.window.safekeeping import Safekeeping
from layout_app.window.settings import KeptWindow
from layout_app.window.status_line import StatusLine
from layout_app.window.taking_back import TakingBack
from layout_app.window.two_versions import TwoVersions
from layout_app.window.unsaved import Unsaved
from shared.shop import Shop
from solver.budget.stop import Limits

_Answer = TypeVar("_Answer")


class MainWindow(QMainWindow):
    """Shows one document; asks in place, blocks for nothing but file dialogs."""

    def __init__(
        self,
        document: Document | None = None,
        *,
        theme: Theme | None = None,
        planner: PlannerProcess | None = None,
        limits: Limits | None = None,
        shop_file: Path | None = None,
        recovery: Path | None = None,
        settings_file: Path | None = None,
    ) -> None:
        """Make the window.

        ``shop_file`` is where the shop is kept, ``settings_file`` where the window's own settings
        are, ``recovery`` the folder for ticks that have no file yet; ``None`` for nowhere.
        """
        super().__init__()
        self.document = document or Document()
        self.document.setParent(self)  # so that it dies after all that listens to it
        self.theme = theme or Theme.light()
        self.planner = planner or PlannerProcess()
        self.planner.setParent(self)
        self.planning = Planning(self.document, self.planner, self, limits=limits)
        self.files = Files(self, recovery)
        self.kept = KeptShop(self.document, self)
        self.keeping = KeptWindow(self, self.files, settings_file)
        self._shop_file = shop_file
        if document is None:
            self._begin_new()
        self.left = LeftRegion(self.document, self.theme, self, self.kept)
        self.bench = BenchView(self.document, self.theme, self)
        self.sequence = SequencePanel(self.document, self.theme, self)
        self.looking = Looking(self.document, self.planning, self.planner, self)
        self.advice = AdvicePanel(self.document, self.looking, self)
        self.bar = AskingBar(self)
        self.beside = Beside(self)
        self.banner = Banner(self)
        self.faults = Faults(self.document, self.files, self.bar, self)
        self.safe = Safekeeping(
            self.document, self.files, self.bar, aside=recovery is not None, parent=self
        )
        self.taking_back = TakingBack(self.document, self)
        self.status = StatusLine(self.document, self.planning, self)
        self.choices = ChoicesDrawer(self.document, self.planning, self.theme, self)
        self.lying = LyingDrawer(self.document, self)
        self.paper = PaperDrawer(self)
        self.paper_work = PaperWork(self)
        self.aftermath = Aftermath(self.document, self.planner, self.bar, self)
        self.going_on = GoingOn(self.document, self.planning, self.planner, self.bar, self)
        self.aside = Aside(self.document, self.planning, self.planner, self)
        self.tidying = Tidying(self.document, self.aside, self)
        self.offering = Offering(self.document, self.planning, self.aside, self)
        self.advice.tell_offers(self.offering)
        self.unsaved = Unsaved(self)
        self._failure = ""
        self._opening: tuple[Path, int] | None = None
        self._changes = 0
        """How many changes the maker has made, to tell whether any came while a disk was slow."""
        self._may_close = False
        self._build()
        self.regions = Regions(self)
        self._connect()
        self._show_title()
        self._refresh_actions()
        if shop_file is not None:
            self.files.recall_shop(shop_file)

    # --- building ----------------------------------------------------------------------

    def _build(self) -> None:
        self.versions = TwoVersions(self)
        self._rows = {row.id: row for row in ACTIONS}
        build.arrange(self)
        self.actions_by_id = build.make_actions(self, self._do)
        self.goal, self.units = build.make_toolbar(self)
        build.make_recent_menu(self)
        offer_menus(self)
        self.bench.ground_actions = [self.actions_by_id[name] for name in build.GROUND]

    def _connect(self) -> None:
        document = self.document
        document.leaving.connect(self._leave)
        document.edited.connect(self._count_change)
        document.undo_stack.indexChanged.connect(self._refresh_actions)
        document.selection.changed.connect(self._refresh_actions)
        document.gestures.changed.connect(self._refresh_actions)
        for signal in (document.job_changed, document.layout_changed, self.planning.changed):
            signal.connect(self._refresh_actions)
        document.progress_changed.connect(self._refresh_actions)
        self.left.tabs.currentChanged.connect(self._refresh_actions)
        document.job_changed.connect(self._show_title)
        document.saved_state.changed.connect(self._show_title)
        for drawer in (self.choices, self.lying, self.paper):
            drawer.opened.connect(self._refresh_actions)
            drawer.closed.connect(self._refresh_actions)
        self.status.choices.clicked.connect(self.choices.toggle)
        self.choices.closed.connect(self.bench.setFocus)
        self.lying.said.connect(self.status.say)
        self.left.said.connect(self.status.say)
        self.taking_back.said.connect(self.status.say_ticked)
        self.taking_back.changed.connect(self._refresh_actions)
        self.status.back.clicked.connect(self.taking_back.do)
        self.offering.changed.connect(self._show_offer)
        self.status.offer.clicked.connect(self.offering.take)
        self.bench.hand.tidied.connect(self.tidying.tidy)
        self.bench.hand.drew.connect(self.left.name_part)
        self.advice.said.connect(self.status.say)
        self.advice.left.connect(self.bench.setFocus)
        self.safe.elsewhere_changed.connect(self._show_elsewhere)
        self.safe.recovered.connect(self._go_on_with)
        self.banner.again.connect(self._open_again)
        self.beside.changed.connect(self._follow_walk)
        self.files.opened.connect(self._take_opened)
        self.files.saved.connect(self._take_saved)
        self.files.failed.connect(self._take_failure)
        self.files.changed_elsewhere.connect(self.unsaved.stop)
        self.files.recalled.connect(self._take_recalled)
        self.kept.to_keep.connect(self._keep_shop)
        self.keeping.changed.connect(self._refresh_actions)

    # --- showing -----------------------------------------------------------------------

    def set_theme(self, theme: Theme) -> None:
        """Show everything in other colours."""
        self.theme = theme
        app = QApplication.instance()
        if isinstance(app, QApplication):
            dress(app, theme)
        self.left.set_theme(theme)
        self.bench.set_theme(theme)
        self.sequence.set_theme(theme)
        self.choices.set_theme(theme)

    def show_note(self, title: str, text: str) -> None:
        """Show a text beside the work."""
        self.beside.show(title, lambda: Note(title, text, self))

    def _follow_walk(self) -> None:
        follow_walk(self)

    def _show_title(self) -> None:
        path = self.document.saved_state.path
        name = self.document.job.name or (path.name if path is not None else "New project")
        self.setWindowTitle(f"{title(name)}[*] — Ripfirst")
        self.setWindowModified(self.document.saved_state.modified)
        self.units.setText(style_text(self.document.job.style))

    def _refresh_actions(self) -> None:
        for name, action in self.actions_by_id.items():
            row = self._rows[name]
            action.setEnabled(row.enabled(self))
            if row.checked is not None:
                action.setChecked(row.checked(self))
        stack = self.document.undo_stack
        for name, word, step in (
            ("edit.undo", "&Undo", stack.undoText()),
            ("edit.redo", "&Redo", stack.redoText()),
        ):
            action, row = self.actions_by_id[name], self._rows[name]
            action.setText(f"{word} {in_menu(step)}".rstrip())
            said = f"{word.replace('&', '')} {step}" if step else row.tip
            action.setToolTip(tip(f"{said} ({row.shortcut})"))

    def _do(self) -> None:
        action = self.sender()
        if isinstance(action, QAction):
            self._rows[str(action.data())].does(self)

    # --- files -------------------------------------------------------------------------

    def open_path(self, path: Path) -> None:
        """Open a project; what is wrong with it is said, and nothing is lost."""
        self._opening = path, self._changes
        self.files.open(path)

    def _count_change(self) -> None:
        self._changes += 1

    def _take_opened(self, project: Project, path: Path) -> None:
        """Show what was read last, once work that was done meanwhile has been asked about."""
        if self._opening is None or self._opening[0] != path:
            return
        (_, changes), self._opening = self._opening, None
        if self._changes == changes:
            self.show_project(project, path)
        else:
            self.when_kept(lambda: self.show_project(project, path))

    def _leave(self) -> None:
        """End what is asked, typed or said about the project that is left."""
        self._opening = None
        self.unsaved.leave()
        self.bar.leave()
        self.status.forget()
        for entry in self.findChildren(Entry):
            entry.leave()
        for view in self.findChildren(QAbstractItemView):
            view.reset()  # closes a cell that is open, and takes nothing from it

    def still(self, ask: Callable[[], _Answer]) -> _Answer | None:
        """Return what a dialog was answered, unless another project was opened meanwhile."""
        asked_of = self.document.project
        answer = ask()
        return answer if self.document.shows(asked_of) else None

    def choose_and_open(self) -> None:
        """Let the maker choose a file, and open it."""
        path = self.still(lambda: deeds.ask_what_to_open(self))
        if path is not None:
            self.open_path(path)

    def save(self) -> None:
        """Save where it was opened from, or ask where; what is open elsewhere is saved apart."""
        self.left.take_typed()
        path = None if self.safe.elsewhere else self.document.saved_state.path
        path = path or self.still(lambda: deeds.ask_where_to_save(self))
        if path is not None:
            self.save_to(path)
        else:
            self.unsaved.stop()

    def save_to(self, path: Path) -> None:
        """Save under a name."""
        self.unsaved.saving(self.document.project, self._changes)
        self.files.save(self.document.project, path)

    def when_kept(self, act: Callable[[], None]) -> None:
        """Do something that loses the project, once what is unsaved has been asked about."""
        self.unsaved.when_kept(act)

    def show_project(self, project: Project, path: Path | None) -> None:
        """Hold another project; planning of the one before ends."""
        self.unsaved.leave_ticks()
        self._hold(project, path)

    def _hold(self, project: Project, path: Path | None, *, saved: bool = True) -> None:
        self.safe.begin(project.progress)
        self.document.open(project, path, saved=saved)
        self.taking_back.forget()
        self.kept.begin()
        self.keeping.opened(path)
        self.planning.plan_if_needed()
        self.lying.open_to_go_on()

    def _go_on_with(self, project: Project, left: Path) -> None:
        """Show what another window has left; it is not saved yet."""

        def show() -> None:
            self.unsaved.leave_ticks()
            self._hold(project, None, saved=False)
            self.files.go_on_with(left)

        self.when_kept(show)

    def _open_again(self) -> None:
        """Open the file anew, in case the other window is closed now."""
        path = self.document.saved_state.path
        if path is not None:
            self.when_kept(lambda: self.open_path(path))

    def _show_offer(self) -> None:
        self.status.show_offer(self.offering.sentence)
        self._refresh_actions()

    def _show_elsewhere(self) -> None:
        self.banner.setVisible(self.safe.elsewhere)

    def _begin_new(self, opening: tuple[Path, int] | None = None) -> None:
        """Hold an empty project with the kept shop; a file that is being read is still to come."""
        self.document.open(self.kept.new_project(), None)
        self._opening = opening
        self.kept.begin()

    def _take_recalled(self, shop: Shop | None) -> None:
        """Take the shop that is kept on disk; a new project nobody touched begins with it."""
        if shop is None:
            return
        untouched = self.document.project == self.kept.new_project()
        self.kept.recall(shop)
        is_new = self.document.saved_state.path is None and not self.document.undo_stack.count()
        if untouched and is_new:
            self._begin_new(self._opening)

    def _keep_shop(self, shop: Shop) -> None:
        if self._shop_file is not None:
            self.files.keep_shop(shop, self._shop_file)

    def _take_saved(self, project: Project, path: Path) -> None:
        self.document.saved_state.note_saved(project, path)
        self.bar.take_back(self._failure)
        self.keeping.opened(path)
        self.unsaved.take_saved(project, self._changes)

    def _take_failure(self, sentence: str) -> None:
        self.unsaved.stop()
        self._failure = sentence
        self.bar.say(sentence)

    def closeEvent(self, event: QCloseEvent) -> None:
        """Ask about unsaved changes in place; end the planner and the threads."""
        self.left.take_typed()
        if self.document.saved_state.modified and not self._may_close:
            event.ignore()
            self.when_kept(self._close_now)
            return
        self.beside.close_all()
        self.offering.end()
        self.planning.cancel()
        self.planner.close()
        self.unsaved.leave_ticks()
        self.keeping.keep_shape()
        self.files.close()
        event.accept()

    def _close_now(self) -> None:
        self._may_close = True
        self.close()
