"""What comes after sawing: build steps and hardware, one a line, in the maker's own words."""

from dataclasses import replace
from typing import Final

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QFocusEvent, QKeyEvent, QKeySequence
from PySide6.QtWidgets import QPlainTextEdit, QWidget

from layout_app.document.document import Document
from layout_app.document.edit_job import set_build
from layout_app.panels.widgets import down, label, quiet
from shared.building import (
    StepError,
    StepKind,
    hardware_lines,
    read_hardware,
    read_steps,
    slips,
    step_lines,
)

KINDS: Final = ", ".join(kind.value for kind in StepKind if kind is not StepKind.OTHER)
STEPS_HINT: Final = "groove (Drawer side; Drawer back): 1/4 by 1/4, 3/8 up from the bottom"
HARDWARE_HINT: Final = "12 × slide 14 in (side-mount)"
MOST_SLIPS: Final = 3
"""Hints that are shown at a time."""
_ENTER: Final = (Qt.Key.Key_Return, Qt.Key.Key_Enter)


class LinesEditor(QPlainTextEdit):
    """Text that is taken when the keys leave it, or with Ctrl+Enter; Esc brings back the old."""

    done = Signal()
    given_up = Signal()

    def __init__(self, name: str, hint: str, parent: QWidget) -> None:
        super().__init__(parent)
        self.setAccessibleName(name)
        self.setPlaceholderText(hint)
        self.setTabChangesFocus(True)

    def focusOutEvent(self, event: QFocusEvent) -> None:
        """Take what is written."""
        super().focusOutEvent(event)
        self.done.emit()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Take it with Ctrl+Enter, give it up with Esc."""
        if event.matches(QKeySequence.StandardKey.Cancel):
            self.given_up.emit()
        elif event.key() in _ENTER and event.modifiers() & Qt.KeyboardModifier.ControlModifier:
            self.done.emit()
        else:
            super().keyPressEvent(event)


class BuildPanel(QWidget):
    """Two texts of lines; they go into the published plan and onto the labels."""

    def __init__(self, document: Document, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._document = document
        self.steps = LinesEditor("Build steps", STEPS_HINT, self)
        self.hardware = LinesEditor("Hardware", HARDWARE_HINT, self)
        self.fault = label("", self, "strong")
        self.fault.setWordWrap(True)
        self.slips = quiet("", self)
        self._arrange()
        self.steps.done.connect(self._take_steps)
        self.hardware.done.connect(self._take_hardware)
        for lines in (self.steps, self.hardware):
            lines.given_up.connect(self.refresh)
        document.build_changed.connect(self.refresh)
        document.leaving.connect(self.refresh)
        document.job_changed.connect(self._refresh_unless_typing)
        self.refresh()

    def refresh(self) -> None:
        """Show what the project says."""
        build, parts = self._document.project.build, self._document.job.parts
        self.fault.hide()
        _put(self.steps, step_lines(build, parts))
        self._show_slips()
        _put(self.hardware, hardware_lines(build))

    def _refresh_unless_typing(self) -> None:
        if not (self.steps.hasFocus() or self.hardware.hasFocus()):
            self.refresh()

    def _show_slips(self) -> None:
        """Hint at kinds that seem to be misspelt; the text is left as it is."""
        found = list(slips(self.steps.toPlainText()))
        more = len(found) - MOST_SLIPS
        said = "\n".join([*found[:MOST_SLIPS], *([f"And {more} more."] if more > 0 else [])])
        self.slips.setText(said)
        self.slips.setVisible(bool(said))
        self.steps.setAccessibleDescription(said)

    def _take_steps(self) -> None:
        self._show_slips()
        try:
            steps = read_steps(self.steps.toPlainText(), self._document.job.parts)
        except StepError as error:
            self.fault.setText(str(error))
            self.fault.show()
            return
        self.fault.hide()
        set_build(self._document, replace(self._document.project.build, steps=steps), "build steps")

    def _take_hardware(self) -> None:
        hardware = read_hardware(self.hardware.toPlainText())
        set_build(
            self._document, replace(self._document.project.build, hardware=hardware), "hardware"
        )

    def _arrange(self) -> None:
        steps = quiet(f"One a line: kind (parts): words. Kinds are {KINDS}.", self)
        hardware = quiet("One a line: number × name (note).", self)
        both = quiet("Both go into a published plan; the first step onto labels.", self)
        down(
            *(label("Build steps, in order", self, "strong"), steps, (self.steps, 3)),
            *(self.fault, self.slips),
            *(label("Hardware", self, "strong"), hardware, (self.hardware, 1), both),
            on=self,
            edges=(8, 8, 8, 8),
        )


def _put(lines: LinesEditor, text: str) -> None:
    if lines.toPlainText() != text:
        lines.setPlainText(text)
