"""Random gestures while cuts are made: what is made stays, and every plan passes the saw."""

from collections.abc import Iterator
from dataclasses import replace

import pytest
from pytestqt.qtbot import QtBot

from layout_app.document import edit_job
from layout_app.document.ticks import tick
from layout_app.window.main_window import MainWindow
from shared.lengths import INCH
from shared.progress import changed_in
from shared.saw import verify
from shared.shop import Rail
from tests.layout_app.monkey import Monkey, at_work, strays
from tests.layout_app.window.test_monkey import wild_document

OPS, MANY_OPS = 200, 3_000
MOST_MADE = 8
RAILS: tuple[tuple[Rail, ...], ...] = ((), (Rail(length=60 * INCH),))


class Sawyer(Monkey):
    """Ticks cuts, takes ticks away and changes the limits of the shop besides."""

    def __init__(self, window: MainWindow, seed: int) -> None:
        super().__init__(window, seed)
        self._ways = (*self._ways, (self.saw, 3), (self.untick, 1), (self.change_limits, 2))

    def saw(self) -> None:
        """Make the next cut or two, if few are made."""
        made, plan = self.doc.progress.made, self.doc.plan
        left = [cut.number for cut in plan.cuts if cut.number not in made] if plan else []
        if left and len(made) < MOST_MADE and not self.doc.gestures.in_hand:
            tick(self.doc, left[: self._random.randint(1, 2)])

    def untick(self) -> None:
        """Say that the last cuts are not made."""
        made = self.doc.progress.made
        if made and not self.doc.gestures.in_hand:
            first = self._random.randrange(len(made))
            self.doc.set_progress(self.doc.progress.without_ticks(made[first:]))

    def change_limits(self) -> None:
        """Give the shop other rails, and other pieces to carry them and to hold."""
        carry, hold = (self._random.choice((0, 4 * INCH, 12 * INCH)) for _ in range(2))
        rails = self._random.choice(RAILS)
        edit_job.edit_shop(
            self.doc, replace(self.doc.job.shop, carry=carry, hold=hold, rails=rails)
        )


@pytest.fixture
def window(qtbot: QtBot, qapp) -> Iterator[MainWindow]:
    """Return a window whose planner never answers."""
    with at_work(wild_document(), qtbot, qapp) as made:
        yield made


@pytest.mark.parametrize("seed", [8])
def test_random_sawing(window: MainWindow, qtbot: QtBot, qtlog, seed: int) -> None:
    """200 random things leave what is made as it was, and plans that can be sawn."""
    roam(window, qtbot, qtlog, seed, OPS)


@pytest.mark.soak
@pytest.mark.timeout(3600)
@pytest.mark.parametrize("seed", [1, 4, 11, 23])
def test_random_sawing_for_long(window: MainWindow, qtbot: QtBot, qtlog, seed: int) -> None:
    """3,000 random things do so as well."""
    roam(window, qtbot, qtlog, seed, MANY_OPS)


def roam(window: MainWindow, qtbot: QtBot, qtlog, seed: int, ops: int) -> None:
    """Do random things, and hold the document against its ticks and against the saw."""
    monkey, doc = Sawyer(window, seed), window.document
    begun = 0
    with qtbot.captureExceptions() as raised:
        for op in range(ops):
            monkey.act()
            where = f"seed {seed}, thing {op}, after {list(monkey.last)}"
            assert not raised, f"{where}: {raised[0][1]!r}"
            assert not [one.message for one in qtlog.records if not one.ignored], where
            assert not strays(doc.project), where
            assert doc.plan is None or verify(doc.plan) == (), where
            assert changed_in(doc.progress, doc.plan) is None, where
            begun += bool(doc.progress.made)
    assert begun > ops // 4
