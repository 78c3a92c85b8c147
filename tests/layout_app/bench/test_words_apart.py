"""No words of the bench run into others or out of their part, at any zoom and any scaling.

A painter that notes where words come to stand takes the place of the real one.
"""

from dataclasses import replace
from itertools import combinations
from random import Random

import pytest
from PySide6.QtCore import QPointF, QRectF
from PySide6.QtGui import QFont, QStaticText, QTransform

from layout_app.bench.lettering import paint_writing
from layout_app.document import Document
from layout_app.main_window import MainWindow
from layout_app.theme import Theme
from shared.job import Job
from shared.lengths import INCH
from shared.parts import GrainRule, Part
from shared.shop import CutRule, FirstCut
from shared.stock import SheetGrain
from solver.run import run
from solver.stop import Limits
from tests.layout_app.monkey import close, silent_planner
from tests.layout_app.small_job import small_job

SLACK_PX = 1.5
"""Rounding of corners to whole pixels may bring boxes so much together."""
NAMES = ("Side", "Drawer front, upper left", "W" * 300, "דלת קדמית", "🪚🪵 shelf", "Boden übergroß")


class Notes:
    """Notes the boxes of words; takes everything else a painter is told without a word."""

    def __init__(self, ratio: float) -> None:
        self.boxes: list[tuple[str, QRectF]] = []
        self._now, self._kept = QTransform(), [QTransform()]
        self._ratio, self._font = ratio, QFont()

    def save(self) -> None:
        """Keep the transform."""
        self._kept.append(QTransform(self._now))

    def restore(self) -> None:
        """Bring it back."""
        self._now = self._kept.pop()

    def translate(self, x: float, y: float) -> None:
        """Move."""
        self._now.translate(x, y)

    def rotate(self, angle: float) -> None:
        """Turn."""
        self._now.rotate(angle)

    def setFont(self, font: QFont) -> None:  # noqa: N802 - called as a painter is
        """Take a font."""
        self._font = font

    def drawStaticText(self, *told: object) -> None:  # noqa: N802 - as above
        """Note where a line of words stands, as large as the font makes it at this scaling."""
        text = told[-1]
        assert isinstance(text, QStaticText)
        place = QPointF(*told[:2]) if len(told) == 3 else told[0]
        if text.text():
            text.prepare(QTransform.fromScale(self._ratio, self._ratio), self._font)
            box = QRectF(place, text.size())
            # Leading and descent of a line may lie over those of the next.
            box.adjust(0, 0.15 * box.height(), 0, -0.2 * box.height())
            self.boxes.append((text.text(), self._now.mapRect(box)))

    def __getattr__(self, name: str):
        return lambda *told, **more: None


def odd_job(seed: int) -> Job:
    """Return parts of odd names and sizes, some narrow, on sheets cut either way first."""
    rng = Random(seed)
    job = small_job()
    parts = tuple(
        Part(
            id=f"p{number}",
            name=name,
            copies=rng.randint(1, 4),
            length=rng.randint(5, 40) * INCH,
            width=rng.randint(1, 14) * INCH + rng.randint(0, 63) * INCH // 64,
            material=job.stock[0].material,
            grain_rule=GrainRule.EITHER,
        )
        for number, name in enumerate(NAMES)
    )
    cleat = replace(parts[0], id="cleat", name="Cleat", copies=9, length=90 * INCH, width=INCH)
    grain = rng.choice(list(SheetGrain))
    stock = tuple(replace(row, grain=grain, at_hand=None) for row in job.stock)
    first = FirstCut.RIP if seed % 2 else rng.choice(list(FirstCut))
    return replace(job, parts=(*parts, cleat), stock=stock, rule=CutRule(first=first))


@pytest.fixture
def window(qtbot):
    """Return a window whose planner never answers."""
    made = MainWindow(planner=silent_planner())
    qtbot.addWidget(made)
    made.show()
    yield made
    close(made)


@pytest.mark.parametrize("seed", range(6))
def test_words_keep_apart(window: MainWindow, seed: int) -> None:
    """Of each sheet, finished and before a cut, at eight zooms and three scalings."""
    job = odd_job(seed)
    plan = run(job, Limits(time_s=0.0), lambda event: None)
    assert plan is not None
    document: Document = window.document
    document.open(replace(document.project, job=job), None)
    document.adopt(plan)
    noted = 0
    for chosen in (None, plan.cuts[len(plan.cuts) // 2].number):
        document.selection.select_cut(chosen)
        for item in window.bench.bench.sheet_items:
            for scale in (0.08, 0.12, 0.18, 0.25, 0.4, 0.6, 0.9, 1.6):
                for ratio in (1.0, 1.5, 2.0):
                    noted += apart(item, scale, ratio)
    assert noted > 1000


def apart(item, scale: float, ratio: float) -> int:
    """Check one sheet; return how many words were looked at."""
    notes, writing = Notes(ratio), item.writing(scale)
    paint_writing(notes, item, writing, Theme.light())
    for (one, box), (other, beside) in combinations(notes.boxes, 2):
        shared = box.intersected(beside)
        assert min(shared.width(), shared.height()) <= SLACK_PX, (one, other, scale, ratio)
    for label in writing.labels:
        rect, block = label.label.rect, label.fitted.block
        right, bottom = (rect.right / 40_000 * scale, rect.bottom / 40_000 * scale)
        assert block.x + block.length <= right + SLACK_PX
        assert block.y + block.width <= bottom + SLACK_PX
    return len(notes.boxes)
