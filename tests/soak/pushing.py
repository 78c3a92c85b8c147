"""Parts dragged over others and pushed aside: ``python -m tests.soak.pushing --parts 100 --n 40``.

Parts of a planned list of furniture are dragged over random places of their sheets with the key
held that pushes. What is said to be cuttable is laid down, and then sawn by the simulated saw;
nothing that is locked may have moved, and undo brings back what was. Prints how many frames push,
what is false, and how long a frame keeps the processor, painted, in milliseconds.
"""

import argparse
import time
from collections import Counter
from random import Random
from statistics import quantiles

from PySide6.QtCore import QEvent, QPointF, Qt
from PySide6.QtGui import QMouseEvent
from PySide6.QtWidgets import QApplication

from layout_app.bench.carrying import Carrying
from layout_app.bench.view import BenchView
from layout_app.document import edit_locks
from layout_app.document.document import Document
from layout_app.look.theme import Theme
from layout_app.model.project import Project
from shared.layout import Scope
from shared.parts import Copy
from shared.plan import Placement
from shared.saw import verify
from tests.benchmarks.furniture import furniture
from tests.layout_app.adopting import adopt
from tests.layout_app.small_job import planned

CONTROL, LEFT = Qt.KeyboardModifier.ControlModifier, Qt.MouseButton.LeftButton
FRAMES = 40
"""Steps of the mouse in a drag."""


def document(parts: int) -> Document:
    """Return a planned document of so many parts, one of them locked."""
    job = furniture(parts)
    made = Document(Project(job=job))
    adopt(made, planned(job))
    edit_locks.hold(made, Scope.PART, [made.layout.sheets[0].placements[0].key])
    return made


def try_pushing(doc: Document, drags: int, seed: int = 0) -> tuple[Counter[str], list[float]]:
    """Drag parts of a document about; return what was seen, and seconds for each frame."""
    chance, seen, took = Random(seed), Counter[str](), list[float]()
    view = BenchView(doc, Theme.light())
    view.resize(1000, 700)
    view.show()
    view.fit_width()
    for _ in range(drags):
        before = doc.project
        free = [
            one
            for sheet in doc.layout.sheets
            for one in sheet.placements
            if not doc.held.bars(one.key)
        ]
        held = _drag(view, chance.choice(free), chance, took, seen)
        told = _told(held)
        seen[told] += 1
        frozen = _frozen(doc)
        if told == "cannot":  # Let go, it would be the maker's; here it is left.
            view.hand.cancel()
            continue
        view.hand.release()
        QApplication.processEvents()
        sound = not doc.problems and doc.plan is not None and verify(doc.plan) == ()
        seen["false"] += not sound or any(doc.layout.find(one.key) != one for one in frozen)
        if doc.project != before and chance.random() < 0.5:
            doc.undo()
            seen["not undone"] += doc.project != before
    view.close()
    view.deleteLater()
    return seen, took


def _frozen(doc: Document) -> list[Placement]:
    """Return what is locked, as it lies."""
    lying = (one for sheet in doc.layout.sheets for one in sheet.placements)
    return [one for one in lying if doc.held.bars(one.key)]


def _drag(
    view: BenchView, one: Placement, chance: Random, took: list[float], seen: Counter[str]
) -> Carrying:
    """Take a part up and move it over other places of its sheet, the key that pushes held."""
    stand = view.hand.sheets.stand(one.sheet)
    view.hand.press(_middle(view, one.key))
    interaction = None
    whole = view.hand.sheets.stock(one.sheet).whole
    for number in range(FRAMES):
        spot = QPointF(
            stand.x + chance.random() * whole.length / 40_000,
            stand.y + chance.random() * whole.width / 40_000,
        )
        began = time.process_time()
        at = QPointF(view.mapFromScene(spot))
        where = QPointF(view.viewport().mapToGlobal(at.toPoint()))
        event = QMouseEvent(QEvent.Type.MouseMove, at, where, LEFT, LEFT, CONTROL)
        QApplication.sendEvent(view.viewport(), event)
        QApplication.processEvents()
        if number:  # The first one takes the part up.
            took.append(time.process_time() - began)
        interaction = view.hand.interaction
        if isinstance(interaction, Carrying):
            seen["frames that push"] += bool(interaction.giving_way.moved)
    assert isinstance(interaction, Carrying)
    return interaction


def _middle(view: BenchView, key: Copy) -> QPointF:
    (rect,) = view.bench.rects_of((key,))
    view.reveal(rect)
    return rect.center()


def _told(held: Carrying) -> str:
    """Return how what is in the hand stands."""
    if held.giving_way.moved:
        return "pushed"
    return "lies free" if held.verdict.good else "cannot"


def main(arguments: list[str] | None = None) -> int:
    """Try it and print the figures; 1 if anything said was false."""
    parser = argparse.ArgumentParser(description="Pushes parts aside.")
    parser.add_argument("--parts", type=int, default=100)
    parser.add_argument("--n", type=int, default=40)
    parser.add_argument("--seed", type=int, default=0)
    asked = parser.parse_args(arguments)
    app = QApplication.instance() or QApplication(["pushing"])
    doc = document(asked.parts)
    seen, took = try_pushing(doc, asked.n, asked.seed)
    doc.undo_stack.clear()
    ms = sorted(1000 * one for one in took)
    print(f"{asked.parts} parts, {asked.n} drags: {dict(seen)}")
    print(f"frames {len(ms)}: p50 {ms[len(ms) // 2]:.1f} ms, p95 {quantiles(ms, n=20)[-1]:.1f} ms")
    assert app is not None
    return 1 if seen["false"] or seen["not undone"] else 0


if __name__ == "__main__":
    raise SystemExit(main())
