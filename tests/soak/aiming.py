"""What the hand aims at, and what is said meanwhile: ``python -m tests.soak.aiming``.

Plans both demo projects and ten workshop lists at counted work, and works on the bench with mouse
events. ``--drops``: every placed part is let go within 12 px of its own slot, both ways at random,
at three zooms; then the same after it was set aside, from the tray, with no memory of its place.
``--sheets``: sheets laid from nothing, 12 parts from the tray, 5 px off in every aim. ``--frames
N``: the verdict of so many frames of carried parts against one asked afresh.
"""

import argparse
import sys
from collections import Counter
from collections.abc import Iterator
from dataclasses import replace
from itertools import combinations, product
from pathlib import Path
from random import Random

from PySide6.QtCore import QEvent, QPoint, QPointF, QRectF, Qt
from PySide6.QtGui import QMouseEvent
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication

from layout_app.bench.carrying import Carrying
from layout_app.bench.view import BenchView
from layout_app.document import edit_layout
from layout_app.document.document import Document
from layout_app.document.judging_many import judge_all
from layout_app.look.theme import Theme
from layout_app.model import feasibility
from layout_app.model.carry_over import with_waiting
from layout_app.model.project import Project
from layout_app.store.project_file import read_project
from shared.job import Job
from shared.layout import Layout, LayoutSheet
from shared.plan import Placement
from solver.budget.stop import Budget
from solver.run import run
from tests.benchmarks.neutral import load
from tests.layout_app.adopting import adopt

ROOT = Path(__file__).parents[2]
DEMOS = ("herbarium", "press-rack")
LISTS = tuple(range(0, 30, 3))
WORK = 200
OFF_PX, AIM_PX = 12, 5
"""How far off parts are let go, each way: from their own slot, and in careful aims."""
MOST_LAID = 12
LEFT, NONE = Qt.MouseButton.LeftButton, Qt.KeyboardModifier.NoModifier
VIEW_PX = (1100, 760)


def jobs(count: int) -> Iterator[Job]:
    """Yield the first jobs of the trial: the demo projects, then workshop lists."""
    paths = [ROOT / "assets" / f"{name}.ripfirst.json" for name in DEMOS]
    lists = [ROOT / "tests" / "benchmarks" / "workshop" / f"shop{n:02}.json" for n in LISTS]
    for path in paths[:count]:
        yield read_project(path).job
    for path in lists[: max(0, count - len(paths))]:
        yield load(path)[0].job


def planned(job: Job) -> Document:
    """Return a document of a job, planned."""
    doc = Document(Project(job=job))
    plan = run(job, Budget(time_s=None, work=WORK), lambda event: None)
    assert plan is not None
    adopt(doc, plan)
    return doc


class Bench:
    """A bench with a document, and a mouse on it."""

    def __init__(self, doc: Document) -> None:
        self.doc = doc
        self.view = BenchView(self.doc, Theme.light())
        self.view.resize(*VIEW_PX)
        self.view.show()
        self.port = self.view.viewport()
        QTest.qWait(20)

    def close(self) -> None:
        """Put the bench away."""
        self.view.hand.cancel()
        self.view.close()
        self.view.deleteLater()
        QApplication.processEvents()

    @property
    def lying(self) -> list[Placement]:
        """All that lies on sheets."""
        return [one for sheet in self.doc.layout.sheets for one in sheet.placements]

    @property
    def carried(self) -> Carrying | None:
        """What is in the hand."""
        found = self.view.hand.interaction
        return found if isinstance(found, Carrying) else None

    def rect(self, one: Placement) -> QRectF:
        """Return where something lies, or would lie, in the scene."""
        stand = self.view.hand.sheets.stand(one.sheet)
        return QRectF(
            stand.x + one.x / 40_000,
            stand.y + one.y / 40_000,
            one.length / 40_000,
            one.width / 40_000,
        )

    def at(self, point: QPointF) -> QPoint:
        """Return a point of the view over a point of the scene."""
        return self.view.mapFromScene(point)

    def take(self, one: Placement) -> QPoint | None:
        """Take up what lies somewhere with the mouse; return the point of the press."""
        self.doc.selection.clear()
        start = self.at(self.rect(one).center())
        QTest.mousePress(self.port, LEFT, NONE, start)
        self.go(start + QPoint(40, 30))
        carried = self.carried
        if carried is None or carried.taken.keys != (one.key,):
            self.let_go(start)
            return None
        return start

    def bring(self, one: Placement) -> QPoint:
        """Carry what lies on no sheet over a place; return where the pointer holds it there."""
        self.view.hand.carry([one.key])
        corner = self.at(self.rect(one).topLeft())
        self.go(corner + QPoint(30, 20))
        if self.carried is not None and self.carried.held.turned != one.turned:
            QTest.keyClick(self.view, Qt.Key.Key_T)
        return corner

    def go(self, point: QPoint) -> None:
        """Move the pointer: the bench hears of it, as with a button held, whatever lies there."""
        kind, where = QEvent.Type.MouseMove, QPointF(self.port.mapToGlobal(point))
        event = QMouseEvent(kind, QPointF(point), where, LEFT, LEFT, NONE)
        QApplication.sendEvent(self.port, event)

    def let_go(self, point: QPoint) -> None:
        """Let the button go; what was taken up from the tray is laid down by a press."""
        if self.view.hand.pressed:
            QTest.mouseRelease(self.port, LEFT, NONE, point)
        else:
            QTest.mousePress(self.port, LEFT, NONE, point)
            QTest.mouseRelease(self.port, LEFT, NONE, point)

    def show(self, one: Placement, zoom: str) -> None:
        """Show a sheet whole, as wide as the view, or all sheets."""
        view = self.view
        if zoom == "all sheets":
            view.fit_all()
        elif zoom == "fit width":
            view.fit_width()
            view.reveal(self.rect(one))
        else:
            rect = view.hand.sheets.stand(one.sheet).rect
            view.zoom(
                min(self.port.width() / rect.width(), self.port.height() / rect.height())
                / view.scale_px
                * 0.95
            )
            view.centerOn(rect.center())


