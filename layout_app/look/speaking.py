"""What is shown is spoken as well: sentences for screen readers, once all has come to rest.

Qt hands an announcement to whatever assistive technology listens (`QAccessible.Announcement`;
on Linux it is the signal ``object:announcement`` of AT-SPI); where none does, nothing is sent.
"""

import time
from collections.abc import Callable

from PySide6.QtCore import QObject, QTimer, Signal
from PySide6.QtGui import QAccessible, QAccessibleAnnouncementEvent
from PySide6.QtWidgets import QWidget

REST_MS = 200
"""So long nothing new may be shown until it is spoken: a drag is over, or held still."""
AGAIN_S = 3.0
"""So long the same sentence about what just happened is not spoken again."""


class Voice(QObject):
    """Speaks of several matters, of each the latest words only, and nothing twice in a row."""

    said = Signal(str)
    """A sentence is spoken."""

    def __init__(self, speaker: QWidget) -> None:
        super().__init__(speaker)
        self._speaker = speaker
        self._pending: dict[str, tuple[Callable[[], str], bool]] = {}
        self._last: dict[str, str] = {}
        self._news: dict[str, bool] = {}
        self._told, self._told_at = "", 0.0
        self._latest = ""
        self._rest = QTimer(self, singleShot=True, interval=REST_MS)
        self._rest.timeout.connect(self.speak)

    def soon(self, matter: str, words: Callable[[], str], *, urgent: bool = False) -> None:
        """Speak of a matter once nothing more is shown; what the words are is asked only then.

        ``urgent``: they may break off what is being read.
        """
        self._pending[matter] = words, urgent
        self._rest.start()

    def tell(self, sentence: str, *, urgent: bool = False) -> None:
        """Speak a sentence about what just happened; some time later the same one is news again."""
        if sentence:
            self._news[sentence] = urgent
            self._rest.start()

    def forget(self, matter: str) -> None:
        """Say no more of a matter, and take the same words for new ones when it comes up again."""
        self._pending.pop(matter, None)
        self._last.pop(matter, None)

    def speak(self) -> None:
        """Speak now what waits to be spoken."""
        self._rest.stop()
        pending, self._pending = self._pending, {}
        news, self._news = self._news, {}
        for sentence, urgent in news.items():
            now = time.monotonic()
            if sentence != self._told or now - self._told_at > AGAIN_S:
                self._say(sentence, urgent=urgent)
                self._told, self._told_at = sentence, now
        for matter, (words, urgent) in pending.items():
            text = words()
            if text and text not in (self._last.get(matter), self._latest):
                self._say(text, urgent=urgent)
            self._last[matter] = text

    def _say(self, text: str, *, urgent: bool) -> None:
        self._latest = text
        self.said.emit(text)
        if QAccessible.isActive():
            event = QAccessibleAnnouncementEvent(self._speaker, text)
            kinds = QAccessible.AnnouncementPoliteness
            event.setPoliteness(kinds.Assertive if urgent else kinds.Polite)
            QAccessible.updateAccessibility(event)
