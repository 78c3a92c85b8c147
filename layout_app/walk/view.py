"""The walk as a window of its own: one press a cut, by keys or a foot pedal."""

from typing import Final

from PySide6.QtCore import QEvent, QRectF, Qt, Signal
from PySide6.QtGui import (
    QCloseEvent,
    QFocusEvent,
    QKeyEvent,
    QPainter,
    QPaintEvent,
    QResizeEvent,
)
from PySide6.QtWidgets import QWidget

from layout_app.document.document import Document
from layout_app.document.ticks import next_open
from layout_app.look import pens
from layout_app.look.speaking import Voice
from layout_app.model.pace_offers import pace_offer
from layout_app.model.pieces_on_hand import ThingKind, things
from layout_app.model.words.pace_words import end_words
from layout_app.model.words.wording import counted
from layout_app.panels.ticking import Ticking
from layout_app.panels.ticks import all_cards
from layout_app.walk.between_ticks import BetweenTicks
from layout_app.walk.colours import colours
from layout_app.walk.lettering import LEAST_PX
from layout_app.walk.moments import (
    Before,
    CutNow,
    End,
    Moment,
    Start,
    cut_place,
    moments_of,
    place_of,
    same_place,
)
from layout_app.walk.pages import WalkPage, WalkStatus, spoken
from shared.cautions import cautions_for

NEXT: Final = frozenset(
    {
        Qt.Key.Key_Space,
        Qt.Key.Key_Return,
        Qt.Key.Key_Enter,
        Qt.Key.Key_Right,
        Qt.Key.Key_Down,
        Qt.Key.Key_PageDown,
    }
)
BACK: Final = frozenset({Qt.Key.Key_Left, Qt.Key.Key_Up, Qt.Key.Key_PageUp, Qt.Key.Key_Backspace})
UNTICK: Final = frozenset({Qt.Key.Key_U, Qt.Key.Key_Delete})
LINES_OF_A_QUESTION: Final = 22
"""So many lines of a question would fill the screen from top to bottom."""
MARGIN_OF_A_QUESTION: Final = 0.03
"""Beside a question, as a share of the width."""
MOST_NAMES: Final = 9
"""Pieces that are named in a line; more are counted."""


class _Anchor(QWidget):
    """Where questions hang; the keys they give back go to the walk.

    A focus proxy would do so too, but see `layout_app.window.beside`.
    """

    def focusInEvent(self, event: QFocusEvent) -> None:
        """Pass the keys on."""
        super().focusInEvent(event)
        self.window().setFocus()