ZOOMS = ("one sheet", "fit width", "all sheets")


def overlaps(sheet: LayoutSheet, key: tuple[str, int]) -> bool:
    """Say whether a copy lies on another one."""
    return any(
        key in (one.key, other.key) and one.rect.overlaps(other.rect)
        for one, other in combinations(sheet.placements, 2)
    )


def note(bench: Bench, one: Placement, count: Counter[str], name: str) -> None:
    """Count how a part came to lie that was aimed at a place."""
    now = bench.doc.layout.find(one.key)
    count[f"{name}: drops"] += 1
    if now == one:
        count[f"{name}: there"] += 1
    if now is None:
        count[f"{name}: on no sheet"] += 1
        return
    count[f"{name}: overlaps"] += overlaps(bench.doc.layout.sheet(now.sheet), one.key)
    count[f"{name}: cannot be cut"] += now.sheet in bench.doc.problems


def off(rng: Random, most: int) -> QPoint:
    """Return how far the aim is off, any step of the pointer being as likely."""
    return QPoint(rng.randint(-most, most), rng.randint(-most, most))


def try_drops(bench: Bench, rng: Random, count: Counter[str]) -> None:
    """Let every part go about its own slot, with and without memory of it, at three zooms."""
    for zoom in ZOOMS:
        for one in bench.lying:
            bench.show(one, zoom)
            steps = bench.doc.undo_stack.index()
            start = bench.take(one)
            if start is None:
                count[f"{zoom}: no grip"] += 1
            else:
                _drop(bench, start + off(rng, OFF_PX))
                note(bench, one, count, zoom)
                _take_back(bench, steps)
            edit_layout.set_aside(bench.doc, [one.key])
            bench.show(one, zoom)
            _drop(bench, bench.bring(one) + off(rng, OFF_PX))
            note(bench, one, count, f"{zoom}, from the tray")
            _take_back(bench, steps)


def _drop(bench: Bench, point: QPoint) -> None:
    bench.go(point)
    bench.let_go(point)


def _take_back(bench: Bench, steps: int) -> None:
    while bench.doc.undo_stack.index() > steps:
        bench.doc.undo()


def try_sheet(
    bench: Bench, sheet: LayoutSheet, rng: Random, count: Counter[str], name: str
) -> None:
    """Lay up to 12 parts of a sheet from nothing, in reading order or as they come."""
    doc, before = bench.doc, bench.doc.project
    aims = sorted(sheet.placements, key=lambda one: (one.y, one.x))
    if name == "any order":
        rng.shuffle(aims)
    bare = replace(sheet, placements=(), tree=None, yours=True)
    laid = with_waiting(doc.job, (bare,), Layout())
    tray = tuple(replace(one, sent=True) for one in laid.waiting)
    doc.open(replace(before, layout=replace(laid, waiting=tray)), None)
    QApplication.processEvents()
    count[f"{name}: sheets"] += 1
    for one in aims[:MOST_LAID]:
        bench.show(one, "one sheet")
        corner, was_cuttable = bench.bring(one) + off(rng, AIM_PX), not doc.problems
        bench.go(corner)
        room = list(within_reach(bench)) if was_cuttable else []
        bench.let_go(corner)
        note(bench, one, count, name)
        if doc.problems and was_cuttable:
            count[f"{name}: made uncuttable"] += 1
            count[f"{name}: made uncuttable, with a place in reach"] += bool(room)
    doc.open(before, None)


