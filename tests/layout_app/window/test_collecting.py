"""Garbage is collected on the window's thread only, when the hand is empty."""

import gc
import weakref
from collections.abc import Iterator
from threading import Thread

import pytest
from pytestqt.qtbot import QtBot

from layout_app.window import run
from layout_app.window.run import Collecting


@pytest.fixture(autouse=True)
def _usual_thresholds() -> Iterator[None]:
    """Collect as often as Python does, once what is there from other tests is gone."""
    before = gc.get_threshold()
    gc.collect()
    gc.set_threshold(700, 10, 10)
    yield
    gc.set_threshold(*before)


class Knot:
    """Holds itself."""

    def __init__(self) -> None:
        self.me = self


def litter() -> "weakref.ref[Knot]":
    """Leave a knot behind, and as many objects as make Python collect."""
    knot = weakref.ref(Knot())
    kept = [[] for _ in range(2 * gc.get_threshold()[0])]
    del kept
    return knot


def test_only_the_window_collects(qtbot: QtBot) -> None:
    """What another thread makes ends no knot; the window does, once nothing is in the hand."""
    was_on, busy = gc.isenabled(), [True]
    collecting = Collecting(lambda: busy[0])
    found: list[weakref.ref[Knot]] = []
    kept: list[list[object]] = []

    def work() -> None:
        found.append(litter())
        kept.extend([] for _ in range(2 * gc.get_threshold()[0]))

    thread = Thread(target=work)
    thread.start()
    thread.join()
    assert found[0]() is not None
    collecting.collect()
    assert found[0]() is not None
    busy[0] = False
    collecting.collect()
    assert found[0]() is None
    collecting.end()
    assert gc.isenabled()
    if not was_on:
        gc.disable()


def test_what_is_let_go_of_is_shown_before_garbage_is_looked_for(
    qtbot: QtBot, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Put off, it waits its whole time again; after the longest time it is put off no more."""
    monkeypatch.setattr(run, "EVERY_MS", 400)
    collecting = Collecting(lambda: False)
    timer = collecting._timer
    qtbot.waitUntil(lambda: timer.remainingTime() < 300)
    collecting.put_off()
    assert timer.remainingTime() > 300
    monkeypatch.setattr(run, "LATEST_S", 0.0)
    qtbot.waitUntil(lambda: timer.remainingTime() < 300)
    collecting.put_off()
    assert timer.remainingTime() < 300
    collecting.end()