class Walk(QWidget):
    """Shows the sequence moment by moment; going on from a cut ticks it.

    The next moment shows once the tick is on disk, so that what the screen has passed is
    never lost. A key that is held down counts once. The time from one tick to the next is kept
    with it where it says what the cut took.
    """

    left = Signal()
    """The maker leaves the walk."""

    def __init__(
        self,
        document: Document,
        *,
        dark: bool,
        parent: QWidget | None = None,
        between: BetweenTicks | None = None,
    ) -> None:
        super().__init__(parent, Qt.WindowType.Window)
        self._document = document
        self._between = between or BetweenTicks()
        self._colours = colours(dark=dark)
        self._ticking = Ticking(document, self)
        self._anchor, self.voice = _Anchor(self), Voice(self)
        self._moments: tuple[Moment, ...] = (Start(),)
        self._place = 0
        self._awaited: int | None = None
        self.setObjectName("walk")
        self.setWindowTitle("At the sawhorses — Ripfirst")
        self.setAccessibleName("At the sawhorses, one cut a press")
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setMinimumSize(640, 420)
        document.leaving.connect(self.close)
        document.layout_changed.connect(self._take_plan)
        document.job_changed.connect(self._take_plan)
        document.progress_changed.connect(self._take_ticks)
        document.ticks_set.connect(self._between.forget)
        document.not_in_file.connect(self.stop)
        self._take_plan()

    @property
    def moment(self) -> Moment:
        """What is shown."""
        return self._moments[self._place]

    @property
    def ticking(self) -> Ticking:
        """What asks when a cut cannot be ticked alone."""
        return self._ticking

    @property
    def anchor(self) -> QWidget:
        """What questions hang below."""
        return self._anchor

    def next(self) -> None:
        """Go on; a cut that is shown is ticked first."""
        moment = self.moment
        if not isinstance(moment, CutNow):
            self._go_on()
            return
        number = moment.card.number
        if self._document.saved_state.is_done(number):
            self._go_on()
        elif self._awaited is None:
            self._awaited = number
            if not self._tick(number):
                self._awaited = None
            self._take_ticks()

    def _tick(self, number: int) -> bool:
        """Tick a cut, with the time it took; say whether that was done, not asked about."""
        document = self._document
        plan, shop = document.plan, document.job.shop
        assert plan is not None
        if not self._ticking.tick(number, self._anchor, self._between.took(number, plan, shop)):
            return False
        self._between.begin(number, plan, shop, document.progress.all_made)
        return True

    def back(self) -> None:
        """Show the moment before; ticks stay."""
        self._awaited = None
        self._show(max(0, self._place - 1))

    def untick(self) -> None:
        """Take the tick of the cut that is shown away; if it has none, that of the last made."""
        number = self._unticked
        if number is not None:
            self._show(cut_place(self._moments, number))
            self._ticking.untick(number, self._anchor)

    @property
    def _unticked(self) -> int | None:
        """The cut that `untick` takes the tick of; ``None`` where no cut of the plan is made."""
        made, moment = self._document.saved_state.is_done, self.moment
        if isinstance(moment, CutNow) and made(moment.card.number):
            return moment.card.number
        return max(filter(made, self._document.progress.made), default=None)

    def stop(self, sentence: str) -> None:
        """Stay at what is shown, and say why until the maker goes on."""
        self._awaited = None
        self._ticking.say(sentence, self._anchor)

    def _go_on(self) -> None:
        if isinstance(self.moment, Start) and self.moment.is_last:
            number = next_open(self._document.plan, self._document.progress)
            self._show(place_of(self._moments, number))
        else:
            self._show(min(len(self._moments) - 1, self._place + 1))

    def _show(self, place: int) -> None:
        question = self._ticking.question(self._anchor)
        if question is not None and place != self._place:
            question.leave()
        self._place = place
        moment = self.moment
        if isinstance(moment, CutNow):
            self._document.selection.select_cut(moment.card.number)
        self._say()
        self.update()

    def _take_ticks(self) -> None:
        """Go on once the tick that was set is on disk."""
        if self._awaited is not None and self._document.saved_state.is_done(self._awaited):
            self._awaited = None
            self._go_on()
        self._say()
        self.update()

    def _take_plan(self) -> None:
        """Show the sequence as it is now, at the place that was shown."""
        shown, plan = self.moment, self._document.plan
        cards = all_cards(self._document) if plan is not None else ()
        new = [card for card in cards if plan is not None and plan.has_cut(card.number)]
        self._moments = moments_of(new, cautions_for(self._document.job.shop))
        self._place = same_place(self._moments, shown)
        self._say()
        self.update()

    # --- keys --------------------------------------------------------------------------

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Take one press a step; a key that repeats by itself counts once."""
        key = Qt.Key(event.key())
        if event.isAutoRepeat():
            return
        if key in NEXT:
            self.next()
        elif key in BACK:
            self.back()
        elif key in UNTICK:
            self.untick()
        elif key == Qt.Key.Key_Escape:
            self.close()
        else:
            super().keyPressEvent(event)

    def changeEvent(self, event: QEvent) -> None:
        """Hear that the window is minimised, or shown again."""
        super().changeEvent(event)
        if event.type() == QEvent.Type.WindowStateChange:
            if self.isMinimized():
                self._between.go_away()
            else:
                self._between.come_back()

    def closeEvent(self, event: QCloseEvent) -> None:
        """Say that the walk is left."""
        super().closeEvent(event)
        self._between.forget()
        self.left.emit()

    # --- words and painting ------------------------------------------------------------

    @property
    def status(self) -> WalkStatus:
        """What is said beside the moment."""
        document, moment = self._document, self.moment
        count = len(document.plan.cuts) if document.plan is not None else 0
        last = document.progress.first + count - 1
        before = sum(len(plan.cuts) for plan in document.progress.past)
        made = len(document.progress.all_made)
        place, state = f"{counted(before + count, 'cut')}, {made} made", ""
        at_end = isinstance(moment, End)
        if isinstance(moment, Before):
            number, sheet = moment.card.number, moment.card.told.sheet
            place = f"before cut {number} of {last}, sheet {sheet}"
        if isinstance(moment, CutNow):
            number = moment.card.number
            place = f"cut {number} of {last}, sheet {moment.card.told.sheet}"
            state = "made" if document.saved_state.is_done(number) else ""
            if document.saved_state.is_being_saved(number):
                state = "being saved"
            elif document.saved_state.is_here_only(number):
                state = "made, in this window only"
        return WalkStatus(
            place=place,
            lies=self._lies(),
            pace=end_words(pace_offer(document.sawn), document.job.shop) if at_end else "",
            state=state,
            unticks=self._unticked,
            plan=document.sawn.number,
            style=document.job.style,
        )

    def _lies(self) -> str:
        """Name what lies there now, apart from waste."""
        if isinstance(self.moment, Start) or self._document.plan is None:
            return ""
        found = things(self._document.project, self._document.plan)
        names = [
            thing.name for thing in found if thing.kind not in {ThingKind.WASTE, ThingKind.PART}
        ]
        parts = sum(thing.kind is ThingKind.PART for thing in found)
        more = f" and {len(names) - MOST_NAMES} more" if len(names) > MOST_NAMES else ""
        lies = f"pieces on hand: {', '.join(names[:MOST_NAMES])}{more}" if names else ""
        done = f"parts done: {parts}" if parts else ""
        return "     ".join(filter(None, (lies, done)))

    def _say(self) -> None:
        status = self.status
        begins = isinstance(self.moment, Start) and status.plan
        plan = f"Plan {status.plan}." if begins else ""
        told = (spoken(self.moment, status.style), plan, status.place, status.pace)
        said = " ".join(filter(None, told))
        self.setAccessibleDescription(said)
        self.voice.soon("moment", lambda: said)

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Keep the place where questions hang, and their letters as large as those around them."""
        super().resizeEvent(event)
        self._anchor.setFont(pens.font(max(LEAST_PX, self.height() // LINES_OF_A_QUESTION)))
        beside = int(self.width() * MARGIN_OF_A_QUESTION)
        self._anchor.setGeometry(beside, self.height() - 1, self.width() - 2 * beside, 1)

    def paintEvent(self, event: QPaintEvent) -> None:
        """Paint the moment."""
        del event
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        WalkPage(painter, QRectF(self.rect()), self._colours).paint(self.moment, self.status)
        painter.end()
