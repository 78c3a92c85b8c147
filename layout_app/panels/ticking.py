"""The maker ticks a cut: done at once, or asked about at the place where it was ticked."""

from collections.abc import Callable, Sequence
from functools import partial
from typing import Final

from PySide6.QtCore import QObject
from PySide6.QtWidgets import QWidget

from layout_app.document.document import Document
from layout_app.document.ticks import (
    HISTORY,
    all_of,
    is_open,
    missing_before,
    tick,
    ticked_after,
    untick,
)
from layout_app.panels.question import Question
from shared.plan import Cut

OTHER_CUTS = "The cuts have changed, so nothing was ticked: look at the numbers and tick again."
MOST_ON_A_BUTTON: Final = 6
"""Cuts that a button names."""


class Ticking(QObject):
    """Ticks and unticks for the views; questions hang below the one that asked."""

    def __init__(self, document: Document, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._document = document
        self._questions: dict[QWidget, Question] = {}
        self._asked_of: tuple[Cut, ...] = ()
        document.layout_changed.connect(self._drop_if_other)
        document.leaving.connect(self._drop)

    def question(self, about: QWidget) -> Question | None:
        """Return what is asked at a view now, if anything."""
        asked = self._questions.get(about)
        return asked if asked is not None and asked.isVisible() else None

    def toggle(self, number: int, about: QWidget) -> None:
        """Tick a cut, or take its tick away."""
        if number in self._document.progress.made:
            self.untick(number, about)
        else:
            self.tick(number, about)

    def tick(self, number: int, about: QWidget, took: int | None = None) -> bool:
        """Tick a cut; say whether that was done, not asked about.

        ``took`` is the time in seconds that it took, where it is known.
        """
        if not is_open(self._document.plan, number):
            self._document.said.emit(f"Cut {number} {HISTORY}")
            return False
        missing = missing_before(self._document, number)
        if not missing:
            return tick(self._document, [number], took)
        every = [*missing, number]
        are = "isn't" if len(missing) == 1 else "aren't"
        sentence = (
            f"Cut {number} needs {all_of(missing)}, which {are} ticked."
            f" Have you made {'both' if len(every) == 2 else 'all of them'}?"
        )
        yes = f"Tick {_named(every)}"
        self._ask(about, sentence, (yes, partial(tick, self._document, every)))
        return False

    def untick(self, number: int, about: QWidget) -> bool:
        """Take a tick away; say whether that was done, not asked about."""
        if not is_open(self._document.plan, number):
            self._document.said.emit(f"Cut {number} {HISTORY}")
            return False
        later = ticked_after(self._document, number)
        if not later:
            return untick(self._document, [number])
        every = [number, *later]
        need = "needs" if len(later) == 1 else "need"
        sentence = f"{all_of(later).capitalize()} {need} cut {number}."
        yes = f"Untick {_named(every)}"
        self._ask(about, sentence, (yes, partial(untick, self._document, every)))
        return False

    def say(self, sentence: str, about: QWidget) -> None:
        """Say at a view what became of its tick, until that is put away."""
        question, self._asked_of = self._question_of(about), self._cuts()
        question.say(sentence, [("Go on", question.leave)])

    def _question_of(self, about: QWidget) -> Question:
        if about not in self._questions:
            self._questions[about] = Question(about)
            about.destroyed.connect(partial(self._forget, about))
        return self._questions[about]

    def _ask(self, about: QWidget, sentence: str, yes: tuple[str, Callable[[], bool]]) -> None:
        """Ask in place; the other answer leaves everything as it is."""
        question, self._asked_of = self._question_of(about), self._cuts()

        def act() -> None:
            question.leave()
            yes[1]()

        question.say(sentence, [(yes[0], act), ("Leave them", question.leave)])

    def _cuts(self) -> tuple[Cut, ...]:
        return () if self._document.plan is None else self._document.plan.cuts

    def _drop_if_other(self) -> None:
        """Take questions back when their numbers mean other cuts now."""
        if self._cuts() != self._asked_of and self._drop():
            self._document.said.emit(OTHER_CUTS)

    def _drop(self) -> bool:
        """Take all questions back; say whether there were any."""
        asked = [about for about in self._questions if self.question(about) is not None]
        for about in asked:
            self._questions[about].leave()
        return bool(asked)

    def _forget(self, about: QWidget) -> None:
        self._questions.pop(about, None)


def _named(numbers: Sequence[int]) -> str:
    """Name cuts on a button; of many how many they are, since the sentence beside names them."""
    return all_of(numbers) if len(numbers) <= MOST_ON_A_BUTTON else f"all {len(numbers)} cuts"
