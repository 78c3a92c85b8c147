"""Settings all tests share.

Property tests draw the same examples every time, so that a green suite stays green;
``--hypothesis-profile explore`` draws fresh ones, to look for what nobody thought of.
"""

import os
import sys

import pytest
from hypothesis import settings

from solver.planning.compiling import cache_folder, fill

settings.register_profile("steady", derandomize=True, deadline=None)
settings.register_profile("explore", deadline=None)
settings.load_profile("steady")

if sys.platform == "linux" and not (os.environ.get("DISPLAY") or os.environ.get("WAYLAND_DISPLAY")):
    os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")


@pytest.fixture(scope="session", autouse=True)
def _search_is_compiled() -> None:
    """Compile the search before the first test: the first time of all takes its while."""
    fill(cache_folder())


def pytest_addoption(parser: pytest.Parser) -> None:
    """Let the long tests be asked for."""
    parser.addoption("--soak", action="store_true", help="run the long tests too")


def pytest_collection_modifyitems(config: pytest.Config, items: list[pytest.Item]) -> None:
    """Leave the long tests out unless they are asked for."""
    if not config.getoption("--soak"):
        for item in items:
            if item.get_closest_marker("soak"):
                item.add_marker(pytest.mark.skip(reason="long; asked for with --soak"))
