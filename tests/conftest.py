"""Settings all tests share.

Property tests draw the same examples every time, so that a green suite stays green;
``--hypothesis-profile explore`` draws fresh ones, to look for what nobody thought of. Slow
properties draw a third of theirs (`tests/examples.py`), and all with ``--soak`` or ``explore``.

The suite runs in as many processes as there are cores; one module alone, or tests picked by
``-k``, run in this one, because starting others takes longer than they save.
"""

import gc
import os
import sys
from functools import cache
from pathlib import Path
from threading import Thread

import pytest
from hypothesis import settings

from solver.planning.compiling import cache_folder, fill
from tests.examples import STEADY

sys.dont_write_bytecode = False
os.environ.pop("PYTHONDONTWRITEBYTECODE", None)
"""Compiled once, also where Python was told to write none: else each of the processes compiles all
tests and what they rewrite of asserts, and each that a test starts compiles the program anew."""

settings.register_profile(STEADY, derandomize=True, deadline=None)
settings.register_profile("soak", derandomize=True, deadline=None)
settings.register_profile("explore", deadline=None)
settings.load_profile(STEADY)

if sys.platform == "linux" and not (os.environ.get("DISPLAY") or os.environ.get("WAYLAND_DISPLAY")):
    os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")

TESTS = Path(__file__).parent
QUICK = ("amounts", "check", "holding", "lengths", "recognise", "saw", "sequence", "telling")
WITHOUT_SEARCH = (
    TESTS / "shared",
    TESTS / "layout_app" / "bench",
    *(TESTS / "properties" / f"test_{name}.py" for name in QUICK),
)
"""Tests that never wait for the compiled search."""
FEW_MODULES = 3
"""So many are not worth further processes."""
ENOUGH_TO_COLLECT = 100_000
"""So many objects that were made and not let go since the last collection."""
NEVER = 10**9
"""So many objects no test makes."""


def pytest_addoption(parser: pytest.Parser) -> None:
    """Let the long tests be asked for."""
    parser.addoption("--soak", action="store_true", help="run the long tests too")


@pytest.hookimpl(tryfirst=True)
def pytest_xdist_auto_num_workers(config: pytest.Config) -> int | None:
    """Run a few modules in this process; ``None`` leaves the number to the machine."""
    modules = [place for place in config.args if ".py" in place]
    few = len(modules) == len(config.args) <= FEW_MODULES
    return 0 if few or config.getoption("keyword") else None


def pytest_configure(config: pytest.Config) -> None:
    """Have the search compiled, which takes its while the first time, as the workers start."""
    if config.getoption("--soak") and not config.getoption("--hypothesis-profile"):
        settings.load_profile("soak")
    if config.getoption("tx") and not hasattr(config, "workerinput"):
        Thread(target=lambda: fill(cache_folder()), daemon=True).start()


def pytest_collection_modifyitems(config: pytest.Config, items: list[pytest.Item]) -> None:
    """Begin with what needs no search; leave the long tests out unless they are asked for."""
    items.sort(key=_waits_for_search)
    if not config.getoption("--soak"):
        for item in items:
            if item.get_closest_marker("soak"):
                item.add_marker(pytest.mark.skip(reason="long; asked for with --soak"))


@pytest.hookimpl(tryfirst=True)
def pytest_runtest_setup(item: pytest.Item) -> None:
    """Wait for the compiled search, so that no test spends its time on compiling."""
    if _waits_for_search(item):
        fill(cache_folder())


def pytest_collection_finish() -> None:
    """Collect between tests only, and leave what their modules hold out of it.

    By a threshold nobody reaches, as a window that ends gives collecting back to Python: on
    another thread that would end windows of earlier tests.
    """
    gc.collect()
    gc.freeze()
    gc.set_threshold(NEVER)


@pytest.hookimpl(trylast=True)
def pytest_runtest_teardown() -> None:
    """Collect what tests left, on this thread: windows must not end on another.

    Once there is enough of it: a collection costs as much as a small test. What survives, such
    as compiled code and what modules remember, is not looked at again.
    """
    if gc.get_count()[0] > ENOUGH_TO_COLLECT:
        gc.collect()
        gc.freeze()


def _waits_for_search(item: pytest.Item) -> bool:
    return _is_of_search(item.path)


@cache
def _is_of_search(module: Path) -> bool:
    return not any(module.is_relative_to(folder) for folder in WITHOUT_SEARCH)