def within_reach(bench: Bench) -> Iterator[Placement]:
    """Yield the places that could be cut near where the hand holds a part, by plain arithmetic.

    That is: at the edges of the sheet and a kerf before and behind all others, each way.
    """
    carried, doc = bench.carried, bench.doc
    assert carried is not None
    if carried.verdict.good or carried._wanted is None:
        return
    (one,), (frame, reach) = carried.placements(), carried._wanted
    kerf, usable = doc.job.shop.kerf, bench.view.hand.sheets.stock(one.sheet).usable
    others = [other.rect for other in doc.layout.sheet(one.sheet).placements]
    xs = {usable.x, usable.right - one.length}
    ys = {usable.y, usable.bottom - one.width}
    for other in others:
        xs |= {other.right + kerf, other.x - kerf - one.length}
        ys |= {other.bottom + kerf, other.y - kerf - one.width}
    for x, y in product(xs, ys):
        there = replace(one, x=x, y=y)
        near = max(abs(x - frame.x), abs(y - frame.y)) <= reach
        if near and judge_all(doc, [there]).good:
            yield there


def try_frames(bench: Bench, rng: Random, frames: int, count: Counter[str]) -> None:
    """Carry parts about at random; compare what is said with what is said afresh."""
    while frames > 0:
        one = rng.choice(bench.lying)
        bench.show(one, rng.choice(ZOOMS))
        if bench.take(one) is None:
            continue
        for _ in range(min(frames, 25)):
            far = rng.random() < 0.5
            here = bench.at(middle_of_any(bench, rng) if far else bench.rect(one).center())
            bench.go(here + off(rng, 60))
            frames -= 1
            _compare(bench, count)
        bench.view.hand.cancel()
        bench.let_go(QPoint(1, 1))


def middle_of_any(bench: Bench, rng: Random) -> QPointF:
    """Return the middle of a part that lies somewhere in sight, or of any."""
    seen = bench.view.mapToScene(bench.port.rect()).boundingRect()
    rects = [rect for rect in map(bench.rect, bench.lying) if rect.intersects(seen)]
    return rng.choice(rects).center()


def _compare(bench: Bench, count: Counter[str]) -> None:
    carried = bench.carried
    assert carried is not None
    count["frames"] += 1
    if not carried.held.sheet or carried.held.waits:
        count["frames off the sheets"] += 1
        return
    if not _is_true(bench, carried):
        count["words of the frame before"] += 1
        for _ in range(20):
            QApplication.processEvents()
        count["false or missing words"] += not _is_true(bench, carried)


def _is_true(bench: Bench, carried: Carrying) -> bool:
    feasibility._LAST.clear()
    fresh = judge_all(bench.doc, carried.placements())
    return (fresh.good, fresh.lines) == (carried.verdict.good, carried.verdict.lines)


def try_bench(
    doc: Document, rng: Random, *, drops: bool = True, sheets: bool = True, frames: int = 50
) -> Counter[str]:
    """Try a planned document; return the counts."""
    bench, count = Bench(doc), Counter[str]()
    if drops:
        try_drops(bench, rng, count)
    for sheet in doc.layout.sheets if sheets else ():
        for name in ("reading order", "any order"):
            try_sheet(bench, sheet, rng, count, name)
    try_frames(bench, rng, frames, count)
    bench.close()
    return count


def main() -> None:
    """Try and print the counts."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--plans", type=int, default=len(DEMOS) + len(LISTS))
    parser.add_argument("--drops", action="store_true")
    parser.add_argument("--sheets", action="store_true")
    parser.add_argument("--frames", type=int, default=0)
    asked = parser.parse_args()
    count, rng = Counter[str](), Random(16)
    for job in jobs(asked.plans):
        frames = asked.frames // asked.plans
        count += try_bench(planned(job), rng, drops=asked.drops, sheets=asked.sheets, frames=frames)
        print(job.name, "tried", flush=True)
    for name, times in count.items():
        print(f"{name}: {times}")


if __name__ == "__main__":
    app = QApplication(sys.argv[:1])
    main()
