"""The walk-through in the real program on a virtual screen; `tests/soak/walk.py` goes further."""

from pathlib import Path

import pytest

from tests.e2e.desk import missing
from tests.soak.walk import walk

pytestmark = pytest.mark.skipif(
    bool(missing()), reason=f"not installed: {', '.join(missing())} (a virtual screen to work on)"
)


@pytest.mark.timeout(240)
def test_the_walk_stays_and_each_press_ticks(tmp_path: Path) -> None:
    """Collected at every event, the view stays while Space ticks three cuts, with their times."""
    walked = walk(tmp_path, 3)
    assert walked.stands
    assert walked.made == (1, 2, 3)
    assert walked.timed == (2, 3)
