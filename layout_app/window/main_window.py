"""The window: three regions, one document, one planner."""

from functools import partial
from pathlib import Path
from typing import Any

from PySide6.QtCore import Qt
from PySide6.QtGui import QCloseEvent, QKeyEvent
from PySide6.QtWidgets import QAbstractItemView, QApplication, QMainWindow

from layout_app.bench.view import BenchView
from layout_app.document.document import Document
from layout_app.document.kept_shop import KeptShop
from layout_app.look.as_typed import title
from layout_app.look.asking_bar import AskingBar
from layout_app.look.style_sheet import dress
from layout_app.look.theme import Theme
from layout_app.model.words.counting_words import how_counted
from layout_app.panels.entry import Entry
from layout_app.panels.in_place import InPlace
from layout_app.panels.left_region import LeftRegion
from layout_app.panels.sequence_panel import SequencePanel
from layout_app.planner.live import Planning
from layout_app.planner.process import PlannerProcess
from layout_app.window.actions.cuts import CUTS, CutsContext
from layout_app.window.actions.edit import EDIT, EditContext
from layout_app.window.actions.help import HELP, HelpContext
from layout_app.window.actions.keys import keys_text
from layout_app.window.actions.layout import LAYING, LayoutContext
from layout_app.window.actions.menus import Menus
from layout_app.window.actions.paper import PAPER, PaperContext
from layout_app.window.actions.plan import PLANNING, PlanContext
from layout_app.window.actions.project import PROJECT, RECENT_MENU, ProjectContext, RecentMenu
from layout_app.window.actions.repair import REPAIRING
from layout_app.window.actions.row import Bound, bound
from layout_app.window.actions.view import COLOURS, VIEWING, ViewContext
from layout_app.window.beside import WALK, Beside
from layout_app.window.clipboard import PartsClipboard
from layout_app.window.context_menus import offer_menus
from layout_app.window.cost_after import CostAfter
from layout_app.window.drawers import Drawers
from layout_app.window.files import Files
from layout_app.window.frame import Banner, Tools, arrange
from layout_app.window.offers import Offers
from layout_app.window.paper_work import PaperWork
from layout_app.window.projects import Projects
from layout_app.window.regions import Regions
from layout_app.window.settings import KeptWindow
from layout_app.window.speaking import WindowVoice
from layout_app.window.status_line import StatusLine
from shared.cautions import cautions_for
from solver.wire import Budget

ON_EMPTY_BENCH = "bench.sheet", "bench.put_all_back", "bench.plan"
GROUND = ("edit.paste_parts", "bench.sheet", "bench.plan", "bench.anew", "bench.whole", "bench.all")
COPIED = ("edit.cut", "edit.copy")
"""Actions whose keys work in the take-off as on the bench."""
PARTS = ("edit.cut", "edit.copy", "edit.paste_parts")
"""Actions that the menu of the empty ground offers."""


