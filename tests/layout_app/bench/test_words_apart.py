"""No words of the sheets run into others or out of their part, at any zoom and any scaling.

A painter that notes where words come to stand takes the place of the real one.
"""

from collections.abc import Iterator
from dataclasses import replace
from random import Random

import pytest
from PySide6.QtCore import QRectF

from layout_app.bench.lettering import paint_writing
from layout_app.document import edit_layout, edit_locks
from layout_app.document.document import Document
from layout_app.look.theme import Theme
from layout_app.window.main_window import MainWindow
from shared.job import Job
from shared.layout import Scope
from shared.lengths import INCH
from shared.parts import GrainRule, Part
from shared.shop import CutRule, FirstCut
from shared.stock import SheetGrain
from solver.budget.stop import Budget
from solver.run import run
from tests.layout_app.adopting import adopt
from tests.layout_app.bench.word_notes import (
    SLACK_PX,
    Notes,
    corners,
    meeting,
    near,
    shares,
    struck,
)
from tests.layout_app.monkey import close, silent_planner
from tests.layout_app.small_job import small_job

NAMES = ("Side", "Drawer front, upper left", "W" * 300, "דלת קדמית", "🪚🪵 shelf", "Boden übergroß")


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


SCALES = (0.02, 0.05, 0.08, 0.12, 0.18, 0.25, 0.4, 0.6, 0.9, 1.6, 5.0, 20.0)


def opened(window: MainWindow, seed: int) -> Document:
    """Open an odd job, planned."""
    job = odd_job(seed)
    plan = run(job, Budget(time_s=0.0), lambda event: None)
    assert plan is not None
    window.document.open(replace(window.document.project, job=job), None)
    adopt(window.document, plan)
    return window.document


@pytest.mark.parametrize("room_px", [300, 1000])
@pytest.mark.parametrize("seed", range(6))
def test_words_keep_apart(window: MainWindow, seed: int, room_px: int) -> None:
    """Of each sheet, finished and before a cut, in a narrow view and in a wide one."""
    document = opened(window, seed)
    window.bench.bench.suit(room_px)
    assert document.plan is not None
    noted = 0
    for chosen in (None, document.plan.cuts[len(document.plan.cuts) // 2].number):
        document.selection.select_cut(chosen)
        noted += all_apart(window)
    assert noted > 1000


@pytest.mark.parametrize("scope", Scope)
@pytest.mark.parametrize("seed", range(3))
def test_words_of_held_parts_keep_apart(window: MainWindow, seed: int, scope: Scope) -> None:
    """Names, the word of the hold and its rules, and the signs of the grain rule."""
    document = opened(window, seed)
    lying = [one for sheet in document.layout.sheets for one in sheet.placements]
    edit_locks.hold(document, scope, [one.key for one in lying[::2]])
    assert any(item.held for item in window.bench.bench.sheet_items)
    assert all_apart(window) > 500


@pytest.mark.parametrize("seed", range(3))
def test_words_of_sheets_laid_by_hand_keep_apart(window: MainWindow, seed: int) -> None:
    """Parts lie over each other: names make way, and what is wrong stands below the sheet."""
    document = opened(window, seed)
    one, other = document.layout.sheets[0].placements[:2]
    edit_layout.move_part(document, one.part, one.copy, "1", other.x + 3 * INCH, other.y + INCH)
    assert "1" in document.problems
    for room_px in (300, 1000):
        window.bench.bench.suit(room_px)
        assert all_apart(window) > 500


def all_apart(window: MainWindow) -> int:
    """Check every sheet at all zooms and three scalings; return how many words there were."""
    return sum(
        apart(item, scale, ratio)
        for item in window.bench.bench.sheet_items
        for scale in SCALES
        for ratio in (1.0, 1.5, 2.0)
    )


def apart(item, scale: float, ratio: float) -> int:
    """Check one sheet; return how many words were looked at."""
    notes, writing = Notes(ratio), item.writing(scale)
    paint_writing(notes, item, writing, Theme.light())
    assert meeting(notes) == [], (scale, ratio)
    assert list(struck(notes)) == [], (scale, ratio)
    assert list(covered(notes)) == [], (scale, ratio)
    assert list(cut_off(notes, item, scale)) == [], (scale, ratio)
    for label in writing.labels:
        rect, block = label.label.rect, label.fitted.block
        right, bottom = (rect.right / 40_000 * scale, rect.bottom / 40_000 * scale)
        assert block.x + block.length <= right + SLACK_PX
        assert block.y + block.width <= bottom + SLACK_PX
    return len(notes.boxes)


def covered(notes: Notes) -> Iterator[tuple[str, QRectF]]:
    """Yield words that a tag or a ring lies upon or reaches into; a tag's number is its own."""
    rounds = [one for one in notes.noted if one.kind in {"disc", "ring"}]
    words = notes.boxes
    for place, which in near(corners(box for _, box in words), corners(one.box for one in rounds)):
        (text, box), one = words[place], rounds[which]
        if not one.box.contains(box.center()) and shares(one.box, box):
            yield text, one.box


def cut_off(notes: Notes, item, scale: float) -> Iterator[str]:
    """Yield words and tags that reach out of the room of their sheet: nothing is painted there."""
    bounds = item.boundingRect()
    room = QRectF(bounds.topLeft() * scale, bounds.size() * scale)
    room.adjust(-SLACK_PX, -SLACK_PX, SLACK_PX, SLACK_PX)
    stand = (one for one in notes.noted if one.kind in {"word", "disc"})
    yield from (f"{one.kind} {one.text}" for one in stand if not room.contains(one.box))
