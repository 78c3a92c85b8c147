"""The trials in short: each does what its long form counts, on a few examples."""

import os
import subprocess
import sys
from dataclasses import replace
from pathlib import Path
from random import Random

import pytest
from PySide6.QtWidgets import QApplication

from layout_app.panels.cards import cards_of
from layout_app.planner import aside
from tests.layout_app.bench import two_sheets
from tests.layout_app.small_job import document, planned, small_job
from tests.layout_app.small_job import document as small_document
from tests.soak import aiming, clicking, pushing
from tests.soak.costing import compare
from tests.soak.in_room import SCREENS, look
from tests.soak.mutated import try_mutated
from tests.soak.names import NAMES, faults
from tests.soak.planted import slipping, try_planted
from tests.soak.planted_plans import good_plans
from tests.soak.projects import open_in_turn
from tests.soak.reading import shops
from tests.soak.speaking import try_speaking

IN_SHORT = (20, 33, 40, 55, 58)
"""Names of which each breaks another thing where it is not provided for."""


def output(*words: str) -> list[str]:
    """Run a trial in a process of its own; return the lines it prints."""
    command = [sys.executable, "-m", *words]
    return subprocess.run(command, capture_output=True, text=True, check=True).stdout.splitlines()


@pytest.mark.skipif(os.name != "posix", reason="there is no SIGKILL")
def test_kills_while_saving_and_ticking() -> None:
    """What was acknowledged is there, every file whole, and nothing is left beside them."""
    saving, ticking = output("tests.soak.saving", "--n", "6", "--ticks", "2")
    assert "kills=6" in saving
    assert "kills=2" in ticking
    for line in (saving, ticking):
        assert line.endswith("lost=0, broken=0, left_over=0)")


@pytest.mark.skipif(os.name != "posix", reason="processes are copied here")
def test_folders_that_turn_inaccessible() -> None:
    """Nothing is lost, and all of it is said."""
    assert output("tests.soak.folder", "--n", "2") == ["Count(folders=2, lost=0, silent=0)"]


def test_mutated_files(tmp_path: Path) -> None:
    """Each is read or refused with a sentence; both happen."""
    count = try_mutated(tmp_path, 150)
    assert set(count) == {"read", "refused"}


def test_planted_errors(tmp_path: Path) -> None:
    """Every kind of error that the file of a plan can show is refused, each planted once."""
    tried, refused = try_planted(tmp_path, good_plans(short=True), most=1, once=True)
    assert slipping(tried, refused) == []
    assert len(tried) >= 200
    assert refused.total() > 0.9 * tried.total()


@pytest.mark.parametrize("place", IN_SHORT)
def test_hostile_names(tmp_path: Path, qapp: QApplication, place: int) -> None:
    """Saved, read again and exported in every format nothing is wrong."""
    assert list(faults(NAMES[place], tmp_path)) == []


def test_clicks_at_the_middle_of_parts(qapp: QApplication) -> None:
    """At three scales each finds its part, whatever tag or handle is drawn there."""
    assert clicking.main(["--n", "1"]) == 0


def test_what_is_aimed_at_is_reached(qapp: QApplication) -> None:
    """Parts let go near their slots lie in them, nothing overlaps, and all that is said is true."""
    count = aiming.try_bench(small_document(), Random(16))
    for zoom in aiming.ZOOMS:
        assert count[f"{zoom}: there"] == count[f"{zoom}: drops"] == 7
        assert count[f"{zoom}, from the tray: there"] >= 6
        for name in (zoom, f"{zoom}, from the tray"):
            assert (count[f"{name}: overlaps"], count[f"{name}: cannot be cut"]) == (0, 0)
    assert count["reading order: there"] == count["reading order: drops"] == 7
    assert count["reading order: cannot be cut"] == 0
    assert count["any order: made uncuttable, with a place in reach"] == 0
    assert (count["frames"], count["false or missing words"]) == (50, 0)


def test_what_is_pushed_aside_can_be_sawn(qapp: QApplication) -> None:
    """Parts of a small job are dragged over others: nothing said is false, and undo is exact."""
    doc = small_document()
    seen, _ = pushing.try_pushing(doc, 4)
    doc.undo_stack.clear()
    assert seen["pushed"] > 0
    assert (seen["false"], seen["not undone"]) == (0, 0)


def test_projects_opened_in_turn(
    tmp_path: Path, qapp: QApplication, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Whatever is pending when a project is left, nothing of it comes into the next."""
    monkeypatch.setattr(aside, "QUIET_MS", 100)
    monkeypatch.setattr(aside, "OFFER", replace(aside.OFFER, time_s=1.0))
    count = open_in_turn(tmp_path, 3)
    assert not count.crossed
    asked = {"offer", "question", "run", "choices", "preview", "advice waiting", "advice heard"}
    assert asked <= set(count.pending)


def test_costs_said_and_found() -> None:
    """Moves of two small projects cost what was said of them; some of each kind can be cut."""
    count, wrong = compare(80, [document(), two_sheets.document()])
    assert wrong == []
    assert {"lay", "open a sheet", "set aside", "resize", "draw"} <= set(count)


def test_nothing_is_mute_whatever_is_done(qapp: QApplication) -> None:
    """Random things done in a window: all that takes keys says what it is."""
    tried = try_speaking(25, seed=3)
    assert (tried.mute, tried.repeats) == ([], [])
    assert len(tried.spoken) > 5


def test_words_of_cards_and_walk_have_room(qapp: QApplication) -> None:
    """The small job in three kinds of shops: no line is cut off, no page is too full."""
    small = small_job()
    for _, shop in shops(small.shop.kerf):
        job = replace(small, shop=shop)
        found = look(cards_of([planned(job)], job), SCREENS)
        assert (found.cut_off, found.over) == (0, 0)
        assert found.cards > 5
        assert found.pages == len(SCREENS) * found.cards
