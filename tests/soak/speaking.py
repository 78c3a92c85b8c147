"""What a window speaks while random things are done: ``python -m tests.soak.speaking [--n 300]``.

After each thing done all that can be seen is walked as a screen reader walks it: what takes the
keys and has neither name nor description is mute. What is spoken is noted; of the same matter the
same words twice in a row are one too many. Prints things done, sentences spoken, repeats, and each
mute place once.
"""

import argparse
from collections.abc import Sequence
from typing import NamedTuple

from PySide6.QtWidgets import QApplication

from layout_app.document.document import Document
from layout_app.window.main_window import MainWindow
from tests.layout_app.monkey import Monkey, silent_planner
from tests.layout_app.small_job import document
from tests.layout_app.spoken import mute


class Tried(NamedTuple):
    """What came of a trial."""

    done: int
    spoken: list[str]
    mute: list[str]

    @property
    def repeats(self) -> list[str]:
        """Sentences that are spoken twice in a row."""
        pairs = zip(self.spoken, self.spoken[1:], strict=False)
        return [now for before, now in pairs if now == before]


def try_speaking(number: int, seed: int = 0, start: Document | None = None) -> Tried:
    """Do so many random things in a window, and hear what it speaks."""
    window = MainWindow(start or document(), planner=silent_planner())
    window.resize(1440, 900)
    window.show()
    window.activateWindow()
    QApplication.processEvents()
    monkey, spoken, found = Monkey(window, seed), list[str](), dict[str, None]()
    voice = window.bench.speaking.voice
    voice.said.connect(spoken.append)
    for _ in range(number):
        monkey.act()
        voice.speak()
        found |= dict.fromkeys(mute(window))
    window.document.undo_stack.setClean()
    window.planner.close()
    window.close()
    return Tried(number, spoken, list(found))


def main(arguments: Sequence[str] | None = None) -> None:
    """Try it and print what came of it."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--n", type=int, default=300)
    parser.add_argument("--seed", type=int, default=0)
    parser.add_argument("--show", action="store_true", help="print what is spoken")
    chosen = parser.parse_args(arguments)
    application = QApplication.instance() or QApplication([])
    tried = try_speaking(chosen.n, chosen.seed)
    if chosen.show:
        print("\n".join(tried.spoken))
    repeats, silent = len(tried.repeats), len(tried.mute)
    print(f"done={tried.done}, spoken={len(tried.spoken)}, {repeats=}, mute={silent}")
    print("\n".join([*tried.repeats, *tried.mute]))
    del application


if __name__ == "__main__":
    main()
