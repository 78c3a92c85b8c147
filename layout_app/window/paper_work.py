"""Printing, previewing, copying and writing what is shown; the window goes on meanwhile."""

from collections.abc import Callable, Sequence
from pathlib import Path
from typing import Final

from PySide6.QtCore import QObject, QUrl
from PySide6.QtGui import QDesktopServices, QGuiApplication
from PySide6.QtPrintSupport import QPrintDialog, QPrinter, QPrinterInfo
from PySide6.QtWidgets import QFileDialog, QWidget

from layout_app.document.document import Document
from layout_app.look.asking_bar import AskingBar
from layout_app.model.sawing import Sawn
from layout_app.model.variant import SIZES, varied
from layout_app.model.words.wording import counted, sheet_names
from layout_app.panels.paper_drawer import PaperDrawer
from layout_app.panels.preview import Preview
from layout_app.paper import ink
from layout_app.paper.matter import Matter
from layout_app.paper.on_paper import matter_of_sawn
from layout_app.paper.pack.whole import pack_pages
from layout_app.paper.printing import print_pages, set_up
from layout_app.paper.rendering import image_of
from layout_app.paper.titled import drawing_page
from layout_app.window.projects import Projects
from layout_app.window.settings import KeptWindow
from layout_app.window.status_line import StatusLine

NO_PRINTER: Final = (
    "No printer is set up here: write the cut pack as a PDF instead (Paper, Write files)."
)
NO_FOLDERS: Final = "No program here shows folders. The files are in"
COPIED_DOTS: Final = 2400
"""Dots along the longer side of a copied picture."""