class MainWindow(QMainWindow):
    """Shows one document; asks in place, blocks for nothing but file dialogs."""

    def __init__(
        self,
        document: Document | None = None,
        *,
        theme: Theme | None = None,
        planner: PlannerProcess | None = None,
        limits: Budget | None = None,
        shop_file: Path | None = None,
        recovery: Path | None = None,
        settings_file: Path | None = None,
    ) -> None:
        """Make the window.

        ``shop_file`` is where the shop is kept, ``settings_file`` where the window's own settings
        are, ``recovery`` the folder for ticks that have no file yet; ``None`` for nowhere.
        """
        super().__init__()
        theme = theme or Theme.light()
        self.document = document or Document()
        self.menus = Menus(self, self.document)
        self.document.setParent(self)  # so that it dies after all that listens to it
        self.planner = planner or PlannerProcess()
        self.planner.setParent(self)
        self.planning = Planning(self.document, self.planner, self, limits=limits)
        files = Files(self, recovery)
        self.keeping = KeptWindow(self, files, settings_file, theme)
        self.bar = AskingBar(self)
        shop = KeptShop(self.document, self)
        if document is None:
            shop.begin_empty()
        self.left = LeftRegion(self.document, theme, self, shop)
        self.bench = BenchView(self.document, theme, self)
        InPlace(self.document, self.bench)
        self.sequence = SequencePanel(self.document, theme, self)
        self.projects = Projects(
            self.document,
            self.keeping,
            shop,
            files,
            self.bar,
            window=self,
            take_typed=self.left.take_typed,
            shop_file=shop_file,
            aside=recovery is not None,
        )
        self.beside = Beside(self)
        self.status = StatusLine(self.document, self.planning, self)
        CostAfter(self.document, self)
        self.offers = Offers(self.document, self.planning, self.planner, self.bar, self)
        self.drawers = Drawers(
            self.document,
            self.planning,
            self.offers,
            theme=theme,
            sequence=self.sequence,
            window=self,
        )
        self.paper_work = PaperWork(
            self.document,
            self.drawers.paper,
            self.projects,
            keeping=self.keeping,
            bar=self.bar,
            status=self.status,
            in_sight=lambda: self.bench.sheet_in_sight,
            window=self,
        )
        self.menus.fill(self._actions(self._arrange()), (self.bench, self.left.placements))
        self._offer_menus()
        WindowVoice(
            self.bench.speaking.voice,
            self.document,
            self.planning,
            status=self.status,
            bar=self.bar,
            cards=self.sequence.cards,
            issues=self.left.issues,
        )
        self._connect()
        self._show_title()
        self.menus.refresh()
        self.left.parts.setFocus()
        self._begin_at_bench()

    # --- building ----------------------------------------------------------------------

    def _arrange(self) -> Regions:
        """Put everything in its place; return the regions that the keys go round."""
        banner = Banner(self.projects.safe, self)
        banner.again.connect(self.projects.open_again)
        below = (*self.drawers.below, self.sequence)
        right = (self.bench, self.drawers.advice)
        arrange(
            self,
            above=(banner, self.bar),
            left=self.left,
            right=right,
            below=below,
            status=self.status,
        )
        tray = self.bench.shelf
        regions = (self.bar, banner, self.left, self.bench, tray, *right[1:], *below, self.status)
        return Regions(self, regions, self.left.tabs)

    def _actions(self, regions: Regions) -> tuple[Bound[Any], ...]:
        """Return all actions in the order of the menus, each with what it is about and no more."""
        document, bench, drawers = self.document, self.bench, self.drawers
        clipboard = PartsClipboard(document, self.left)
        view = ViewContext(document, bench, self.keeping)
        cuts = CutsContext(
            document,
            self.sequence,
            drawers.lying,
            self.offers.taking_back,
            self.planning,
            bench,
            self.beside,
            self.keeping,
            self.projects.faults,
        )
        plan = PlanContext(document, self.planning, bench, drawers, self.bar)
        return (
            *bound("&Project", PROJECT, ProjectContext(self.projects, self.keeping, self.close)),
            *bound("&Edit", EDIT, EditContext(document, self.left, bench, clipboard, regions)),
            *bound("&Bench", PLANNING, plan),
            *bound("&Bench", LAYING, LayoutContext(document, bench, self.left, self.offers)),
            *bound("&Bench", REPAIRING, bench),
            *bound("&Bench", (*VIEWING, *COLOURS), view),
            *bound("&Cuts", CUTS, cuts),
            *bound("Pa&per", PAPER, PaperContext(document, drawers.paper, self.paper_work)),
            *bound("&Help", HELP, self._help()),
        )

    def _offer_menus(self) -> None:
        """Show actions in the bar of tools and the menus of the right button, too."""
        actions = self.menus.actions
        self.addToolBar(Tools(self.document, self.menus, self))
        RecentMenu(self.keeping, actions, self.menus.menu("&Project", RECENT_MENU))
        offer_menus(self.document, actions, self.left, self.bench, self.sequence)
        self.bench.ground_actions = [actions[name] for name in GROUND]
        self.bench.empty.offer(*(actions[name] for name in ON_EMPTY_BENCH))
        self.bench.part_actions = [actions[name] for name in PARTS]
        self.left.parts.addActions([actions[name] for name in COPIED])

    def _connect(self) -> None:
        document, offers, drawers = self.document, self.offers, self.drawers
        document.leaving.connect(self._leave)
        document.job_changed.connect(self._show_title)
        document.saved_state.changed.connect(self._show_title)
        self.keeping.recoloured.connect(self._recolour)
        self.beside.changed.connect(self._follow_walk)
        for hears in (
            offers.taking_back.forget,
            self.planning.plan_if_needed,
            drawers.lying.open_to_go_on,
            self._begin_at_bench,
        ):
            self.projects.shown.connect(hears)
        for says in (drawers.lying.said, drawers.advice.said, self.left.said):
            says.connect(self.status.say)
        self.sequence.cards.field_asked.connect(partial(self.left.go_to, ""))
        offers.taking_back.said.connect(self.status.say_ticked)
        self.status.back.clicked.connect(offers.taking_back.do)
        offers.offering.changed.connect(self._show_offer)
        offers.locks.changed.connect(self._show_lock_costs)
        self.status.offer.clicked.connect(offers.offering.take)
        self.status.choices.clicked.connect(drawers.choices.toggle)
        drawers.choices.closed.connect(self.bench.setFocus)
        drawers.advice.left.connect(self.bench.setFocus)
        self.keeping.changed.connect(self._show_map)
        self.bench.hand.tidied.connect(offers.tidying.tidy)
        self.bench.twins.shuts = drawers.shut
        self.bench.twins.stops = offers.tidying.stop
        offers.tidying.changed.connect(self._show_tidying)
        self.bench.hand.drew.connect(self.left.name_part)
        for changed in (
            self.planning.changed,
            self.left.tabs.currentChanged,
            self.keeping.changed,
            offers.taking_back.changed,
            drawers.changed,
        ):
            changed.connect(self.menus.refresh)

    # --- showing -----------------------------------------------------------------------

    def _begin_at_bench(self) -> None:
        """Give the keys to the bench if something lies there and they are at no other work."""
        if self.document.layout.sheets and self.focusWidget() is self.left.parts:
            self.bench.setFocus()

    def _recolour(self, theme: Theme) -> None:
        """Show everything in other colours."""
        app = QApplication.instance()
        if isinstance(app, QApplication):
            dress(app, theme)
        for one in (self.left, self.bench, self.sequence, self.drawers.choices):
            one.set_theme(theme)

    def _keys(self) -> str:
        return keys_text(self.menus.rows.values())

    def _help(self) -> HelpContext:
        return HelpContext(self.beside, self, self._keys, self._cautions, self._counted)

    def _cautions(self) -> tuple[str, ...]:
        return cautions_for(self.document.job.shop)

    def _counted(self) -> tuple[str, ...]:
        return how_counted(self.document.job.shop, self.document.job.style.unit)

    def _show_map(self) -> None:
        self.bench.mini_map.wanted = self.keeping.settings.overview

    def _show_title(self) -> None:
        path = self.document.saved_state.path
        name = self.document.job.name or (path.name if path is not None else "New project")
        self.setWindowTitle(f"{title(name)}[*] — Ripfirst")
        self.setWindowModified(self.document.saved_state.modified)

    def _show_lock_costs(self) -> None:
        self.bench.bench.show_lock_costs(self.offers.locks.words)

    def _show_offer(self) -> None:
        self.status.show_offer(self.offers.offering.sentence)
        self.menus.refresh()

    def _show_tidying(self) -> None:
        self.status.show_tidying(self.offers.tidying.under_way)

    def _follow_walk(self) -> None:
        """Leave ticks to the walk while it is open; give the keys to the bench when it is gone."""
        walking = self.beside.is_open(WALK)
        if self.sequence.walking and not walking:
            self.bench.setFocus()
        self.sequence.walking = walking

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Leave a state with Esc, wherever the keys are, if nobody else has a use for it."""
        if event.key() == Qt.Key.Key_Escape:
            self.bench.twins.leave()
        else:
            super().keyPressEvent(event)

    # --- leaving -----------------------------------------------------------------------

    def _leave(self) -> None:
        """End what is asked, typed or said about the project that is left."""
        self.bar.leave()
        self.status.forget()
        for entry in self.findChildren(Entry):
            entry.leave()
        for view in self.findChildren(QAbstractItemView):
            view.reset()  # closes a cell that is open, and takes nothing from it

    def closeEvent(self, event: QCloseEvent) -> None:
        """Ask about unsaved changes in place; end the planner and the threads."""
        if not self.projects.lets_close():
            event.ignore()
            return
        self.beside.close_all()
        self.offers.end()
        self.planning.cancel()
        self.planner.close()
        self.projects.close()
        event.accept()
