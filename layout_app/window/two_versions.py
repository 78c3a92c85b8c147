"""What is offered where a project's file cannot take what is to be saved, so that none is lost."""

from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtCore import QObject

from layout_app.window.actions import deeds

if TYPE_CHECKING:
    from layout_app.window.main_window import MainWindow


class TwoVersions(QObject):
    """Asks which version is wanted where another program has changed the file.

    Until that is answered nothing is written to it. Where it cannot be written at all, another
    place is offered.
    """

    def __init__(self, window: "MainWindow") -> None:
        super().__init__(window)
        self._window = window
        self._asked: tuple[str, ...] = ()
        window.files.changed_elsewhere.connect(self.ask)
        window.files.unsaved.connect(self.ask_for_another_place)
        window.files.parted.connect(window.document.said)
        window.safe.changed_elsewhere.connect(partial(self.ask, keys=False))

    def ask_for_another_place(self, sentence: str) -> None:
        """Say why the project could not be saved, and offer another name."""
        bar = self._window.bar
        elsewhere = ("Save under another name…", self._window.unsaved.save_put_off)
        bar.ask(sentence, (elsewhere, ("Put away", bar.hide)))

    def ask(self, path: Path, sign: str, besides: str = "", *, keys: bool = True) -> None:
        """Ask about a file whose contents, which ``sign`` names, are another program's."""
        bar, shown = self._window.bar, self._window.document.saved_state.path
        sentence = (
            f"Another program has changed {path.name} since it was opened here. “Keep mine” writes"
            f" over theirs; “Open theirs” drops what you did here. {besides}"
        ).rstrip()
        if bar.isVisible() and (bar.sentence, sign) == self._asked:
            return  # further ticks ask nothing new
        self._asked = (sentence, sign)
        answers = (
            ("Save mine under another name…", partial(deeds.save_as, self._window)),
            ("Keep mine", partial(self._keep_mine, shown, path, sign)),
            ("Open theirs", partial(self._open_theirs, shown, path)),
        )
        bar.ask(sentence, answers, keys=keys)

    def _keep_mine(self, shown: Path | None, path: Path, sign: str) -> None:
        if self._window.document.saved_state.path == shown:
            self._window.files.save(self._window.document.project, path, over=sign)

    def _open_theirs(self, shown: Path | None, path: Path) -> None:
        if self._window.document.saved_state.path == shown:
            self._window.open_path(path)
