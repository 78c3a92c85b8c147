"""A maker at the plain program on a desk: finds places on its bench, and reads what it saves."""

from collections.abc import Callable
from pathlib import Path

from PySide6.QtCore import QPoint, Qt
from PySide6.QtWidgets import QApplication

from layout_app.model.project import Project
from layout_app.planner.process import PlannerProcess
from layout_app.store.project_file import read_project
from layout_app.window.main_window import MainWindow
from shared.parts import Copy
from shared.plan import Placement
from tests.e2e.desk import Desk, Program, wait_for


class Maker:
    """Uses the program and reads what it saves.

    Where things are on the screen is read from a window that is made alike and never shown.
    """

    def __init__(self, desk: Desk, path: Path) -> None:
        self.desk, self.path = desk, path
        self.start()
        self.alike = MainWindow(planner=PlannerProcess())
        self.alike.setAttribute(Qt.WidgetAttribute.WA_DontShowOnScreen)
        self.alike.resize(*self.program.size)
        self.alike.show()

    def start(self) -> None:
        """Start the program; what is typed before the project is open would go with it."""
        self.program = Program(self.desk, self.path)
        wait_for("the project's name", lambda: self.program.title.startswith("Trial"))

    def saved(self) -> Project:
        """Save, and read the file once it is written."""
        before = self.path.stat().st_mtime_ns
        self.program.key("ctrl+s")
        wait_for("the file", lambda: self.path.stat().st_mtime_ns != before)
        return read_project(self.path)

    def until(self, what: str, holds: Callable[[Project], object]) -> Project:
        """Save until what is saved is as it should be."""

        def look() -> Project | None:
            project = self.saved()
            return project if holds(project) else None

        return wait_for(what, look)

    def answered(self) -> Project:
        """Press Enter on what is asked, which counts once it can have been read, and save."""
        self.program.key("Return")
        return self.saved()

    def see_all(self, project: Project) -> None:
        """Let the bench show all sheets, here and in the window that is alike."""
        self.alike.document.open(project, None)
        QApplication.processEvents()  # the regions share the window anew once there are cuts
        self.alike.bench.fit_all()
        QApplication.processEvents()
        self.program.click(self.ground)
        self.program.key("9")

    @property
    def ground(self) -> tuple[int, int]:
        """Return a place of the bench where no sheet lies: its lower left corner."""
        port = self.alike.bench.viewport()
        return self.in_window(port.rect().bottomLeft() + QPoint(4, -4))

    def place_of(self, copy: Copy) -> tuple[int, int]:
        """Return where the middle of a copy is in the window."""
        rect = self.alike.bench.bench.rects_of([copy])[0]
        return self.in_window(self.alike.bench.mapFromScene(rect.center()))

    def far_corner(self, sheet: str, copy: Copy) -> tuple[int, int]:
        """Return where the middle of a copy goes for it to lie in the far corner of a sheet."""
        rect = self.alike.bench.bench.rects_of([copy])[0]
        corner = self.alike.bench.hand.sheets.stand(sheet).rect.bottomRight()
        return self.in_window(
            self.alike.bench.mapFromScene(corner - rect.center() + rect.topLeft())
        )

    def free_rip(self, project: Project) -> Placement:
        """Return what begins a rip that can be made later: nothing held would move with it."""
        sheets, held = self.alike.bench.hand.sheets, self.alike.document.held
        return next(
            one
            for sheet in project.layout.sheets
            for one in sheet.placements
            if (index := sheets.rip_at(sheet.id, one.rect.right, one.rect.bottom)) is not None
            and index + 1 < len(sheets.first_pieces(sheet.id))
            and not held.bars_rip(sheet.id, index, index + 1)
        )

    def in_window(self, at: QPoint) -> tuple[int, int]:
        """Return where a point of the bench's viewport is in the window."""
        found = self.alike.bench.viewport().mapTo(self.alike, at)
        return found.x(), found.y()

    def close(self) -> None:
        """Leave nothing running."""
        self.program.kill()
        self.alike.document.saved_state.note_saved(self.alike.document.project, self.path)
        self.alike.close()
