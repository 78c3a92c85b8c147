"""Looks up what the document and the scene know of a sheet, for gestures."""

from layout_app.bench.frame import Stand
from layout_app.bench.scene import BenchScene
from layout_app.document.document import Document
from layout_app.document.places import Places


class Sheets(Places):
    """Knows besides where each sheet stands on the bench."""

    def __init__(self, document: Document, scene: BenchScene) -> None:
        super().__init__(document)
        self._scene = scene

    def stand(self, sheet: str) -> Stand:
        """Return where a sheet stands in the scene; KeyError if there is none."""
        return {stand.sheet: stand for stand in self._scene.floor.stands}[sheet]