class PaperWork(QObject):
    """What the menu Paper and its drawer set going."""

    def __init__(
        self,
        document: Document,
        drawer: PaperDrawer,
        projects: Projects,
        *,
        keeping: KeptWindow,
        bar: AskingBar,
        status: StatusLine,
        in_sight: Callable[[], str],
        window: QWidget,
    ) -> None:
        """``in_sight`` returns the sheet that the bench shows most of, ``""`` for none."""
        super().__init__(window)
        self._in_sight = in_sight
        self._document, self._drawer, self._projects = document, drawer, projects
        self._keeping, self._bar, self._status, self._window = keeping, bar, status, window
        files = projects.files
        self._folder: Path | None = None
        self._fault = ""
        self._on_paper = ""
        files.exported.connect(self._take_exported)
        files.left_over.connect(self._tell_left_over)
        files.failed.connect(self._note_fault)
        files.in_the_way.connect(self._ask_to_replace)
        drawer.wanted.connect(self.write)
        drawer.folder_wanted.connect(self.open_folder)
        drawer.variant.wanted.connect(self.plan_variant)
        for changed in (document.layout_changed, document.job_changed, drawer.opened):
            changed.connect(self._name_plan)
        document.leaving.connect(self._forget)

    def matter(self) -> Matter:
        """Return all that goes on paper now."""
        return matter_of_sawn(self._document.sawn, self._drawer.wish().unit)

    def pages(self) -> tuple[ink.Page, ...]:
        """Compose the cut pack as the drawer says."""
        return pack_pages(self.matter(), self._drawer.wish())

    def write(self) -> None:
        """Ask for a folder and write the wished formats into it."""
        path = self._document.saved_state.path
        start = str(path.parent if path else self._keeping.folder)
        name = self._projects.still(
            lambda: QFileDialog.getExistingDirectory(self._window, "Write into a folder", start)
        )
        if name:
            self.write_into(Path(name))

    def write_into(self, folder: Path, *, replace: bool = False) -> None:
        """Write the wished formats into a folder."""
        drawer = self._drawer
        self._projects.files.export(
            self._document.sawn, folder, drawer.formats(), drawer.wish(), replace=replace
        )

    def print(self) -> None:
        """Print the pages after the system's dialog."""
        if not QPrinterInfo.availablePrinterNames():
            self._bar.say(NO_PRINTER)
            return
        printer = self._printer()
        dialog = QPrintDialog(printer, self._window)
        dialog.setWindowTitle("Print the cut pack")
        if self._projects.still(dialog.exec):
            print_pages(printer, self.pages())
            self._note_on_paper(self._document.sawn)

    def preview(self) -> None:
        """Show the pages as they will be printed, and print them if that is wished then."""
        preview = Preview(self._printer(), self.pages(), self._window)
        self._document.leaving.connect(preview.reject)
        wanted = self._projects.still(preview.exec)
        preview.deleteLater()
        if wanted:
            self.print()

    def plan_variant(self) -> None:
        """Show the reader's variant as a project of its own, and plan it."""
        try:
            variant = self._drawer.variant.variant(self._document.job.style)
        except ValueError as error:
            self._status.say(str(error))
            return
        made = varied(self._document.project, variant)

        def show() -> None:
            self._bar.hide()
            self._projects.show(made, None)
            self._bar.say(SIZES)

        self._projects.when_kept(show)

    def _name_plan(self) -> None:
        """Name the plan that goes on paper, and say once that the one that went there was another.

        Plans become better while planning goes on, and pages that lie at the saw do not.
        """
        number = self._document.sawn.number
        if self._drawer.isVisible():
            self._drawer.name_plan(number)
        if self._on_paper and number and number != self._on_paper:
            said = f"The plan has changed: what you printed or wrote is plan {self._on_paper}."
            self._bar.say(said, keys=False)
            self._on_paper = ""

    def _note_on_paper(self, sawn: Sawn) -> None:
        self._document.saved_state.note_on_paper()
        self._on_paper = sawn.number
        self._name_plan()

    def _forget(self) -> None:
        self._on_paper = ""

    def _tell_left_over(self, names: Sequence[str], folder: Path) -> None:
        """Say which drawings in the folder are of an earlier plan."""
        if len(names) == 1:
            self._bar.say(f"{names[0]} in {folder} belongs to an earlier plan: delete it.")
            return
        named = f"{names[0]} and {counted(len(names) - 1, 'more drawing')}"
        self._bar.say(f"{named} in {folder} belong to an earlier plan: delete them.")

    def _printer(self) -> QPrinter:
        printer = QPrinter(QPrinter.PrinterMode.HighResolution)
        set_up(printer, self._document.job.name, self._drawer.wish().paper)
        return printer

    def copy_sheet(self) -> None:
        """Put a picture of a sheet on the clipboard: of what is selected, else the one in sight."""
        matter = self.matter()
        wanted = self._sheet_of_selection() or self._in_sight()
        drawing = next((one for one in matter.drawings if one.sheet == wanted), matter.drawings[0])
        page = drawing_page(
            drawing, matter.style, matter.job, banner=matter.banner, identity=matter.identity
        )
        QGuiApplication.clipboard().setImage(image_of(page, COPIED_DOTS))
        self._document.saved_state.note_on_paper()
        self._status.say(f"Sheet {drawing.sheet} is on the clipboard as a picture.")

    def _sheet_of_selection(self) -> str:
        document, plan = self._document, self._document.plan
        chosen, cut = document.selection.parts, document.selection.cut
        if plan is not None and cut is not None and plan.has_cut(cut):
            return plan.cut(cut).sheet
        lying = ((sheet.id, p) for sheet in document.layout.sheets for p in sheet.placements)
        return next((sheet for sheet, p in lying if p.key in chosen), "")

    def open_folder(self) -> None:
        """Show the folder that was written into last, in the system's own window."""
        where = QUrl.fromLocalFile(str(self._folder))
        if self._folder is not None and not QDesktopServices.openUrl(where):
            self._bar.say(f"{NO_FOLDERS} {self._folder}.")

    def _take_exported(self, files: Sequence[Path], folder: Path, sawn: Sawn) -> None:
        """Say what was written as good news, and what lacks as a fault."""
        what = files[0].name if len(files) == 1 else counted(len(files), "file")
        self._status.say(f"{what} written to {folder}.")
        if not self._document.shows(sawn.project):
            return
        self._folder = folder
        self._bar.take_back(self._fault)
        self._note_on_paper(sawn)
        self._drawer.offer_folder(folder)
        left_out = sorted(sheet for sheet in sawn.problems if sheet)
        if left_out:
            self._bar.say(f"Drawn without cuts, under a banner: {sheet_names(left_out)}.")

    def _note_fault(self, sentence: str) -> None:
        self._fault = sentence

    def _ask_to_replace(self, files: Sequence[Path], folder: Path, sawn: Sawn) -> None:
        more = f" and {counted(len(files) - 1, 'more file')}" if len(files) > 1 else ""
        named = f"{files[0].name}{more}"
        if not self._document.shows(sawn.project):
            self._status.say(f"Nothing was written: {named} stood in {folder} already.")
            return
        self._bar.ask(
            f"{named} would be replaced in {folder}.",
            [
                ("Replace", lambda: self.write_into(folder, replace=True)),
                ("Leave as it is", self._bar.hide),
            ],
        )
