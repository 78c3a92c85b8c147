"""Garbage is collected on the window's thread only, when the hand is empty."""

import gc
import weakref
from collections.abc import Iterator
from threading import Thread

import pytest
from pytestqt.qtbot import QtBot

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
